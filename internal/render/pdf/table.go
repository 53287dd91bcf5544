package pdf

import (
	"math"

	"seatward/internal/document"
)

const (
	cellX = 1.6 // room left and right of a cell's text, mm
	cellY = 1.1
)

// grid is a table being set.
type grid struct {
	*writer
	t      document.Table
	wide   []float64
	size   float64
	lines  [][]string // of the row being set, by cell
	heads  [][]string
	headMM float64
}

// table sets a table; heads are repeated on each page, and a row goes to the next page
// whole unless it is longer than a page.
func (p *writer) table(t document.Table) {
	if len(t.Rows) == 0 || len(t.Columns) == 0 {
		return
	}
	g := &grid{writer: p, t: t, size: p.size - 0.7}
	if p.d.Large {
		g.size = p.size
	}
	if n := len(t.Columns); n > 7 {
		g.size -= 0.9
	}
	g.measure()
	if t.Caption != "" {
		p.room(22)
		p.font(sans, "B", p.size)
		p.color(black)
		p.paragraphLines(p.clean(t.Caption), marginX, p.width-2*marginX, "P")
		p.y += 1
	}
	p.tags.within("Table", "", func() {
		if t.Form && len(t.Columns) == 2 && !p.d.Large {
			g.form()
			return
		}
		g.readHeads()
		p.room(g.headMM + lead(g.size) + 3)
		g.drawHeads()
		for i := range t.Rows {
			if t.Rows[i].Group { // a heading over rows never stands alone at the foot
				p.room(5 * lead(g.size))
				if p.y == top {
					g.drawHeads()
				}
			}
			g.row(t.Rows[i])
		}
	})
	p.y += 3.5
}

// measure gives each column its width: its share, or what its texts need.
func (g *grid) measure() {
	total := g.width - 2*marginX
	n := len(g.t.Columns)
	need, word := make([]float64, n), make([]float64, n)
	look := func(i int, s, style string) {
		g.font(sans, style, g.size)
		s = g.clean(s)
		need[i] = math.Max(need[i], g.pdf.GetStringWidth(s)+2*cellX+0.3)
		word[i] = math.Max(word[i], g.longestWord(s)+2*cellX+0.3)
	}
	for i, c := range g.t.Columns {
		look(i, c.Title, "B")
		look(i, c.Unit, "")
	}
	for _, r := range g.t.Rows {
		if r.Group {
			continue
		}
		for i, c := range r.Cells {
			if i < n {
				look(i, c.Text, bold(c.Bold))
			}
		}
	}
	g.wide = make([]float64, n)
	shares, rest := 0.0, total
	for i, c := range g.t.Columns {
		if c.Width > 0 {
			shares += c.Width
			continue
		}
		g.wide[i] = math.Min(need[i], math.Max(word[i], 0.16*total))
		rest -= g.wide[i]
	}
	if shares == 0 { // spread what is left
		sum := total - rest
		for i := range g.wide {
			g.wide[i] *= total / sum
		}
		return
	}
	if rest < 0.3*total { // columns of numbers leave too little for words
		squeeze := 0.7 * total / (total - rest)
		for i, c := range g.t.Columns {
			if c.Width == 0 {
				g.wide[i] *= squeeze
			}
		}
		rest = 0.3 * total
	}
	for i, c := range g.t.Columns {
		if c.Width > 0 {
			g.wide[i] = rest * c.Width / shares
		}
	}
}

// longestWord is the width of the widest word, up to a third of the page.
func (g *grid) longestWord(s string) float64 {
	most, from := 0.0, 0
	for i := 0; i <= len(s); i++ {
		if i == len(s) || s[i] == ' ' {
			most = math.Max(most, g.pdf.GetStringWidth(s[from:i]))
			from = i + 1
		}
	}
	return math.Min(most, (g.width-2*marginX)/3)
}

func bold(yes bool) string {
	if yes {
		return "B"
	}
	return ""
}

func (g *grid) readHeads() {
	if g.t.Form {
		return
	}
	deep := 0
	for i, c := range g.t.Columns {
		g.font(sans, "B", g.size)
		lines := g.wrap(g.clean(c.Title), g.wide[i]-2*cellX)
		if c.Unit != "" {
			lines = append(lines, g.clean(c.Unit))
		}
		g.heads = append(g.heads, lines)
		deep = max(deep, len(lines))
	}
	g.headMM = float64(deep)*lead(g.size) + 2*cellY
}

