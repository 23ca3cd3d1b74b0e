module example.com/wheelrate/examples

go 1.26.0

require example.com/wheelrate v0.0.0

require gonum.org/v1/gonum v0.17.0 // indirect

replace example.com/wheelrate => ../
