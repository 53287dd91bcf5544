// Package xlsx writes a document as a workbook (ISO/IEC 29500-1): a sheet with what it
// says, a sheet for each table with numbers and live formulas, and a sheet of charts.
package xlsx

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"time"
	"unicode/utf16"

	"github.com/xuri/excelize/v2"

	"seatward/internal/document"
	"seatward/internal/render/wording"
)

// longest is how many UTF-16 units a cell holds.
const longest = 32767

// epoch stands for the date where the document has none: the program looks at no clock.
const epoch = "2000-01-01"

// book is a workbook being written. The first error stays in err, and what comes after
// it does nothing.
type book struct {
	file   *excelize.File
	d      *document.Document
	names  names
	styles map[look]int
	tables []*sheet // in the order of the document
	charts *sheet   // nil before the first chart
	count  int      // of charts
	err    error
}

// Write writes the document. The same document gives the same bytes. It fails on what a
// workbook cannot hold, before anything is written.
func Write(w io.Writer, d *document.Document) error {
	if err := wording.Check(d); err != nil {
		return err
	}
	b := &book{file: excelize.NewFile(), d: d, names: names{}, styles: map[look]int{}}
	defer b.file.Close()
	b.keep(b.file.SetDefaultFont(letters)) // widths of columns are given in its digits
	head := b.first(d.Title)
	under := "" // the heading over a table, which names one without a caption
	for _, block := range d.Blocks {
		switch x := block.(type) {
		case document.Heading:
			under = x.Text
		case document.Table:
			b.tables = append(b.tables, b.layTable(x, under))
		}
	}
	if b.err == nil { // formulas name cells of any table, so tables come before their cells
		b.head(head)
		for _, s := range b.tables {
			s.writeTable()
		}
		b.properties()
	}
	if b.err != nil {
		return fmt.Errorf("workbook of %q: %w", d.Title, b.err)
	}
	return b.pack(w)
}

// pack writes the file, in one fixed order with fixed times.
func (b *book) pack(w io.Writer) error {
	b.file.SetZipWriter(func(w io.Writer) excelize.ZipWriter { return newArchive(w) })
	out, err := b.file.WriteToBuffer()
	if err != nil {
		return fmt.Errorf("workbook of %q: %w", b.d.Title, err)
	}
	_, err = io.Copy(w, bytes.NewReader(out.Bytes()))
	return err
}

// keep keeps the first error.
func (b *book) keep(err error) {
	if b.err == nil {
		b.err = err
	}
}

// sheet is a sheet of the book, written from the top.
type sheet struct {
	*book
	name  string
	row   int             // the next one, from 1
	high  float64         // of what stands in it, points
	wide  []float64       // of the columns, characters
	table *document.Table // nil on the others
	units []bool          // table columns that have one for units beside them
	top   int             // the first row of the table below its heads
}

// first names the sheet that every new book has.
func (b *book) first(title string) *sheet {
	s := &sheet{book: b, name: b.names.take(title, "Document"), row: 1}
	b.keep(b.file.SetSheetName(b.file.GetSheetName(0), s.name))
	return s
}

// add makes another sheet.
func (b *book) add(title, without string) *sheet {
	s := &sheet{book: b, name: b.names.take(title, without), row: 1}
	_, err := b.file.NewSheet(s.name)
	b.keep(err)
	return s
}

// at is the address of a cell; columns count from 1.
func at(column, row int) string {
	name, err := excelize.CoordinatesToCellName(column, row)
	if err != nil {
		return "A1" // columns and rows come from counters above zero
	}
	return name
}

// text writes a text, which is never read as a formula.
func (s *sheet) text(column int, text string, l look) {
	text = wording.Clean(text)
	if n := len(utf16.Encode([]rune(text))); n > longest {
		s.keep(fmt.Errorf("the text that begins with %q has %d characters, and a cell holds %d: cut it into paragraphs",
			string([]rune(text)[:40]), n, longest))
		return
	}
	if strings.ContainsAny(text[:min(1, len(text))], "=+-@") {
		l.format = "@" // else it becomes a formula when somebody edits it
	}
	s.keep(s.file.SetCellStr(s.name, at(column, s.row), coded(text)))
	s.style(column, l)
	if l.wrap {
		s.high = max(s.high, float64(wrapped(text, s.room(column), l))*l.points()*1.32+3)
	}
}

// coded guards texts such as _x0041_, by which the format writes a letter, and which the
// library lets through.
func coded(text string) string {
	const guard = "_x005F"
	for i := len(text) - len("_x0041_"); i >= 0; i-- {
		if code := text[i : i+7]; code[:2] == "_x" && code[6] == '_' &&
			strings.Trim(code[2:6], "0123456789abcdefABCDEF") == "" {
			text = text[:i] + guard + text[i:]
		}
	}
	return text
}

// next goes to the next row. Rows with texts of several lines are given their height, as
// not every program finds it.
func (s *sheet) next() {
	if s.high > usualHigh {
		s.keep(s.file.SetRowHeight(s.name, s.row, min(s.high, mostHigh)))
	}
	s.row++
	s.high = 0
}

// number writes a number, with the formula that makes it where there is one.
func (s *sheet) number(column int, x float64, formula string, l look) {
	cell := at(column, s.row)
	s.keep(s.file.SetCellFloat(s.name, cell, x, -1, 64))
	if formula != "" {
		s.keep(s.file.SetCellFormula(s.name, cell, formula))
	}
	s.style(column, l)
}

// link makes a cell lead to another sheet.
func (s *sheet) link(column int, text, to string) {
	s.text(column, text, look{link: true, wrap: true})
	s.keep(s.file.SetCellHyperLink(s.name, at(column, s.row), quoted(to)+"!A1", "Location"))
}

// properties are what a file manager shows of the book.
func (b *book) properties() {
	day := epoch
	if _, err := time.Parse(time.DateOnly, b.d.Date); err == nil {
		day = b.d.Date
	}
	clean := wording.Clean
	b.keep(b.file.SetDocProps(&excelize.DocProperties{
		Title: clean(b.d.Title), Subject: clean(b.d.Subject), Creator: clean(b.d.Author),
		LastModifiedBy: clean(b.d.Author),
		Keywords:       clean("hash " + b.d.Hash), Description: clean(b.d.Mark), Identifier: clean(b.d.Number),
		Version:  clean(b.d.Revision),
		Language: clean(b.d.Language), Category: clean(b.d.Kind), Created: day + "T00:00:00Z",
		Modified: day + "T00:00:00Z",
	}))
	b.keep(b.file.SetAppProps(&excelize.AppProperties{Application: clean(b.d.Program), Company: clean(b.d.Company)}))
}
