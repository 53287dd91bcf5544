package figure

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// lineEnd is the name of a series and where its line ends.
type lineEnd struct {
	s     *Series
	lines []string
	last  int     // point at which the line ends; -1 for a series without data
	want  float64 // middle of the name where it would stand beside the line
	y     float64 // middle of the name where it stands
}

const (
	leaderRoom  = 20.0
	nameLine    = 14.0
	mostOfWidth = 0.3 // of the figure, for the names
)

func (q *plot) lineEnds() []lineEnd {
	var out []lineEnd
	if !q.e.some {
		return nil
	}
	room := mostOfWidth*float64(q.width) - leaderRoom - outerMargin/2
	for i := range q.p.Series {
		s := &q.p.Series[i]
		end := lineEnd{s: s, last: s.end()}
		name := tidy(s.Name)
		if end.last < 0 {
			name = orElse(name, "line") + ": no data"
		}
		if end.lines = q.wrap(name, nameFont, room, 2); len(end.lines) > 0 {
			out = append(out, end)
		}
	}
	return q.fit(out, room)
}

// fit takes lines and then names away until they have room beside the chart.
func (q *plot) fit(ends []lineEnd, room float64) []lineEnd {
	total := 0.0
	for _, end := range ends {
		total += end.height()
	}
	q.need = total - nameLine + 2
	height := q.chartFloor() + nameLine - 2
	if total <= height {
		return ends
	}
	for i := range ends {
		ends[i].lines = []string{q.cut(joined(ends[i].lines), nameFont, room)}
	}
	if most := max(1, int(height/nameLine)); len(ends) > most {
		more := fmt.Sprintf("and %d more", len(ends)-most+1)
		ends = append(ends[:most-1], lineEnd{s: &Series{}, lines: []string{more}, last: -1})
	}
	return ends
}

func joined(lines []string) string {
	if len(lines) == 2 {
		return lines[0] + " " + lines[1]
	}
	return lines[0]
}

// chartFloor is the height that the texts of marks leave to the chart: enough for the
// names of its lines, as long as the label of the y axis has its row.
func (q *plot) chartFloor() float64 {
	panel := q.panel - belowChart
	most := panel - q.titleRoom() - rowHeight - aboveChart - 1
	return math.Min(most, math.Max(0.45*panel, q.need))
}

func (e *lineEnd) height() float64 { return nameLine * float64(len(e.lines)) }

// names writes each line's name at its end, moved apart where they would meet.
func (q *plot) names() {
	for i := range q.ends {
		e := &q.ends[i]
		e.want = q.y1 // without data: at the foot
		if e.last >= 0 {
			e.want = q.ys.at(e.s.Y[e.last])
		}
	}
	slices.SortStableFunc(q.ends, func(a, b lineEnd) int { return cmp.Compare(a.want, b.want) })
	spread(q.ends, q.y0-nameLine/2, q.y1+nameLine/2-2)
	for i := range q.ends {
		q.name(&q.ends[i])
	}
}

func (q *plot) name(e *lineEnd) {
	color := grey
	if e.last >= 0 {
		color = e.s.Style.of(letters)
		q.leader(e)
	}
	first := e.y - e.height()/2 + nameLine/2 + 4
	for i, line := range e.lines {
		q.put(point{q.x1 + leaderRoom, first + nameLine*float64(i)}, line, setting{typeface: nameFont, color: color})
	}
}

// leader is a hair line from the line's end to its name.
func (q *plot) leader(e *lineEnd) {
	hair := pen{color: e.s.Style.of(inks), width: 1}
	end := q.at(e.s.X[e.last], e.s.Y[e.last])
	if end.x < q.x1-2 {
		q.c.polyline([]point{end, end}, pen{color: hair.color, width: dotWidth})
		q.c.line(point{end.x + 4, end.y}, point{q.x1 + 3, end.y}, pen{color: hair.color, width: 1, dash: markDash})
	}
	q.c.polyline([]point{{q.x1 + 3, end.y}, {q.x1 + 6, end.y}, {q.x1 + leaderRoom - 7, e.y}, {q.x1 + leaderRoom - 4, e.y}}, hair)
}

// spread moves names apart so that none meets another, each as near as can be to where
// it is wanted (least squares, in order, between top and bottom): with each name's place
// counted from the heights before it, that is to make the wanted places rise, by the
// mean of those that do not.
func spread(ends []lineEnd, top, bottom float64) {
	type block struct {
		sum  float64
		size int
	}
	var blocks []block
	before, total := make([]float64, len(ends)), 0.0
	for i := range ends {
		before[i] = total + ends[i].height()/2
		total += ends[i].height()
		b := block{ends[i].want - before[i], 1}
		for n := len(blocks); n > 0 && blocks[n-1].sum/float64(blocks[n-1].size) > b.sum/float64(b.size); n-- {
			b.sum, b.size = b.sum+blocks[n-1].sum, b.size+blocks[n-1].size
			blocks = blocks[:n-1]
		}
		blocks = append(blocks, b)
	}
	i := 0
	for _, b := range blocks {
		at := math.Max(top, math.Min(b.sum/float64(b.size), bottom-total))
		for range b.size {
			ends[i].y = at + before[i]
			i++
		}
	}
}
