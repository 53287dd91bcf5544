package main

import (
	"io"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"
)

// BenchmarkProcess runs `select` as a person does, in a process of its own, and tells the
// most memory that it held. It is to stay under 0.3 s and 100 MB on two cores.
func BenchmarkProcess(b *testing.B) {
	program := filepath.Join(b.TempDir(), "seatward")
	if out, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, out)
	}
	b.Chdir("../..")
	var most int64
	for b.Loop() {
		c := exec.Command(program, "select", "examples/layout.station.yaml")
		c.Stdout = io.Discard
		if err := c.Run(); err != nil {
			b.Fatal(err)
		}
		if usage, ok := c.ProcessState.SysUsage().(*syscall.Rusage); ok {
			most = max(most, usage.Maxrss)
		}
	}
	b.ReportMetric(float64(most)/1024, "MB-most")
}
