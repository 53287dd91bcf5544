package markup

import (
	"fmt"
	"io"
	"net/url"
	"strings"

	"seatward/internal/document"
	"seatward/internal/render/wording"
)

// File is a picture that goes beside a Markdown file.
type File struct {
	Name string
	Data []byte
}

// md is a Markdown file being written.
type md struct {
	d       *document.Document
	name    string // of the file, without its ending
	out     strings.Builder
	beside  []File
	figures int
	codes   int
	depth   []int // levels of the clauses around the last one
}

// Markdown writes the document with tables as GitHub reads them, and returns the pictures
// that go beside it, called by the name of its file without the ending.
func Markdown(w io.Writer, d *document.Document, name string) ([]File, error) {
	if err := wording.Check(d); err != nil {
		return nil, err
	}
	m := &md{d: d, name: name}
	m.begin()
	for _, b := range d.Blocks {
		if err := m.block(b); err != nil {
			return nil, fmt.Errorf("text of %q: %w", d.Title, err)
		}
	}
	if foot := plain(strings.Join([]string{d.Mark, d.Program, d.Hash}, "  ·  ")); foot != "" {
		m.put("---\n\n%s\n", foot)
	}
	if _, err := io.WriteString(w, m.out.String()); err != nil {
		return nil, err
	}
	return m.beside, nil
}

func (m *md) put(format string, a ...any) { fmt.Fprintf(&m.out, format, a...) }

// begin writes the head.
func (m *md) begin() {
	d := m.d
	if d.Logo != nil {
		m.put("![%s](%s)\n\n", plain(d.Company), m.file("logo."+d.Logo.Format, d.Logo.Data))
	}
	m.put("# %s\n\n%s\n\n", plain(d.Title), text(d.Subject, ""))
	t := document.Table{Form: true, Columns: make([]document.Column, 2)}
	for _, f := range [][2]string{
		{d.Named("Number"), d.Number},
		{d.Named("Revision"), d.Revision},
		{d.Named("Date"), d.Date},
		{d.Named("Company"), d.Company},
		{d.Named("Prepared by"), d.Author},
	} {
		t.Rows = append(t.Rows, document.Row{Cells: []document.Cell{{Text: f[0]}, {Text: f[1], Blank: f[1] == ""}}})
	}
	m.table(t)
}

// file puts a picture beside and returns the address by which the text finds it.
func (m *md) file(what string, data []byte) string {
	name := m.name + "-" + what
	m.beside = append(m.beside, File{name, data})
	return strings.NewReplacer("(", "%28", ")", "%29").Replace(url.PathEscape(name))
}

func (m *md) block(b document.Block) error {
	if _, is := b.(document.Clause); !is {
		m.depth = nil
	}
	switch x := b.(type) {
	case document.Heading:
		m.put("%s %s\n\n", strings.Repeat("#", x.Level+1), plain(x.Text))
	case document.Paragraph:
		m.paragraph(x)
	case document.List:
		m.list(x)
	case document.Table:
		if x.Caption != "" {
			m.put("**%s**\n\n", plain(x.Caption))
		}
		m.table(x)
	case document.Figure:
		return m.figure(x)
	case document.Clause:
		m.clause(x)
	case document.Listing:
		m.listing(x)
	case document.Code:
		return m.code(x)
	case document.Space:
		m.put("> **%s**\n", plain(x.Title))
		for _, l := range x.Lines {
			m.put(">\n> %s\n", text(l, "> "))
		}
		m.put(">\n> &nbsp;\n\n")
	case document.Contents:
		m.contents()
	case document.Break:
		m.put("---\n\n")
	}
	return nil
}

func (m *md) paragraph(x document.Paragraph) {
	quote := ""
	if x.Tone == document.Warning || x.Tone == document.Advice {
		quote = "> "
	}
	body := text(wording.Body(x), quote)
	if label := plain(wording.Label(x)); label != "" {
		body = "**" + label + "** " + body
	}
	m.put("%s%s\n\n", quote, body)
}

func (m *md) list(x document.List) {
	for i, item := range x.Items {
		sign := "- "
		switch {
		case x.Boxes:
			sign = "- [ ] "
		case x.Numbered:
			sign = fmt.Sprintf("%d. ", i+1)
		}
		m.put("%s%s\n", sign, text(item, "   "))
	}
	m.put("\n<!-- -->\n\n") // else a list that follows would go on with this one
}

// clause sets a numbered part of a specification: parts and articles as headings, what is
// below them as lists in lists.
func (m *md) clause(x document.Clause) {
	if x.Level <= 1 {
		m.depth = nil
		m.put("\n%s %s\n\n", strings.Repeat("#", x.Level+2), plain(x.Number+" "+x.Text))
		return
	}
	for len(m.depth) > 0 && m.depth[len(m.depth)-1] >= x.Level {
		m.depth = m.depth[:len(m.depth)-1]
	}
	indent := strings.Repeat("  ", len(m.depth))
	m.depth = append(m.depth, x.Level)
	m.put("%s- %s %s\n", indent, plain(x.Number), text(x.Text, indent+"  "))
}

// listing is fenced by more ticks than stand in it.
func (m *md) listing(x document.Listing) {
	body := wording.Clean(strings.Join(x.Lines, "\n"))
	fence := "```"
	for strings.Contains(body, fence) {
		fence += "`"
	}
	m.put("%stext\n%s\n%s\n\n", fence, body, fence)
}

func (m *md) figure(x document.Figure) error {
	m.figures++
	var svg strings.Builder
	if err := x.Figure.SVG(&svg); err != nil {
		return fmt.Errorf("figure %q: %w", x.Caption, err)
	}
	alt := x.Text
	if alt == "" {
		alt = x.Caption
	}
	caption := plain(wording.Caption(m.d, m.figures, x.Caption))
	m.put("![%s](%s)\n\n", plain(alt), m.file(fmt.Sprintf("figure-%d.svg", m.figures), []byte(svg.String())))
	for _, s := range []string{caption, text(x.Text, "")} {
		if s != "" {
			m.put("%s\n\n", s)
		}
	}
	return nil
}

func (m *md) code(x document.Code) error {
	svg, err := picture(x)
	if err != nil {
		return err
	}
	m.codes++
	m.put("![%s](%s)\n\n%s\n\n%s\n\n", "Square code", m.file(fmt.Sprintf("code-%d.svg", m.codes), []byte(svg)),
		text(x.Caption, ""), text(x.Text, ""))
	return nil
}

// contents lists the headings of the levels 1 and 2.
func (m *md) contents() {
	m.put("**%s**\n\n", plain(wording.OrBlank(m.d.Words.Contents)))
	for _, b := range m.d.Blocks {
		if h, is := b.(document.Heading); is && h.Level <= 2 {
			m.put("%s- %s\n", strings.Repeat("  ", h.Level-1), plain(h.Text))
		}
	}
	m.put("\n")
}
