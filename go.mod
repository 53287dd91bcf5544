module seatward

go 1.26

require (
	github.com/google/go-cmp v0.7.0
	go.yaml.in/yaml/v4 v4.0.0
	gonum.org/v1/gonum v0.17.0
	pgregory.net/rapid v1.3.0
)
