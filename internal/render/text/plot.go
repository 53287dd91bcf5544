package text

import (
	"math"
	"strings"

	"seatward/quantity"
)

// The size of a picture's field, in cells.
const (
	plotWide  = 64
	plotHigh  = 16
	plotLabel = 9 // columns to the left of the field
)

// plot is a picture on two logarithmic axes.
type plot struct {
	p    *page
	x, y axis
	grid [][]rune
}

// axis is a logarithmic axis in the units of the page.
type axis struct {
	kind      quantity.Kind
	low, high float64
	cells     int
}

// newPlot makes an empty picture over the ranges, which are SI and widen to round
// numbers; both must be positive.
func newPlot(p *page, x, y axis) *plot {
	x.cells, y.cells = plotWide, plotHigh
	g := &plot{p: p, x: x.round(p), y: y.round(p)}
	for range plotHigh {
		g.grid = append(g.grid, []rune(strings.Repeat(" ", plotWide)))
	}
	return g
}

// ticks are the numbers at which an axis is labeled.
var ticks = []float64{1, 2, 5, 10}

// round widens the axis to the next numbers of the ticks, in the units of the page.
func (a axis) round(p *page) axis {
	low, high := p.opt.Units.In(a.kind, a.low), p.opt.Units.In(a.kind, a.high)
	decade := math.Pow(10, math.Floor(math.Log10(low)))
	for _, t := range ticks {
		if t*decade <= low*(1+1e-9) {
			a.low = t * decade
		}
	}
	decade = math.Pow(10, math.Floor(math.Log10(high)))
	for i := len(ticks) - 1; i >= 0; i-- {
		if ticks[i]*decade >= high*(1-1e-9) {
			a.high = ticks[i] * decade
		}
	}
	if a.high <= a.low {
		a.high = a.low * 10
	}
	return a
}

// cell is where a number of the page's unit falls; false outside the axis.
func (a *axis) cell(v float64) (int, bool) {
	if !(v > 0) {
		return 0, false
	}
	i := int(math.Round(math.Log(v/a.low) / math.Log(a.high/a.low) * float64(a.cells-1)))
	return i, i >= 0 && i < a.cells
}

// dot puts a mark at a point, SI.
func (g *plot) dot(x, y float64, mark rune) {
	i, okX := g.x.cell(g.p.opt.Units.In(g.x.kind, x))
	j, okY := g.y.cell(g.p.opt.Units.In(g.y.kind, y))
	if okX && okY {
		g.grid[plotHigh-1-j][i] = mark
	}
}

// bar fills the cells between two heights at a place, SI, without hiding what is there.
func (g *plot) bar(x, low, high float64, mark rune) {
	i, ok := g.x.cell(g.p.opt.Units.In(g.x.kind, x))
	if !ok {
		return
	}
	from, to := g.height(low), g.height(high)
	for j := from; j <= to; j++ {
		if cell := &g.grid[plotHigh-1-j][i]; *cell == ' ' {
			*cell = mark
		}
	}
}

// height is the row of a number, held to the field.
func (g *plot) height(y float64) int {
	v := g.p.opt.Units.In(g.y.kind, y)
	if v <= g.y.low {
		return 0
	}
	j, _ := g.y.cell(v)
	return min(max(j, 0), plotHigh-1)
}

// level draws a line across at a height, with its name at the right end.
func (g *plot) level(y float64, name string) {
	j, ok := g.y.cell(g.p.opt.Units.In(g.y.kind, y))
	if !ok {
		return
	}
	row := g.grid[plotHigh-1-j]
	for i := range row {
		if row[i] == ' ' {
			row[i] = '┄'
		}
	}
	for i, r := range []rune(name) {
		row[i+1] = r
	}
}

// marks lists the labeled numbers of an axis.
func (a *axis) marks() []float64 {
	var out []float64
	for decade := math.Pow(10, math.Floor(math.Log10(a.low))); decade <= a.high*(1+1e-9); decade *= 10 {
		for _, t := range ticks[:3] {
			if v := t * decade; v >= a.low*(1-1e-9) && v <= a.high*(1+1e-9) {
				out = append(out, v)
			}
		}
	}
	return out
}

// print draws the field with its axes.
func (g *plot) print(yWord, xWord string) {
	p := g.p
	p.put(padLeft(yWord+", "+p.opt.Units.Unit(g.y.kind), plotLabel+2))
	labels := map[int]string{}
	for _, v := range g.y.marks() {
		if j, ok := g.y.cell(v); ok {
			labels[plotHigh-1-j] = quantity.Figures(v, 1)
		}
	}
	for i, row := range g.grid {
		edge := "│"
		if labels[i] != "" {
			edge = "┤"
		}
		p.put(padLeft(labels[i], plotLabel) + " " + edge + string(row))
	}
	edge, under := []rune(strings.Repeat("─", plotWide)), []rune(strings.Repeat(" ", plotWide+6))
	free := 0
	for _, v := range g.x.marks() {
		i, ok := g.x.cell(v)
		label := []rune(quantity.Figures(v, 1))
		at := max(i-len(label)/2, 0)
		if !ok || at < free || at+len(label) > plotWide+5 {
			continue
		}
		edge[i] = '┬'
		copy(under[at:], label)
		free = at + len(label) + 1
	}
	p.put(strings.Repeat(" ", plotLabel+1) + "└" + string(edge))
	p.put(strings.Repeat(" ", plotLabel+2) + string(under))
	title := xWord + ", " + p.opt.Units.Unit(g.x.kind)
	p.put(padLeft(title, plotLabel+2+plotWide))
}
