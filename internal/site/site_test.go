package site

import (
	"math"
	"os"
	"slices"
	"testing"

	"seatward/basis"
	"seatward/catalog"
	"seatward/diagnosis"
	"seatward/internal/condition"
	"seatward/quantity"
	"seatward/rules"
	"seatward/station"
	"seatward/study"
)

func load(t *testing.T, name string) *station.Station {
	t.Helper()
	data, err := os.ReadFile("../../examples/" + name + ".station.yaml")
	if err != nil {
		t.Fatal(err)
	}
	st, list := station.Load(name, data)
	if st == nil {
		t.Fatal(list)
	}
	return st
}

// TestOf: the numbers of the examples, by hand where they can be.
func TestOf(t *testing.T) {
	n, err := Of(load(t, "study"))
	if err != nil {
		t.Fatal(err)
	}
	const foot = 0.3048
	if math.Abs(n.Band.SI-4*foot) > 1e-9 || math.Abs(n.Head.Low-38*foot) > 1e-9 ||
		math.Abs(n.Head.High-42*foot) > 1e-9 {
		t.Errorf("band %g m, head %g to %g m", n.Band.SI, n.Head.Low, n.Head.High)
	}
	// The axis starts at 10 ft, above the well's 8 ft, and rises: all of the 3,400 ft can drain.
	if math.Abs(n.DrainLength.SI-3400*foot) > 3 {
		t.Errorf("drains %g m", n.DrainLength.SI)
	}
	r := n.RunBack
	if r == nil || !(r.Speed.SI > 50) || !(r.Fastest.SI >= r.Speed.SI*0.99) || !(r.Heat.SI > 1) || !(r.Flow.SI > 0) {
		t.Fatalf("run-back %+v", r)
	}
	if Band(3, 1) != 2 || Overall(6, 12) != 0.5 {
		t.Error("band or overall efficiency")
	}
	for _, name := range []string{"first-call", "layout", "booster"} {
		if _, err := Of(load(t, name)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestPresent: what a file says of the valve there now finds its family.
func TestPresent(t *testing.T) {
	all, list := catalog.Demo()
	if list.Err() != nil {
		t.Fatal(list)
	}
	for said, want := range map[string]string{
		"swing, outside lever and weight, slams": "swing-assisted-weight", "swing check": "swing", "old ball check": "ball",
		"dual plate": "dual-plate", "tilting disc": "tilting-disc", "": "", "who knows": "", "swing with lever and spring": "swing-assisted-spring",
	} {
		st := *load(t, "study")
		st.Valve.Existing = said
		it := Present(&st, all)
		got := ""
		if it != nil {
			got = it.Family.ID
		}
		if got != want && !(want == "ball" && len(got) > 4 && got[:4] == "ball") {
			t.Errorf("%q is taken as %q, want %q", said, got, want)
		}
	}
}

// TestFactsOf: every fact of the rules of diagnosis comes about at some station, and each has the
// kind that the rules take it for.
func TestFactsOf(t *testing.T) {
	all, _ := catalog.Demo()
	book, _ := rules.Base()
	st := load(t, "study")
	s, err := study.Run(t.Context(), st, study.Options{Catalogs: all, Rules: book, Valve: "swing/6in"})
	if err != nil {
		t.Fatal(err)
	}
	n, err := Of(st)
	if err != nil {
		t.Fatal(err)
	}
	f := FactsOf(st, n, &s.Assessments[0])
	f.Well(basis.NewGiven("area", quantity.Area, 4, "here"), n, st.Units)
	for _, want := range diagnosis.Facts {
		got, ok := f.Known[want.Name]
		if !ok {
			t.Errorf("%s does not come about", want.Name)
			continue
		}
		kind := slices.Index([]string{"string", "int", "float64", "bool"}, typeOf(got))
		if condition.Kind(kind) != want.Kind {
			t.Errorf("%s is a %s", want.Name, typeOf(got))
		}
	}
	if f.Known["summits"] != 0 || f.Known["pumps"] != 2 || f.Known["rags"] != "light" {
		t.Errorf("%v", f.Known)
	}
}

func typeOf(x any) string {
	switch x.(type) {
	case string:
		return "string"
	case int:
		return "int"
	case float64:
		return "float64"
	case bool:
		return "bool"
	}
	return "another"
}

func TestSummits(t *testing.T) {
	var p []station.ProfilePoint
	for i, z := range []float64{0, 5, 3, 3, 8, 8, 2, 9} {
		p = append(p, station.ProfilePoint{ChainageM: float64(i), ElevationM: z})
	}
	if got := summits(p); got != 2 {
		t.Errorf("%d summits", got)
	}
}
