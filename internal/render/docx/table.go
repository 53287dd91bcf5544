package docx

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"seatward/internal/document"
	"seatward/internal/render/wording"
)

const (
	mostColumns = 63 // that Word opens
	line        = `w:val="single" w:sz="4" w:space="0" w:color="8A949C"`
	faintLine   = `w:val="single" w:sz="4" w:space="0" w:color="D0D5D9"`

	cellMargin   = 80  // left and right of the text of a cell, twips
	blankTwips   = 400 // least height of a row with blanks: room for handwriting
	keptTogether = 8   // rows of a table that stays on one page
)

// edges writes the borders of a frame.
func edges(name, style string, sides ...string) string {
	var b strings.Builder
	b.WriteString(`<w:` + name + `>`)
	for _, s := range sides {
		b.WriteString(`<w:` + s + ` ` + style + `/>`)
	}
	b.WriteString(`</w:` + name + `>`)
	return b.String()
}

// openTable writes what stands before the rows.
func openTable(widths []int, borders, caption string) string {
	total := 0
	var grid strings.Builder
	for _, w := range widths {
		total += w
		fmt.Fprintf(&grid, `<w:gridCol w:w="%d"/>`, w)
	}
	if caption != "" {
		caption = `<w:tblCaption w:val="` + escape(caption) + `"/>`
	}
	return fmt.Sprintf(`<w:tbl><w:tblPr><w:tblW w:w="%d" w:type="dxa"/>%s<w:tblLayout w:type="fixed"/>`, total,
		borders) +
		fmt.Sprintf(`<w:tblCellMar><w:top w:w="40" w:type="dxa"/><w:left w:w="%d" w:type="dxa"/><w:bottom w:w="40" w:type="dxa"/><w:right w:w="%d" w:type="dxa"/></w:tblCellMar>`, cellMargin, cellMargin) +
		`<w:tblLook w:val="0020" w:firstRow="1" w:lastRow="0" w:firstColumn="0" w:lastColumn="0" w:noHBand="1" w:noVBand="1"/>` + caption + `</w:tblPr><w:tblGrid>` + grid.String() + `</w:tblGrid>`
}

// cell is a cell of a table as it is set.
type cell struct {
	width, span int
	more        string // borders and shading
	style       string
	right       bool
	keep        bool // with the row below
	runs        string
}

func (c cell) xml() string {
	p := ""
	if c.keep {
		p = `<w:keepNext/>`
	}
	if c.right {
		p += `<w:jc w:val="right"/>`
	}
	span := ""
	if c.span > 1 {
		span = fmt.Sprintf(`<w:gridSpan w:val="%d"/>`, c.span)
	}
	return fmt.Sprintf(`<w:tc><w:tcPr><w:tcW w:w="%d" w:type="dxa"/>%s%s</w:tcPr>`, c.width, span,
		c.more) + paragraph(c.style, p, c.runs) + `</w:tc>`
}

const (
	shadeHead  = `<w:shd w:val="clear" w:color="auto" w:fill="E3E9ED"/>`
	shadeGroup = `<w:shd w:val="clear" w:color="auto" w:fill="F1F3F5"/>`
)

func (x *writer) table(t *document.Table) error {
	if len(t.Columns) > mostColumns {
		return fmt.Errorf("table %q has %d columns: a Word file takes at most %d", t.Caption, len(t.Columns),
			mostColumns)
	}
	if t.Caption != "" {
		x.out.WriteString(paragraph("Caption", "<w:keepNext/>", run("", t.Caption)))
	}
	if len(t.Columns) == 0 {
		return nil
	}
	set, widths := layout(t, x.width, x.d.Large)
	g := grid{writer: x, t: t, set: set, widths: widths}
	x.out.WriteString(openTable(widths, edges("tblBorders", faintLine, "top", "bottom", "insideH"), t.Caption))
	if !t.Form {
		g.heads()
	}
	for i, r := range t.Rows {
		g.row(r, g.keeps(i))
	}
	if len(t.Rows) == 0 {
		x.out.WriteString(`<w:tr>` + cell{
			width: x.width, span: len(widths), style: set.text,
			runs: run("", wording.Empty),
		}.xml() + `</w:tr>`)
	}
	x.closeTable()
	return nil
}

