package chart

import (
	"fmt"
	"math"

	"seatward/internal/figure"
	"seatward/plant"
	"seatward/quantity"
	"seatward/study"
)

// NewTrip draws the worst stop: heads at the valve, flow and opening, pump speed, and the
// envelope over the profile.
func NewTrip(s *study.TripStudy, sys quantity.System) *figure.Figure {
	t := s.Told()
	b := tripCharts{s: s, t: t, sys: sys}
	f := &figure.Figure{
		Title: fmt.Sprintf("%s: %s with %s", s.Station.Name, t.Event.Title, s.Item.ID),
		Note: "Preliminary calculation for review. Heads above " + s.Datum + ". " + s.Item.Family.Catalog.Maker + " " +
			s.Item.Family.Catalog.Version + "; run " + short(s.Station.Hash) + ".",
	}
	if s.Item.Family.Catalog.Invented {
		f.Note += " Valve data invented for demonstration."
	}
	f.Panels = []figure.Panel{b.heads(), b.flow(), b.motion(), b.envelope()}
	return f
}

func short(hash string) string { return hash[:min(len(hash), 12)] }

type tripCharts struct {
	s   *study.TripStudy
	t   *plant.Stop
	sys quantity.System
}

// window ends the time axis some way after the valve has closed for the hardest time, so
// that all that is said of it can be seen; a run in which it does not close is shown whole.
func (b tripCharts) window() float64 {
	end := b.t.TimeS
	if c := b.t.Closing; c.Closed {
		end = math.Min(end, math.Max(c.First.TimeS, c.Worst.TimeS)*1.6+0.5)
	}
	return end
}

// reading is a series of the run in the units of the reader.
func (b tripCharts) reading(name, label string, style figure.Style, dash bool) figure.Series {
	out := figure.Series{Name: label, Style: style, Dash: dash}
	at := -1
	for i, n := range b.t.Names {
		if n == name {
			at = i
		}
	}
	if at < 0 {
		return out
	}
	kind, end := study.ReadingKind(name), b.window()
	for _, r := range b.t.Rows {
		if r.TimeS > end {
			break
		}
		if r.Least[at] != r.Most[at] { // a row of several steps: no peak is lost
			out.X, out.Y = append(out.X, r.TimeS, r.TimeS), append(out.Y, b.sys.In(kind, r.Least[at]),
				b.sys.In(kind, r.Most[at]))
		}
		out.X, out.Y = append(out.X, r.TimeS), append(out.Y, b.sys.In(kind, r.Now[at]))
	}
	return out
}

// apartS is how far apart two closings must be to be marked both, as a share of the time.
const apartS = 0.05

// marks are the reversal of the flow and the closings that are marked: the first, and the
// hardest where it is another.
func (b tripCharts) marks() []figure.Mark {
	c := b.t.Closing
	if !c.Closed {
		return nil
	}
	var out []figure.Mark
	if c.ReversedS > 0 && c.ReversedS < 0.97*c.First.TimeS {
		out = append(out, figure.Mark{X: c.ReversedS, Text: "flow reverses"})
	}
	out = append(out, figure.Mark{X: c.First.TimeS, Text: "valve closes"})
	if c.Worst.TimeS > c.First.TimeS*(1+apartS) {
		out = append(out, figure.Mark{X: c.Worst.TimeS, Text: "hardest closing"})
	}
	return out
}

const timeAxis = "time after the event, s"

func (b tripCharts) heads() figure.Panel {
	return figure.Panel{
		Title: "Head at the valve", XLabel: timeAxis, YLabel: "head, " + b.sys.Unit(quantity.Head), Marks: b.marks(),
		Series: []figure.Series{
			b.reading(plant.ReadDown, "downstream of valve", figure.Rust, false),
			b.reading(plant.ReadUp, "upstream of valve", figure.Water, false),
			b.reading(plant.ReadHeader, "at the header", figure.Ink, true),
		},
	}
}

func (b tripCharts) flow() figure.Panel {
	p := figure.Panel{
		Title: "Flow", XLabel: timeAxis, YLabel: "flow, " + b.sys.Unit(quantity.Flow), YFromZero: true,
		Marks:  b.marks(),
		Series: []figure.Series{b.reading(plant.ReadFlow, "through the valve", figure.Water, false)},
	}
	if other := b.reading(plant.ReadOther, "a running pump", figure.Ink, true); len(other.X) > 0 {
		p.Series = append(p.Series, other)
	}
	return p
}

func (b tripCharts) motion() figure.Panel {
	return figure.Panel{
		Title: "Valve opening and pump speed", XLabel: timeAxis,
		YLabel: "percent of full, " + b.sys.Unit(quantity.Fraction), YFromZero: true, Marks: b.marks(),
		Series: []figure.Series{
			b.reading(plant.ReadOpening, "opening", figure.Amber, false),
			b.reading(plant.ReadSpeed, "pump speed", figure.Ink, true),
		},
	}
}

func (b tripCharts) envelope() figure.Panel {
	pipe := figure.Series{Name: "pipe", Style: figure.Amber}
	least, most := figure.Series{Name: "min. head", Style: figure.Water}, figure.Series{
		Name:  "max. head",
		Style: figure.Rust,
	}
	start, vapor := figure.Series{Name: "before", Style: figure.Ink, Dash: true}, figure.Series{
		Name:  "vapor pressure",
		Style: figure.Water, Dash: true,
	}
	rated := figure.Series{Name: "pipe rating", Style: figure.Rust, Dash: true}
	head := func(v float64) float64 { return b.sys.In(quantity.Head, v) }
	top := 0.0
	for _, e := range b.t.Envelope {
		top = math.Max(top, e.MostM)
	}
	for _, e := range b.t.Envelope {
		x := b.sys.In(quantity.Length, e.ChainageM)
		add := func(s *figure.Series, v float64) { s.X, s.Y = append(s.X, x), append(s.Y, head(v)) }
		add(&pipe, e.ElevationM)
		add(&least, e.LeastM)
		add(&most, e.MostM)
		add(&start, e.StartM)
		add(&vapor, e.ElevationM+b.t.VaporM)
		if e.LimitM < 1.5*top { // a rating far above would press all else flat
			add(&rated, e.LimitM)
		}
	}
	most.Low = least.Y
	p := figure.Panel{
		Title: "Min. and max. head along the main", XLabel: "distance along the main, " + b.sys.Unit(quantity.Length),
		YLabel: "head, " + b.sys.Unit(quantity.Head),
		Series: []figure.Series{most, least, start, pipe, vapor},
	}
	if len(rated.X) > 0 {
		p.Series = append(p.Series, rated)
	}
	return p
}
