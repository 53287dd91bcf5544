package table

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"

	"seatward/diag"
)

// cellXML is one cell as it stands in the file.
type cellXML struct {
	Ref     string   `xml:"r,attr"`
	Style   string   `xml:"s,attr"`
	Type    string   `xml:"t,attr"`
	Formula *string  `xml:"f"`
	Value   string   `xml:"v"`
	Inline  *richXML `xml:"is"`
}

// maxMerged is the number of merged ranges that a sheet may have.
const maxMerged = 100_000

// errStop ends a sheet that breaks a limit; the grid has told which.
var errStop = errors.New("stop")

// walker goes through the XML of one sheet. The row and column of a cell may be left
// out in the file: then it follows the one before.
type walker struct {
	w        *workbook
	g        *grid
	in       *parser
	row, col int
	merged   []string
	hidden   bool // the row at hand
	hiding   int  // the first hidden row that holds text; 0 without one
	column   int  // the first hidden column; 0 without one
}

// sheet reads one sheet as far as it can be read.
func (w *workbook) sheet(name, part string) Sheet {
	g := w.r.grid(name)
	in, err := w.open(part)
	if err == nil && w.read[key(part)] {
		err = errors.New("another sheet is stored in the same place") // reading it again and again would take forever
	}
	w.read[key(part)] = true
	if err == nil {
		defer func() { _ = in.Close() }() // nothing is written
		x := &walker{w: w, g: g, in: newParser(in)}
		if err = x.walk(); err == nil {
			x.merges()
		}
		if x.column > 0 && x.column <= g.width {
			w.r.fault(diag.Message{
				ID: "columns-hidden", Severity: diag.Warning, Place: diag.Place{Line: 1, Col: x.column}, Path: name,
				Text: fmt.Sprintf("column %d of the sheet is hidden, and read all the same", x.column),
				Mend: "unhide the columns and look at them, or delete those that do not belong to the table",
			})
		}
		if x.hiding > 0 {
			w.r.fault(diag.Message{
				ID: "rows-hidden", Severity: diag.Warning, Place: diag.Place{Line: x.hiding, Col: 1}, Path: name,
				Text: fmt.Sprintf("row %d of the sheet is hidden, and read all the same", x.hiding),
				Mend: "unhide the rows and look at them, or delete those that do not belong to the table",
			})
		}
	}
	if err != nil && !errors.Is(err, errStop) {
		w.r.damaged(fmt.Sprintf("sheet %q cannot be read", name), err)
	}
	return g.done(name)
}

// walk reads all rows; what it finds outside of them, such as pictures, is no cell.
func (x *walker) walk() error {
	cells := false
	for {
		token, err := x.in.Token()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		switch t := token.(type) {
		case xml.StartElement:
			switch {
			case t.Name.Local == "sheetData":
				cells = true
			case cells && t.Name.Local == "row":
				err = x.startRow(t)
			case cells && t.Name.Local == "c":
				err = x.cell(t)
			case !cells && t.Name.Local == "col" && x.column == 0 && isTrue(attribute(t, "hidden")):
				x.column, _ = strconv.Atoi(attribute(t, "min"))
			case t.Name.Local == "mergeCell":
				x.merged = append(x.merged, attribute(t, "ref"))
				if len(x.merged) > maxMerged {
					err = fmt.Errorf("more than %d ranges are merged", maxMerged)
				}
			}
		case xml.EndElement:
			cells = cells && t.Name.Local != "sheetData"
		}
		if err != nil {
			return err
		}
	}
}

