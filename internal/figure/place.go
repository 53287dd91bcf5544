package figure

import (
	"math"
	"strings"
	"unicode"
)

// box is where a text stands, in px.
type box struct{ x0, y0, x1, y1 float64 }

func (b box) meets(o box) bool { return b.x0 < o.x1 && o.x0 < b.x1 && b.y0 < o.y1 && o.y0 < b.y1 }

func (b box) grown(by float64) box { return box{b.x0 - by, b.y0 - by, b.x1 + by, b.y1 + by} }

// segment is a piece of a line that texts keep clear of.
type segment struct{ x0, y0, x1, y1 float64 }

// within is true where a piece of the segment lies in the box: what is left of it after each
// side of the box has cut off what lies beyond (Liang and Barsky).
func (s segment) within(b box) bool {
	if max(s.x0, s.x1) < b.x0 || min(s.x0, s.x1) > b.x1 || max(s.y0, s.y1) < b.y0 || min(s.y0, s.y1) > b.y1 {
		return false
	}
	from, to := 0.0, 1.0
	for _, side := range [4][2]float64{
		{s.x0 - s.x1, s.x0 - b.x0},
		{s.x1 - s.x0, b.x1 - s.x0},
		{s.y0 - s.y1, s.y0 - b.y0},
		{s.y1 - s.y0, b.y1 - s.y0},
	} {
		p, q := side[0], side[1]
		switch {
		case p == 0 && q < 0:
			return false
		case p < 0:
			from = math.Max(from, q/p)
		case p > 0:
			to = math.Min(to, q/p)
		}
	}
	return from <= to
}

// wide is about how wide a text is, in px: somewhat more than with the fonts that are used.
func wide(s string, size float64) float64 {
	em := 0.0
	for _, r := range s {
		switch {
		case strings.ContainsRune("iljtfrI.,:;|'!()[]/ ", r):
			em += 0.36
		case strings.ContainsRune("mwMW%", r):
			em += 0.9
		case unicode.IsUpper(r):
			em += 0.7
		case r > 0x2E80: // scripts whose letters are squares
			em++
		default:
			em += 0.57
		}
	}
	return em * size
}

// boxOf is where a text stands that is set at a place.
func boxOf(x, y float64, s string, t Lettering) box {
	w := wide(s, t.Size)
	left := x - t.Anchor*w
	return box{left, y - 0.8*t.Size, left + w, y + 0.25*t.Size}
}

// spot is a place at which a text may stand.
type spot struct {
	x, y, anchor float64
	cost         float64 // of standing there, beside what it meets
}

// What it costs a text to stand in the way of others.
const (
	onText  = 1000.0
	onCurve = 60.0
	outside = 5000.0
)

// note sets a text at the best of some places, and keeps others off it: anywhere in the panel
// where none of them is free. The place is given back.
func (f *frame) note(s string, t Lettering, spots []spot, leader *segment) spot {
	best, least := f.best(s, t, spots, leader)
	if least >= onText {
		if at, cost := f.best(s, t, f.anywhere(spots[0]), leader); cost < least {
			best = at
		}
	}
	t.Anchor = best.anchor
	f.c.Text(best.x, best.y, s, t)
	f.texts = append(f.texts, boxOf(best.x, best.y, s, t))
	return best
}

// anywhere are places all over the panel, those near a place before others.
func (f *frame) anywhere(near spot) []spot {
	var out []spot
	for y := f.y0 + 11; y < f.y1-3; y += 7 {
		for x := f.x0 + 4; x < f.edge; x += 12 {
			out = append(out, spot{x, y, 0, math.Hypot(x-near.x, y-near.y) / 4})
		}
	}
	return out
}

// best is the place that costs least, with its cost.
func (f *frame) best(s string, t Lettering, spots []spot, leader *segment) (best spot, least float64) {
	least = math.Inf(1)
	for _, at := range spots {
		if at.cost >= least {
			continue
		}
		t.Anchor = at.anchor
		cost := at.cost + f.crowd(boxOf(at.x, at.y, s, t))
		if leader != nil {
			cost += f.crossed(segment{leader.x0, leader.y0, at.x, at.y - 0.3*t.Size})
		}
		if cost < least {
			best, least = at, cost
		}
	}
	return best, least
}

// crowd is what it costs to stand in the box.
func (f *frame) crowd(b box) float64 {
	cost, near := 0.0, b.grown(2)
	for _, o := range f.texts {
		if near.meets(o) {
			cost += onText
		}
	}
	const most = 6 // pieces of curves that count
	hits := 0
	for _, l := range f.lines {
		if hits < most && l.within(near) {
			hits++
		}
	}
	cost += onCurve * float64(hits)
	if b.x0 < f.x0 || b.x1 > f.edge || b.y0 < f.y0 || b.y1 > f.y1-1 {
		cost += outside
	}
	return cost
}

// crossed is what it costs to draw a line to a text: nothing may be struck out.
func (f *frame) crossed(s segment) float64 {
	cost := 0.0
	for _, o := range f.texts {
		if s.within(o) {
			cost += onText
		}
	}
	return cost
}

// around are places about a point, the near ones first.
func around(x, y float64) []spot {
	var out []spot
	for _, r := range []float64{13, 22, 34, 48, 64, 84, 108, 136, 168, 205, 245} {
		for k := range 16 {
			sin, cos := math.Sincos(float64(k) * math.Pi / 8)
			anchor := 0.5
			switch {
			case cos > 0.3:
				anchor = 0
			case cos < -0.3:
				anchor = 1
			}
			out = append(out, spot{x + r*cos, y + r*sin + 3.5, anchor, r / 4})
		}
	}
	return out
}

// obstacles are what texts keep clear of: the lines of the panel, as they are drawn.
func (f *frame) obstacles() {
	for _, s := range f.p.Series {
		if s.Bare {
			continue
		}
		x, y := Decimate(s.X, s.Y, 300)
		for i := 1; i < len(x); i++ {
			if f.stands(x[i-1], y[i-1]) && f.stands(x[i], y[i]) {
				f.lines = append(f.lines, segment{f.xs.at(x[i-1]), f.ys.at(y[i-1]), f.xs.at(x[i]), f.ys.at(y[i])})
			}
		}
	}
	for _, l := range f.p.Levels {
		if l.Y >= f.ys.low && l.Y <= f.ys.high {
			f.lines = append(f.lines, segment{f.x0, f.ys.at(l.Y), f.x1, f.ys.at(l.Y)})
		}
	}
	for _, m := range f.p.Marks {
		if m.X >= f.xs.low && m.X <= f.xs.high {
			f.lines = append(f.lines, segment{f.xs.at(m.X), f.y0, f.xs.at(m.X), f.y1})
		}
	}
	for _, p := range f.p.Points {
		if f.stands(p.X, p.Y) {
			x, y := f.xs.at(p.X), f.ys.at(p.Y)
			f.texts = append(f.texts, box{x - dot, y - dot, x + dot, y + dot})
		}
	}
}

// lines breaks a text into lines that are about so wide.
func lines(s string, size, most float64) []string {
	var out []string
	for word := range strings.FieldsSeq(s) {
		if n := len(out); n > 0 && wide(out[n-1]+" "+word, size) <= most {
			out[n-1] += " " + word
			continue
		}
		out = append(out, word)
	}
	return out
}
