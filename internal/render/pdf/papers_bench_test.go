package pdf_test

import (
	"io"
	"testing"
	"time"

	"seatward/internal/document"
	"seatward/internal/render"
	"seatward/internal/render/sample"
	"seatward/quantity"
)

// BenchmarkPapers: the submittal as it is handed over, which is to take less than 1 s after the
// study, and every kind in every format, less than 6 s. The ratio to the time that the study
// and its runs took does not depend on the machine.
func BenchmarkPapers(b *testing.B) {
	start := time.Now()
	d := sample.Dossier(b, "study", quantity.US)
	answered := time.Since(start)
	submittal, err := document.KindNamed("submittal")
	if err != nil {
		b.Fatal(err)
	}
	pdf, err := render.Named("pdf")
	if err != nil {
		b.Fatal(err)
	}
	for _, c := range []struct {
		name    string
		kinds   []document.Kind
		formats []render.Format
	}{
		{"submittal", []document.Kind{submittal}, []render.Format{pdf}},
		{"all", document.Kinds(), render.Formats()},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				for _, k := range c.kinds {
					doc := d.Make(k)
					for _, f := range c.formats {
						if _, err := f.Write(io.Discard, doc, "x"); err != nil {
							b.Fatal(err)
						}
					}
				}
			}
			b.ReportMetric(b.Elapsed().Seconds()/float64(b.N), "s/set")
			b.ReportMetric(b.Elapsed().Seconds()/float64(b.N)/answered.Seconds(), "ratio-to-study")
		})
	}
}
