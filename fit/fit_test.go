package fit

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatward/catalog"
	"seatward/dimension"
	"seatward/quantity"
	"seatward/valve"
)

func demo(t testing.TB) []*catalog.Catalog {
	t.Helper()
	all, list := catalog.Demo()
	if list.Err() != nil {
		t.Fatal(list)
	}
	return all
}

const inch = 0.0254

func find(t testing.TB, old Old) (Answer, map[string]*Valve) {
	a := Find(old, demo(t), quantity.US)
	byID := map[string]*Valve{}
	for i := range a.Valves {
		byID[a.Valves[i].Item.ID] = &a.Valves[i]
	}
	return a, byID
}

func point(v *Valve, about string) Point {
	for _, p := range v.Points {
		if p.About == about {
			return p
		}
	}
	return Point{Kind: 99}
}

// TestSwingOfSixInches: an old swing check of NPS 6 is found by its flange and length; the
// new swing drops in, the ball check of series 48 is too long, and PN16 is reported as less
// likely.
func TestSwingOfSixInches(t *testing.T) {
	a, valves := find(t, Old{
		Taped:       dimension.Taped{OutsideM: 11 * inch, BoltCircleM: 9.5 * inch, Bolts: 8, WithinM: 0.002},
		FaceToFaceM: 14 * inch,
		Position:    new(valve.Position), ClearanceM: 0.5, MassKg: 75, StraightM: 2,
	})
	if len(a.Guesses) != 1 || a.Guesses[0].Size.DN != 150 || a.Guesses[0].Near {
		t.Fatalf("%+v", a.Guesses)
	}
	less := false
	for _, f := range a.Guesses[0].Flanges {
		if strings.HasPrefix(f.Flange.Standard, "EN") {
			less = f.Less
		}
	}
	if !less {
		t.Error("PN16 is not reported as less likely")
	}
	swing, ball := valves["swing/6in"], valves["ball-pocket/6in"]
	if swing.Worst() != Good || swing.GapM > 0.001 || !strings.Contains(swing.Ends, "Class 125") {
		t.Errorf("swing: %+v", swing.Points)
	}
	if p := point(ball, "laying length"); p.Kind != Work || !strings.Contains(p.Text, "cut back by 1.75 in") {
		t.Errorf("ball: %+v", p)
	}
	if p := point(valves["ball-cage/6in/sinking"], "position"); p.Kind != Bad {
		t.Errorf("a vertical cage lying down: %+v", p)
	}
	if a.Valves[0].Worst() != Good {
		t.Error("what drops in does not come first")
	}
}

// TestMetricFlange: a PN16 flange of DN200 clashes with Class 125 ends, and a shorter valve
// needs a spacer.
func TestMetricFlange(t *testing.T) {
	a, valves := find(t, Old{
		Taped:       dimension.Taped{OutsideM: 0.340, BoltCircleM: 0.295, Bolts: 12, BoltM: 0.020, WithinM: 0.001},
		FaceToFaceM: 0.600, Position: new(valve.Position),
	})
	if a.Guesses[0].Size.DN != 200 || a.Guesses[0].Near {
		t.Fatalf("%+v", a.Guesses[0])
	}
	v := valves["ball-pocket/8in"]
	if v.Ends != "EN 1092-2 PN16 flanges" || point(v, "drilling").Kind != Good {
		t.Errorf("%+v", v.Points)
	}
	if p := point(v, "laying length"); p.Kind != Work || !strings.Contains(p.Text, "spacer") {
		t.Errorf("%+v", p)
	}
	if p := point(v, "mass"); p.Kind != Ask {
		t.Errorf("an unknown mass is judged: %+v", p)
	}
}

