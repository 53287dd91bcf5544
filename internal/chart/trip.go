package chart

import (
	"fmt"
	"math"

	"seatward/internal/figure"
	"seatward/quantity"
	"seatward/study"
)

// NewTrip draws the run that is told: heads at the valve, flow and opening, pump speed,
// and the envelope over the profile.
func NewTrip(s *study.TripStudy, sys quantity.System) *figure.Figure {
	t := s.Told()
	b := tripCharts{s: s, t: t, sys: sys}
	f := &figure.Figure{
		Title: fmt.Sprintf("%s: %s with %s", s.Station.Name, t.Event.Title, s.Item.ID),
		Note:  "Preliminary calculation for review. Heads above " + s.Datum + ". " + s.Item.Family.Catalog.Maker + " " + s.Item.Family.Catalog.Version + "; run " + short(s.Station.Hash) + ".",
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
	t   *study.Trip
	sys quantity.System
}

// window ends the time axis some way after the valve has shut, so that the closing can be
// seen; a run in which it does not is shown whole.
func (b tripCharts) window() float64 {
	end := b.t.TimeS
	if c := b.t.Closing; c.Closed {
		end = math.Min(end, c.TimeS*1.6+0.5)
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
			out.X, out.Y = append(out.X, r.TimeS, r.TimeS), append(out.Y, b.sys.In(kind, r.Least[at]), b.sys.In(kind, r.Most[at]))
		}
		out.X, out.Y = append(out.X, r.TimeS), append(out.Y, b.sys.In(kind, r.Now[at]))
	}
	return out
}

// marks are the turn of the water and the seating.
func (b tripCharts) marks() []figure.Mark {
	var out []figure.Mark
	if c := b.t.Closing; c.Closed {
		if c.ReversedS > 0 && c.ReversedS < 0.97*c.TimeS {
			out = append(out, figure.Mark{X: c.ReversedS, Text: "water turns"})
		}
		out = append(out, figure.Mark{X: c.TimeS, Text: "valve seats"})
	}
	return out
}

const timeAxis = "time after the event, s"

func (b tripCharts) heads() figure.Panel {
	return figure.Panel{
		Title: "Head at the valve", XLabel: timeAxis, YLabel: "head, " + b.sys.Unit(quantity.Head), Marks: b.marks(),
		Series: []figure.Series{
			b.reading(study.ReadDown, "behind the valve", figure.Rust, false), b.reading(study.ReadUp, "before it", figure.Water, false),
			b.reading(study.ReadHeader, "at the header", figure.Ink, true),
		},
	}
}

func (b tripCharts) flow() figure.Panel {
	p := figure.Panel{
		Title: "Flow", XLabel: timeAxis, YLabel: "flow, " + b.sys.Unit(quantity.Flow), YFromZero: true, Marks: b.marks(),
		Series: []figure.Series{b.reading(study.ReadFlow, "through the valve", figure.Water, false)},
	}
	if other := b.reading(study.ReadOther, "a running pump", figure.Ink, true); len(other.X) > 0 {
		p.Series = append(p.Series, other)
	}
	return p
}

func (b tripCharts) motion() figure.Panel {
	return figure.Panel{
		Title: "Opening of the valve, and speed of its pump", XLabel: timeAxis, YLabel: "share, " + b.sys.Unit(quantity.Fraction), YFromZero: true, Marks: b.marks(),
		Series: []figure.Series{b.reading(study.ReadOpening, "opening", figure.Amber, false), b.reading(study.ReadSpeed, "pump speed", figure.Ink, true)},
	}
}

func (b tripCharts) envelope() figure.Panel {
	pipe := figure.Series{Name: "pipe", Style: figure.Amber}
	least, most := figure.Series{Name: "least", Style: figure.Water}, figure.Series{Name: "greatest", Style: figure.Rust}
	start, vapor := figure.Series{Name: "before", Style: figure.Ink, Dash: true}, figure.Series{Name: "vapor", Style: figure.Water, Dash: true}
	rated := figure.Series{Name: "rated to", Style: figure.Rust, Dash: true}
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
		Title: "Least and greatest head along the main", XLabel: "place along the main, " + b.sys.Unit(quantity.Length), YLabel: "head, " + b.sys.Unit(quantity.Head),
		Series: []figure.Series{most, least, start, pipe, vapor},
	}
	if len(rated.X) > 0 {
		p.Series = append(p.Series, rated)
	}
	return p
}
