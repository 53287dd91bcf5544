//go:build !amd64

package moc

// paths lists what this machine can run, the fastest first.
func paths() []path { return []path{plain} }
