package figure

import (
	"cmp"
	"math"
	"slices"
)

// noteSize is the size of letters of what stands within a panel, px.
const noteSize = 10.5

// shades tints spans of the panel, behind everything else.
func (f *frame) shades() {
	for _, s := range f.p.Shades {
		if x0, x1, ok := f.shade(s); ok {
			f.c.Area([]float64{x0, x1, x1, x0}, []float64{f.y0, f.y0, f.y1, f.y1}, tints[s.Style])
		}
	}
}

// shade is where a shade begins and ends.
func (f *frame) shade(s Shade) (x0, x1 float64, ok bool) {
	from, to := math.Max(s.From, f.xs.low), math.Min(s.To, f.xs.high)
	if !(from < to) {
		return 0, 0, false
	}
	return f.xs.at(from), f.xs.at(to), true
}

// shadeNotes say what the shades mean, in as many lines as their width takes.
func (f *frame) shadeNotes() {
	const step = 13
	for _, s := range f.p.Shades {
		x0, x1, ok := f.shade(s)
		if !ok || s.Text == "" {
			continue
		}
		text := lines(s.Text, noteSize, math.Max(x1-x0-10, 70))
		wide, high := 0.0, step*float64(len(text))
		for _, l := range text {
			wide = math.Max(wide, boxOf(0, 0, l, Lettering{Size: noteSize}).x1)
		}
		best, least := spot{}, math.Inf(1)
		for y := f.y0 + step; y < f.y1-high; y += 6 {
			for _, x := range []float64{x0 + 5, x1 - 5 - wide} {
				b := box{x, y - 0.8*noteSize, x + wide, y - step + high}
				if cost := f.crowd(b) + (y-f.y0)/40; cost < least {
					best, least = spot{x: x, y: y}, cost
				}
			}
		}
		if math.IsInf(least, 1) {
			continue // a panel too low for any text
		}
		for i, l := range text {
			t := Lettering{Size: noteSize, Color: inks[s.Style]}
			y := best.y + step*float64(i)
			f.c.Text(best.x, y, l, t)
			f.texts = append(f.texts, boxOf(best.x, y, l, t))
		}
	}
}

// levels draws horizontal lines.
func (f *frame) levels() {
	for _, l := range f.p.Levels {
		if l.Y >= f.ys.low && l.Y <= f.ys.high {
			y := f.ys.at(l.Y)
			line(f.c, f.x0, y, f.x1, y, Pen{Color: inks[l.Style], Width: 1, Dash: dashes})
		}
	}
}

// levelNotes name the levels, on or below their lines where nothing is in the way.
func (f *frame) levelNotes() {
	for _, l := range f.p.Levels {
		if !(l.Y >= f.ys.low && l.Y <= f.ys.high) || l.Text == "" {
			continue
		}
		y := f.ys.at(l.Y)
		var spots []spot
		for x := f.x0 + 5; x < f.x1-60; x += 20 {
			for _, dy := range []float64{-5, 12, -12, 19} {
				spots = append(spots, spot{x, y + dy, 0, (x-f.x0)/50 + math.Abs(dy)})
			}
		}
		if len(spots) > 0 {
			f.note(l.Text, Lettering{Size: noteSize, Color: inks[l.Style]}, spots, nil)
		}
	}
}

// marks draws vertical lines.
func (f *frame) marks() {
	for _, m := range f.p.Marks {
		if m.X >= f.xs.low && m.X <= f.xs.high {
			x := f.xs.at(m.X)
			line(f.c, x, f.y0, x, f.y1, Pen{Color: grey, Width: 1, Dash: dashes})
		}
	}
}

// markNotes name the marks, beside their lines.
func (f *frame) markNotes() {
	for _, m := range f.p.Marks {
		if !(m.X >= f.xs.low && m.X <= f.xs.high) || m.Text == "" {
			continue
		}
		x := f.xs.at(m.X)
		var spots []spot
		for y := f.y0 + 11; y < f.y1-4; y += 7 {
			spots = append(spots, spot{x + 4, y, 0, (y - f.y0) / 20}, spot{x - 4, y, 1, (y-f.y0)/20 + 1})
		}
		if len(spots) > 0 {
			f.note(m.Text, Lettering{Size: noteSize, Color: grey}, spots, nil)
		}
	}
}

// dot is half of a point's size.
const dot = 4.0

// points draws single points as diamonds, each with a line to its text, which stands where it
// is clear of the curves and of other texts.
func (f *frame) points() {
	all := slices.DeleteFunc(slices.Clone(f.p.Points), func(p Point) bool { return !f.stands(p.X, p.Y) })
	slices.SortStableFunc(all, func(a, b Point) int { return cmp.Compare(b.X, a.X) })
	for _, p := range all {
		px, py := f.xs.at(p.X), f.ys.at(p.Y)
		f.c.Area([]float64{px - dot, px, px + dot, px}, []float64{py, py - dot, py, py + dot}, inks[p.Style])
		if p.Text != "" {
			f.named(px, py, p.Text, Pen{Color: inks[p.Style], Width: 0.7}, noteSize)
		}
	}
}

// named writes a text beside a place, with a line from it.
func (f *frame) named(px, py float64, text string, p Pen, size float64) {
	at := f.note(text, Lettering{Size: size, Color: p.Color}, around(px, py), &segment{x0: px, y0: py})
	toX, toY := at.x-2+4*at.anchor, at.y-0.3*size
	switch {
	case at.anchor == 0.5 && at.y > py:
		toX, toY = at.x, at.y-0.9*size
	case at.anchor == 0.5:
		toX, toY = at.x, at.y+0.3*size
	}
	line(f.c, px, py, toX, toY, p)
	f.lines = append(f.lines, segment{px, py, toX, toY})
}
