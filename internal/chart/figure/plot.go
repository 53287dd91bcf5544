package figure

import (
	"math"
	"slices"
)

// plot is a panel at its place on the sheet.
type plot struct {
	*sheet
	c              canvas
	p              *Panel
	e              extent
	top            float64 // of the panel
	x0, x1, y0, y1 float64 // the chart
	xs, ys         axis
	ends           []lineEnd
	need           float64 // height of the chart beside which all names have room
}

// Rooms in a panel, px.
const (
	panelTitle = 21.0
	rowHeight  = 15.0 // of the label of the y axis and of the texts of marks
	belowChart = 52.0
)

func (s *sheet) plot(c canvas, i int) *plot {
	q := &plot{sheet: s, c: c, p: &s.panels[i], top: s.head() + s.panel*float64(i)}
	q.e = q.p.extent()
	q.y1 = math.Round(q.top+s.panel-belowChart) + 0.5
	q.y0 = math.Round(q.top+q.titleRoom()) + 0.5 // the rows above the chart take more
	q.ends = q.lineEnds()
	if q.e.some {
		q.ys = newY(q.e.yLow, q.e.yHigh, q.y1-q.y0-rowHeight-aboveChart, q.chartFloor())
	}
	return q
}

func (q *plot) titleRoom() float64 {
	if q.p.Title == "" {
		return 4
	}
	return panelTitle
}

// leftRoom is what stands left of the chart.
func (q *plot) leftRoom() float64 {
	return outerMargin + q.widest(q.ys.labels, tickFont) + 8
}

// rightRoom is what stands right of it: the names of the lines.
func (q *plot) rightRoom() float64 {
	room := 0.0
	for _, end := range q.ends {
		room = math.Max(room, q.widest(end.lines, nameFont))
	}
	return room + leaderRoom + outerMargin/2
}

func (q *plot) draw() {
	q.texts()
	flags := q.flags()
	if !q.e.some {
		q.empty()
		return
	}
	q.ys.from, q.ys.to = q.y1, q.y0
	for i := range q.p.Series {
		q.area(i)
	}
	q.grid()
	q.drawFlags(flags)
	for i := range q.p.Series {
		q.series(&q.p.Series[i])
	}
	q.names()
}

// texts are the panel's title and the label of its x axis.
func (q *plot) texts() {
	room := float64(q.width) - 2*outerMargin
	q.put(point{outerMargin, q.top + 14}, q.cut(tidy(q.p.Title), panelFont, room), setting{typeface: panelFont, color: inks[Ink]})
	q.put(point{(q.x0 + q.x1) / 2, q.y1 + 35}, q.cut(tidy(q.p.XLabel), labelFont, q.x1-q.x0), setting{typeface: labelFont, anchor: 0.5, color: grey})
}

func (q *plot) put(at point, s string, set setting) {
	if s != "" {
		q.c.text(at, s, set)
	}
}

func (q *plot) empty() {
	axis := pen{color: middle, width: 1}
	q.c.line(point{q.x0, q.y1}, point{q.x1, q.y1}, axis)
	q.c.line(point{q.x0, q.y0}, point{q.x0, q.y1}, axis)
	q.put(point{(q.x0 + q.x1) / 2, (q.y0+q.y1)/2 + 4}, "no data", setting{typeface: panelFont, anchor: 0.5, color: grey})
}

// grid is the thin lines at the ticks, and their numbers.
func (q *plot) grid() {
	thin, strong := pen{color: faint, width: 1}, pen{color: middle, width: 1}
	for i, v := range q.ys.ticks {
		y := crisp(q.ys.at(v))
		if v == 0 && y < q.y1-1 {
			q.c.line(point{q.x0, y}, point{q.x1, y}, strong)
		} else {
			q.c.line(point{q.x0, y}, point{q.x1, y}, thin)
		}
		q.put(point{q.x0 - 8, y + 4}, q.ys.labels[i], setting{typeface: tickFont, anchor: 1, color: grey})
	}
	for i, v := range q.xs.ticks {
		x := crisp(q.xs.at(v))
		q.c.line(point{x, q.y0}, point{x, q.y1}, thin)
		q.c.line(point{x, q.y1}, point{x, q.y1 + 4}, strong)
		q.put(point{x, q.y1 + 18}, q.xs.labels[i], setting{typeface: tickFont, anchor: 0.5, color: grey})
	}
	q.c.line(point{q.x0, q.y1}, point{q.x1, q.y1}, strong)
}

// crisp puts a line of one pixel on pixels.
func crisp(v float64) float64 { return math.Floor(v) + 0.5 }

func (q *plot) at(x, y float64) point { return point{q.xs.at(x), q.ys.at(y)} }

// The lines.
const (
	lineWidth = 2.0
	dotWidth  = 4.5
)

var (
	lineDash = [2]float64{6, 5}
	markDash = [2]float64{2, 3}
)

func (q *plot) series(s *Series) {
	p := pen{color: s.Style.of(inks), width: lineWidth}
	if s.Dash {
		p.dash = lineDash
	}
	t := s.track()
	for _, piece := range t.thin() {
		pts := q.points(t, piece)
		if len(pts) == 1 {
			q.c.polyline([]point{pts[0], pts[0]}, pen{color: p.color, width: dotWidth})
			continue
		}
		q.c.polyline(pts, p)
	}
}

func (q *plot) points(t track, piece []int) []point {
	pts := make([]point, len(piece))
	for k, i := range piece {
		pts[k] = q.at(t.x[i], t.y[i])
	}
	return pts
}

// area tints what lies between a series and its other edge.
func (q *plot) area(k int) {
	s := &q.p.Series[k]
	var next *Series
	if k+1 < len(q.p.Series) {
		next = &q.p.Series[k+1]
	}
	low := s.lower(next)
	n := min(s.points(), len(low))
	both := track{s.X[:n], s.Y[:n], func(i int) bool { return drawable(s.X[i]) && drawable(s.Y[i]) && drawable(low[i]) }}
	for _, r := range both.runs() {
		edge := func(y []float64) (pts []point) {
			t := track{s.X[r.from:r.to], y[r.from:r.to], func(int) bool { return true }}
			for _, piece := range t.thin() {
				pts = append(pts, q.points(t, piece)...)
			}
			return pts
		}
		upper, lower := edge(s.Y), edge(low)
		slices.Reverse(lower)
		if len(upper) > 1 {
			q.c.polygon(append(upper, lower...), s.Style.of(inks))
		}
	}
}
