package document_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"seatward/catalog"
	"seatward/dimension"
	"seatward/internal/document"
	"seatward/quantity"
	"seatward/rules"
	"seatward/station"
	"seatward/study"
)

// profile is that of the gallery.
func profile(t testing.TB) *document.ProfileFile {
	t.Helper()
	const file = "../../examples/profile.yaml"
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	p, list := document.ParseProfile(file, data)
	if list.Err() != nil {
		t.Fatal(list)
	}
	return p
}

// request answers for an example station in the units, with the demonstration catalog; quick
// leaves the stops to be run.
func request(t testing.TB, name string, sys quantity.System, quick bool) document.Request {
	t.Helper()
	catalogs, list := catalog.Demo()
	if list.Err() != nil {
		t.Fatal(list)
	}
	return requestOf(t, name, sys, quick, catalogs)
}

// requestOf is request with other catalogs.
func requestOf(
	t testing.TB, name string, sys quantity.System, quick bool, catalogs []*catalog.Catalog,
) document.Request {
	t.Helper()
	file := filepath.Join("../../examples", name+".station.yaml")
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	st, list := station.Load("examples/"+name+".station.yaml", data)
	if st == nil {
		t.Fatal(list)
	}
	shown := *st
	shown.Units = sys
	book, list := rules.Base()
	if list.Err() != nil {
		t.Fatal(list)
	}
	s, err := study.Run(context.Background(), &shown, study.Options{Catalogs: catalogs, Rules: book, Quick: quick})
	if err != nil {
		t.Fatal(err)
	}
	return document.Request{
		Study: s, Rules: book, Profile: profile(t), Program: "Seatward (test)",
		Command: "seatward select examples/" + name + ".station.yaml",
	}
}

// asked are the dossiers that the tests share: runs take their time.
var asked = map[string]*document.Dossier{}

// dossier is that of the valve, or of the best one, with the trip; made once.
func dossier(t testing.TB, r document.Request, id string) *document.Dossier {
	t.Helper()
	key := fmt.Sprint(r.Study.Station.Hash, r.Study.Station.Units, id, r.Compared)
	if d, made := asked[key]; made {
		return d
	}
	if id == "" {
		id = document.Best(r.Study, 1)[0]
	}
	d, err := document.NewDossier(context.Background(), r, id, true)
	if err != nil {
		t.Fatal(err)
	}
	asked[key] = d
	return d
}

// flange is that of the ends chosen, as the standard has it.
func flange(d *document.Dossier) []float64 {
	for _, o := range d.Configuration.Options {
		if o.Option.ID == catalog.EndsOption && o.Choice != nil {
			if f, found := dimension.FlangeOf(o.Choice.Title, d.Assessment.Item.Size); found {
				return []float64{f.OutsideM, f.BoltCircleM, f.HoleM, f.BoltM}
			}
		}
	}
	return nil
}
