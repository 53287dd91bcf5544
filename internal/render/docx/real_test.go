package docx

import (
	"context"
	"io"
	"os"
	"testing"

	"seatward/catalog"
	"seatward/internal/document"
	"seatward/quantity"
	"seatward/rules"
	"seatward/station"
	"seatward/study"
)

// dossier is that of the best valve of an example station.
func dossier(t testing.TB, name string, sys quantity.System) *document.Dossier {
	t.Helper()
	file := "../../../examples/" + name + ".station.yaml"
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	st, list := station.Load(file, data)
	if st == nil {
		t.Fatal(list)
	}
	shown := *st
	shown.Units = sys
	catalogs, _ := catalog.Demo()
	book, _ := rules.Base()
	s, err := study.Run(context.Background(), &shown, study.Options{Catalogs: catalogs, Rules: book, Quick: true})
	if err != nil {
		t.Fatal(err)
	}
	d, err := document.NewDossier(context.Background(), document.Request{Study: s, Rules: book, Program: "Seatward (test)"}, document.Best(s, 1)[0], true)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// Every paper of a real study is sound and says, in its order, all that its blocks say.
func TestPapers(t *testing.T) {
	d := dossier(t, "study", quantity.US)
	for _, k := range document.Kinds() {
		paper := d.Make(k)
		holds(t, sound(t, made(t, paper)), paper)
	}
}

// BenchmarkWrite: a submittal from a study that is there.
func BenchmarkWrite(b *testing.B) {
	d := dossier(b, "study", quantity.US)
	k, err := document.KindNamed("submittal")
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if err := Write(io.Discard, d.Make(k)); err != nil {
			b.Fatal(err)
		}
	}
}
