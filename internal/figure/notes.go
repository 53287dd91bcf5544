package figure

import (
	"cmp"
	"math"
	"slices"
)

// shades tints spans of the panel, behind everything else.
func (f *frame) shades() {
	for _, s := range f.p.Shades {
		from, to := math.Max(s.From, f.xs.low), math.Min(s.To, f.xs.high)
		if !(from < to) {
			continue
		}
		x0, x1 := f.xs.at(from), f.xs.at(to)
		f.c.Area([]float64{x0, x1, x1, x0}, []float64{f.y0, f.y0, f.y1, f.y1}, tints[s.Style])
		f.c.Text(x0+5, f.y0+13, s.Text, Lettering{Size: 10.5, Color: inks[s.Style]})
	}
}

// levels draws horizontal lines with their text at the left.
func (f *frame) levels() {
	for _, l := range f.p.Levels {
		if !(l.Y >= f.ys.low && l.Y <= f.ys.high) {
			continue
		}
		y := f.ys.at(l.Y)
		line(f.c, f.x0, y, f.x1, y, Pen{Color: inks[l.Style], Width: 1, Dash: true})
		f.c.Text(f.x0+5, y-4, l.Text, Lettering{Size: 10.5, Color: inks[l.Style]})
	}
}

// dot is half of a point's size.
const dot = 4.0

// points draws single points as diamonds. Points that stand close together have their texts
// in one column beside them, each with a line to its point.
func (f *frame) points() {
	all := slices.DeleteFunc(slices.Clone(f.p.Points), func(p Point) bool { return !f.stands(p.X, p.Y) })
	slices.SortStableFunc(all, func(a, b Point) int { return cmp.Compare(a.X, b.X) })
	for to := len(all); to > 0; { // from the right, so that lines run down beside what stands there
		from := to - 1
		for from > 0 && f.xs.at(all[from].X)-f.xs.at(all[from-1].X) < nearPoints {
			from--
		}
		f.cluster(all[from:to])
		to = from
	}
}

const (
	nearPoints = 40.0
	rowHeight  = 15.0
	letter     = 5.4 // wide, about
)

// box is where a text stands.
type box struct{ x0, x1, y float64 }

// cluster draws points that stand close together. The last one has the first text: so no
// line runs through a text.
func (f *frame) cluster(points []Point) {
	x, y := 0.0, 0.0
	for _, p := range points {
		x, y = f.xs.at(p.X), math.Max(y, f.ys.at(p.Y))
	}
	tx, ty := x+16, y+24
	for _, p := range slices.Backward(points) {
		px, py := f.xs.at(p.X), f.ys.at(p.Y)
		f.c.Area([]float64{px - dot, px, px + dot, px}, []float64{py, py - dot, py, py + dot}, inks[p.Style])
		if p.Text == "" {
			continue
		}
		wide := letter * float64(len([]rune(p.Text)))
		anchor, left := 0.0, tx
		if tx+wide > f.x1+marginRight-8 {
			anchor, left = 1, tx-32-wide
		}
		for slices.ContainsFunc(f.texts,
			func(b box) bool { return left < b.x1 && b.x0 < left+wide && math.Abs(ty-b.y) < rowHeight }) {
			ty += rowHeight
		}
		at := tx - 32*anchor
		line(f.c, px, py, at-3+6*anchor, ty-4, Pen{Color: inks[p.Style], Width: 0.7})
		f.c.Text(at, ty, p.Text, Lettering{Size: 10.5, Anchor: anchor, Color: inks[p.Style]})
		f.texts = append(f.texts, box{left, left + wide, ty})
		ty += rowHeight
	}
}
