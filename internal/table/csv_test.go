package table

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"seatward/diag"
)

// texts gives the cells of a sheet as plain rows.
func texts(s Sheet) [][]string {
	var out [][]string
	for _, row := range s.Rows {
		line := []string{}
		for _, c := range row {
			line = append(line, c.Text)
		}
		out = append(out, line)
	}
	return out
}

func ids(list diag.List) []string {
	var out []string
	for _, m := range list {
		out = append(out, m.ID)
	}
	return out
}

func shown(rows [][]string) string { return fmt.Sprintf("%q", rows) }

func TestReadCSV(t *testing.T) {
	tests := map[string]struct {
		data    string
		options Options
		want    string
	}{
		"commas":     {"a,b\n1,2\n", Options{}, `[["a" "b"] ["1" "2"]]`},
		"semicolons": {"a;b\n1,5;2,5\n3,5;4,5\n", Options{}, `[["a" "b"] ["1,5" "2,5"] ["3,5" "4,5"]]`},
		"tabs":       {"a\tb; c, d\n1\t2\n", Options{}, `[["a" "b; c, d"] ["1" "2"]]`},
		"commas in prose": {
			"id;note\n1;big, red\n2;small\n",
			Options{},
			`[["id" "note"] ["1" "big, red"] ["2" "small"]]`,
		},
		"quotes hide delimiters":     {"\"a;b;c\",d\n\"e;f;g\",h\n", Options{}, `[["a;b;c" "d"] ["e;f;g" "h"]]`},
		"delimiter given":            {"a|b\n1|2\n", Options{Delimiter: '|'}, `[["a" "b"] ["1" "2"]]`},
		"a single column":            {"a\nb\n", Options{Delimiter: ';'}, `[["a"] ["b"]]`},
		"byte-order mark":            {"\ufeffa,b\n", Options{}, `[["a" "b"]]`},
		"mark and latin-1":           {"\ufeffé,b\n", Options{Encoding: "latin-1"}, `[["é" "b"]]`},
		"UTF-16 little":              {"\xff\xfea\x00,\x00\xe9\x00\n\x00", Options{}, `[["a" "é"]]`},
		"UTF-16 big":                 {"\xfe\xff\x00a\x00,\x00\xe9", Options{}, `[["a" "é"]]`},
		"latin-1 given":              {"\xc3\xa9,b\n", Options{Encoding: "latin-1"}, `[["Ã©" "b"]]`},
		"CRLF":                       {"a,b\r\n1,2\r\n", Options{}, `[["a" "b"] ["1" "2"]]`},
		"CR alone":                   {"a,b\r1,2\r", Options{}, `[["a" "b"] ["1" "2"]]`},
		"newline in quotes":          {"a,\"x\r\ny\"\n1,2\n", Options{}, `[["a" "x\ny"] ["1" "2"]]`},
		"quotes in quotes":           {"\"3\"\" pipe\",b\n", Options{}, `[["3\" pipe" "b"]]`},
		"as it stands":               {"007,=A1, x \n", Options{}, `[["007" "=A1" " x "]]`},
		"blank rows stay":            {"a,b\n\n,,\n1,2\n\n", Options{}, `[["a" "b"] [] [] ["1" "2"]]`},
		"blank ends go":              {"a,,\n,b,\n,,\n", Options{}, `[["a"] ["" "b"]]`},
		"first letters of a zip":     {"PK,b\n", Options{}, `[["PK" "b"]]`},
		"an empty file has no cells": {"", Options{}, `[]`},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			sheets, list := Read("dir/list.v2.csv", []byte(tt.data), tt.options)
			if len(list) > 0 || len(sheets) != 1 {
				t.Fatalf("%d sheets, %v", len(sheets), list)
			}
			if got := shown(texts(sheets[0])); got != tt.want {
				t.Errorf("got  %s\nwant %s", got, tt.want)
			}
			if sheets[0].Name != "list.v2" {
				t.Errorf("the sheet is named %q", sheets[0].Name)
			}
		})
	}
}

