package pdf

import (
	"fmt"

	"seatward/internal/document"
)

// contentsPage is where a part of the table of contents stands.
type contentsPage struct {
	page     int
	from, to int // entries
	y        float64
}

const (
	entryMM     = 5.6
	contentsTop = 12.0
)

// entries are the headings down to a level, and the parts of a specification, that a table of
// contents lists, counted before they are set.
func (p *writer) entries(depth int) int {
	n := 0
	for _, b := range p.d.Blocks {
		switch x := b.(type) {
		case document.Heading:
			if x.Level <= depth {
				n++
			}
		case document.Clause:
			if x.Level == 0 {
				n++
			}
		}
	}
	return n
}

// reserveContents leaves room for the table of contents, which is written when the pages
// of all headings are known.
func (p *writer) reserveContents() {
	p.room(contentsTop + 3*entryMM)
	p.font(sans, "B", 14)
	p.color(water)
	p.paragraphLines(p.clean(p.d.Words.Contents), marginX, p.width-2*marginX, "P")
	p.y += 3
	// Headings of the second level are left out where a page of contents is saved by that.
	p.listed = 2
	fits := int(p.left() / entryMM)
	if p.entries(2) > fits && p.entries(1) <= fits {
		p.listed = 1
	}
	n := p.entries(p.listed)
	for from := 0; from < n; {
		fits := max(1, int(p.left()/entryMM))
		to := min(n, from+fits)
		p.contents = append(p.contents, contentsPage{p.pdf.PageNo(), from, to, p.y})
		p.y += float64(to-from) * entryMM
		if from = to; from < n {
			p.newPage()
		}
	}
}

// finishContents writes the entries, each a link to its heading.
func (p *writer) finishContents() {
	last := p.pdf.PageNo()
	var list []heading
	for _, h := range p.headings {
		if h.level <= p.listed {
			list = append(list, h)
		}
	}
	for _, c := range p.contents {
		p.pdf.SetPage(c.page)
		p.tags.within("TOC", "", func() {
			for i := c.from; i < min(c.to, len(list)); i++ {
				y := c.y + float64(i-c.from)*entryMM
				p.tags.within("TOCI", "", func() {
					p.tags.within("Link", "", func() {
						p.tags.marked(func() { p.entry(list[i], y) })
						p.tags.leads(p.linkTo(list[i], y))
					})
				})
			}
		})
	}
	p.pdf.SetPage(last)
}

func (p *writer) entry(h heading, y float64) {
	size, indent, style := 10.0, 0.0, "B"
	if h.level == 2 {
		size, indent, style = 9, 6, ""
	}
	p.font(sans, style, size)
	p.color(black)
	number := fmt.Sprint(h.page)
	wide := p.pdf.GetStringWidth(number)
	text := p.fit(h.text, p.width-2*marginX-indent-wide-8)
	p.textAt(marginX+indent, y+4, text)
	p.textAt(p.width-marginX-wide, y+4, number)
	p.pen(faint, 0.2)
	p.pdf.SetDashPattern([]float64{0.4, 1}, 0)
	p.pdf.Line(marginX+indent+p.pdf.GetStringWidth(text)+2, y+4, p.width-marginX-wide-2, y+4)
	p.pdf.SetDashPattern(nil, 0)
}

// linkTo is the link of an entry to its heading.
func (p *writer) linkTo(h heading, y float64) *link {
	return &link{
		frame: p.points(marginX, y, p.width-2*marginX, entryMM), text: h.text, toPage: h.page,
		toY: (p.height - h.y) * perMM,
	}
}

// perMM is points in a mm.
const perMM = 72 / 25.4

// points is a box of the page, given from the left and from above in mm, as PDF has it:
// left, bottom, right and top in points from the lower left corner.
func (p *writer) points(x, y, wide, high float64) [4]float64 {
	return [4]float64{x * perMM, (p.height - y - high) * perMM, (x + wide) * perMM, (p.height - y) * perMM}
}
