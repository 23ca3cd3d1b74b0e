module example.com/wheelrate

go 1.26.0

require (
	github.com/google/go-cmp v0.7.0
	github.com/stretchr/testify v1.12.1
	gonum.org/v1/gonum v0.17.0
)

require go.yaml.in/yaml/v3 v3.0.5 // indirect
