package pdf

import "seatward/internal/document"

// labelShare is the part of half a page's width that labels have in a form.
const labelShare = 0.54

// formCells is how many cells a row of a form has, two names and what they tell.
const formCells = 4

// form sets names and what they tell, two beside each other where both are short.
func (g *grid) form() {
	half := (g.width - 2*marginX) / 2
	rows := g.t.Rows
	for i := 0; i < len(rows); {
		if i+1 < len(rows) && g.short(rows[i], half) && g.short(rows[i+1], half) {
			g.pair(rows[i], rows[i+1], half)
			i += 2
			continue
		}
		g.wide = []float64{half * labelShare, 2*half - half*labelShare}
		g.row(rows[i])
		i++
	}
}

// short is true for a row that fits on one line of half a page.
func (g *grid) short(r document.Row, half float64) bool {
	if len(r.Cells) != 2 {
		return false
	}
	g.font(sans, "", g.size)
	label, text := g.pdf.GetStringWidth(g.clean(r.Cells[0].Text)), g.pdf.GetStringWidth(g.told(r.Cells[1]))
	return label <= half*labelShare-2*cellX && text <= half*(1-labelShare)-2*cellX
}

// pair sets two short rows beside each other.
func (g *grid) pair(a, b document.Row, half float64) {
	before := g.t.Columns
	defer func() { g.t.Columns = before }()
	g.t.Columns = make([]document.Column, formCells)
	g.wide = []float64{half * labelShare, half * (1 - labelShare), half * labelShare, half * (1 - labelShare)}
	g.row(document.Row{Cells: append(append([]document.Cell{}, a.Cells...), b.Cells...)})
}
