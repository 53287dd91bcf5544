package xlsx

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"seatward/internal/document"
	"seatward/internal/render/wording"
)

// Widths of columns, in characters.
const (
	narrowest = 7
	widest    = 58
	portrait  = 112 // wider tables lie across the page
)

// layTable makes the sheet of a table and gives each of its cells a place. A table without
// a caption is called by the heading that it stands under.
func (b *book) layTable(t document.Table, under string) *sheet {
	t.Caption = orName(t.Caption, under)
	s := b.add(t.Caption, "Table")
	s.table, s.units = &t, make([]bool, len(t.Columns))
	for _, r := range t.Rows {
		for i, c := range r.Cells {
			if c.Numeric && read(c).after != "" {
				s.units[i] = true
			}
		}
	}
	s.top = 2
	if t.Caption != "" {
		s.top++ // an empty row keeps the caption off the table
	}
	if s.heads() {
		s.top++
		if s.unitRow() {
			s.top++
		}
	}
	return s
}

// heads is true for a table that has any.
func (s *sheet) heads() bool { return !s.table.Form && len(s.table.Columns) > 0 }

// unitRow is true for a table with units below its heads.
func (s *sheet) unitRow() bool {
	for _, c := range s.table.Columns {
		if c.Unit != "" {
			return true
		}
	}
	return false
}

// column is where a column of the table stands on the sheet, from 1.
func (s *sheet) column(i int) int {
	n := 1
	for _, u := range s.units[:i] {
		n++
		if u {
			n++
		}
	}
	return n
}

// columns is how many columns the sheet has.
func (s *sheet) columns() int { return max(1, s.column(len(s.units))-1) }

func (s *sheet) writeTable() {
	t := s.table
	s.widths()
	s.line(t.Caption, look{bold: true, size: 13})
	s.row = 3
	if t.Caption == "" {
		s.row = 2
	}
	if s.heads() {
		s.writeHeads()
	}
	s.row = s.top
	for _, r := range t.Rows {
		s.writeRow(r)
		s.next()
	}
	if len(t.Rows) == 0 {
		s.text(1, wording.Empty, look{tone: document.Open})
		s.row++
	}
	left := 0
	if len(t.Columns) > 2 { // what names the row stays in view
		left = s.column(1) - 1
	}
	s.freeze(left, s.top-1)
	if s.heads() {
		s.repeat(s.top - 1)
	}
	s.page(s.columns())
}

func (s *sheet) writeHeads() {
	units := s.unitRow()
	for i, c := range s.table.Columns {
		l := look{head: true, wrap: true, right: c.Right || s.numbers(i), ruled: !units}
		s.text(s.column(i), c.Title, l)
		if s.units[i] {
			s.text(s.column(i)+1, "", look{head: true, ruled: !units})
		}
	}
	s.next()
	if !units {
		return
	}
	for i, c := range s.table.Columns {
		s.text(s.column(i), c.Unit, look{head: true, right: c.Right || s.numbers(i), ruled: true})
		if s.units[i] {
			s.text(s.column(i)+1, "", look{head: true, ruled: true})
		}
	}
}

// numbers is true for a column of a table with heads that has a number.
func (s *sheet) numbers(i int) bool {
	for _, r := range s.table.Rows {
		if i < len(r.Cells) && r.Cells[i].Numeric {
			return true
		}
	}
	return false
}

func (s *sheet) writeRow(r document.Row) {
	if r.Group {
		for i := range s.columns() {
			s.style(i+1, look{group: true, ruled: true})
		}
		for _, c := range r.Cells {
			s.writeCell(0, c, look{group: true, ruled: true})
		}
		return
	}
	for i := range s.columns() {
		s.style(i+1, look{ruled: true})
	}
	for i, c := range r.Cells {
		l := look{ruled: true, bold: c.Bold, tone: c.Tone, wrap: true, right: s.table.Columns[i].Right && !s.table.Form}
		if s.table.Form && i == 0 && !c.Bold {
			l.tone = document.Source
		}
		s.writeCell(i, c, l)
	}
}

func (s *sheet) writeCell(i int, c document.Cell, l look) {
	column := s.column(i)
	switch {
	case c.Numeric:
		v := read(c)
		formula := ""
		if c.Formula != "" {
			var err error
			formula, err = s.formula(c.Formula, i)
			s.keep(err)
		}
		beside := l
		l.format, l.right, l.wrap = v.format, true, false
		s.number(column, c.Number, formula, l)
		if v.after != "" {
			beside.right = false
			s.text(column+1, v.after, beside)
		}
	case c.Blank && c.Text == "":
		l.blank = true
		s.merge(i, l)
		s.style(column, l)
	default:
		l.blank = c.Blank
		l.right = l.right || !s.table.Form && i > 0 && s.numbers(i)
		s.merge(i, l)
		s.text(column, wording.Marked(c.Text, c.Tone), l)
	}
}

// merge gives what is no number the room of a number and its unit.
func (s *sheet) merge(i int, l look) {
	if !s.units[i] || l.group {
		return
	}
	column := s.column(i)
	s.style(column+1, l)
	s.keep(s.file.MergeCell(s.name, at(column, s.row), at(column+1, s.row)))
}

// widths gives each column what its texts need, within limits.
func (s *sheet) widths() {
	lines, words := wording.Needs(s.table)
	s.wide = make([]float64, 0, s.columns())
	for i := range s.table.Columns {
		text := clamp(max(float64(lines[i]), float64(words[i]))+2, narrowest, widest)
		if !s.units[i] {
			s.wide = append(s.wide, text)
			continue
		}
		number, unit := s.numberWidths(i)
		s.wide = append(s.wide, number, max(unit, min(text, widest)-number))
	}
	if len(s.wide) == 0 {
		s.wide = []float64{widest}
	}
	s.setWidths()
}

// numberWidths are what the numbers of a column and their units need.
func (s *sheet) numberWidths(i int) (number, unit float64) {
	for _, r := range s.table.Rows {
		if i < len(r.Cells) && r.Cells[i].Numeric {
			digits, after := leading(strings.TrimSpace(r.Cells[i].Text))
			number = max(number, float64(utf8.RuneCountInString(digits)))
			unit = max(unit, float64(utf8.RuneCountInString(after)))
		}
	}
	return clamp(number+3, narrowest, widest), clamp(unit+1, 5, 30)
}

func clamp(x, low, high float64) float64 { return min(max(x, low), high) }

// setWidths sets those of all columns.
func (s *sheet) setWidths() {
	for i, wide := range s.wide {
		name := strings.TrimSuffix(at(i+1, 1), "1")
		s.keep(s.file.SetColWidth(s.name, name, name, wide))
	}
}

// repeat puts the rows from the first to the last of the heads on every page.
func (s *sheet) repeat(last int) {
	s.define("_xlnm.Print_Titles", fmt.Sprintf("%s!$%d:$%d", quoted(s.name), 1, last))
}