func TestReadCSVFaults(t *testing.T) {
	wide := strings.Repeat(",", MaxColumns) + "x"
	long := strings.Repeat("x", MaxCellBytes+1)
	tests := map[string]struct {
		data    string
		options Options
		want    string
	}{
		"wrong delimiter": {
			"a;b\n1;2\n",
			Options{Delimiter: ','},
			"f.csv:1:1: the delimiter leaves a single column; found delimiter comma; expected delimiter semicolon. To mend: give semicolon as the delimiter, or none to have it found [delimiter-wrong]",
		},
		"wrong with quotes": {
			"\"a\"\t\"b\"\n",
			Options{Delimiter: '|'},
			"f.csv:1:1: the delimiter leaves a single column; found delimiter '|'; expected delimiter tab. To mend: give tab as the delimiter, or none to have it found [delimiter-wrong]",
		},
		"no delimiter": {
			"a",
			Options{Delimiter: '"'},
			"f.csv: this character cannot be a delimiter; found '\"'; expected a comma, a semicolon or a tab. To mend: give another delimiter, or none [delimiter-unusable]",
		},
		"bare quote": {
			"a,b\n1,3\" pipe\n",
			Options{},
			"f.csv:2:4: a quote stands inside a cell that is not in quotes; expected a cell with quotes written as \"3\"\" pipe\". To mend: put the whole cell in quotes and write each quote in it twice [csv-quotes]",
		},
		"open quote": {
			"a,b\n1,\"x\n",
			Options{},
			"f.csv:2:6: the quotes of a cell do not close, or text follows them; the row begins in line 2; expected a cell with quotes written as \"3\"\" pipe\". To mend: put the whole cell in quotes and write each quote in it twice [csv-quotes]",
		},
		"guessed": {
			"a,b\nx,caf\xe9\n",
			Options{},
			"f.csv:2:6: warning: the text is not UTF-8: it is read as Latin-1 (Windows-1252); found byte 0xe9; expected UTF-8. To mend: check the letters with accents, or save the file as CSV UTF-8 [encoding-guessed]",
		},
		"not UTF-8": {
			"a\ncaf\xe9\n",
			Options{Encoding: "utf-8"},
			"f.csv:2:4: the text is not UTF-8; found byte 0xe9; expected UTF-8. To mend: save the file as CSV UTF-8 [encoding-wrong]",
		},
		"marked, not UTF-8": {
			"\ufeff\xe9\n",
			Options{},
			"f.csv:1:1: the text is not UTF-8; found byte 0xe9; expected UTF-8. To mend: save the file as CSV UTF-8 [encoding-wrong]",
		},
		"unknown encoding": {
			"a",
			Options{Encoding: "morse"},
			"f.csv: unknown encoding; found morse; expected utf-8 or latin-1. To mend: name one of these, or none [encoding-unknown]",
		},
		"NUL": {
			"a,b\n1,\x00\n",
			Options{},
			"f.csv:2:3: the file is not plain text; found the control character U+0000; expected a CSV or .xlsx file. To mend: save the table as CSV UTF-8 or as .xlsx [not-text]",
		},
		"a picture": {
			"\x89PNG\r\n\x1a\n",
			Options{},
			"f.csv:2:1: the file is not plain text; found the control character U+001A; expected a CSV or .xlsx file. To mend: save the table as CSV UTF-8 or as .xlsx [not-text]",
		},
		"file too large": {
			"a,b,c",
			Options{MaxBytes: 4},
			"f.csv: the file has 5 bytes; expected at most 4 bytes. To mend: split the table into several files [file-too-large]",
		},
		"too many rows": {
			strings.Repeat("\n", MaxRows) + "x",
			Options{},
			"f.csv:20001:1: there is text in row 20001; expected at most 20000 rows. To mend: split the table into several files [rows-too-many]",
		},
		"too many columns": {
			wide,
			Options{},
			"f.csv:1:501: there is text in column 501; expected at most 500 columns. To mend: remove the columns that the table does not need [columns-too-many]",
		},
		"cell too long": {
			"a," + long,
			Options{},
			"f.csv:1:2: the cell has 32768 bytes; expected at most 32767 bytes. To mend: shorten the text [cell-too-long]",
		},
		"old workbook": {
			"\xd0\xcf\x11\xe0\xa1\xb1",
			Options{},
			"f.csv: the file is a workbook of the old binary format (.xls); expected an .xlsx or CSV file. To mend: open it in a spreadsheet program and save it as .xlsx [file-old]",
		},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			_, list := Read("f.csv", []byte(tt.data), tt.options)
			if got := list.Error(); got != tt.want {
				t.Errorf("got  %s\nwant %s", got, tt.want)
			}
		})
	}
}

func TestTooManyCells(t *testing.T) {
	row := strings.Repeat(",", MaxColumns-1) + "x\n"
	_, list := Read("f.csv", []byte(strings.Repeat(row, maxCells/MaxColumns+1)), Options{})
	if got := ids(list); !slices.Equal(got, []string{"cells-too-many"}) {
		t.Errorf("got %v", got)
	}
}

func TestCellsKnowTheirPlace(t *testing.T) {
	sheets, _ := Read("f.csv", []byte("a,\"x\ny\"\n\n,2\n"), Options{})
	rows := sheets[0].Rows
	if got := rows[2][1]; got != (Cell{Text: "2", Row: 3, Col: 2}) || got.Ref() != "B3" {
		t.Errorf("got %+v named %s", got, got.Ref())
	}
	if got := (Cell{}).Ref(); got != "" {
		t.Errorf("a cell without a place is named %q", got)
	}
}

func TestSheetName(t *testing.T) {
	for in, want := range map[string]string{
		"a.csv": "a", `c:\x\b.csv`: "b", "/x/c": "c", ".csv": ".csv", "": "",
		"/": "",
	} {
		if got := sheetName(in); got != want {
			t.Errorf("%q gives %q, want %q", in, got, want)
		}
	}
}
