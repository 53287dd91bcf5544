package pdf

import (
	"math"
	"slices"

	"seatward/internal/document"
)

// need is how wide the texts of a column are, mm: of the longest part that nothing breaks, of
// the longest word, and of the longest text on one line.
type need struct {
	hard, soft, full float64
	texts            []float64 // how wide each text of the column is, on one line
}

// over is by how much texts are wider than a column of the width, all together.
func (n need) over(mm float64) float64 {
	s := 0.0
	for _, w := range n.texts {
		s += max(0, w-mm)
	}
	return s
}

// leastBlank is the room for what is written by hand, mm.
const leastBlank = 12.0

// smallest is the least size of letters of a table, pt.
const smallest = 6.2

// longWord is from how many letters on a word with marks in it, such as a valve's ID, comes
// apart at them as readily as at a space.
const longWord = 16

// needs measures the columns at the size of letters that is set.
func (g *grid) needs() []need {
	out := make([]need, len(g.t.Columns))
	look := func(i int, s, style string, head bool) {
		g.font(sans, style, g.size)
		s = g.clean(s)
		n, pad := &out[i], 2*cellX+0.3
		full := g.pdf.GetStringWidth(s)
		if head { // heads may take two lines
			full /= 2
		}
		n.full = max(n.full, full+pad)
		n.texts = append(n.texts, full+pad)
		for _, w := range words(s) {
			if len(w) <= longWord {
				n.soft = max(n.soft, g.pdf.GetStringWidth(w)+pad)
			}
			for _, part := range pieces(w) {
				n.hard = max(n.hard, g.pdf.GetStringWidth(part)+pad)
			}
		}
	}
	for i, c := range g.t.Columns {
		look(i, c.Title, "B", true)
		look(i, c.Unit, "", true)
	}
	for _, r := range g.t.Rows {
		if r.Group {
			continue
		}
		for i, c := range r.Cells[:min(len(r.Cells), len(out))] {
			look(i, g.told(c), bold(c.Bold), false)
			if c.Blank {
				out[i].hard, out[i].soft = max(out[i].hard, leastBlank), max(out[i].soft, leastBlank)
			}
		}
	}
	for i := range out { // a text that is as wide as the page breaks somewhere
		n := &out[i]
		n.soft = max(n.soft, n.hard)
		n.hard = min(n.hard, (g.width-2*marginX)/2)
		n.soft = max(n.hard, min(n.soft, (g.width-2*marginX)/2))
		n.full = max(n.soft, n.full)
	}
	return out
}

func sum(list []need, of func(need) float64) float64 {
	s := 0.0
	for _, n := range list {
		s += of(n)
	}
	return s
}

// fits finds the size of letters at which no word of the table breaks, or else the smallest
// at which words come apart at their marks. It is false where even so the columns do not go
// beside each other.
func (g *grid) fits() bool {
	total, wanted := g.width-2*marginX, g.size
	for ; g.size >= math.Min(wanted, smallest); g.size -= 0.3 {
		n := g.needs()
		if sum(n, func(n need) float64 { return n.soft }) <= total {
			g.wide = widths(n, g.t.Columns, total, func(n need) float64 { return n.soft })
			return true
		}
	}
	g.size = math.Min(wanted, smallest+0.5)
	n := g.needs()
	hard := func(n need) float64 { return n.hard }
	g.wide = widths(n, g.t.Columns, total, hard)
	return sum(n, hard) <= total
}

// widths shares the page's width out: each column has what its words need, and the rest goes
// where many texts are long. Where all stand on one line, it goes by the shares of the columns.
func widths(n []need, columns []document.Column, total float64, least func(need) float64) []float64 {
	out := make([]float64, len(n))
	rest, weight := total, make([]float64, len(n))
	for i := range n {
		out[i] = least(n[i])
		rest -= out[i]
		weight[i] = math.Sqrt(n[i].over(out[i]))
	}
	if rest < 0 { // words will break: each column gives up its part
		for i := range out {
			out[i] *= total / (total - rest)
		}
		return out
	}
	for range n { // each round may fill another column
		all := 0.0
		for _, w := range weight {
			all += w
		}
		if all == 0 || rest < 1e-6 {
			break
		}
		spent := 0.0
		for i := range out {
			give := math.Min(rest*weight[i]/all, n[i].full-out[i])
			out[i] += give
			spent += give
			if n[i].full-out[i] < 1e-9 {
				weight[i] = 0
			}
		}
		rest -= spent
	}
	shares := 0.0
	for _, c := range columns {
		shares += c.Width
	}
	for i, c := range columns {
		switch {
		case shares > 0:
			out[i] += rest * c.Width / shares
		default:
			out[i] += rest / float64(len(out))
		}
	}
	return out
}

// apart cuts a table whose columns do not go beside each other into tables that stand one
// below the other, each with the column of names.
func (g *grid) apart() []*grid {
	names := 1
	n := g.needs()
	total := g.width - 2*marginX
	var out []*grid
	for from := names; from < len(n); {
		room, to := total-n[0].soft, from
		for to < len(n) && (to == from || n[to].soft <= room) {
			room -= n[to].soft
			to++
		}
		part := &grid{writer: g.writer, t: columnsOf(g.t, from, to), size: g.size}
		part.fits()
		out = append(out, part)
		from = to
	}
	return out
}

// columnsOf is the table with its first column and those from..to.
func columnsOf(t document.Table, from, to int) document.Table {
	part := t
	part.Columns = append(slices.Clone(t.Columns[:1]), t.Columns[from:to]...)
	part.Rows = make([]document.Row, len(t.Rows))
	for i, r := range t.Rows {
		part.Rows[i] = r
		if r.Group || len(r.Cells) == 0 {
			continue
		}
		cells := slices.Clone(r.Cells[:1])
		if from < len(r.Cells) {
			cells = append(cells, r.Cells[from:min(to, len(r.Cells))]...)
		}
		part.Rows[i].Cells = cells
	}
	return part
}