// TestDoubtfulFlangeIsAsked: where what was measured cannot tell flanges apart that do not
// mate, that is said, not guessed.
func TestDoubtfulFlangeIsAsked(t *testing.T) {
	_, valves := find(t, Old{
		Taped:    dimension.Taped{BoltCircleM: 0.2407, Bolts: 8, WithinM: 0.002},
		Position: new(valve.Position),
	})
	if p := point(valves["swing/6in"], "drilling"); p.Kind != Ask || !strings.Contains(p.Text, "may be") {
		t.Errorf("%+v", p)
	}
}

// TestCoverOfTheOld: the height of the old cover is set beside what the new one needs.
func TestCoverOfTheOld(t *testing.T) {
	_, valves := find(t, Old{Taped: dimension.Taped{
		OutsideM: 11 * inch, BoltCircleM: 9.5 * inch, Bolts: 8,
		WithinM: 0.002,
	}, CoverM: 0.2})
	if p := point(valves["swing/6in"], "clearance"); p.Kind != Ask || !strings.Contains(p.Text, "stands at 7.87 in") {
		t.Errorf("%+v", p)
	}
}

// TestNearMiss: with one dimension off, the guess says which.
func TestNearMiss(t *testing.T) {
	a, _ := find(t, Old{Taped: dimension.Taped{OutsideM: 11 * inch, BoltCircleM: 9.5 * inch, Bolts: 6, WithinM: 0.001}})
	if len(a.Guesses) == 0 || !a.Guesses[0].Near ||
		!strings.Contains(strings.Join(a.Guesses[0].Flanges[0].Misses, ""), "8 bolts, not 6") {
		t.Errorf("%+v", a.Guesses)
	}
}

// TestOnlyALength: a length alone names every size and standard that it fits.
func TestOnlyALength(t *testing.T) {
	a, _ := find(t, Old{FaceToFaceM: 0.400, Taped: dimension.Taped{WithinM: 0.002}})
	if len(a.Guesses) == 0 || a.Guesses[0].Size.DN != 150 ||
		a.Guesses[0].Lengths[0].Length.Standard != "EN 558 series 48" {
		t.Errorf("%+v", a.Guesses)
	}
}

// TestEveryCatalogValveFitsItself: a valve measured as it is drops in.
func TestEveryCatalogValveFitsItself(t *testing.T) {
	var items []*catalog.Item
	for _, c := range demo(t) {
		for _, f := range c.Families {
			items = append(items, f.Items...)
		}
	}
	rapid.Check(t, func(r *rapid.T) {
		it := rapid.SampledFrom(items).Draw(r, "item")
		e := rapid.SampledFrom(it.Family.Ends).Draw(r, "ends")
		fl, ok := dimension.FlangeOf(e.Standard, it.Size)
		if !ok || !e.Covers(it.Size) {
			return
		}
		_, valves := find(t, Old{
			Taped: dimension.Taped{
				OutsideM: fl.OutsideM, BoltCircleM: fl.BoltCircleM, Bolts: fl.Bolts, BoltM: fl.BoltM,
				HoleM: fl.HoleM, WithinM: 0.001,
			}, FaceToFaceM: it.FaceToFace.SI,
			Position: &it.Positions[0], ClearanceM: it.Clearance.SI, MassKg: it.Mass.SI, StraightM: 100,
		})
		v := valves[it.ID]
		if v == nil || point(v, "laying length").Kind != Good || point(v, "drilling").Kind != Good ||
			point(v, "position").Kind != Good || point(v, "clearance").Kind != Good {
			r.Fatalf("%s with %s: %+v", it.ID, e.Standard, v)
		}
	})
}

func BenchmarkFind(b *testing.B) {
	catalogs := demo(b)
	old := Old{
		Taped:       dimension.Taped{OutsideM: 11 * inch, BoltCircleM: 9.5 * inch, Bolts: 8, WithinM: 0.002},
		FaceToFaceM: 14 * inch,
	}
	large := slices.Repeat(catalogs, 50) // as many families as 500
	for b.Loop() {
		Find(old, large, quantity.US)
	}
}
