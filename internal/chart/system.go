package chart

import (
	"seatward/internal/figure"
	"seatward/plant"
	"seatward/quantity"
	"seatward/study"
)

// System draws pump curves against system curves, with the valve's loss as the gap
// between one pump with and without it, and the operating points.
func System(s *study.Study, id string) (*figure.Figure, error) {
	curves, err := s.Curves(id)
	if err != nil {
		return nil, err
	}
	sys := s.Station.Units
	panel := figure.Panel{
		Title:  "Head at the header, above the level in the wet well",
		XLabel: axis("Flow of the station", quantity.Flow, sys), YLabel: axis("Head", quantity.Head, sys),
		YFromZero: true,
	}
	line := func(c plant.HeadCurve, style figure.Style, dash bool) figure.Series {
		out := figure.Series{Name: c.Name, Style: style, Dash: dash}
		for i := range c.FlowM3S {
			out.X, out.Y = append(out.X, sys.In(quantity.Flow, c.FlowM3S[i])), append(out.Y,
				sys.In(quantity.Head, c.HeadM[i]))
		}
		return out
	}
	one := line(curves.Pumps[0], figure.Water, false)
	bare := line(curves.Bare, figure.Amber, true)
	panel.Series = append(panel.Series, bare, one)
	for _, c := range curves.Pumps[1:] {
		panel.Series = append(panel.Series, line(c, figure.Water, false))
	}
	for i, c := range curves.Systems {
		panel.Series = append(panel.Series, line(c, figure.Ink, i > 0))
	}
	for _, p := range s.Points {
		for _, c := range curves.Systems {
			if c.Level != p.Level {
				continue // the middle level has no curve of its own
			}
			if head, ok := at(c, p.Flow.SI); ok {
				panel.Points = append(panel.Points, figure.Point{
					X: sys.In(quantity.Flow, p.Flow.SI),
					Y: sys.In(quantity.Head, head), Text: p.Name, Style: figure.Rust,
				})
			}
		}
	}
	return &figure.Figure{
		Title: "Pump and system curves, " + s.Station.Name + ", " + id,
		Note:  "The gap between the curves of one pump with and without the valve is the valve's head loss. Preliminary, for review.", Panels: []figure.Panel{panel}, PanelHeight: 430,
	}, nil
}

// at reads a curve between its points; false outside of them.
func at(c plant.HeadCurve, flowM3S float64) (headM float64, ok bool) {
	for i := 1; i < len(c.FlowM3S); i++ {
		if a, b := c.FlowM3S[i-1], c.FlowM3S[i]; flowM3S >= a && flowM3S <= b && a < b {
			return c.HeadM[i-1] + (c.HeadM[i]-c.HeadM[i-1])*(flowM3S-a)/(b-a), true
		}
	}
	return 0, false
}
