module example.com/wheelrate/ci

go 1.26.0

require (
	example.com/wheelrate v0.0.0
	example.com/wheelrate/examples v0.0.0
	gonum.org/v1/gonum v0.17.0
)

require golang.org/x/tools v0.30.0 // indirect

replace (
	example.com/wheelrate => ../
	example.com/wheelrate/examples => ../examples
)
