package judge

import (
	"testing"

	"seatward/plant"
)

// The hand formulas say where they do not reach: where waves return before the flow turns,
// and for unequal pumps.
func TestHandFormulasTellTheirDoubt(t *testing.T) {
	old := "pumps:\n  - {name: old, speed: 1760 rpm, submersible: no, curve: [[0 gpm, 90 ft], [400 gpm, 70 ft], [800 gpm, 30 ft]]}\n"
	for _, c := range []struct {
		name  string
		edits []string
		doubt bool
	}{
		{"equal pumps", nil, false},
		{"unequal pumps", []string{"pumps:\n", old}, true},
		{"waves return first", []string{"count: 2", "count: 1", "outlet: 46 ft", "outlet: 72 ft"}, true},
	} {
		in := input(t, layout, "flap/6in", c.edits...)
		p, err := plant.New(in.Station)
		if err != nil {
			t.Fatal(err)
		}
		points, err := p.Solve(nil)
		if err != nil {
			t.Fatal(err)
		}
		hand, err := HandFormulas(in.Station, in.Item, plant.ByHand(in.Station, points.ForValve()))
		if err != nil {
			t.Fatal(err)
		}
		v := hand.Reverse
		if (hand.Doubt != "") != c.doubt || !(v.Low <= v.SI && v.SI <= v.High) || hand.HeadRise.SI <= 0 {
			t.Errorf("%s: doubt %q, %g (%g to %g), rise %g", c.name, hand.Doubt, v.SI, v.Low, v.High, hand.HeadRise.SI)
		}
	}
}
