package pdf

import (
	"fmt"
	"strings"

	"seatward/internal/document"
)

// list sets texts with a bullet, a number or a box before each. No item of a few lines is cut,
// and the last one does not go over alone.
func (p *writer) list(x document.List) {
	size := p.size
	p.tags.within("L", "", func() {
		p.tags.at.list = numbering(x.Numbered)
		for i, item := range x.Items {
			p.font(sans, "", size)
			lines := p.wrap(p.clean(item), p.width-2*marginX-8)
			keep := lead(size) * float64(min(len(lines), shortParagraph))
			if i == len(x.Items)-2 {
				keep += lead(size)*float64(len(p.wrap(p.clean(x.Items[i+1]), p.width-2*marginX-8))) + 0.7
			}
			p.together(keep)
			p.tags.within("LI", "", func() {
				p.tags.within("Lbl", "", func() { p.tags.marked(func() { p.bullet(x, i, size) }) })
				p.tags.within("LBody", "", func() {
					for k, l := range lines {
						if k > 0 {
							p.y += lead(size)
							p.room(lead(size))
						}
						p.font(sans, "", size)
						p.color(black)
						p.tags.marked(func() { p.textAt(marginX+8, p.y+lead(size)*0.75, l) })
					}
				})
			})
			p.y += lead(size) + 0.7*p.air
		}
	})
	p.y += 2 * p.air
}

// numbering is the structure's word for what stands before items (ISO 32000-1, table 347).
func numbering(numbered bool) string {
	if numbered {
		return "Decimal"
	}
	return "Disc"
}

func (p *writer) bullet(x document.List, i int, size float64) {
	p.color(water)
	base := p.y + lead(size)*0.75
	switch {
	case x.Boxes:
		p.textAt(marginX+2, base, "☐")
	case x.Numbered:
		p.textAt(marginX+2, base, fmt.Sprintf("%d.", i+1))
	default:
		p.textAt(marginX+3, base, "•")
	}
}

// clauseStyle is how a clause is set: size, style, where its number begins, how far behind it
// the text does, and the room above, mm.
func (p *writer) clauseStyle(x document.Clause) (size float64, style string, at, hang, above float64) {
	size, at, hang = p.size+0.5, marginX+float64(max(0, x.Level-1))*8, 9
	switch x.Level {
	case 0:
		size, style, hang, above = p.size+3, "B", 19, 3
	case 1:
		size, style, hang, above = p.size+1, "B", 12, 1.5
	}
	return size, style, at, hang, above * p.air
}

func (p *writer) clauseLines(x document.Clause) []string {
	size, style, at, hang, _ := p.clauseStyle(x)
	if strings.Contains(x.Text, "[") {
		style = "B" // choices are bold, which takes more room
	}
	p.font(sans, style, size)
	return p.wrap(p.clean(x.Text), p.width-marginX-at-hang)
}

// clauseMM is how much of a clause stays together: all of a short one.
func (p *writer) clauseMM(x document.Clause) float64 {
	size, _, _, _, above := p.clauseStyle(x)
	lines := len(p.clauseLines(x))
	if lines > shortParagraph {
		lines = 3
	}
	return above + lead(size)*float64(max(1, lines)) + 1.2
}

// clause sets a numbered part of a specification; choices in brackets are bold. Parts and
// articles are headings, what stands below them are items of lists in lists.
func (p *writer) clause(x document.Clause, i int) {
	size, style, at, hang, above := p.clauseStyle(x)
	p.together(p.clauseMM(x) + p.afterClause(i, x))
	if p.y > top {
		p.y += above
	}
	if x.Level == 0 {
		p.mark(p.clean(strings.TrimSpace(x.Number+" "+x.Text)), 2)
	}
	lines := p.clauseLines(x)
	number := func() {
		p.font(sans, style, size)
		p.color(black)
		p.tags.marked(func() { p.textAt(at, p.y+lead(size)*0.75, p.inOrder(p.clean(x.Number))) })
	}
	text := func() {
		open := false
		for _, l := range lines {
			p.room(lead(size))
			p.tags.marked(func() { open = p.bracketed(l, at+hang, size, style, open) })
			p.y += lead(size)
		}
		if len(lines) == 0 {
			p.y += lead(size)
		}
	}
	if x.Level <= 1 {
		p.tags.within(p.headingTag(x.Level+2), "", func() { number(); text() })
	} else {
		p.beginItem(x.Level)
		p.tags.within("Lbl", "", number)
		p.tags.open("LBody")
		p.tags.within("P", "", text)
	}
	p.y += 1.2 * p.air
}

// beginItem begins an item of a list for a clause of the level: of the list that is open at
// that level, or of a new one within the item above. Its body stays open for what follows.
func (p *writer) beginItem(level int) {
	for n := len(p.items); n > 0 && p.items[n-1] > level; n = len(p.items) {
		p.endItem()
		p.tags.close() // the list
	}
	if n := len(p.items); n > 0 && p.items[n-1] == level {
		p.endItem()
	} else {
		p.tags.open("L")
		p.tags.at.list = numbering(true)
	}
	p.tags.open("LI")
	p.items = append(p.items, level)
}

// endItem ends the item at hand: its body and itself.
func (p *writer) endItem() {
	p.tags.close()
	p.tags.close()
	p.items = p.items[:len(p.items)-1]
}

// endItems ends the lists of clauses before a block that is no part of an item: a head, or the
// end of the document.
func (p *writer) endItems(b document.Block) {
	switch x := b.(type) {
	case document.Clause:
		if x.Level > 1 {
			return
		}
	case document.Paragraph, document.Table, document.List:
		return
	}
	for len(p.items) > 0 {
		p.endItem()
		p.tags.close()
	}
}

// bracketed sets a line in which texts in brackets are bold and of another color. Open
// says that a bracket of the line before is not closed, and whether one of this line is.
func (p *writer) bracketed(line string, x, size float64, style string, open bool) bool {
	for line != "" {
		cut := strings.IndexAny(line, "[]")
		part := line
		next := open
		if cut >= 0 {
			part = line[:cut]
			if line[cut] == ']' {
				part = line[:cut+1]
				next = false
			} else {
				next = true
			}
			if line[cut] == '[' && part == "" { // the bracket itself is of the choice
				part = "["
			}
		}
		bold := style
		p.color(black)
		if open || part == "[" {
			bold = "B"
			p.color(water)
		}
		p.font(sans, bold, size)
		p.textAt(x, p.y+lead(size)*0.75, part)
		x += p.pdf.GetStringWidth(part)
		if part == "[" {
			open = true
		} else {
			open = next && !(cut >= 0 && line[cut] == '[')
		}
		line = line[len(part):]
	}
	return open
}

// listingSize is the size of letters of a listing, pt.
const listingSize = 7.2

// listing sets lines in which indents count.
func (p *writer) listing(x document.Listing) {
	const size = listingSize
	p.font(mono, "", size)
	p.color(black)
	char := p.pdf.GetStringWidth("m")
	p.tags.within("P", "", func() {
		for _, l := range x.Lines {
			indent := len(l) - len(strings.TrimLeft(l, " "))
			at := marginX + min(float64(indent), 40)*char*0.7
			for i, part := range p.wrap(p.clean(l), p.width-marginX-at-4) {
				p.room(lead(size))
				p.font(mono, "", size)
				p.color(black)
				shift := 0.0
				if i > 0 {
					shift = 4
				}
				p.tags.marked(func() { p.textAt(at+shift, p.y+lead(size)*0.75, part) })
				p.y += lead(size)
			}
		}
	})
	p.y += 3
}
