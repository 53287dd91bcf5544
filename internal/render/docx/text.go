package docx

import (
	"fmt"
	"strings"

	"seatward/internal/document"
	"seatward/internal/render/wording"
)

// run writes a text with the properties of its letters. Line ends and tabs stay.
func run(properties, text string) string {
	if text == "" {
		return ""
	}
	var b strings.Builder
	b.WriteString(`<w:r>`)
	if properties != "" {
		b.WriteString(`<w:rPr>` + properties + `</w:rPr>`)
	}
	for i, line := range strings.Split(wording.Clean(text), "\n") {
		if i > 0 {
			b.WriteString(`<w:br/>`)
		}
		for k, piece := range strings.Split(line, "\t") {
			if k > 0 {
				b.WriteString(`<w:tab/>`)
			}
			if piece != "" {
				b.WriteString(`<w:t xml:space="preserve">` + escape(piece) + `</w:t>`)
			}
		}
	}
	b.WriteString(`</w:r>`)
	return b.String()
}

// paragraph writes a paragraph of a style; more are further properties, in the order of
// the schema.
func paragraph(style, more, runs string) string {
	return `<w:p><w:pPr><w:pStyle w:val="` + style + `"/>` + more + `</w:pPr>` + runs + `</w:p>`
}

const bold = `<w:b/>`

// letters is the character style of a tone; none for the tones of whole paragraphs.
func letters(t document.Tone) string {
	switch t {
	case document.Good:
		return `<w:rStyle w:val="Good"/>`
	case document.Bad:
		return `<w:rStyle w:val="Bad"/>`
	case document.Open:
		return `<w:rStyle w:val="Open"/>`
	}
	return ""
}

// field writes a field with the text that it shows until it is worked out anew.
func field(properties, instruction, result string) string {
	p := ""
	if properties != "" {
		p = `<w:rPr>` + properties + `</w:rPr>`
	}
	return `<w:r>` + p + `<w:fldChar w:fldCharType="begin"/></w:r>` +
		`<w:r>` + p + `<w:instrText xml:space="preserve"> ` + instruction + ` </w:instrText></w:r>` +
		`<w:r>` + p + `<w:fldChar w:fldCharType="separate"/></w:r>` + run(properties, result) +
		`<w:r>` + p + `<w:fldChar w:fldCharType="end"/></w:r>`
}

// phrase writes a phrase of the paper, with runs in place of its names in braces.
func phrase(words string, pairs ...string) string {
	var b strings.Builder
	for {
		at, which := len(words), -1
		for i := 0; i+1 < len(pairs); i += 2 {
			if k := strings.Index(words, "{"+pairs[i]+"}"); k >= 0 && k < at {
				at, which = k, i
			}
		}
		b.WriteString(run("", words[:at]))
		if which < 0 {
			return b.String()
		}
		b.WriteString(pairs[which+1])
		words = words[at+len("{"+pairs[which]+"}"):]
	}
}

const pageBreak = `<w:pageBreakBefore/>`

// block writes one block.
func (x *writer) block(b document.Block) error {
	if isBreak(b) {
		x.broken = true
		return nil
	}
	if _, is := b.(document.Heading); x.broken && !is { // headings break the page themselves
		x.broken = false
		x.out.WriteString(paragraph("AfterTable", pageBreak, ""))
	}
	switch b := b.(type) {
	case document.Heading:
		x.heading(b)
	case document.Paragraph:
		x.text(b)
	case document.List:
		x.list(b)
	case document.Table:
		return x.table(&b)
	case document.Figure:
		return x.figure(b)
	case document.Clause:
		x.clause(b)
	case document.Listing:
		x.listing(b)
	case document.Code:
		return x.code(b)
	case document.Space:
		x.space(b)
	case document.Contents:
		x.contents()
	}
	return nil
}

func (x *writer) text(p document.Paragraph) {
	style := "BodyText"
	switch p.Tone {
	case document.Lead:
		style = "Lead"
	case document.Source:
		style = "Source"
	case document.Warning:
		style = "Warning"
	case document.Advice:
		style = "SpecifierNote"
	}
	label, text := wording.Label(p), p.Text
	if p.Tone == document.Good || p.Tone == document.Bad || p.Tone == document.Open {
		if label != "" {
			label = wording.Marked(label, p.Tone)
		} else {
			text = wording.Marked(text, p.Tone)
		}
	}
	runs := ""
	if label != "" {
		if last := label[len(label)-1]; !strings.ContainsRune(".:?!", rune(last)) {
			label += ":"
		}
		runs = run(letters(p.Tone)+bold, label+" ")
	}
	x.out.WriteString(paragraph(style, x.introduces(), runs+run(letters(p.Tone), text)))
}

// introduces keeps a text on the page of the table, figure or list that it leads to.
func (x *writer) introduces() string {
	switch x.next.(type) {
	case document.Table, document.Figure, document.List, document.Code:
		return `<w:keepNext/>`
	}
	return ""
}

