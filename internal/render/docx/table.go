package docx

import (
	"fmt"
	"math"
	"strings"

	"seatward/internal/document"
	"seatward/internal/render/wording"
)

const (
	mostColumns = 63 // that Word opens
	line        = `w:val="single" w:sz="4" w:space="0" w:color="8A949C"`
	faintLine   = `w:val="single" w:sz="4" w:space="0" w:color="D0D5D9"`
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
	return fmt.Sprintf(`<w:tbl><w:tblPr><w:tblW w:w="%d" w:type="dxa"/>%s<w:tblLayout w:type="fixed"/>`, total, borders) +
		`<w:tblCellMar><w:top w:w="40" w:type="dxa"/><w:left w:w="80" w:type="dxa"/><w:bottom w:w="40" w:type="dxa"/><w:right w:w="80" w:type="dxa"/></w:tblCellMar>` +
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
	return fmt.Sprintf(`<w:tc><w:tcPr><w:tcW w:w="%d" w:type="dxa"/>%s%s</w:tcPr>`, c.width, span, c.more) + paragraph(c.style, p, c.runs) + `</w:tc>`
}

const (
	shadeHead  = `<w:shd w:val="clear" w:color="auto" w:fill="E3E9ED"/>`
	shadeGroup = `<w:shd w:val="clear" w:color="auto" w:fill="F1F3F5"/>`
)

func (x *writer) table(t *document.Table) error {
	if len(t.Columns) > mostColumns {
		return fmt.Errorf("table %q has %d columns: a Word file takes at most %d", t.Caption, len(t.Columns), mostColumns)
	}
	if t.Caption != "" {
		x.out.WriteString(paragraph("Caption", "<w:keepNext/>", run("", t.Caption)))
	}
	if len(t.Columns) == 0 {
		return nil
	}
	widths := columnWidths(t, x.width)
	x.out.WriteString(openTable(widths, edges("tblBorders", faintLine, "top", "bottom", "insideH"), t.Caption))
	if !t.Form {
		x.out.WriteString(`<w:tr><w:trPr><w:cantSplit/><w:tblHeader/></w:trPr>`)
		for i, c := range t.Columns {
			runs := run("", c.Title)
			if c.Unit != "" {
				if runs != "" {
					runs += `<w:r><w:br/></w:r>`
				}
				runs += run(`<w:b w:val="0"/>`, c.Unit)
			}
			x.out.WriteString(cell{width: widths[i], more: edges("tcBorders", line, "bottom") + shadeHead, style: "TableHead", right: c.Right, keep: true, runs: runs}.xml())
		}
		x.out.WriteString(`</w:tr>`)
	}
	for _, r := range t.Rows {
		x.out.WriteString(`<w:tr><w:trPr><w:cantSplit/></w:trPr>`)
		x.row(t, r, widths)
		x.out.WriteString(`</w:tr>`)
	}
	if len(t.Rows) == 0 {
		x.out.WriteString(`<w:tr>` + cell{width: x.width, span: len(widths), style: "TableText", runs: run("", wording.Empty)}.xml() + `</w:tr>`)
	}
	x.out.WriteString(`</w:tbl>` + paragraph("AfterTable", "", ""))
	return nil
}

func (x *writer) row(t *document.Table, r document.Row, widths []int) {
	if r.Group {
		text := ""
		if len(r.Cells) > 0 {
			text = wording.Cell(r.Cells[0])
		}
		x.out.WriteString(cell{width: x.width, span: len(widths), more: shadeGroup, style: "TableText", keep: true, runs: run(bold, text)}.xml())
		return
	}
	for i, w := range widths {
		var c document.Cell
		if i < len(r.Cells) {
			c = r.Cells[i]
		}
		out := cell{width: w, style: "TableText", right: t.Columns[i].Right && !t.Form}
		properties := letters(c.Tone)
		switch {
		case c.Tone == document.Source:
			out.style = "TableSource"
		case c.Bold || t.Form && i == 0 || c.Tone == document.Lead || c.Tone == document.Warning:
			properties += bold
		}
		if c.Blank {
			out.more = edges("tcBorders", line, "bottom")
		}
		out.runs = run(properties, wording.Cell(c))
		x.out.WriteString(out.xml())
	}
}

// twipsPerLetter is the usual width of a letter of table text.
const twipsPerLetter = 96

// columnWidths shares the width of the page: columns with a share get it, the others as
// much as their texts need, and what is left over in proportion.
func columnWidths(t *document.Table, total int) []int {
	lines, words := wording.Needs(t)
	shares, fixed, open := 0.0, make([]float64, len(t.Columns)), 0.0
	for i, c := range t.Columns {
		if c.Width > 0 {
			shares += c.Width
			continue
		}
		least := float64(min(words[i], 18)+2) * twipsPerLetter
		fixed[i] = math.Max(least, float64(min(lines[i], 48)+2)*twipsPerLetter)
		open += fixed[i]
	}
	room := float64(total)
	for i, c := range t.Columns {
		if c.Width > 0 {
			// Beside shares the others keep what they need, up to three fifths.
			fixed[i] = math.Max(room*0.4, room-open) * c.Width / shares
		}
	}
	if shares > 0 && open > room*0.6 {
		for i, c := range t.Columns {
			if c.Width == 0 {
				fixed[i] *= room * 0.6 / open
			}
		}
	}
	sum := 0.0
	for _, f := range fixed {
		sum += f
	}
	widths, at, before := make([]int, len(fixed)), 0.0, 0
	for i, f := range fixed {
		at += f
		edge := int(math.Round(at * room / sum))
		widths[i], before = max(1, edge-before), edge
	}
	return widths
}

// space writes an empty frame to be signed, sealed or drawn in.
func (x *writer) space(s document.Space) {
	x.out.WriteString(openTable([]int{x.width}, edges("tblBorders", line, "top", "left", "bottom", "right"), s.Title))
	fmt.Fprintf(&x.out, `<w:tr><w:trPr><w:cantSplit/><w:trHeight w:val="%d" w:hRule="atLeast"/></w:trPr><w:tc><w:tcPr><w:tcW w:w="%d" w:type="dxa"/></w:tcPr>`, int(math.Round(s.HeightMM*twipsPerMM)), x.width)
	x.out.WriteString(paragraph("TableText", "", run(bold, s.Title)))
	for _, l := range s.Lines {
		x.out.WriteString(paragraph("TableSource", "", run("", l)))
	}
	x.out.WriteString(`</w:tc></w:tr></w:tbl>` + paragraph("AfterTable", "", ""))
}
