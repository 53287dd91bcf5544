package chart

import (
	"math"
	"strings"
	"testing"

	"seatward/quantity"
	"seatward/valve"
)

// TestLossFigure: the tinted part ends at the flow that opens the valve in full, beyond it
// the two lines are one, and before it the valve loses more.
func TestLossFigure(t *testing.T) {
	each(t, func(t *testing.T, v *Valve) {
		l := NewLoss(v, nil, quantity.SI)
		p := l.Figure(v, quantity.SI).Panels[0]
		open, actual := p.Series[0], p.Series[1]
		if !p.LogX || !p.LogY || len(actual.X) != linePoints {
			t.Fatalf("%+v", p)
		}
		m := v.Mechanism.FullOpenVelocity()
		if len(p.Shades) == 0 {
			if !math.IsInf(m.VelocityMS, 0) {
				t.Error("no part is tinted")
			}
			return
		}
		full := quantity.SI.In(quantity.Flow, m.VelocityMS*v.Mechanism.AreaM2())
		if last := p.Shades[len(p.Shades)-1]; math.Abs(last.To-full) > 1e-9*full {
			t.Errorf("tinted up to %g, full open from %g", last.To, full)
		}
		for i := range actual.X {
			ratio := actual.Y[i] / open.Y[i]
			if actual.X[i] > full*1.001 && m.Meaning != valve.ParkedClear && math.Abs(ratio-1) > 1e-6 {
				t.Errorf("full open, but %g times the loss at %g", ratio, actual.X[i])
			}
		}
	})
}

// TestClosingFigure: the band holds the best estimate, and the limits are those asked for.
func TestClosingFigure(t *testing.T) {
	v := alone(t, demo(t)[0].Families[0].Items[0], demo(t)[0].Families[0].Items[0].Positions[0])
	c, err := NewClosing(v, Stop{QuietMS: 0.15, HarmfulMS: 0.3}, quantity.SI)
	if err != nil {
		t.Fatal(err)
	}
	p := c.Figure(v, quantity.SI).Panels[0]
	band, best := p.Series[0], p.Series[2]
	for i := range best.Y {
		if best.Y[i] < band.Low[i]-1e-12 || best.Y[i] > band.Y[i]+1e-12 {
			t.Errorf("%g stands outside of %g to %g", best.Y[i], band.Low[i], band.Y[i])
		}
	}
	if len(p.Levels) != 2 || p.Levels[0].Y != 0.15 || !band.Bare ||
		!strings.Contains(c.Figure(v, quantity.SI).Note, "invented") {
		t.Errorf("%+v", p)
	}
}
