package pdf

import (
	"strings"
	"unicode/utf8"

	"seatward/internal/document"
)

// block writes one block.
func (p *writer) block(b document.Block, i int) {
	switch x := b.(type) {
	case document.Heading:
		p.heading(x, i)
	case document.Paragraph:
		p.paragraph(x)
	case document.List:
		p.list(x)
	case document.Table:
		p.table(x)
	case document.Figure:
		p.figure(x)
	case document.Clause:
		p.clause(x)
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

// wrap breaks a text into lines no wider than mm in the font that is set. A word that is
// wider than a line is broken.
func (p *writer) wrap(s string, mm float64) []string {
	var out []string
	line, wide := "", 0.0
	space := p.pdf.GetStringWidth(" ")
	flush := func() {
		if line != "" {
			out = append(out, line)
		}
		line, wide = "", 0
	}
	for word := range strings.FieldsSeq(s) {
		w := p.pdf.GetStringWidth(word)
		if line != "" && wide+space+w > mm {
			flush()
		}
		for w > mm && utf8.RuneCountInString(word) > 1 { // a word wider than the line
			n := p.cut(word, mm)
			out = append(out, word[:n])
			word = word[n:]
			w = p.pdf.GetStringWidth(word)
		}
		if line == "" {
			line, wide = word, w
		} else {
			line, wide = line+" "+word, wide+space+w
		}
	}
	flush()
	return out
}

// cut is after how many bytes a word must be broken, at a mark in it where there is one.
func (p *writer) cut(word string, mm float64) int {
	last, mark := 0, 0
	for i, r := range word {
		end := i + len(string(r))
		if p.pdf.GetStringWidth(word[:end]) > mm {
			break
		}
		last = end
		if strings.ContainsRune("/-_.=,;:", r) {
			mark = end
		}
	}
	if mark > last/2 {
		return mark
	}
	if last == 0 { // not even one character goes in: it stands over the edge
		for i := range word {
			if i > 0 {
				return i
			}
		}
		return len(word)
	}
	return last
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
	size := [...]float64{14, 11.5, 10}[min(max(h.Level, 1), 3)-1]
	if p.d.Large {
		size += 3
	}
	keep := 26.0 // a heading never stands alone at the foot
	if i+1 < len(p.d.Blocks) {
		if f, ok := p.d.Blocks[i+1].(document.Figure); ok {
			keep = 12 + p.figureHeight(f)
		}
	}
	p.room(min(keep, p.height-top-bottom))
	if p.y > top {
		p.y += [...]float64{5, 3.5, 2.5}[min(max(h.Level, 1), 3)-1]
	}
	text := p.clean(h.Text)
	p.mark(text, h.Level)
	p.font(sans, "B", size)
	p.color(water)
	if h.Level > 1 {
		p.color(black)
	}
	p.paragraphLines(text, marginX, p.width-2*marginX, [...]string{"H2", "H3", "H4"}[min(max(h.Level, 1), 3)-1])
	if h.Level == 1 {
		p.pen(faint, 0.25)
		p.tags.artifact(func() { p.pdf.Line(marginX, p.y+0.6, p.width-marginX, p.y+0.6) })
		p.y += 1.2
	}
	p.y += 1.6
}

// mark makes a place one that bookmarks and the table of contents lead to.
func (p *writer) mark(text string, level int) {
	link := p.pdf.AddLink()
	p.pdf.SetLink(link, p.y, -1)
	p.pdf.Bookmark(text, level-1-p.skipped(level), p.y)
	p.headings = append(p.headings, heading{text, level, p.pdf.PageNo(), p.y, link})
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

func (p *writer) paragraph(x document.Paragraph) {
	size, color := p.size, black
	switch x.Tone {
	case document.Source:
		size, color = p.size-1.2, grey
	case document.Lead:
		size = p.size + 1.5
	}
	mm, at := p.width-2*marginX, marginX
	t, marked := tones[x.Tone]
	if marked {
		at, mm = marginX+7, mm-9
	}
	label, text := p.clean(x.Label), p.clean(x.Text)
	p.font(sans, "", size)
	high := lead(size) * float64(len(p.wrap(label+" "+text, mm)))
	p.room(min(high+4, 24))
	start, page := p.y, p.pdf.PageNo()
	if marked {
		p.y += 1.2
		p.font(sans, "B", size+1)
		p.color(t.color)
		p.tags.artifact(func() { p.textAt(marginX+2, p.y+lead(size)*0.75, t.mark) })
	}
	p.labeled(label, text, size, color, at, mm)
	if marked {
		p.y += 1.2
		if p.pdf.PageNo() == page {
			p.pen(t.color, 0.7)
			p.tags.artifact(func() { p.pdf.Line(marginX, start, marginX, p.y) })
		}
	}
	p.y += 2
}

// labeled sets a bold label and the text behind it.
func (p *writer) labeled(label, text string, size float64, color ink, x, mm float64) {
	p.tags.within("P", "", func() {
		p.color(color)
		indent := 0.0
		if label != "" {
			p.font(sans, "B", size)
			p.tags.marked(func() { p.textAt(x, p.y+lead(size)*0.75, label) })
			indent = p.pdf.GetStringWidth(label + " ")
		}
		p.font(sans, "", size)
		lines := p.firstShort(text, mm, indent)
		for i, l := range lines {
			if i > 0 {
				p.y += lead(size)
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
	words := strings.Fields(s)
	wide := short
	for len(words) > 0 {
		w := p.pdf.GetStringWidth(words[0] + " ")
		if wide+w > mm {
			break
		}
		first, words, wide = append(first, words[0]), words[1:], wide+w
	}
	return append([]string{strings.Join(first, " ")}, p.wrap(strings.Join(words, " "), mm)...)
}
