package web

import (
	"os"
	"runtime/debug"
)

// What the server makes of the memory it may have: an answer leaves some ten megabytes
// behind, so collecting at every doubling of the little that stays would take a tenth of
// the machine.
const (
	collectPercent = 400
	softLimitBytes = 384 << 20 // from which it collects as often as it must
)

// UseMemory trades memory for time, up to a limit that any machine has. Who has set GOGC or
// GOMEMLIMIT has decided that already.
func UseMemory() {
	if os.Getenv("GOGC") == "" && os.Getenv("GOMEMLIMIT") == "" {
		debug.SetGCPercent(collectPercent)
		debug.SetMemoryLimit(softLimitBytes)
	}
}
