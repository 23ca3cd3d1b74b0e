module example.com/tiny

go 1.26
