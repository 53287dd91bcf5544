package text

import (
	"fmt"
	"io"
	"math"
	"slices"

	"seatward/internal/chart"
	"seatward/quantity"
)

// readAtMS2 are the decelerations of the table of all closing curves: a single pump, a low and
// a high station.
var readAtMS2 = []float64{3, 6, 10}

// nearest are the places of the points next to the decelerations of the table.
func nearest(points []chart.ClosingPoint) []int {
	var out []int
	for _, rate := range readAtMS2 {
		at := 0
		for i := range points {
			if math.Abs(math.Log(points[i].DecelerationMS2/rate)) < math.Abs(
				math.Log(points[at].DecelerationMS2/rate)) {
				at = i
			}
		}
		if !slices.Contains(out, at) {
			out = append(out, at)
		}
	}
	return out
}

// Closings prints the closing curves of all families as a table.
func Closings(w io.Writer, c *chart.Closings, opt Options) error {
	p := newPage(opt)
	p.para("", fmt.Sprintf("Closing curves of all families, %s. Reverse velocity in %s: median and 5 to 95 %% of %d draws, even deceleration between two long pipes, each from just above its full-open velocity unless one is given.",
		c.Size, p.opt.Units.Unit(quantity.Velocity), c.Draws))
	p.gap()
	t := &table{indent: "  ", cols: []column{{head: "valve", gives: true}, {head: "law"}}}
	var at []int
	if len(c.Curves) > 0 {
		at = nearest(c.Curves[0].Points)
	}
	middle := 0
	if len(at) > 0 {
		middle = at[len(at)/2]
	}
	for _, i := range at {
		rate := p.si(quantity.Acceleration, c.Curves[0].Points[i].DecelerationMS2)
		t.cols = append(t.cols, column{head: "at\n" + rate, right: true})
		if i == middle {
			t.cols = append(t.cols, column{head: "5 to\n95 %", right: true})
		}
	}
	for i := range c.Curves {
		k := &c.Curves[i]
		cells := []string{k.Valve, k.Law}
		for _, j := range at {
			x := &k.Points[j]
			cells = append(cells, p.number(quantity.Velocity, x.MedianMS))
			if j == middle {
				cells = append(cells, p.number(quantity.Velocity, x.ReverseVelocityMS.Low)+" to "+
					p.number(quantity.Velocity, x.ReverseVelocityMS.High))
			}
		}
		t.add(cells...)
	}
	p.table(t)
	p.gap()
	said := map[string]bool{}
	for i := range c.Curves {
		if k := &c.Curves[i]; !said[k.LawText] {
			said[k.LawText] = true
			p.para("", fmt.Sprintf("%s: %s.", sentenceStart(k.Law), lawOf(c, k.LawText)))
		}
	}
	p.para("", fmt.Sprintf("Quiet below %s, harmful above %s. These curves compare kinds of valve; one or two digits mean something.", p.si(quantity.Velocity, c.QuietMS), p.si(quantity.Velocity, c.HarmfulMS)))
	for _, f := range c.Without {
		p.paraIn(faint, "", fmt.Sprintf("%s is not made in %s.", f, c.Size))
	}
	return p.flush(w)
}

// lawOf is a law with the valves that have it.
func lawOf(c *chart.Closings, law string) string {
	out := law
	for i, n := 0, 0; i < len(c.Curves); i++ {
		if k := &c.Curves[i]; k.LawText == law {
			if n++; n == 1 {
				out += " (" + k.Valve
			} else {
				out += ", " + k.Valve
			}
		}
	}
	return out + ")"
}
