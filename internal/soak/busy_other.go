//go:build !unix

package soak

import "time"

var started = time.Now()

// busy is the time since the start, where the system does not say how long it worked.
func busy() time.Duration { return time.Since(started) }
