package generate_test

import (
	"testing"

	"pgregory.net/rapid"

	"seatward/internal/generate"
	"seatward/station"
)

// legalStations is how many are read in the test; the soak reads thousands.
const legalStations = 200

// TestLegal: of the stations drawn at least 98 in 100 are read without fault.
func TestLegal(t *testing.T) {
	refused := 0
	for seed := range uint64(legalStations) {
		text := generate.Text(seed + 1)
		if st, list := station.Load("generated", []byte(text)); st == nil {
			refused++
			t.Logf("seed %d: %v\n%s", seed+1, list, text)
		}
	}
	if 50*refused > legalStations {
		t.Errorf("%d of %d stations are refused, at most 1 in 50 wanted", refused, legalStations)
	}
}

// TestDepth: a station has the depth that it is drawn for.
func TestDepth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := generate.Stations().Draw(t, "station")
		st, _ := station.Load("generated", []byte(s.Text()))
		if st != nil && st.Depth.String() != s.Depth && !(s.Depth == "layout" && st.Depth.String() == "study") {
			t.Fatalf("depth %s, drawn for %s\n%s", st.Depth, s.Depth, s.Text())
		}
	})
}

// TestSeeds: a seed is a station, and another seed another.
func TestSeeds(t *testing.T) {
	seen := map[string]uint64{}
	for seed := range uint64(50) {
		text := generate.Seeded(seed).Text()
		if text != generate.Seeded(seed).Text() {
			t.Fatalf("seed %d gives two stations", seed)
		}
		if other, ok := seen[text]; ok {
			t.Errorf("seeds %d and %d give one station", other, seed)
		}
		seen[text] = seed
	}
}
