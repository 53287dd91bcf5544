package fieldlog

import (
	"bytes"
	"strings"
	"testing"

	"seatward/internal/table"
)

// TestWorkbook: a log in a workbook reads as the same log in a CSV; the sheet with the most rows
// is taken, and the map may name another.
func TestWorkbook(t *testing.T) {
	text := "Date,Discharge pressure (kPa),Quality\n2024-11-15 00:15:00.250,310.5,192\n2024-11-15 00:15:01.250,311,192\n2024-11-15 00:15:02.250,9,0\n"
	sheets := []table.Sheet{
		{Name: "Notes", Rows: [][]table.Cell{{{Text: "by the crew", Row: 1, Col: 1}}}},
		{Name: "Data"},
	}
	for i, line := range strings.Split(strings.TrimSpace(text), "\n") {
		var row []table.Cell
		for k, cell := range strings.Split(line, ",") {
			row = append(row, table.Cell{Text: cell, Row: i + 1, Col: k + 1})
		}
		sheets[1].Rows = append(sheets[1].Rows, row)
	}
	data, err := table.WriteXLSX(sheets)
	if err != nil {
		t.Fatal(err)
	}
	book, list := Read("x.xlsx", bytes.NewReader(data), nil)
	if list.Err() != nil {
		t.Fatal(list)
	}
	plain := readText(t, text, "")
	for _, l := range []*Log{book, plain} {
		c := l.Channels[0]
		stamp, v := point(c, 0)
		if _, ok := c.At(2); stamp != "2024-11-15T00:15:00.25" || v != 310.5 || ok || c.Len() != 3 || l.Bad != 1 {
			t.Errorf("%s: %s %g, %d rows, %d bad", l.File, stamp, v, c.Len(), l.Bad)
		}
	}
	if book.Map.Sheet != "Data" {
		t.Errorf("sheet %q", book.Map.Sheet)
	}
	m, list := ReadMap("m.yaml", []byte("sheet: Other\n"))
	if list.Err() != nil {
		t.Fatal(list)
	}
	if _, list := Read("x.xlsx", bytes.NewReader(data), m); len(list) == 0 || list[0].ID != "sheet-missing" {
		t.Errorf("a sheet that is not there: %v", list)
	}
	if _, list := Read("x.xlsx", bytes.NewReader(data[:len(data)/2]), nil); list.Err() == nil {
		t.Error("half a workbook is read")
	}
}
