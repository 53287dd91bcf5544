package table

import (
	"bytes"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"
)

// sheetOf makes a sheet of plain rows.
func sheetOf(name string, rows ...[]string) Sheet {
	s := Sheet{Name: name}
	for i, row := range rows {
		var cells []Cell
		for j, text := range row {
			cells = append(cells, Cell{Text: text, Row: i + 1, Col: j + 1})
		}
		s.Rows = append(s.Rows, cells)
	}
	return s
}

// drawn gives a sheet of texts that are hard to keep.
func drawn(t *rapid.T) Sheet {
	hard := rapid.SampledFrom([]string{
		"", "007", "=A1+1", "+1", "-x", "@a", "3\"", "\"", "a;b", "a,b", "a\tb", "x\ny",
		" x ", "\n", "1e5", "TRUE", "#N/A", "_x0041_", "_x005F_", "_x005F_x0041_", "_x0041_x0042_", "__x0041_", "é", "日本", "😀", "\ufeff", "'x", "sep=;",
	})
	free := rapid.StringOfN(rapid.Rune().Filter(func(c rune) bool { return !isControl(c) && c != '\r' }), 0, 8, -1)
	rows := rapid.SliceOfN(rapid.SliceOfN(rapid.OneOf(hard, free), 0, 5), 0, 6).Draw(t, "rows")
	return sheetOf("Sheet", rows...)
}

// full gives the cells that hold text.
func full(s Sheet) []Cell {
	var out []Cell
	for _, row := range s.Rows {
		for _, c := range row {
			if c.Text != "" {
				out = append(out, c)
			}
		}
	}
	return out
}

func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawn(t)
		book, err := WriteXLSX([]Sheet{s})
		if err != nil {
			t.Fatal(err)
		}
		for _, data := range [][]byte{book, WriteCSV(s)} {
			sheets, list := Read("Sheet.csv", data, Options{})
			if len(list) > 0 || len(sheets) != 1 || sheets[0].Name != s.Name {
				t.Fatalf("%q: %d sheets, %v", texts(s), len(sheets), list)
			}
			want, got := full(s), full(sheets[0])
			if len(got) != len(want) {
				t.Fatalf("got %+v, want %+v", got, want)
			}
			for i := range want {
				if got[i] != want[i] {
					t.Fatalf("got %+v, want %+v", got[i], want[i])
				}
			}
		}
	})
}

func TestWriteCSV(t *testing.T) {
	got := string(WriteCSV(sheetOf("", []string{"a", "b;c", "=1"}, nil, []string{"", "3\"", "x\r\ny"})))
	if want := "a,\"b;c\",=1\n\n,\"3\"\"\",\"x\ny\"\n"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got := string(WriteCSV(sheetOf("", []string{"é"}))); got != "\ufeffé\n" {
		t.Errorf("got %q", got)
	}
}

func TestWriteXLSXIsTextAndTheSameEachTime(t *testing.T) {
	sheets := []Sheet{
		sheetOf("Valves", []string{"id", "size"}, []string{"=1+1", "007"}),
		sheetOf("Sheet1", []string{"x"}),
	}
	first, err := WriteXLSX(sheets)
	if err != nil {
		t.Fatal(err)
	}
	again, err := WriteXLSX(sheets)
	if err != nil || !bytes.Equal(first, again) {
		t.Errorf("the second writing differs, %v", err)
	}
	f, err := excelize.OpenReader(bytes.NewReader(first))
	if err != nil {
		t.Fatal(err)
	}
	if got, _ := f.GetCellFormula("Valves", "A2"); got != "" {
		t.Errorf("A2 is the formula %s", got)
	}
	if kind, _ := f.GetCellType("Valves", "B2"); kind != excelize.CellTypeSharedString {
		t.Errorf("B2 is of type %v", kind)
	}
	if props, _ := f.GetDocProps(); props.Created != stamp || props.Modified != stamp {
		t.Errorf("stamped %s and %s", props.Created, props.Modified)
	}
	read, list := Read("f.xlsx", first, Options{})
	if len(list) > 0 || len(read) != 2 || read[0].Name != "Valves" || read[1].Name != "Sheet1" {
		t.Errorf("%+v, %v", read, list)
	}
}

func TestWriteXLSXRefuses(t *testing.T) {
	for name, sheets := range map[string][]Sheet{
		"no sheet":          nil,
		"no name":           {sheetOf("")},
		"a name that is no": {sheetOf("a/b")},
		"two of a name":     {sheetOf("A"), sheetOf("a")},
		"a long cell":       {sheetOf("A", []string{strings.Repeat("x", MaxCellBytes+1)})},
		"a control":         {sheetOf("A", []string{"a\x00"})},
		"no UTF-8":          {sheetOf("A", []string{"\xff"})},
		"no XML":            {sheetOf("A", []string{"\uffff"})},
		"many columns":      {sheetOf("A", append(make([]string, MaxColumns), "x"))},
	} {
		if _, err := WriteXLSX(sheets); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte("a;b\n\"1\";2\n"), int32(0))
	f.Add([]byte("a\xe9,b\r\n"), int32(';'))
	f.Add([]byte("\xff\xfea\x00"), int32(0))
	f.Add([]byte("\xd0\xcf\x11\xe0"), int32(0))
	f.Add(made(f, func(x *excelize.File) {
		_ = x.SetCellValue("Sheet1", "B2", 1.5)
		_ = x.SetCellFormula("Sheet1", "B3", "1")
		_ = x.MergeCell("Sheet1", "A1", "B1")
	}), int32(0))
	f.Add(bare(f, `<worksheet><sheetData><row><c t="inlineStr"><is><t>a</t></is></c></row></sheetData></worksheet>`),
		int32(0))
	f.Fuzz(func(t *testing.T, data []byte, delimiter int32) {
		sheets, list := Read("f", data, Options{Delimiter: delimiter, MaxBytes: 1 << 20})
		if sheets == nil && list.Err() == nil {
			t.Error("no sheet and no error")
		}
		for _, s := range sheets {
			for i, row := range s.Rows {
				for j, c := range row {
					if c.Row != i+1 || c.Col != j+1 {
						t.Errorf("cell %d,%d stands at %d,%d", c.Row, c.Col, i+1, j+1)
					}
				}
			}
		}
	})
}

// FuzzReadSheet reaches the cells: changed bytes of a whole workbook seldom unpack.
func FuzzReadSheet(f *testing.F) {
	f.Add(`<worksheet><sheetData><row r="2"><c r="B2" t="inlineStr"><is><r><t>a</t></r></is></c><c t="e"><f>1</f><v>#N/A</v></c></row></sheetData><mergeCells><mergeCell ref="A1:B2"/></mergeCells></worksheet>`)
	f.Fuzz(func(t *testing.T, sheet string) {
		if sheets, _ := Read("f", bare(t, sheet), Options{}); len(sheets) != 1 {
			t.Errorf("%d sheets", len(sheets))
		}
	})
}
