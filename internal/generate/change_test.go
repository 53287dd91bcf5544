package generate_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"seatward/basis"
	"seatward/internal/generate"
	"seatward/station"
)

// TestChangesAreLegal: what a change makes of a legal station is legal, and no change
// touches the station that it was given.
func TestChangesAreLegal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := generate.Stations().Draw(t, "station")
		before := s.Text()
		if st, _ := station.Load("before", []byte(before)); st == nil {
			return
		}
		for _, c := range generate.Changes() {
			other, ok := c.Apply(s)
			if s.Text() != before {
				t.Fatalf("%s changed the station that it was given", c.Name)
			}
			if !ok {
				continue
			}
			if st, list := station.Load("after", []byte(other.Text())); st == nil {
				t.Fatalf("%s: %v\n%s", c.Name, list, other.Text())
			}
		}
	})
}

// TestUnitsAreOneStation: in other units every number of the resolved station is the same to
// the last bit, with its range, so that no run of the two can differ. A number whose figures
// end at a half of the last that is read may fall to either side: one in a thousand may.
func TestUnitsAreOneStation(t *testing.T) {
	numbers, apart := 0, 0
	for seed := range uint64(stationsInTwoUnits) {
		s := generate.Seeded(seed)
		other, ok := s.InOtherUnits()
		a, _ := station.Load("file", []byte(s.Text()))
		b, _ := station.Load("file", []byte(other.Text()))
		if !ok || a == nil || b == nil {
			continue
		}
		known := map[string]basis.Value{}
		station.Walk(a, func(path string, v basis.Value) { known[path] = v })
		station.Walk(b, func(path string, v basis.Value) {
			w := known[path]
			for i, x := range [...]float64{w.Low, w.SI, w.High} {
				y := [...]float64{v.Low, v.SI, v.High}[i]
				if numbers++; math.Float64bits(x) == math.Float64bits(y) {
					continue
				}
				apart++
				t.Logf("seed %d, %s: %.17g in one system of units, %.17g in the other", seed, path, x, y)
				if math.Abs(x-y) > 1e-11*math.Max(math.Abs(x), 1e-9) {
					t.Errorf("seed %d, %s: %.17g in one system of units, %.17g in the other\n%s\n%s", seed, path, x, y,
						s.Text(), other.Text())
				}
			}
		})
	}
	if numbers < 1000 || 1000*apart > numbers {
		t.Errorf("%d of %d numbers differ in the last bits", apart, numbers)
	}
}

const stationsInTwoUnits = 60
