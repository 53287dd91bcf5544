package pdf

import (
	"fmt"
	"strings"

	"seatward/internal/document"
)

// list sets texts with a bullet, a number or a box before each.
func (p *writer) list(x document.List) {
	size := p.size
	p.tags.within("L", "", func() {
		for i, item := range x.Items {
			p.font(sans, "", size)
			lines := p.wrap(p.clean(item), p.width-2*marginX-8)
			p.room(lead(size) * float64(min(len(lines), 3)))
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
			p.y += lead(size) + 0.7
		}
	})
	p.y += 2
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

// clause sets a numbered part of a specification; choices in brackets are bold.
func (p *writer) clause(x document.Clause) {
	size, style := p.size+0.5, ""
	switch x.Level {
	case 0:
		size, style = p.size+3, "B"
		p.y += 3
		p.room(24)
		p.mark(p.clean(strings.TrimSpace(x.Number+" "+x.Text)), 2)
	case 1:
		size, style = p.size+1, "B"
		p.y += 1.5
		p.room(16)
	}
	at := marginX + float64(max(0, x.Level-1))*8
	hang := 9.0
	if x.Level == 0 {
		hang = 19
	}
	p.font(sans, style, size)
	text := p.clean(x.Text)
	lines := p.wrap(text, p.width-marginX-at-hang)
	p.room(lead(size) * float64(min(len(lines), 2)))
	p.tags.within([...]string{"H3", "H4", "P", "P", "P"}[x.Level], "", func() {
		p.color(black)
		p.tags.marked(func() { p.textAt(at, p.y+lead(size)*0.75, p.clean(x.Number)) })
		open := false
		for _, l := range lines {
			p.room(lead(size))
			p.tags.marked(func() { open = p.bracketed(l, at+hang, size, style, open) })
			p.y += lead(size)
		}
	})
	p.y += 1.2
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

// listing sets lines in which indents count.
func (p *writer) listing(x document.Listing) {
	const size = 7.2
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
