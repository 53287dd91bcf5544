package sample

import (
	"context"
	"os"
	"testing"

	"seatward/catalog"
	"seatward/internal/document"
	"seatward/quantity"
	"seatward/rules"
	"seatward/station"
	"seatward/study"
)

// Dossier is that of the best valve of an example station, in the units asked for. Tests
// call it from the folder of a format.
func Dossier(t testing.TB, name string, sys quantity.System) *document.Dossier {
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
	catalogs, list := catalog.Demo()
	if list.Err() != nil {
		t.Fatal(list)
	}
	book, list := rules.Base()
	if list.Err() != nil {
		t.Fatal(list)
	}
	s, err := study.Run(context.Background(), &shown, study.Options{Catalogs: catalogs, Rules: book, Quick: true})
	if err != nil {
		t.Fatal(err)
	}
	d, err := document.NewDossier(context.Background(),
		document.Request{Study: s, Rules: book, Program: "Seatward (test)"}, document.Best(s, 1)[0], true)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// Paper is a kind of document of the study example.
func Paper(t testing.TB, kind string) *document.Document {
	t.Helper()
	k, err := document.KindNamed(kind)
	if err != nil {
		t.Fatal(err)
	}
	return Dossier(t, "study", quantity.US).Make(k)
}
