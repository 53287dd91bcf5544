package xlsx_test

import (
	"context"
	"io"
	"os"
	"testing"

	"seatward/catalog"
	"seatward/internal/document"
	"seatward/internal/render/xlsx"
	"seatward/rules"
	"seatward/station"
	"seatward/study"
)

// submittal is that of the best valve of an example station.
func submittal(b *testing.B) *document.Document {
	b.Helper()
	const file = "../../../examples/study.station.yaml"
	data, err := os.ReadFile(file)
	if err != nil {
		b.Fatal(err)
	}
	st, list := station.Load(file, data)
	if st == nil {
		b.Fatal(list)
	}
	catalogs, _ := catalog.Demo()
	book, _ := rules.Base()
	s, err := study.Run(context.Background(), st, study.Options{Catalogs: catalogs, Rules: book, Quick: true})
	if err != nil {
		b.Fatal(err)
	}
	d, err := document.NewDossier(context.Background(), document.Request{Study: s, Rules: book, Program: "Seatward (test)"}, document.Best(s, 1)[0], true)
	if err != nil {
		b.Fatal(err)
	}
	k, err := document.KindNamed("submittal")
	if err != nil {
		b.Fatal(err)
	}
	return d.Make(k)
}

// BenchmarkSubmittal: a submittal with its charts, from a study that is there.
func BenchmarkSubmittal(b *testing.B) {
	d := submittal(b)
	b.ReportAllocs()
	for b.Loop() {
		if err := xlsx.Write(io.Discard, d); err != nil {
			b.Fatal(err)
		}
	}
}
