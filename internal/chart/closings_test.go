package chart

import (
	"strings"
	"testing"

	"seatward/quantity"
)

// TestClosings: every family of the size stands on one chart, the worst first, each with how
// its law was come by.
func TestClosings(t *testing.T) {
	var valves []*Valve
	size, err := quantity.ParseSize("8 in")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range demo(t)[0].Families {
		for _, it := range f.Items {
			if it.Size == size && (it.Variant == "" || it.Variant == "sinking") {
				valves = append(valves, alone(t, it, it.Positions[0]))
			}
		}
	}
	c, err := NewClosings(size, valves, Stop{RatesMS2: []float64{3, 6, 10}, QuietMS: 0.15, HarmfulMS: 0.3}, quantity.SI)
	if err != nil {
		t.Fatal(err)
	}
	if len(c.Curves) != len(valves) || len(valves) < 10 {
		t.Fatalf("%d curves of %d valves", len(c.Curves), len(valves))
	}
	laws := map[string]string{}
	for i := range c.Curves {
		k := &c.Curves[i]
		laws[k.Valve] = k.Law
		if i > 0 && k.median() > c.Curves[i-1].median() {
			t.Errorf("%s stands below %s", k.Valve, c.Curves[i-1].Valve)
		}
		if name := c.Figure(quantity.SI).Panels[0].Series[i].Name; !strings.HasSuffix(name, k.Law) || k.LawText == "" {
			t.Errorf("curve %q does not say by which law", name)
		}
	}
	for id, want := range map[string]string{
		"swing/8in": "computed", "ball-pocket/8in": "computed",
		"flap/8in": "assumed", "tilting-disc/8in": "assumed", "dual-plate/8in": "assumed", "axial-spring/8in": "assumed",
	} {
		if laws[id] != want {
			t.Errorf("%s: law %q, want %q", id, laws[id], want)
		}
	}
}
