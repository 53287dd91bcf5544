package plant

import (
	"math"
	"testing"
)

// TestEstimateAgreesWithSample holds the few draws that an answer makes to a full sample of
// 1,024 (physics A7.1): 5, 50 and 95 % points within 10 % or 0.02 m/s, chances within 0.1,
// unless the answer says itself that it is not settled. SEATWARD_LONG=1 asks the examples
// and more valves.
func TestEstimateAgreesWithSample(t *testing.T) {
	stations := map[string]int{"split-1062-one": 1}
	if long() {
		stations = map[string]int{"split-1062-one": 3, "riser.station": 3, "short-lift.station": 2, "layout": 2}
	}
	for name, valves := range stations {
		p := plantOf(t, name)
		for _, f := range some(t, p, valves) {
			few, full := asked(t, p, f, Ask{}), asked(t, p, f, Ask{Sample: 1024})
			if few.Worst == nil {
				continue
			}
			a, b := few.Slam, full.Slam
			apart := func(x, y float64) bool { return math.Abs(x-y) > math.Max(0.1*math.Abs(y), 0.02) }
			c, d := a.Chances, b.Chances
			chance := math.Max(math.Abs(c.Quiet-d.Quiet),
				math.Max(math.Abs(c.Audible-d.Audible), math.Abs(c.Harmful-d.Harmful)))
			t.Logf("%s, %s: %.3f %.3f %.3f of %d runs (settled %v), %.3f %.3f %.3f of %d; chances %.2f and %.2f", name,
				f.item.ID,
				a.Sudden.Low, a.MedianSudden, a.Sudden.High, a.Runs, a.Settled, b.Sudden.Low, b.MedianSudden,
				b.Sudden.High, b.Runs, c, d)
			if a.Settled && (apart(a.Sudden.Low, b.Sudden.Low) || apart(a.MedianSudden, b.MedianSudden) ||
				apart(a.Sudden.High, b.Sudden.High) || chance > 0.1) {
				t.Errorf("%s, %s: settled, and apart from the sample", name, f.item.ID)
			}
		}
	}
}
