package xlsx

import (
	"fmt"
	"strings"

	"seatward/internal/document"
	"seatward/internal/render/wording"
)

// Widths of the first sheet's columns, in characters: what names a row, and its text.
const (
	labelWide = 22
	textWide  = 88
)

// head writes the first sheet: what the document is, and all that stands in no table.
func (b *book) head(s *sheet) {
	s.wide = []float64{labelWide, textWide}
	s.setWidths()
	d := b.d
	s.logo()
	s.line(d.Title, look{bold: true, size: 16})
	s.line(d.Subject, look{tone: document.Source, size: 11})
	s.row++
	for _, f := range [][2]string{
		{d.Named("Number"), d.Number},
		{d.Named("Revision"), d.Revision},
		{d.Named("Date"), d.Date},
		{d.Named("Company"), d.Company},
		{d.Named("Prepared by"), d.Author},
		{"Units", d.Units.String()},
		{"Status", d.Mark},
		{"Program", d.Program},
		{"Hash", d.Hash},
		{"Left blank", strings.Join(d.Missing, ", ")},
	} {
		if f[0] == "Left blank" && f[1] == "" {
			continue
		}
		s.text(1, f[0], look{tone: document.Source, ruled: true})
		s.text(2, f[1], look{wrap: true, ruled: true, blank: f[1] == ""})
		s.next()
	}
	s.row++
	table := 0
	for _, block := range d.Blocks {
		if _, is := block.(document.Table); is {
			s.link(2, orName(b.tables[table].table.Caption, b.tables[table].name), b.tables[table].name)
			s.next()
			table++
			continue
		}
		s.block(block)
	}
	s.page(2)
	if b.charts != nil {
		b.charts.page(1)
	}
}

// orName is the caption, or a name where it says nothing.
func orName(caption, name string) string {
	if strings.TrimSpace(wording.Clean(caption)) == "" {
		return name
	}
	return caption
}

// line writes a text over both columns.
func (s *sheet) line(text string, l look) {
	if text == "" {
		return
	}
	s.text(1, text, l)
	s.high = max(s.high, l.points()*1.5)
	s.next()
}

// block writes a block that is no table.
func (s *sheet) block(b document.Block) {
	switch x := b.(type) {
	case document.Heading:
		if s.row > 1 {
			s.row++
		}
		s.line(x.Text, look{bold: true, size: [...]float64{14, 12, 11}[x.Level-1]})
	case document.Paragraph:
		s.pair(wording.Label(x), wording.Body(x), look{bold: true, wrap: true, tone: x.Tone},
			look{wrap: true, tone: x.Tone, bold: x.Tone == document.Lead})
	case document.List:
		for i, item := range x.Items {
			s.pair(bullet(x, i), item, look{right: true}, look{wrap: true})
		}
	case document.Clause:
		bold := x.Level <= 1
		s.pair(x.Number, x.Text, look{bold: bold, right: x.Level > 1},
			look{wrap: true, bold: bold, indent: max(0, x.Level-2)})
	case document.Listing:
		for _, l := range x.Lines {
			s.text(2, l, look{fixed: true, size: 9})
			s.row++
		}
	case document.Figure:
		s.figure(x)
	case document.Code:
		s.code(x)
	case document.Space:
		s.space(x)
	case document.Contents:
		s.contents()
	}
}

// pair writes what names a row and its text.
func (s *sheet) pair(label, text string, first, second look) {
	if label != "" {
		s.text(1, label, first)
	}
	s.text(2, text, second)
	s.next()
}

func bullet(x document.List, i int) string {
	switch {
	case x.Boxes:
		return "☐"
	case x.Numbered:
		return fmt.Sprintf("%d.", i+1)
	}
	return "•"
}

// space is a frame to be signed: an empty row as high.
func (s *sheet) space(x document.Space) {
	s.pair(x.Title, strings.Join(x.Lines, "\n"), look{bold: true, wrap: true}, look{wrap: true, tone: document.Source})
	s.style(1, look{blank: true})
	s.style(2, look{blank: true})
	s.keep(s.file.SetRowHeight(s.name, s.row, x.HeightMM*72/25.4))
	s.row += 2
}

// contents leads to the sheets.
func (s *sheet) contents() {
	s.line(s.d.Words.Contents, look{bold: true, size: 12})
	for _, t := range s.tables {
		s.link(2, t.name, t.name)
		s.next()
	}
}
