package catalog

import (
	"strings"
	"testing"
	"testing/fstest"

	"seatward/diag"
	"seatward/valve"
)

const looseCurve = `maker: field measurement
version: "2026-05-12"
date: "2026-05-12"
source: invented stops
licence: CC0-1.0
measured:
  - kind: reverse velocity against deceleration
    family: hinged
    size: 8 in
    source: invented stops
    licence: CC0-1.0
    method: invented
    closing: [[1 m/s2, 0.1 m/s], [4 m/s2, 0.4 m/s]]
    errors: [[0.1 m/s2, 0.02 m/s], [0.2 m/s2, 0.03 m/s]]
`

// joinedWith reads the good catalog and a file of curves, and joins them.
func joinedWith(t *testing.T, curves string) ([]*Catalog, []*Catalog, diag.List) {
	t.Helper()
	all, list := LoadFiles(fstest.MapFS{"a.yaml": {Data: []byte(good(t))}, "b.yaml": {Data: []byte(curves)}}, "*.yaml")
	if list.Err() != nil {
		return nil, nil, list
	}
	out, list := Join(all)
	return all, out, list
}

// TestLooseCurve: a curve in a file of its own comes to the valve that it was measured on, with
// errors and source; the catalog that was read stays without it.
func TestLooseCurve(t *testing.T) {
	before, after, list := joinedWith(t, looseCurve)
	if len(list) > 0 || len(after) != 1 {
		t.Fatalf("%v, %d catalogs", list, len(after))
	}
	it, err := Find(after, "hinged/8in")
	if err != nil {
		t.Fatal(err)
	}
	m, ok := it.MeasuredClosing(valve.FlowUp)
	if !ok || m.Source != "invented stops" || m.Method != "invented" || len(m.YHalf) != 2 || m.YHalf[1] != 0.03 ||
		m.XHalf[0] != 0.1 {
		t.Errorf("%v: %+v", ok, m)
	}
	if it.Family.Catalog != after[0] || it.Family.Items[0].Family != it.Family {
		t.Error("the copy of the family does not hold together")
	}
	if old, err := Find(before, "hinged/8in"); err != nil {
		t.Error(err)
	} else if _, ok := old.MeasuredClosing(valve.FlowUp); ok {
		t.Error("the catalog that was read has the curve too")
	}
	curves, list := LoadFiles(fstest.MapFS{"b.yaml": {Data: []byte(looseCurve)}}, "b.yaml")
	if list.Err() != nil || !CurvesOnly(curves) || CurvesOnly(before) || CurvesOnly(nil) {
		t.Errorf("%v: a file of curves is not known as one", list)
	}
}

// TestLooseCurveFaults: what is wrong with a curve in a file of its own is one message.
func TestLooseCurveFaults(t *testing.T) {
	for _, tt := range []struct{ name, old, by, id string }{
		{"unknown family", "family: hinged", "family: hingd", "measured-family-unknown"},
		{"no family", "    family: hinged\n", "", "measured-no-family"},
		{"unknown size", "size: 8 in", "size: 20 in", "measured-for-nothing"},
		{"error missing", ", [0.2 m/s2, 0.03 m/s]]", "]", "measured-errors"},
		{"negative error", "[0.2 m/s2, 0.03 m/s]", "[0.2 m/s2, -0.03 m/s]", "value-out-of-range"},
		{"a second one", "size: 8 in", "size: 6 in", "measured-twice"},
		{"nothing", looseCurve[strings.Index(looseCurve, "measured:"):], "", "list-empty"},
	} {
		_, _, list := joinedWith(t, strings.Replace(looseCurve, tt.old, tt.by, 1))
		if len(list) == 0 || list[0].ID != tt.id || list[0].Place.File != "b.yaml" && tt.id != "measured-twice" {
			t.Errorf("%s: %v, want %s in b.yaml", tt.name, list, tt.id)
		}
	}
	text := strings.Replace(good(t), "      - kind: reverse velocity against deceleration\n",
		"      - kind: reverse velocity against deceleration\n        family: ball\n", 1)
	if _, list := loaded(text); len(list) == 0 || list[0].ID != "measured-elsewhere" {
		t.Errorf("a curve of another family in a family: %v", list)
	}
}
