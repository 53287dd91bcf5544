package markup

import (
	"seatward/internal/document"
	"seatward/internal/render/wording"
)

// table sets a table in a box of its own, in which it scrolls where the page is narrow.
func (p *page) table(t document.Table) {
	if len(t.Columns) == 0 {
		if t.Caption != "" {
			p.put("<p><strong>%s</strong></p>\n", clean(t.Caption))
		}
		return
	}
	label := ""
	if t.Caption != "" {
		label = ` role="region" aria-label="` + clean(t.Caption) + `"`
	}
	wide := ""
	if len(t.Columns) > 3 && !t.Form {
		wide = ` class="wide"`
	}
	p.put("<div class=\"box\" tabindex=\"0\"%s>\n<table%s>\n", label, wide)
	if t.Caption != "" {
		p.put("<caption>%s</caption>\n", clean(t.Caption))
	}
	p.columns(t)
	if !t.Form {
		p.heads(t)
	}
	p.put("<tbody>\n")
	if len(t.Rows) == 0 {
		p.put("<tr><td colspan=\"%d\">%s</td></tr>\n", len(t.Columns), wording.Empty)
	}
	for i, r := range t.Rows {
		if r.Group && i > 0 {
			p.put("</tbody>\n<tbody>\n")
		}
		p.row(t, r)
	}
	p.put("</tbody>\n</table>\n</div>\n")
}

// columns gives columns their shares of the width.
func (p *page) columns(t document.Table) {
	sum := 0.0
	for _, c := range t.Columns {
		sum += c.Width
	}
	if sum == 0 {
		return
	}
	p.put("<colgroup>")
	for _, c := range t.Columns {
		if c.Width > 0 {
			p.put("<col style=\"width:%.0f%%\">", 100*c.Width/max(sum, 1))
			continue
		}
		p.put("<col>")
	}
	p.put("</colgroup>\n")
}

func (p *page) heads(t document.Table) {
	p.put("<thead>\n<tr>")
	for i, c := range t.Columns {
		p.put("<th scope=\"col\"%s>%s", class(document.Plain, side(t, i)), clean(c.Title))
		if c.Unit != "" {
			p.put("<span class=\"unit\">%s</span>", clean(c.Unit))
		}
		p.put("</th>")
	}
	p.put("</tr>\n</thead>\n")
}

// side is the class of a column of numbers.
func side(t document.Table, i int) string {
	if t.Columns[i].Right {
		return "r"
	}
	return ""
}

func (p *page) row(t document.Table, r document.Row) {
	if r.Group {
		text := ""
		for _, c := range r.Cells {
			text = wording.Cell(c)
		}
		p.put("<tr class=\"group\"><th scope=\"rowgroup\" colspan=\"%d\">%s</th></tr>\n", len(t.Columns), clean(text))
		return
	}
	p.put("<tr>")
	for i := range t.Columns {
		if i >= len(r.Cells) {
			p.put("<td></td>")
			continue
		}
		c := r.Cells[i]
		text := clean(wording.Cell(c))
		if c.Bold {
			text = "<strong>" + text + "</strong>"
		}
		fill := ""
		if c.Blank {
			fill = "fill"
		}
		if i == 0 && !c.Blank {
			p.put("<th scope=\"row\"%s>%s</th>", class(c.Tone, side(t, i)), text)
			continue
		}
		p.put("<td%s>%s</td>", class(c.Tone, side(t, i), fill), text)
	}
	p.put("</tr>\n")
}
