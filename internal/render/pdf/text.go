package pdf

import (
	"strings"

	"seatward/internal/document"
)

// block writes one block.
func (p *writer) block(b document.Block, i int) {
	p.endItems(b)
	switch x := b.(type) {
	case document.Heading:
		p.heading(x, i)
	case document.Paragraph:
		p.paragraph(x, i)
	case document.List:
		p.list(x)
	case document.Table:
		p.table(x)
	case document.Figure:
		p.figure(x)
	case document.Clause:
		p.clause(x, i)
	case document.Listing:
		p.listing(x)
	case document.Code:
		p.code(x)
	case document.Space:
		p.space(x)
	case document.Contents:
		p.reserveContents()
	case document.Break:
		if p.y > top {
			p.newPage()
		}
	}
}

// paragraphLines sets a text in the font and color that are set, as one element.
func (p *writer) paragraphLines(s string, x, mm float64, tag string) {
	size, _ := p.pdf.GetFontSize()
	p.tags.within(tag, "", func() {
		for _, l := range p.wrap(s, mm) {
			p.room(lead(size))
			p.tags.marked(func() { p.textAt(x, p.y+lead(size)*0.75, l) })
			p.y += lead(size)
		}
	})
}

func (p *writer) heading(h document.Heading, i int) {
	level := headingLevel(h)
	p.together(p.start(i)) // a heading never stands alone at the foot
	if p.y > top {
		p.y += p.aboveHeading(level)
	}
	text := p.clean(h.Text)
	p.mark(text, h.Level)
	p.font(sans, "B", p.headingSize(level))
	p.color(water)
	if h.Level > 1 {
		p.color(black)
	}
	p.paragraphLines(text, marginX, p.width-2*marginX, p.headingTag(level))
	if h.Level == 1 {
		p.pen(faint, 0.25)
		p.tags.artifact(func() { p.pdf.Line(marginX, p.y+0.6, p.width-marginX, p.y+0.6) })
		p.y += 1.2
	}
	p.y += 1.6
}

// mark makes a place one that bookmarks and the table of contents lead to.
func (p *writer) mark(text string, level int) {
	p.pdf.Bookmark(text, level-1-p.skipped(level), p.y)
	p.headings = append(p.headings, heading{text, level, p.pdf.PageNo(), p.y})
}

// headingTag is the structure's name of a heading: one level below that of the heading which it
// stands under, since no level may be left out (ISO 14289-1:2014, 7.4.2). The title has H1.
func (p *writer) headingTag(level int) string {
	for n := len(p.under); n > 0 && p.under[n-1] >= level; n = len(p.under) {
		p.under = p.under[:n-1]
	}
	p.under = append(p.under, level)
	return [...]string{"H2", "H3", "H4"}[len(p.under)-1]
}

// skipped is by how many levels a heading goes too deep for a bookmark: a bookmark must
// not be more than one level below the one before it.
func (p *writer) skipped(level int) int {
	before := 0
	if n := len(p.headings); n > 0 {
		before = p.headings[n-1].level
	}
	return max(0, level-before-1)
}

// told is how a tone is shown in print: a mark and a word, beside the color.
type told struct {
	mark  string
	color ink
}

var tones = map[document.Tone]told{
	document.Good:    {"✓", water},
	document.Bad:     {"✗", rust},
	document.Open:    {"?", amber},
	document.Warning: {"!", rust},
	document.Advice:  {"✎", amber},
}

// paragraphStyle is how a paragraph is set: size, color, where it begins and how wide it is.
func (p *writer) paragraphStyle(x document.Paragraph) (size float64, color ink, at, mm float64) {
	size, color, at, mm = p.size, black, marginX, p.width-2*marginX
	switch x.Tone {
	case document.Source:
		size, color = p.size-1.2, grey
	case document.Lead:
		size = p.size + 1.5
	}
	if _, marked := tones[x.Tone]; marked {
		at, mm = marginX+7, mm-9
	}
	return size, color, at, mm
}

// paragraphMM is how much of a paragraph stays together, mm: all of a short one, and the
// first lines of a long one.
func (p *writer) paragraphMM(x document.Paragraph) float64 {
	size, _, _, mm := p.paragraphStyle(x)
	p.font(sans, "", size)
	lines := len(p.wrap(p.clean(x.Label)+" "+p.clean(x.Text), mm))
	if lines > shortParagraph {
		lines = 3
	}
	return lead(size)*float64(lines) + 2.5
}

// shortParagraph is how many lines a paragraph has that is not cut.
const shortParagraph = 6

func (p *writer) paragraph(x document.Paragraph, i int) {
	size, color, at, mm := p.paragraphStyle(x)
	p.together(p.paragraphMM(x) + p.after(i, x))
	t, marked := tones[x.Tone]
	label, text := p.clean(x.Label), p.clean(x.Text)
	start, page := p.y, p.pdf.PageNo()
	if marked {
		p.y += 1.2 * p.air
		p.font(sans, "B", size+1)
		p.color(t.color)
		p.tags.artifact(func() { p.textAt(marginX+2, p.y+lead(size)*0.75, t.mark) })
	}
	p.labeled(label, text, size, color, at, mm)
	if marked {
		p.y += 1.2 * p.air
		if p.pdf.PageNo() == page {
			p.pen(t.color, 0.7)
			p.tags.artifact(func() { p.pdf.Line(marginX, start, marginX, p.y) })
		}
	}
	p.y += 2 * p.air
}

// labeled sets a bold label and the text behind it. The last line of a long text does not go
// to the next page alone.
func (p *writer) labeled(label, text string, size float64, color ink, x, mm float64) {
	p.tags.within("P", "", func() {
		p.color(color)
		indent := 0.0
		if label != "" {
			p.font(sans, "B", size)
			p.tags.marked(func() { p.textAt(x, p.y+lead(size)*0.75, p.inOrder(label)) })
			indent = p.pdf.GetStringWidth(label + " ")
		}
		p.font(sans, "", size)
		lines := p.firstShort(text, mm, indent)
		for i, l := range lines {
			if i > 0 {
				p.y += lead(size)
				if i == len(lines)-2 {
					p.room(2 * lead(size))
				}
				p.room(lead(size))
				p.font(sans, "", size)
				p.color(color)
			}
			at := x
			if i == 0 {
				at += indent
			}
			p.tags.marked(func() { p.textAt(at, p.y+lead(size)*0.75, l) })
		}
		p.y += lead(size)
	})
}

// firstShort wraps a text whose first line is shorter.
func (p *writer) firstShort(s string, mm, short float64) []string {
	if short <= 0 {
		return p.wrap(s, mm)
	}
	var first []string
	rest := words(s)
	wide := short
	for len(rest) > 0 {
		w := p.pdf.GetStringWidth(rest[0] + " ")
		if wide+w > mm {
			break
		}
		first, rest, wide = append(first, rest[0]), rest[1:], wide+w
	}
	return append([]string{p.inOrder(strings.Join(first, " "))}, p.wrap(strings.Join(rest, " "), mm)...)
}
