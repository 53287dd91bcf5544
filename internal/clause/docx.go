package clause

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"

	"seatward/diag"
)

// A Word file is small where it is a section; hostile ones unpack to gigabytes.
const (
	mostUnpacked = 16 << 20
	mostDepth    = 200
)

// word is a Word file being read.
type word struct {
	name    string
	numbers *numbering
	out     []raw
	chars   int
	count   int // paragraphs so far, which stand for lines in messages
}

// wordFile reads the paragraphs and rows of a Word file with the numbers that Word shows.
func wordFile(name string, data []byte) ([]raw, diag.List) {
	bad := func(id, text, found string) diag.List {
		return diag.List{{
			ID: id, Place: diag.Place{File: name}, Text: text, Found: found, Expected: "UTF-8 text or .docx",
			Mend: "open it in a word processor and save it again as .docx",
		}}
	}
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, bad("clause-docx-damaged", "the Word file is not whole", err.Error())
	}
	parts := map[string][]byte{}
	for _, f := range archive.File {
		part := strings.TrimPrefix(strings.ReplaceAll(strings.ToLower(f.Name), `\`, "/"), "/")
		switch part {
		case "word/document.xml", "word/numbering.xml", "word/styles.xml":
		default:
			continue
		}
		if f.UncompressedSize64 > mostUnpacked {
			return nil, bad("clause-too-long", "the Word file is too large when unpacked",
				fmt.Sprintf("%d MB", f.UncompressedSize64>>20))
		}
		in, err := f.Open()
		if err != nil {
			return nil, bad("clause-docx-damaged", "the Word file is not whole", err.Error())
		}
		body, err := io.ReadAll(io.LimitReader(in, mostUnpacked+1))
		_ = in.Close() // nothing is written
		if err != nil || len(body) > mostUnpacked {
			return nil, bad("clause-docx-damaged", "the Word file is not whole", part)
		}
		parts[part] = body
	}
	if parts["word/document.xml"] == nil {
		return nil, bad("clause-not-docx", "the zip file holds no Word document", "")
	}
	w := &word{name: name, numbers: newNumbering(parts["word/numbering.xml"], parts["word/styles.xml"])}
	if err := w.body(parts["word/document.xml"]); err != nil {
		id := "clause-docx-damaged"
		if errors.Is(err, errTooLong) {
			id = "clause-too-long"
		}
		return nil, bad(id, "the Word file cannot be read", err.Error())
	}
	return w.out, nil
}

var errTooLong = fmt.Errorf("more than %d KB of text or %d paragraphs; keep the section on check valves",
	mostText>>10, mostParagraphs)

// para is a paragraph of the file while it is read.
type para struct {
	text             strings.Builder
	style, num, ilvl string
}

// story is the document part being read as a stream.
type story struct {
	*word
	open  []*para // paragraphs may stand in text boxes of others
	row   []string
	rows  int  // rows that are open: tables may stand in cells
	skip  int  // elements that are open inside what is left out
	words bool // inside the text of a run
}

// body reads the document part. Deleted text is left out; the cells of a row of a table
// stand apart by tabs.
func (w *word) body(data []byte) error {
	d := xml.NewDecoder(bytes.NewReader(data))
	s := &story{word: w}
	depth := 0
	for {
		t, err := d.Token()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		switch x := t.(type) {
		case xml.StartElement:
			if depth++; depth > mostDepth {
				return errors.New("its parts are nested too deeply")
			}
			s.start(x)
		case xml.EndElement:
			depth--
			if err := s.end(x.Name.Local); err != nil {
				return err
			}
		case xml.CharData:
			if s.words && s.skip == 0 && len(s.open) > 0 {
				s.open[len(s.open)-1].text.Write(x)
			}
		}
	}
}

// left are the elements whose content is not part of the text as it will be read.
var left = map[string]bool{
	"del": true, "moveFrom": true, "Fallback": true, "pPrChange": true, "rPrChange": true, "footnote": true,
}

func (s *story) start(x xml.StartElement) {
	name := x.Name.Local
	if s.skip > 0 || left[name] {
		s.skip++
		return
	}
	switch name {
	case "tr":
		if s.rows++; s.rows == 1 {
			s.row = nil
		}
		return
	case "tc":
		if s.rows == 1 {
			s.row = append(s.row, "")
		}
		return
	case "p":
		s.open = append(s.open, &para{})
		return
	}
	if len(s.open) == 0 {
		return
	}
	p := s.open[len(s.open)-1]
	switch name {
	case "pStyle":
		p.style = attribute(x, "val")
	case "numId":
		p.num = attribute(x, "val")
	case "ilvl":
		p.ilvl = attribute(x, "val")
	case "t":
		s.words = true
	case "tab", "br", "cr":
		p.text.WriteByte(' ')
	case "noBreakHyphen":
		p.text.WriteByte('-')
	}
}

func (s *story) end(name string) error {
	if s.skip > 0 {
		s.skip--
		return nil
	}
	switch name {
	case "t":
		s.words = false
	case "p":
		if len(s.open) == 0 {
			return nil
		}
		p := s.open[len(s.open)-1]
		s.open = s.open[:len(s.open)-1]
		return s.paragraph(p)
	case "tr":
		if s.rows--; s.rows == 0 {
			label, cells := "", s.row
			if len(cells) > 1 && (single.MatchString(cells[0]) || decimal.MatchString(cells[0])) {
				label, cells = cells[0], cells[1:]
			}
			return s.put(raw{label: label, text: strings.Join(cells, "\t"), row: true})
		}
	}
	return nil
}

// paragraph ends a paragraph: it goes into the cell at hand, or stands for itself.
func (s *story) paragraph(p *para) error {
	s.count++
	text := strings.Join(strings.Fields(p.text.String()), " ")
	label := s.numbers.next(p)
	if s.rows > 0 && len(s.row) > 0 {
		last := &s.row[len(s.row)-1]
		*last = strings.Join(strings.Fields(*last+" "+label+" "+text), " ")
		return nil
	}
	if text == "" || strings.HasPrefix(strings.ToUpper(p.style), "TOC") { // a table of contents says all twice
		return nil
	}
	if label == "" {
		label, text = labeled(text)
	}
	return s.put(raw{label: label, text: text})
}

func (s *story) put(r raw) error {
	if s.chars += len(r.text); s.chars > mostText || len(s.out) >= mostParagraphs {
		return errTooLong
	}
	r.place = diag.Place{File: s.name, Line: max(1, s.count), Col: 1}
	if strings.TrimSpace(r.text) != "" {
		s.out = append(s.out, r)
	}
	return nil
}

func attribute(x xml.StartElement, name string) string {
	for _, a := range x.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}
