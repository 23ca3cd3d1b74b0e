module example.com/wheelrate

go 1.26.0
