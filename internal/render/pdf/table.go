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
	begun  bool // its heads stand on a page
}

// table sets a table; heads are repeated on each page, and a row goes to the next page
// whole unless it is longer than a page.
func (p *writer) table(t document.Table) {
	for _, g := range p.grids(t) {
		g.set()
	}
}

// grids lays the columns of a table out. One that is too wide comes in several.
func (p *writer) grids(t document.Table) []*grid {
	if len(t.Rows) == 0 || len(t.Columns) == 0 {
		return nil
	}
	g := &grid{writer: p, t: t, size: p.size - 0.7}
	if p.d.Large {
		g.size = p.size
	}
	if g.isForm() {
		half := (p.width - 2*marginX) / 2
		g.wide = []float64{half * labelShare, 2*half - half*labelShare}
		return []*grid{g}
	}
	all := []*grid{g}
	if !g.fits() && len(t.Columns) > 2 {
		all = g.apart()
	}
	for _, g := range all {
		g.readHeads()
	}
	return all
}

// isForm is true for names and what they tell, which are set in two halves of the page.
func (g *grid) isForm() bool { return g.t.Form && len(g.t.Columns) == 2 && !g.d.Large }

// set puts the table on the page.
func (g *grid) set() {
	g.room(math.Min(g.opening(), g.height-top-bottom))
	if g.t.Caption != "" {
		g.font(sans, "B", g.writer.size)
		g.color(black)
		g.paragraphLines(g.clean(g.t.Caption), marginX, g.width-2*marginX, "P")
		g.y += 1
	}
	g.tags.within("Table", "", func() {
		if g.isForm() {
			g.form()
			return
		}
		g.drawHeads()
		for i := range g.t.Rows {
			g.keep(i)
			g.row(g.t.Rows[i])
		}
	})
	g.y += 3.5 * g.air
}

// shortTable is how many rows a table has that is not cut.
const shortTable = 5

// opening is how much of the table stays together, mm: its caption, its heads, and the first
// two rows, with the row below a heading over rows; all of a short one.
func (g *grid) opening() float64 {
	mm := g.headMM
	if g.t.Caption != "" {
		g.font(sans, "B", g.writer.size)
		mm += 1 + lead(g.writer.size)*float64(len(g.wrap(g.clean(g.t.Caption), g.width-2*marginX)))
	}
	least := 2
	if len(g.t.Rows) <= shortTable {
		least = shortTable
	}
	for i, rows := 0, 0; i < len(g.t.Rows) && rows < least; i++ {
		mm += g.high(g.t.Rows[i])
		if !g.t.Rows[i].Group {
			rows++
		}
	}
	return mm
}

// keep goes to the next page before a row that must not stand apart: a heading over rows
// stays with the row below it, and the last row does not go over alone.
func (g *grid) keep(i int) {
	last := len(g.t.Rows) - 1
	if i == last || !(g.t.Rows[i].Group || i == last-1 && i > 0) {
		return
	}
	mm := g.high(g.t.Rows[i]) + g.high(g.t.Rows[i+1])
	if mm > g.left() && mm < g.height-top-bottom-g.headMM && g.y > top+g.headMM+1 {
		g.newPage()
		g.drawHeads()
	}
}

// high is the height of a row.
func (g *grid) high(r document.Row) float64 {
	_, deep := g.lay(r)
	return float64(deep)*lead(g.size) + 2*g.pad()
}

// pad is the room above and below the text of a cell.
func (g *grid) pad() float64 { return cellY * g.air }

// lay breaks the texts of a row into lines, and counts those of the longest.
func (g *grid) lay(r document.Row) (lines [][]string, deep int) {
	deep = 1
	for i, c := range r.Cells {
		if i >= len(g.wide) {
			break
		}
		wide := g.wide[i]
		if r.Group {
			wide = g.width - 2*marginX
		}
		g.font(sans, bold(c.Bold || r.Group), g.size)
		lines = append(lines, g.wrap(g.told(c), wide-2*cellX))
		deep = max(deep, len(lines[i]))
	}
	return lines, deep
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
	g.headMM = float64(deep)*lead(g.size) + 2*g.pad()
}

// drawHeads sets the heads of the columns. Those of the next pages are repeated for the eye
// only: a reader of the structure has them once.
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
	if g.begun {
		g.tags.artifact(func() { g.headCells(func(_ string, draw func()) { draw() }, g.text) })
	} else {
		g.tags.within("TR", "", func() {
			g.headCells(func(tag string, draw func()) { g.tags.within(tag, "", draw) }, g.put)
		})
	}
	g.begun = true
	g.y += g.headMM
}

// headCells sets the heads, each within a cell, line by line.
func (g *grid) headCells(within func(string, func()), put func(string, float64, float64, int, bool)) {
	x := marginX
	for i, lines := range g.heads {
		within("TH", func() {
			for k, l := range lines {
				style, color := "B", black
				if g.t.Columns[i].Unit != "" && k == len(lines)-1 {
					style, color = "", grey
				}
				g.font(sans, style, g.size)
				g.color(color)
				put(l, x, g.y+g.pad()+float64(k)*lead(g.size), i, g.t.Columns[i].Right)
			}
		})
		x += g.wide[i]
	}
}

// text draws a line of a cell.
func (g *grid) text(s string, x, y float64, column int, right bool) {
	at := x + cellX
	if right {
		at = x + g.wide[column] - cellX - g.pdf.GetStringWidth(s)
	}
	g.textAt(at, y+lead(g.size)*0.75, s)
}

// put sets a line of a cell as content.
func (g *grid) put(s string, x, y float64, column int, right bool) {
	g.tags.marked(func() { g.text(s, x, y, column, right) })
}

// row sets a row, over pages where it must be.
func (g *grid) row(r document.Row) {
	lines, deep := g.lay(r)
	g.lines = lines
	page := g.height - top - bottom - g.headMM - 2*g.pad()
	whole := float64(deep) * lead(g.size)
	if whole+2*g.pad() > g.left() && (whole <= page || g.left() < 5*lead(g.size)) {
		g.newPage()
		g.drawHeads()
	}
	for from := 0; from < deep; {
		fits := max(1, int((g.left()-2*g.pad())/lead(g.size)))
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
	high := float64(to-from)*lead(g.size) + 2*g.pad()
	columns := len(g.t.Columns)
	if g.isForm() {
		columns = formCells
	}
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
				if i == len(g.lines)-1 && i < columns-1 {
					g.tags.at.span = columns - i
				}
				g.font(sans, bold(c.Bold || r.Group), g.size)
				g.color(black)
				if label {
					g.color(grey)
				}
				if t, marked := tones[c.Tone]; marked {
					g.color(t.color)
				}
				for k := from; k < min(to, len(lines)); k++ {
					g.put(lines[k], x, g.y+g.pad()+float64(k-from)*lead(g.size), i, g.t.Columns[i].Right && !r.Group)
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
