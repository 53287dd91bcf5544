package generate_test

import (
	"testing"

	"seatward/internal/generate"
	"seatward/station"
)

// TestLayouts: the survey has 32 different layouts, each read without fault, and none warned
// that its facts do not go together.
func TestLayouts(t *testing.T) {
	seen := map[string]bool{}
	for _, l := range generate.Layouts() {
		seen[l.String()] = true
		st, list := station.Load(l.String(), []byte(l.Station.Text()))
		if st == nil {
			t.Errorf("%s: %v", l, list)
			continue
		}
		for _, w := range st.Warnings {
			t.Errorf("%s: %s", l, w.Error())
		}
		if st.Depth != station.Layout {
			t.Errorf("%s is a %s", l, st.Depth)
		}
	}
	if len(seen) != 32 {
		t.Errorf("%d layouts, 32 wanted", len(seen))
	}
}