func (g *grid) drawHeads() {
	if g.t.Form {
		return
	}
	g.brush(pale)
	g.tags.artifact(func() {
		g.pdf.Rect(marginX, g.y, g.width-2*marginX, g.headMM, "F")
		g.pen(grey, 0.3)
		g.pdf.Line(marginX, g.y+g.headMM, g.width-marginX, g.y+g.headMM)
	})
	g.tags.within("TR", "", func() {
		x := marginX
		for i, lines := range g.heads {
			g.tags.within("TH", "", func() {
				for k, l := range lines {
					style, color := "B", black
					if g.t.Columns[i].Unit != "" && k == len(lines)-1 {
						style, color = "", grey
					}
					g.font(sans, style, g.size)
					g.color(color)
					g.put(l, x, g.y+cellY+float64(k)*lead(g.size), i, g.t.Columns[i].Right)
				}
			})
			x += g.wide[i]
		}
	})
	g.y += g.headMM
}

// put sets a line of a cell.
func (g *grid) put(s string, x, y float64, column int, right bool) {
	at := x + cellX
	if right {
		at = x + g.wide[column] - cellX - g.pdf.GetStringWidth(s)
	}
	g.tags.marked(func() { g.textAt(at, y+lead(g.size)*0.75, s) })
}

// row sets a row, over pages where it must be.
func (g *grid) row(r document.Row) {
	deep := 1
	g.lines = nil
	for i, c := range r.Cells {
		if i >= len(g.wide) {
			break
		}
		wide := g.wide[i]
		if r.Group {
			wide = g.width - 2*marginX
		}
		g.font(sans, bold(c.Bold || r.Group), g.size)
		g.lines = append(g.lines, g.wrap(g.told(c), wide-2*cellX))
		deep = max(deep, len(g.lines[i]))
	}
	page := g.height - top - bottom - g.headMM - 2*cellY
	whole := float64(deep) * lead(g.size)
	if whole+2*cellY > g.left() && (whole <= page || g.left() < 5*lead(g.size)) {
		g.newPage()
		g.drawHeads()
	}
	for from := 0; from < deep; {
		fits := max(1, int((g.left()-2*cellY)/lead(g.size)))
		to := min(deep, from+fits)
		g.slice(r, from, to)
		if from = to; from < deep {
			g.newPage()
			g.drawHeads()
		}
	}
}

// told is a cell's text with the mark of its tone.
func (g *grid) told(c document.Cell) string {
	if t, marked := tones[c.Tone]; marked && c.Text != "" && c.Tone != document.Open {
		return t.mark + " " + g.clean(c.Text)
	}
	return g.clean(c.Text)
}

// slice sets the lines from..to of a row.
func (g *grid) slice(r document.Row, from, to int) {
	high := float64(to-from)*lead(g.size) + 2*cellY
	if r.Group {
		g.brush(pale)
		g.tags.artifact(func() { g.pdf.Rect(marginX, g.y, g.width-2*marginX, high, "F") })
	}
	g.tags.within("TR", "", func() {
		x := marginX
		for i, lines := range g.lines {
			c := r.Cells[i]
			tag := "TD"
			label := g.t.Form && i%2 == 0
			if label || r.Group {
				tag = "TH"
			}
			g.tags.within(tag, "", func() {
				g.font(sans, bold(c.Bold || r.Group), g.size)
				g.color(black)
				if label {
					g.color(grey)
				}
				if t, marked := tones[c.Tone]; marked {
					g.color(t.color)
				}
				for k := from; k < min(to, len(lines)); k++ {
					g.put(lines[k], x, g.y+cellY+float64(k-from)*lead(g.size), i, g.t.Columns[i].Right && !r.Group)
				}
			})
			if c.Blank {
				g.pen(grey, 0.2)
				g.tags.artifact(func() { g.pdf.Line(x+cellX, g.y+high-1, x+g.wide[i]-cellX, g.y+high-1) })
			}
			x += g.wide[i]
		}
	})
	g.y += high
	g.pen(faint, 0.15)
	g.tags.artifact(func() { g.pdf.Line(marginX, g.y, g.width-marginX, g.y) })
}
