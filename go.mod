module seatward

go 1.26

require (
	github.com/google/go-cmp v0.7.0 // indirect
	github.com/rogpeppe/go-internal v1.16.0 // indirect
	pgregory.net/rapid v1.3.0 // indirect
)
