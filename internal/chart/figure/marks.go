package figure

import (
	"cmp"
	"math"
	"slices"
)

// flag is a mark at its place: its text stands in a row above the chart, row 0 lowest,
// beside the line, which rises to it.
type flag struct {
	x        float64
	row      int // -1 for a line without text
	text     string
	from, to float64 // the room of the text
	anchor   float64
}

// clear reports whether two flags do not touch: neither text meets the other's text in
// its row, nor the other's line on its way up.
func (f *flag) clear(g *flag) bool {
	crosses := func(line, text *flag) bool {
		return line.row >= text.row && line.x > text.from-2 && line.x < text.to+2
	}
	texts := f.row == g.row && f.from < g.to+8 && g.from < f.to+8
	return !texts && !crosses(f, g) && !crosses(g, f)
}

// flags settles the x axis, the rows above the chart, and so the top of the chart: the
// texts of the marks, and the label of the y axis in the lowest row where no mark comes
// near it, else above them all.
func (q *plot) flags() []flag {
	base := q.top + q.titleRoom()
	rows := int((q.y1 - base - aboveChart - q.chartFloor()) / rowHeight)
	name := q.cut(tidy(q.p.YLabel), labelFont, float64(q.width)-2*outerMargin)
	label := flag{x: math.Inf(-1), row: -1, from: outerMargin, to: outerMargin + q.typeset.width(name, labelFont)}
	near := false
	if q.e.some {
		q.xs = newX(q.e.xLow, q.e.xHigh, q.x0, q.x1, func(s string) float64 { return q.typeset.width(s, tickFont) })
		near = slices.ContainsFunc(q.p.Marks, func(m Mark) bool { return q.inside(m) && q.xs.at(m.X) < label.to+6 })
	}
	switch {
	case name == "":
	case near: // out of the way of all that is placed
		rows--
		label.from, label.to = math.Inf(-1), math.Inf(-1)
	default:
		label.row = 0
	}
	out := q.place(rows, label)
	used := 0
	for _, f := range out {
		used = max(used, f.row+1)
	}
	if name != "" && near {
		label.row = used
	}
	q.y0 = crisp(base + rowHeight*float64(max(used, label.row+1)) + aboveChart)
	q.put(point{outerMargin, q.rowAt(label.row)}, name, setting{typeface: labelFont, color: grey})
	return out
}

// aboveChart is the room between the chart and the rows.
const aboveChart = 8.0

// rowAt is the line on which a row's text stands.
func (q *plot) rowAt(row int) float64 { return q.y0 - aboveChart - 2 - rowHeight*float64(row) }

func (q *plot) inside(m Mark) bool { return m.X >= q.xs.low && m.X <= q.xs.high }

// place finds each mark its row, from the right to the left, with the text on the right
// of the line or else on its left; on the left only where it keeps no later mark down.
func (q *plot) place(rows int, label flag) []flag {
	if !q.e.some {
		return nil
	}
	marks := slices.DeleteFunc(slices.Clone(q.p.Marks), func(m Mark) bool { return !q.inside(m) })
	slices.SortStableFunc(marks, func(a, b Mark) int { return cmp.Compare(b.X, a.X) })
	placed := []flag{label}
	for i, m := range marks {
		nextLine := math.Inf(-1)
		for _, later := range marks[i+1:] {
			if later.X < m.X {
				nextLine = q.xs.at(later.X)
				break
			}
		}
		placed = append(placed, q.raise(m, rows, placed, nextLine))
	}
	return placed[1:]
}

// raise finds one mark its row; nextLine is the place of the next line on its left.
func (q *plot) raise(m Mark, rows int, placed []flag, nextLine float64) flag {
	f := flag{x: crisp(q.xs.at(m.X)), text: q.cut(tidy(m.Text), tickFont, 0.4*float64(q.width))}
	wide := q.typeset.width(f.text, tickFont)
	for f.row = 0; f.row < rows && f.text != ""; f.row++ {
		for _, f.anchor = range []float64{0, 1} {
			f.from, f.to = f.x+4, f.x+4+wide
			if f.anchor == 1 {
				f.from, f.to = f.x-4-wide, f.x-4
			}
			inside := f.from >= math.Max(outerMargin, nextLine+4) && f.to <= float64(q.sheet.width)-outerMargin/2
			if inside && !slices.ContainsFunc(placed, func(g flag) bool { return !f.clear(&g) }) {
				return f
			}
		}
	}
	return flag{x: f.x, row: -1}
}

func (q *plot) drawFlags(all []flag) {
	for _, f := range all {
		top := q.y0
		if f.row >= 0 {
			top = q.rowAt(f.row) - 9
			at := point{f.x + 4, q.rowAt(f.row)}
			if f.anchor == 1 {
				at.x = f.x - 4
			}
			q.put(at, f.text, setting{typeface: tickFont, anchor: f.anchor, color: grey})
		}
		q.c.line(point{f.x, q.y1}, point{f.x, top}, pen{color: middle, width: 1, dash: markDash})
	}
}
