// Package clause reads an engineer's specification, as text or as a Word file, into
// numbered paragraphs, and finds what each of them asks of a check valve. It compares
// nothing: what a paragraph asks that is not found here is left over, and said to be.
package clause

import (
	"bytes"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"seatward/diag"
)

// Section is a specification as read: one file or several, in their order.
type Section struct {
	Names      []string
	Paragraphs []Paragraph
}

// Paragraph is a numbered part of a specification.
type Paragraph struct {
	Number  string // with the numbers above it: "2.01 A 1"; "¶ 3" where it has none
	Text    string
	Heading bool       // names what follows and asks for nothing
	Under   string     // the heading that it stands under
	Place   diag.Place // line of a text file, paragraph of a Word file
}

// The limits of a specification. A long section has a tenth of them; a whole project
// manual would make papers of thousands of pages.
const (
	MostBytes      = 4 << 20 // of a file
	mostText       = 128 << 10
	mostLines      = 2000
	mostParagraphs = 2000
)

// Read takes a file apart: a Word file (.docx), else a text. The list holds what is wrong
// with the file; then there is no section.
func Read(name string, data []byte) (*Section, diag.List) {
	var raws []raw
	var list diag.List
	switch {
	case bytes.HasPrefix(data, []byte("PK\x03\x04")):
		raws, list = wordFile(name, data)
	case bytes.HasPrefix(data, []byte("\xd0\xcf\x11\xe0")):
		list = diag.List{{
			ID: "clause-old-word", Place: diag.Place{File: name}, Text: "the file is of an old Office format",
			Expected: "UTF-8 text or .docx", Mend: "open it in a word processor and save it as .docx",
		}}
	case bytes.HasPrefix(data, []byte("%PDF-")):
		list = diag.List{{
			ID: "clause-pdf", Place: diag.Place{File: name}, Text: "the file is a PDF",
			Expected: "UTF-8 text or .docx", Mend: "copy the section into a text file, saved as UTF-8",
		}}
	default:
		var text string
		if text, list = Text(name, data); list == nil {
			raws = lines(name, text)
		}
	}
	if list != nil {
		return nil, list
	}
	s := &Section{Names: []string{name}, Paragraphs: assemble(raws)}
	if len(s.Paragraphs) == 0 {
		return nil, diag.List{{
			ID: "clause-empty", Place: diag.Place{File: name}, Text: "the file holds no text",
			Expected: "the section on check valves", Mend: "check that it is the right file",
		}}
	}
	return s, nil
}

// Join puts a further file behind the section.
func (s *Section) Join(more *Section) {
	s.Names = append(s.Names, more.Names...)
	s.Paragraphs = append(s.Paragraphs, more.Paragraphs...)
}

// Text takes the data of a file as a text, if it is one that can be answered paragraph by
// paragraph.
func Text(name string, data []byte) (string, diag.List) {
	text := strings.TrimPrefix(string(data), "\ufeff")
	m := diag.Message{Place: diag.Place{File: name, Line: 1, Col: 1}}
	count := strings.Count(text, "\n") + 1
	at := strings.IndexFunc(text, func(r rune) bool {
		return r == utf8.RuneError || unicode.IsControl(r) && r != '\n' && r != '\r' && r != '\t' && r != '\f'
	})
	switch {
	case len(data) > mostText || count > mostLines:
		m.ID, m.Text = "clause-too-long", "the text is too long to be answered paragraph by paragraph"
		m.Found = fmt.Sprintf("%d KB, %d lines", len(data)>>10, count)
		m.Expected = fmt.Sprintf("at most %d KB and %d lines", mostText>>10, mostLines)
		m.Mend = "keep the section on check valves"
	case at >= 0:
		m.ID, m.Text = "clause-not-text", "the file is not plain text"
		m.Place.Line = strings.Count(text[:at], "\n") + 1
		m.Place.Col = utf8.RuneCountInString(text[strings.LastIndexByte(text[:at], '\n')+1:at]) + 1
		m.Found, m.Expected, m.Mend = fmt.Sprintf("%q",
			text[at:at+1]), "UTF-8 text", "copy the text of the section into a text file, saved as UTF-8"
	default:
		return text, nil
	}
	return "", diag.List{m}
}