func attribute(t xml.StartElement, name string) string {
	for _, a := range t.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func (x *walker) startRow(t xml.StartElement) error {
	x.row++
	x.col, x.hidden = 0, isTrue(attribute(t, "hidden"))
	if s := attribute(t, "r"); s != "" {
		n, err := strconv.Atoi(s)
		if err != nil || n < 1 || n > excelize.TotalRows {
			return fmt.Errorf("there is no row %q", s)
		}
		x.row = n
	}
	return nil
}

func (x *walker) cell(t xml.StartElement) error {
	var c cellXML
	if err := x.in.element(&c, &t); err != nil {
		return err
	}
	x.col++
	if c.Ref != "" {
		col, _, err := excelize.CellNameToCoordinates(c.Ref)
		if err != nil {
			return err
		}
		x.col = col
	}
	row, col := max(x.row, 1), x.col
	text, fault := x.w.text(c)
	if x.hidden && text != "" && x.hiding == 0 {
		x.hiding = row
	}
	ref := Cell{Row: row, Col: col}.Ref()
	switch {
	case c.Formula != nil:
		x.g.fault(row, col, diag.Message{
			ID: "cell-formula", Text: ref + " holds a formula", Found: short("=" + *c.Formula),
			Expected: "a plain value", Mend: "paste as values",
		})
	case c.Type == "e":
		x.g.fault(row, col, diag.Message{
			ID: "cell-error", Text: ref + " holds an error value", Found: short(c.Value),
			Expected: "a plain value", Mend: "mend or clear the cell",
		})
	case fault != "":
		x.g.fault(row, col, diag.Message{
			ID: "cell-unreadable", Text: ref + " cannot be read: " + fault, Found: short(c.Value),
			Expected: "text, a number, a date or yes and no", Mend: "type the value again",
		})
	}
	if !x.g.set(row, col, text) {
		return errStop
	}
	return nil
}

// short keeps a text to what a message can hold.
func short(text string) string { return fmt.Sprintf("%.40s", text) }

// text gives a cell as text, or what is wrong with it.
func (w *workbook) text(c cellXML) (text, fault string) {
	switch c.Type {
	case "s":
		n, err := strconv.Atoi(strings.TrimSpace(c.Value))
		if err != nil || n < 0 || n >= len(w.strings) {
			return "", "its text is not in the file"
		}
		text = w.strings[n]
	case "inlineStr":
		if c.Inline != nil {
			text = c.Inline.text()
		}
	case "str":
		text = breaks(unescape(c.Value))
	case "b":
		return yesNo(c.Value), ""
	case "e":
		return c.Value, ""
	case "d":
		return strings.TrimSuffix(strings.TrimSuffix(c.Value, "Z"), "T00:00:00"), ""
	default:
		return w.number(c)
	}
	if strings.IndexFunc(text, isControl) >= 0 {
		return "", "it holds a control character"
	}
	return text, ""
}

func yesNo(value string) string {
	switch {
	case value == "":
		return ""
	case isTrue(value):
		return "yes"
	}
	return "no"
}

// number gives the shortest text that reads back as the same number, or a date.
func (w *workbook) number(c cellXML) (text, fault string) {
	value := strings.TrimSpace(c.Value)
	if value == "" {
		return "", ""
	}
	n, err := strconv.ParseFloat(value, 64)
	if err != nil || math.IsNaN(n) || math.IsInf(n, 0) {
		return "", "its number is none"
	}
	if style, err := strconv.Atoi(c.Style); err == nil && style >= 0 && style < len(w.dates) && w.dates[style] {
		if date, ok := dateText(n, w.from04, w.r.options.Long); ok {
			return date, ""
		}
	}
	if size := math.Abs(n); n != 0 && (size < 1e-4 || size >= 1e21) {
		return strconv.FormatFloat(n, 'g', -1, 64), ""
	}
	return strconv.FormatFloat(n, 'f', -1, 64), ""
}

// dateText gives the date of a day number, with the time if it is not midnight. It
// reports false for numbers that spreadsheets show as no date either.
func dateText(n float64, from04, long bool) (string, bool) {
	const afterLast = 2_958_466 // the first day of the year 10000, counted from 1900
	if n < 0 || n >= afterLast || (n < 1 && !from04) {
		return "", false
	}
	t, err := excelize.ExcelDateToTime(n, from04)
	if err != nil {
		return "", false
	}
	if long {
		if t = t.Round(time.Millisecond); t.Nanosecond() != 0 {
			return t.Format("2006-01-02 15:04:05.000"), true
		}
	}
	if t = t.Round(time.Second); t.Hour() == 0 && t.Minute() == 0 && t.Second() == 0 {
		return t.Format("2006-01-02"), true
	}
	return t.Format("2006-01-02 15:04:05"), true
}

// merges tells the merged ranges that reach into the cells with text.
func (x *walker) merges() {
	for _, ref := range x.merged {
		first, last, _ := strings.Cut(ref, ":")
		col, row, err := excelize.CellNameToCoordinates(first)
		_, _, err2 := excelize.CellNameToCoordinates(last)
		if err != nil || err2 != nil || row > len(x.g.rows) || col > x.g.width {
			continue
		}
		x.g.fault(row, col, diag.Message{
			ID: "cells-merged", Text: ref + " is merged", Expected: "one value in each cell", Mend: "unmerge",
		})
	}
}
