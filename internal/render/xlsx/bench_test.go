package xlsx_test

import (
	"io"
	"testing"

	"seatward/internal/render/sample"
	"seatward/internal/render/xlsx"
)

// BenchmarkSubmittal: a submittal with its charts, from a study that is there.
func BenchmarkSubmittal(b *testing.B) {
	d := sample.Paper(b, "submittal")
	b.ReportAllocs()
	for b.Loop() {
		if err := xlsx.Write(io.Discard, d); err != nil {
			b.Fatal(err)
		}
	}
}
