package pdf

import "seatward/internal/document"

// start is how many mm of a block must stand on one page with the heading before it.
func (p *writer) start(i int) float64 {
	if i >= len(p.d.Blocks) {
		return 0
	}
	wide := p.width - 2*marginX
	switch x := p.d.Blocks[i].(type) {
	case document.Heading:
		return p.headingMM(x) + p.start(i+1) + p.introduced(i+1)
	case document.Paragraph:
		return p.paragraphMM(x) + p.after(i, x)
	case document.List:
		if len(x.Items) == 0 {
			return 0
		}
		p.font(sans, "", p.size)
		mm := 0.0
		for _, item := range x.Items[:min(2, len(x.Items))] {
			mm += lead(p.size)*float64(len(p.wrap(p.clean(item), wide-8))) + 0.7
		}
		return mm
	case document.Table:
		if all := p.grids(x); len(all) > 0 {
			return all[0].opening()
		}
	case document.Figure:
		return p.figureStart(x)
	case document.Clause:
		return p.clauseMM(x) + p.afterClause(i, x)
	case document.Listing:
		return 3 * lead(listingSize)
	case document.Code:
		return codeMM + 4
	case document.Space:
		return x.HeightMM + 4
	case document.Contents:
		return contentsTop + 3*entryMM
	}
	return 0
}

// introduced is what stays with the sentence below a heading: the table or list that it is
// about.
func (p *writer) introduced(i int) float64 {
	if i+1 >= len(p.d.Blocks) {
		return 0
	}
	x, sentence := p.d.Blocks[i].(document.Paragraph)
	if !sentence || p.after(i, x) > 0 {
		return 0
	}
	switch p.d.Blocks[i+1].(type) {
	case document.Table, document.List:
		return p.start(i + 1)
	}
	return 0
}

// after is what must stay with a paragraph: what it names with a colon at its end.
func (p *writer) after(i int, x document.Paragraph) float64 {
	if n := len(x.Text); n > 0 && x.Text[n-1] == ':' {
		return p.start(i + 1)
	}
	return 0
}

// afterClause is what stays with an article's or a part's head: the clause below it.
func (p *writer) afterClause(i int, x document.Clause) float64 {
	if x.Level > 1 || i+1 >= len(p.d.Blocks) {
		return 0
	}
	if _, more := p.d.Blocks[i+1].(document.Clause); !more {
		return 0
	}
	return p.start(i + 1)
}

// together makes sure that a block's start stands on one page, or as much of it as a page has.
func (p *writer) together(mm float64) {
	p.room(min(mm, p.height-top-bottom))
}

// headingSize is the size of letters of a heading, pt.
func (p *writer) headingSize(level int) float64 {
	size := [...]float64{14, 11.5, 10}[level-1]
	if p.d.Large {
		size += 3
	}
	return size
}

// headingLevel is 1 to 3.
func headingLevel(h document.Heading) int { return min(max(h.Level, 1), 3) }

// aboveHeading is the room above a heading that does not begin a page, mm.
func (p *writer) aboveHeading(level int) float64 { return [...]float64{5, 3.5, 2.5}[level-1] * p.air }

func (p *writer) headingMM(h document.Heading) float64 {
	level := headingLevel(h)
	size := p.headingSize(level)
	p.font(sans, "B", size)
	return p.aboveHeading(level) + 2.8 + lead(size)*float64(len(p.wrap(p.clean(h.Text), p.width-2*marginX)))
}
