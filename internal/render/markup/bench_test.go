package markup_test

import (
	"io"
	"testing"

	"seatward/internal/render/markup"
	"seatward/internal/render/sample"
)

// BenchmarkSubmittal: a submittal with its charts, from a study that is there.
func BenchmarkSubmittal(b *testing.B) {
	d := sample.Paper(b, "submittal")
	b.Run("html", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if err := markup.HTML(io.Discard, d); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("md", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := markup.Markdown(io.Discard, d, "submittal"); err != nil {
				b.Fatal(err)
			}
		}
	})
}
