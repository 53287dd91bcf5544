//go:build unix

package soak

import (
	"syscall"
	"time"
)

// busy is how long the processors have worked for this process.
func busy() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		panic(err) // of a constant
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
