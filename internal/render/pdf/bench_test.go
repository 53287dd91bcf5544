package pdf_test

import (
	"io"
	"testing"

	"seatward/internal/document"
	"seatward/internal/render/pdf"
	"seatward/internal/render/sample"
	"seatward/quantity"
)

// BenchmarkWrite: a data sheet and a submittal, from a study that is there. The
// submittal's pages are counted beside.
func BenchmarkWrite(b *testing.B) {
	d := sample.Dossier(b, "study", quantity.US)
	for _, id := range []string{"datasheet", "submittal", "calculation"} {
		k, err := document.KindNamed(id)
		if err != nil {
			b.Fatal(err)
		}
		b.Run(id, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := pdf.Write(io.Discard, d.Make(k)); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
