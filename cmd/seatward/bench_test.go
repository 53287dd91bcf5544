package main

import (
	"io"
	"path/filepath"
	"strings"
	"testing"
)

// BenchmarkCommands times whole command lines, as they run in a process of their own:
// the demonstration catalog is read anew each time. `select --quick` is to stay under
// 0.3 s and 100 MB on two cores; the package study times its stages.
func BenchmarkCommands(b *testing.B) {
	b.Chdir("../..")
	for _, line := range []string{
		"seatward select examples/layout.station.yaml",
		"seatward select examples/layout.station.yaml --quick --json",
		"seatward loss --valve flap/6in",
		"seatward closing --valve flap/6in",
	} {
		b.Run(strings.TrimPrefix(line, "seatward "), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				names, err := filepath.Glob("catalog/demo/*.yaml")
				if err != nil {
					b.Fatal(err)
				}
				if _, err := (&app{}).catalogFiles(names); err != nil {
					b.Fatal(err)
				}
				if code := run(words(line), strings.NewReader(""), io.Discard, io.Discard); code != answered {
					b.Fatalf("exit code %d", code)
				}
			}
		})
	}
}