// grid is a table being written.
type grid struct {
	*writer
	t      *document.Table
	set    setting
	widths []int
}

func (g *grid) heads() {
	g.out.WriteString(`<w:tr><w:trPr><w:cantSplit/><w:tblHeader/></w:trPr>`)
	for i, c := range g.t.Columns {
		runs := run("", c.Title)
		if c.Unit != "" {
			if runs != "" {
				runs += `<w:r><w:br/></w:r>`
			}
			runs += run(`<w:b w:val="0"/>`, c.Unit)
		}
		g.out.WriteString(cell{
			width: g.widths[i], more: edges("tcBorders", line, "bottom") + shadeHead,
			style: g.set.head, right: c.Right, keep: true, runs: runs,
		}.xml())
	}
	g.out.WriteString(`</w:tr>`)
}

// keeps tells whether a row stays on the page of the one below it: a small table stays
// whole, and of a large one no row stands alone at the foot or the top of a page.
func (g *grid) keeps(i int) bool {
	n := len(g.t.Rows)
	return i < n-1 && (n <= keptTogether || i == 0 || i == n-2 || g.t.Rows[i].Group)
}

func (g *grid) row(r document.Row, keep bool) {
	height := ""
	if slices.ContainsFunc(r.Cells, func(c document.Cell) bool { return c.Blank }) {
		height = fmt.Sprintf(`<w:trHeight w:val="%d" w:hRule="atLeast"/>`, blankTwips)
	}
	g.out.WriteString(`<w:tr><w:trPr><w:cantSplit/>` + height + `</w:trPr>`)
	defer g.out.WriteString(`</w:tr>`)
	if r.Group {
		text := ""
		if len(r.Cells) > 0 {
			text = wording.Cell(r.Cells[0])
		}
		g.out.WriteString(cell{
			width: g.width, span: len(g.widths), more: shadeGroup, style: g.set.text, keep: keep,
			runs: run(bold, text),
		}.xml())
		return
	}
	for i, w := range g.widths {
		var c document.Cell
		if i < len(r.Cells) {
			c = r.Cells[i]
		}
		out := cell{width: w, style: g.set.text, right: g.t.Columns[i].Right && !g.t.Form, keep: keep}
		properties := letters(c.Tone)
		switch {
		case c.Tone == document.Source:
			out.style = g.set.source
		case c.Bold || g.t.Form && i == 0 || c.Tone == document.Lead || c.Tone == document.Warning:
			properties += bold
		}
		if c.Blank {
			out.more = edges("tcBorders", line, "top", "left", "bottom", "right")
		}
		out.runs = run(properties, shown(c))
		g.out.WriteString(out.xml())
	}
}

// closeTable ends a table with a gap, without which two tables would become one. Before
// a new page it has none: where the table fills its page the gap would fill another.
func (x *writer) closeTable() {
	x.out.WriteString(`</w:tbl>`)
	if !isBreak(x.next) {
		x.out.WriteString(paragraph("AfterTable", "", ""))
	}
}

// shown is the text of a cell. The sign of its tone stays on the line of the first word.
func shown(c document.Cell) string {
	text := wording.Cell(c)
	if text != c.Text {
		text = strings.Replace(text, " ", "\u00A0", 1)
	}
	return text
}

// space writes an empty frame to be signed, sealed or drawn in.
func (x *writer) space(s document.Space) {
	x.out.WriteString(openTable([]int{x.width}, edges("tblBorders", line, "top", "left", "bottom", "right"), s.Title))
	fmt.Fprintf(&x.out, `<w:tr><w:trPr><w:cantSplit/><w:trHeight w:val="%d" w:hRule="atLeast"/></w:trPr><w:tc><w:tcPr><w:tcW w:w="%d" w:type="dxa"/></w:tcPr>`, int(math.Round(s.HeightMM*twipsPerMM)), x.width)
	x.out.WriteString(paragraph("TableText", "", run(bold, s.Title)))
	for _, l := range s.Lines {
		x.out.WriteString(paragraph("TableSource", "", run("", l)))
	}
	x.out.WriteString(`</w:tc></w:tr>`)
	x.closeTable()
}
