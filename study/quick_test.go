package study

import (
	"context"
	"testing"

	"seatward/station"
)

// BenchmarkQuick times the closed formulas of every valve of the catalog: the rows that a
// page shows after an edit.
func BenchmarkQuick(b *testing.B) {
	data, opt := example(b, "layout"), options(b)
	opt.Quick = true
	st, list := station.Load("layout", data)
	if st == nil {
		b.Fatal(list)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Run(context.Background(), st, opt); err != nil {
			b.Fatal(err)
		}
	}
}
