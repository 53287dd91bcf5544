package main

import (
	"io"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// BenchmarkProcess runs `select` as a person does, in a process of its own, and tells the
// most memory that it held. On two cores it is to stay under 0.3 s by closed formulas,
// under 2 s with every stop run through, and under 100 MB.
func BenchmarkProcess(b *testing.B) {
	program := filepath.Join(b.TempDir(), "seatward")
	if out, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, out)
	}
	b.Chdir("../..")
	for _, args := range [][]string{
		{"select", "examples/layout.station.yaml", "--quick"},
		{"select", "examples/layout.station.yaml"},
	} {
		b.Run(strings.Join(args, " "), func(b *testing.B) {
			var most int64
			for b.Loop() {
				c := exec.Command(program, args...)
				c.Stdout = io.Discard
				if err := c.Run(); err != nil {
					b.Fatal(err)
				}
				if usage, ok := c.ProcessState.SysUsage().(*syscall.Rusage); ok {
					most = max(most, usage.Maxrss)
				}
			}
			b.ReportMetric(float64(most)/1024, "MB-most")
		})
	}
}
