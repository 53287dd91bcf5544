// Package levels reads a record of wet-well levels as a crew writes it: a table with a
// heading, time and level in any unit, whether a pump ran and whether the isolating valve was
// open. What cannot be read is reported with its cell; nothing is filled in between rows.
package levels

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"seatward/diag"
	"seatward/internal/table"
	"seatward/leakback"
	"seatward/quantity"
)

// column is one of the columns that a record has.
type column uint8

const (
	timeColumn column = iota
	levelColumn
	pumpColumn
	valveColumn
)

// headings are the words by which a column is known, the first one first.
var headings = [][]string{
	timeColumn:  {"time", "clock", "date"},
	levelColumn: {"level", "depth", "height"},
	pumpColumn:  {"pump", "pumps", "running"},
	valveColumn: {"valve", "isolating", "gate"},
}

// states are the words of the two state columns, in lower case, with what they say.
var states = map[column]map[string]bool{
	pumpColumn: {
		"on": true, "run": true, "running": true, "1": true, "yes": true,
		"off": false, "stop": false, "stopped": false, "0": false, "no": false,
	},
	valveColumn: {"open": true, "1": true, "shut": false, "closed": false, "0": false},
}

// where is a column in the sheet and the unit that its heading gives.
type where struct {
	at   int // -1 where there is none
	unit string
}

type reader struct {
	file    string
	columns [4]where
	reading quantity.Reading
	list    diag.List
	dated   int // 1 where times are dates or clock times, 2 where they are numbers, 0 before the first
}

// Read reads a record from a CSV or XLSX file. Levels and times without a unit take that of
// the heading, "level (ft)"; levels else that of the reading. The list holds every fault; the
// record is nil if it holds an error.
func Read(file string, data []byte, reading quantity.Reading) ([]leakback.Reading, diag.List) {
	sheets, list := table.Read(file, data, table.Options{})
	if list.Err() != nil {
		return nil, list
	}
	r := &reader{file: file, reading: reading}
	if len(sheets) == 0 || len(sheets[0].Rows) == 0 || len(sheets[0].Rows[0]) == 0 || !r.heading(sheets[0].Rows[0]) {
		if r.list.Err() == nil {
			r.fault(table.Cell{Row: 1, Col: 1}, "there is no heading", "nothing",
				"a first row such as: time (min), level (ft), pump, valve", "write the heading above the readings")
		}
		return nil, r.list
	}
	var out []leakback.Reading
	for i, cells := range sheets[0].Rows[1:] {
		if len(cells) == 0 {
			continue
		}
		one, ok := r.row(cells, i+2)
		if ok && len(out) > 0 && one.TimeS <= out[len(out)-1].TimeS {
			r.fault(r.cell(cells, i+2, timeColumn), "time does not go on", r.cell(cells, i+2, timeColumn).Text,
				"a time later than that of the row before", "sort the rows by time and remove repeated ones")
		}
		if ok {
			out = append(out, one)
		}
	}
	if r.list.Err() == nil && len(out) < 3 {
		r.fault(table.Cell{Row: 1, Col: 1}, "too few readings", strconv.Itoa(len(out)), "three readings or more",
			"write a level every half minute or so")
	}
	if r.list.Err() != nil {
		return nil, r.list
	}
	return out, r.list
}

var headingParts = regexp.MustCompile(`^\s*([\pL ]*?)\s*(?:[\[(,]\s*([^\])]*?)\s*[\])]?)?\s*$`)

// heading finds the columns.
func (r *reader) heading(cells []table.Cell) bool {
	for i := range r.columns {
		r.columns[i].at = -1
	}
	for i, c := range cells {
		m := headingParts.FindStringSubmatch(strings.ToLower(c.Text))
		if m == nil {
			continue
		}
		for col, names := range headings {
			if r.columns[col].at < 0 && isOneOf(m[1], names) {
				r.columns[col] = where{at: i, unit: m[2]}
				break
			}
		}
	}
	for _, need := range []column{timeColumn, levelColumn} {
		if r.columns[need].at < 0 {
			r.fault(cells[0], "the heading has no column "+headings[need][0], texts(cells),
				"columns time and level, and where they are known pump (on, off) and valve (open, shut)",
				"name the column in the first row")
		}
	}
	return r.list.Err() == nil
}

