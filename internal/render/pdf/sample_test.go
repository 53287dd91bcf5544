package pdf_test

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