func (x *writer) list(l document.List) {
	id := x.numbers.list(l)
	for i, item := range l.Items {
		more := fmt.Sprintf(`<w:numPr><w:ilvl w:val="0"/><w:numId w:val="%d"/></w:numPr>`, id)
		if i == len(l.Items)-1 {
			more += `<w:spacing w:after="160"/>`
		}
		x.out.WriteString(paragraph("ListParagraph", more, run("", item)))
	}
}

// The widths of a letter of a listing: six tenths of its 8.5 points, and of a large paper.
const (
	letterTwips      = 102
	largeLetterTwips = 138
)

// listing writes lines whose leading spaces are indents, so that a line that runs on
// stays under its beginning.
func (x *writer) listing(l document.Listing) {
	letter := letterTwips
	if x.d.Large {
		letter = largeLetterTwips
	}
	for _, line := range l.Lines {
		text := strings.TrimLeft(line, " ")
		indent := min((len(line)-len(text))*letter, x.width/2) + 2*letter
		x.out.WriteString(paragraph("Listing", fmt.Sprintf(`<w:ind w:left="%d" w:hanging="%d"/>`, indent, 2*letter),
			run("", text)))
	}
}

// clause writes a clause; its number comes from the numbering, which is held against the
// number that the author gave. One that no numbering gives stands as text.
func (x *writer) clause(c document.Clause) {
	style, more, number := clauseStyles[c.Level], "", ""
	if id := x.numbers.clause(c.Level, c.Number); id > 0 {
		more = fmt.Sprintf(`<w:numPr><w:ilvl w:val="%d"/><w:numId w:val="%d"/></w:numPr>`, c.Level, id)
	} else {
		more = `<w:numPr><w:ilvl w:val="0"/><w:numId w:val="0"/></w:numPr>` // not by its style either
		if c.Number != "" {
			number = run("", c.Number+"\t")
		}
	}
	var runs strings.Builder
	for _, s := range wording.Choices(c.Text) {
		if s.Choice {
			runs.WriteString(run(`<w:rStyle w:val="Choice"/>`, s.Text))
		} else {
			runs.WriteString(run("", s.Text))
		}
	}
	text := number + runs.String()
	if c.Level == 0 {
		text = x.marked(text)
	}
	x.out.WriteString(paragraph(style, more, text))
}

// heading is a heading, or a part of a specification, that the table of contents may show.
type heading struct {
	document.Heading
	mark string
}

func headings(d *document.Document) []heading {
	var all []heading
	for _, b := range d.Blocks {
		h, ok := b.(document.Heading)
		if c, isClause := b.(document.Clause); isClause && c.Level == 0 {
			h, ok = document.Heading{Level: 2, Text: strings.TrimSpace(c.Number + " " + c.Text)}, true
		}
		if ok {
			all = append(all, heading{h, fmt.Sprintf("_Toc%08d", len(all)+1)})
		}
	}
	return all
}

func (x *writer) heading(h document.Heading) {
	more := ""
	if x.broken {
		x.broken, more = false, pageBreak
	}
	x.out.WriteString(paragraph(fmt.Sprintf("Heading%d", h.Level), more,
		x.marked(run("", h.Text))))
}

// marked puts the mark of the next heading around its text.
func (x *writer) marked(text string) string {
	x.headingAt++
	return fmt.Sprintf(`<w:bookmarkStart w:id="%d" w:name="%s"/>`, x.headingAt,
		x.headings[x.headingAt-1].mark) + text + fmt.Sprintf(`<w:bookmarkEnd w:id="%d"/>`, x.headingAt)
}

// contents writes a field of the headings and what it shows before it is worked out: the
// headings as links. Page numbers are known to the program that lays the pages out, so
// that their fields are empty until then.
func (x *writer) contents() {
	begin := `<w:r><w:fldChar w:fldCharType="begin"/></w:r><w:r><w:instrText xml:space="preserve"> TOC \o "1-2" \h \z \t "Clause part,2" </w:instrText></w:r><w:r><w:fldChar w:fldCharType="separate"/></w:r>`
	x.out.WriteString(`<w:sdt><w:sdtPr><w:docPartObj><w:docPartGallery w:val="Table of Contents"/><w:docPartUnique/></w:docPartObj></w:sdtPr><w:sdtContent>` +
		paragraph("TOCHeading", "", run("", x.d.Words.Contents)))
	for _, h := range x.headings {
		if h.Level > 2 {
			continue
		}
		link := `<w:hyperlink w:anchor="` + h.mark + `" w:history="1">` + run("",
			strings.ReplaceAll(h.Text, "\n", " ")) + `<w:r><w:tab/></w:r>` +
			field("", `PAGEREF `+h.mark+` \h`, "") + `</w:hyperlink>`
		plain := fmt.Sprintf(`<w:tabs><w:tab w:val="right" w:leader="none" w:pos="%d"/></w:tabs>`, x.width)
		x.out.WriteString(paragraph(fmt.Sprintf("TOC%d", h.Level), plain, begin+link))
		begin = ""
	}
	x.out.WriteString(paragraph("AfterTable", "",
		begin+`<w:r><w:fldChar w:fldCharType="end"/></w:r>`) + `</w:sdtContent></w:sdt>`)
}