// isOneOf is true for a heading one of whose words is among the names.
func isOneOf(heading string, names []string) bool {
	for _, w := range strings.Fields(heading) {
		for _, n := range names {
			if w == n {
				return true
			}
		}
	}
	return false
}

func texts(cells []table.Cell) string {
	var out []string
	for _, c := range cells {
		out = append(out, c.Text)
	}
	return strings.Join(out, ", ")
}

// cell is the cell of a column, empty where the row is shorter.
func (r *reader) cell(cells []table.Cell, row int, col column) table.Cell {
	at := r.columns[col].at
	if at < 0 || at >= len(cells) {
		return table.Cell{Row: row, Col: at + 1}
	}
	return cells[at]
}

// row reads one reading; false where it has a fault.
func (r *reader) row(cells []table.Cell, row int) (out leakback.Reading, ok bool) {
	before := len(r.list)
	out.TimeS = r.time(r.cell(cells, row, timeColumn))
	out.LevelM = r.level(r.cell(cells, row, levelColumn))
	out.Running = r.state(r.cell(cells, row, pumpColumn), pumpColumn, false)
	out.Open = r.state(r.cell(cells, row, valveColumn), valveColumn, true)
	return out, len(r.list) == before
}

// layouts are the dates that are read; day and month in figures only where the year comes first,
// because else they may be mistaken for each other.
var layouts = []string{"2006-01-02T15:04:05", "2006-01-02 15:04:05", "2006-01-02 15:04", "15:04:05", "15:04"}

func (r *reader) time(c table.Cell) float64 {
	text := strings.TrimSpace(c.Text)
	for _, l := range layouts {
		if t, err := time.Parse(l, text); err == nil {
			r.kind(c, 1)
			return float64(t.Unix())
		}
	}
	unit := r.columns[timeColumn].unit
	q, err := quantity.Reading{}.Parse(quantity.Time, withUnit(text, unit))
	if err != nil {
		r.fault(c, "this is no time", text, "a number with its unit in the heading, such as time (min), or 14:05:30, or 2026-05-04 14:05:30",
			"mend the cell, or give the heading its unit")
		return 0
	}
	r.kind(c, 2)
	return q.SI
}

// kind holds that all times are of one sort.
func (r *reader) kind(c table.Cell, kind int) {
	if r.dated == 0 {
		r.dated = kind
	}
	if r.dated != kind {
		r.fault(c, "this time is written in another way than those above", c.Text, "one way to write times in a file",
			"write all as clock times, or all as numbers")
	}
}

func (r *reader) level(c table.Cell) float64 {
	text := withUnit(strings.TrimSpace(c.Text), r.columns[levelColumn].unit)
	q, err := r.reading.Parse(quantity.Length, text)
	if err != nil {
		r.fault(c, "this is no level", c.Text, "a number with its unit here or in the heading, such as level (ft)",
			"mend the cell, or remove the row where nothing was read")
		return 0
	}
	return q.SI
}

// withUnit puts the heading's unit behind a bare number.
func withUnit(text, unit string) string {
	if unit == "" || text == "" || !strings.ContainsRune("0123456789", rune(text[len(text)-1])) {
		return text
	}
	return text + " " + unit
}

// state reads a state column; otherwise where there is no such column.
func (r *reader) state(c table.Cell, col column, otherwise bool) bool {
	if r.columns[col].at < 0 {
		return otherwise
	}
	said, known := states[col][strings.ToLower(strings.TrimSpace(c.Text))]
	if !known {
		want := "on or off"
		if col == valveColumn {
			want = "open or shut"
		}
		r.fault(c, fmt.Sprintf("this is no state of the %s", headings[col][0]), c.Text, want,
			"write the state in every row")
	}
	return said
}

// mostFaults are listed of a file.
const mostFaults = 40

func (r *reader) fault(c table.Cell, text, found, expected, mend string) {
	if len(r.list) >= mostFaults {
		return
	}
	if found == "" {
		found = "an empty cell"
	}
	r.list.Add(diag.Message{
		ID: "level-record", Place: diag.Place{File: r.file, Line: c.Row, Col: c.Col}, Text: text, Found: found,
		Expected: expected, Mend: mend,
	})
}
