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

// TestUnitsAreOneStation: in other units every number of the resolved station is the same.
func TestUnitsAreOneStation(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := generate.Stations().Draw(t, "station")
		other, ok := s.InOtherUnits()
		a, _ := station.Load("file", []byte(s.Text()))
		b, _ := station.Load("file", []byte(other.Text()))
		if !ok || a == nil || b == nil {
			return
		}
		numbers := map[string]float64{}
		station.Walk(a, func(path string, v basis.Value) { numbers[path] = v.SI })
		station.Walk(b, func(path string, v basis.Value) {
			if w := numbers[path]; math.Abs(v.SI-w) > 1e-9*math.Max(1e-3, math.Abs(w)) {
				t.Fatalf("%s: %g in one system of units, %g in the other\n%s\n%s", path, w, v.SI, s.Text(), other.Text())
			}
		})
	})
}
