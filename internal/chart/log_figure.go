package chart

import (
	"fmt"
	"math"

	"seatward/internal/figure"
	"seatward/quantity"
)

const (
	logPoints  = 1400 // of a line: the least and the greatest of each stretch
	mostMarks  = 12
	mostTraces = 4
)

// Figure draws the traces of the log with their events. Long ones are drawn by the least and
// the greatest reading of each stretch, so that no peak is lost; a gap stays one.
func (x *Log) Figure(sys quantity.System) *figure.Figure {
	f := &figure.Figure{
		Title: "Log " + x.File,
		Note:  "Readings as logged; nothing is filled in between. Each stretch is drawn by its lowest and highest reading.",
	}
	for i := range x.Traces {
		if i == mostTraces {
			f.Note += fmt.Sprintf(" %d more traces are not drawn.", len(x.Traces)-i)
			break
		}
		f.Panels = append(f.Panels, x.Traces[i].panel(sys, 0, math.MaxInt64))
		if near, ok := x.Traces[i].closeUp(); ok {
			p := x.Traces[i].panel(sys, near[0], near[1])
			p.Title = x.Traces[i].Channel + ", the largest step"
			f.Panels = append(f.Panels, p)
		}
	}
	if len(f.Panels) == 0 {
		f.Panels = []figure.Panel{{Title: "no pressure or head in this log", XLabel: "time, s", YLabel: "head"}}
	}
	return f
}

// closeUp is the time about the largest slam.
func (t *LogTrace) closeUp() (span [2]int64, ok bool) {
	best := -1
	for i := range t.Slams {
		if best < 0 || t.Slams[i].StepM() > t.Slams[best].StepM() {
			best = i
		}
	}
	if best < 0 {
		return span, false
	}
	s := &t.Slams[best]
	room := 12 * math.Max(s.WidthS, 2*t.Grain.StepS)
	if s.Wave != nil {
		room = 5 * s.Wave.PeriodS
	}
	return t.unbroken(s.AtNS, [2]int64{s.AtNS - int64(room*0.3e9), s.AtNS + int64(room*1e9)}), true
}

// silent is how long no reading comes in a silence, ns; 0 where nothing tells.
func (t *LogTrace) silent() int64 { return int64(5 * t.Grain.StepS * 1e9) }

// unbroken is the part of a span about a time in which the logger was never silent.
func (t *LogTrace) unbroken(at int64, span [2]int64) [2]int64 {
	for i := 1; i < t.source.Len(); i++ {
		before, now := t.source.Time(i-1), t.source.Time(i)
		switch {
		case t.silent() == 0 || now-before <= t.silent():
		case now <= at:
			span[0] = max(span[0], now)
		case before >= at:
			span[1] = min(span[1], before)
		}
	}
	return span
}

// panel draws the readings between two times.
func (t *LogTrace) panel(sys quantity.System, from, to int64) figure.Panel {
	start := t.source.Time(0)
	whole := to == math.MaxInt64
	if whole {
		from, to = start, t.source.Time(t.source.Len()-1)
	}
	p := figure.Panel{
		Title: t.Channel, XLabel: "time from the start of the log, s",
		YLabel: "head over the gauge, " + sys.Unit(quantity.Head),
	}
	if !whole {
		start, p.XLabel = t.nearest(from, to), "time from the closing, s"
	}
	at := func(ns int64) float64 { return float64(ns-start) / 1e9 }
	line := figure.Series{Name: "head", Style: figure.Water}
	line.X, line.Y = t.thinned(from, to, start, sys)
	p.Series = []figure.Series{line}
	for _, op := range t.Operations {
		if op.AtNS >= from && op.AtNS <= to && len(p.Marks) < mostMarks {
			p.Marks = append(p.Marks, figure.Mark{X: at(op.AtNS), Text: map[bool]string{
				true:  "start",
				false: "stop",
			}[op.Start]})
		}
	}
	for i := range t.Slams {
		if s := &t.Slams[i]; s.AtNS >= from && s.AtNS <= to && len(p.Points) < mostMarks {
			text := "slam " + sys.Format(quantity.Head, s.StepM())
			if s.Later {
				text = "later " + text
			}
			if s.Cause != "closing" {
				text = "rejoining"
			}
			p.Points = append(p.Points, figure.Point{
				X: at(s.AtNS), Y: sys.In(quantity.Head, s.FrontM), Text: text,
				Style: figure.Rust,
			})
		}
	}
	for _, c := range t.Cavities {
		p.Shades = append(p.Shades, figure.Shade{
			From: at(c.FromNS), To: at(c.ToNS), Text: "column separation",
			Style: figure.Amber,
		})
	}
	for _, f := range t.Flutter {
		p.Shades = append(p.Shades, figure.Shade{
			From: at(f.FromNS), To: at(f.ToNS), Text: "flutter",
			Style: figure.Amber,
		})
	}
	for _, c := range t.Clipped {
		p.Levels = append(p.Levels, figure.Level{
			Y:    sys.In(quantity.Head, c.LevelM),
			Text: "end of the sensor's range", Style: figure.Rust,
		})
	}
	return p
}

func (t *LogTrace) nearest(from, to int64) int64 {
	for i := range t.Slams {
		if a := t.Slams[i].AtNS; a > from && a < to {
			return a
		}
	}
	return from
}

// thinned gives the readings between two times, by the least and the greatest of each stretch,
// with a gap where the logger was silent.
func (t *LogTrace) thinned(from, to, start int64, sys quantity.System) (x, y []float64) {
	s := t.source
	first, last := 0, s.Len()
	for first < last && s.Time(first) < from {
		first++
	}
	for last > first && s.Time(last-1) > to {
		last--
	}
	stretch := max(1, 2*(last-first)/logPoints)
	silent := t.silent()
	for i := first; i < last; i += stretch {
		lowAt, highAt := -1, -1
		var low, high float64
		for k := i; k < min(i+stretch, last); k++ {
			v, ok := s.At(k)
			if !ok {
				continue
			}
			if lowAt < 0 || v < low {
				lowAt, low = k, v
			}
			if highAt < 0 || v > high {
				highAt, high = k, v
			}
		}
		gap := i > first && s.Time(i)-s.Time(i-1) > silent && silent > 0
		if lowAt < 0 || gap {
			x, y = append(x, float64(s.Time(i)-start)/1e9), append(y, math.NaN())
		}
		if lowAt < 0 {
			continue
		}
		put := func(k int, v float64) {
			x, y = append(x, float64(s.Time(k)-start)/1e9), append(y, sys.In(quantity.Head, v))
		}
		switch {
		case lowAt == highAt:
			put(lowAt, low)
		case lowAt < highAt:
			put(lowAt, low)
			put(highAt, high)
		default:
			put(highAt, high)
			put(lowAt, low)
		}
	}
	return x, y
}
