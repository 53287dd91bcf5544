package table

import (
	"archive/zip"
	"bytes"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"
)

// made builds a workbook; build fills its first sheet, "Sheet1".
func made(t testing.TB, build func(f *excelize.File)) []byte {
	t.Helper()
	f := excelize.NewFile()
	build(f)
	var out bytes.Buffer
	if err := f.Write(&out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// zipped packs parts as they are given.
func zipped(t testing.TB, parts map[string]string) []byte {
	t.Helper()
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for name, text := range parts {
		w, err := z.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write([]byte(text)); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// bare is a workbook of one sheet with the given XML; other programs leave out much of
// what a library writes.
func bare(t testing.TB, sheet string) []byte {
	t.Helper()
	const kind = `<Relationship Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/`
	return zipped(t, map[string]string{
		"_rels/.rels": `<Relationships>` +
			kind + `officeDocument" Id="a" Target="/book/main.xml"/></Relationships>`,
		"book/_rels/main.xml.rels":   `<Relationships>` + kind + `worksheet" Id="b" Target="one.xml"/></Relationships>`,
		"book/main.xml":              `<workbook xmlns:r="x"><workbookPr date1904="1"/><sheets><sheet name="One" sheetId="7" r:id="b"/></sheets></workbook>`,
		"Book/ONE.xml":               sheet,
		"docProps/thumbnail.unknown": "",
	})
}

func TestReadXLSX(t *testing.T) {
	style := func(f *excelize.File, cell string, s excelize.Style) {
		id, _ := f.NewStyle(&s)
		_ = f.SetCellStyle("Sheet1", cell, cell, id)
	}
	custom := func(code string) excelize.Style { return excelize.Style{CustomNumFmt: &code} }
	tests := map[string]struct {
		value any
		style excelize.Style
		want  string
	}{
		"text":             {"Ball valve", excelize.Style{}, "Ball valve"},
		"text like number": {"007", excelize.Style{}, "007"},
		"spaces":           {" x ", excelize.Style{}, " x "},
		"whole number":     {12345678901, excelize.Style{}, "12345678901"},
		"decimal":          {0.1, excelize.Style{NumFmt: 2}, "0.1"},
		"small":            {1e-5, excelize.Style{}, "1e-05"},
		"million":          {1e6, excelize.Style{NumFmt: 3}, "1000000"},
		"yes":              {true, excelize.Style{}, "yes"},
		"no":               {false, excelize.Style{}, "no"},
		"date":             {time.Date(2031, 4, 5, 0, 0, 0, 0, time.UTC), excelize.Style{NumFmt: 14}, "2031-04-05"},
		"date and time": {
			time.Date(2031, 4, 5, 6, 7, 8, 0, time.UTC),
			excelize.Style{NumFmt: 22},
			"2031-04-05 06:07:08",
		},
		"own date format": {45000, custom(`[$-409]d\-mmm;@`), "2023-03-15"},
		"own with a unit": {450, custom(`0.0 "day";[Red]-0`), "450"},
		"time of day":     {0.5, excelize.Style{NumFmt: 20}, "0.5"},
		"no day":          {-3, excelize.Style{NumFmt: 14}, "-3"},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			sheets, list := Read("f.xlsx", made(t, func(f *excelize.File) {
				_ = f.SetCellValue("Sheet1", "B3", tt.value)
				style(f, "B3", tt.style)
			}), Options{})
			if len(list) > 0 || len(sheets) != 1 || len(sheets[0].Rows) != 3 {
				t.Fatalf("%+v, %v", sheets, list)
			}
			if got := sheets[0].Rows[2][1]; got != (Cell{tt.want, 3, 2}) {
				t.Errorf("got %+v, want %q", got, tt.want)
			}
		})
	}
}

func TestReadRichTextAndSheets(t *testing.T) {
	sheets, list := Read("f.xlsx", made(t, func(f *excelize.File) {
		_ = f.SetCellRichText("Sheet1", "A1",
			[]excelize.RichTextRun{{Text: "DN "}, {Text: "50", Font: &excelize.Font{Bold: true}}})
		_, _ = f.NewSheet("Second")
		_ = f.SetCellValue("Second", "A1", "x")
		_, _ = f.NewSheet("Empty")
		_, _ = f.NewSheet("Notes")
		_ = f.SetCellFormula("Notes", "A1", "1+1")
		_ = f.SetSheetVisible("Notes", false)
	}), Options{})
	if got, want := list.Error(), "f.xlsx: warning: Notes: the sheet is hidden: it is not read. To mend: unhide the sheet if it belongs to the table [sheet-hidden]"; got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	var got []string
	for _, s := range sheets {
		got = append(got, s.Name+shown(texts(s)))
	}
	if want := []string{`Sheet1[["DN 50"]]`, `Second[["x"]]`, `Empty[]`}; !slices.Equal(got, want) {
		t.Errorf("got %v", got)
	}
}

func TestReadXLSXFaults(t *testing.T) {
	tests := map[string]struct {
		build func(f *excelize.File)
		want  string
	}{
		"merged": {func(f *excelize.File) {
			_ = f.SetCellValue("Sheet1", "C3", "x")
			_ = f.MergeCell("Sheet1", "B2", "C2")
			_ = f.MergeCell("Sheet1", "A9", "C9")
		}, "f.xlsx:2:2: Sheet1!B2: B2:C2 is merged; expected one value in each cell. To mend: unmerge [cells-merged]"},
		"formula": {func(f *excelize.File) {
			_ = f.SetCellFormula("Sheet1", "D5", "SUM(A1:B2)")
		}, "f.xlsx:5:4: Sheet1!D5: D5 holds a formula; found =SUM(A1:B2); expected a plain value. To mend: paste as values [cell-formula]"},
		"no visible sheet": {func(f *excelize.File) {
			_ = f.SetSheetVisible("Sheet1", false)
			f.WorkBook.Sheets.Sheet[0].State = "hidden"
		}, "f.xlsx: warning: Sheet1: the sheet is hidden: it is not read. To mend: unhide the sheet if it belongs to the table [sheet-hidden]\n" +
			"f.xlsx: the workbook has no visible sheet with cells; expected one sheet at least. To mend: unhide the sheet that holds the table [sheets-none]"},
		"too many columns": {func(f *excelize.File) {
			_ = f.SetCellValue("Sheet1", "SG1", "x")
		}, "f.xlsx:1:501: Sheet1!SG1: there is text in column 501; expected at most 500 columns. To mend: remove the columns that the table does not need [columns-too-many]"},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			_, list := Read("f.xlsx", made(t, tt.build), Options{})
			if got := list.Error(); got != tt.want {
				t.Errorf("got  %s\nwant %s", got, tt.want)
			}
		})
	}
}

// TestHiddenRowsAreTold: a filtered price list has rows that nobody sees; they are read, and
// said to be.
func TestHiddenRowsAreTold(t *testing.T) {
	sheets, list := Read("f.xlsx", made(t, func(f *excelize.File) {
		for i, text := range []string{"size", "6", "8"} {
			_ = f.SetCellValue("Sheet1", fmt.Sprintf("A%d", i+1), text)
		}
		_ = f.SetRowVisible("Sheet1", 2, false)
		_ = f.SetRowVisible("Sheet1", 9, false)
	}), Options{})
	if list.Err() != nil || len(list) != 1 || list[0].ID != "rows-hidden" || list[0].Place.Line != 2 ||
		len(sheets[0].Rows) != 3 {
		t.Errorf("%v, %v", list, sheets)
	}
	_, list = Read("f.xlsx", made(t, func(f *excelize.File) {
		_ = f.SetCellValue("Sheet1", "B1", "size")
		_ = f.SetColVisible("Sheet1", "B", false)
		_ = f.SetColVisible("Sheet1", "H", false)
	}), Options{})
	if len(list) != 1 || list[0].ID != "columns-hidden" || list[0].Place.Col != 2 {
		t.Errorf("%v", list)
	}
}

func TestManyFormulasAreCounted(t *testing.T) {
	_, list := Read("f.xlsx", made(t, func(f *excelize.File) {
		for row := 1; row <= 12; row++ {
			_ = f.SetCellFormula("Sheet1", Cell{Row: row, Col: 1}.Ref(), "1")
		}
	}), Options{})
	if len(list) != maxListed+1 {
		t.Fatalf("%d messages", len(list))
	}
	if got, want := list[maxListed].Error(), "f.xlsx: Sheet1: 12 cells hold a formula in this sheet; the first 5 are listed above. To mend: paste as values [cell-formula]"; got != want {
		t.Errorf("got %s", got)
	}
}

// TestReadForeignXML reads what other programs may write: rows and cells without
// their place, dates counted from 1904, formats on blank cells, pictures.
func TestReadForeignXML(t *testing.T) {
	sheets, list := Read("f.xlsx", bare(t, `<worksheet xmlns="http://purl.oclc.org/ooxml/spreadsheetml/main"><sheetData>
		<row><c t="inlineStr"><is><t>a</t><rPh sb="0"><t>spoken</t></rPh></is></c><c><v>1.50</v></c></row>
		<row r="4"><c r="C4" t="str"><v>x_x000D__x000A_y</v></c><c t="d"><v>2031-04-05T00:00:00Z</v></c><c t="b"/></row>
		<row r="2"><c t="n"><v>1E2</v></c><c><v>0.30000000000000004</v></c></row>
		<row r="1048576"><c r="XFD1048576" s="3"/></row>
		</sheetData><extLst><row><c><v>9</v></c></row></extLst></worksheet>`), Options{})
	if len(list) > 0 || len(sheets) != 1 {
		t.Fatalf("%d sheets, %v", len(sheets), list)
	}
	if got, want := shown(texts(sheets[0])), `[["a" "1.5"] ["100" "0.30000000000000004"] [] ["" "" "x\ny" "2031-04-05"]]`; got != want {
		t.Errorf("got %s", got)
	}
}

func TestReadForeignFaults(t *testing.T) {
	cells := func(x string) string { return "<worksheet><sheetData><row>" + x + "</row></sheetData></worksheet>" }
	tests := map[string]struct{ sheet, want string }{
		"error value":       {cells(`<c t="e"><v>#N/A</v></c>`), "cell-error"},
		"no such text":      {cells(`<c t="s"><v>0</v></c>`), "cell-unreadable"},
		"no number":         {cells(`<c><v>NaN</v></c>`), "cell-unreadable"},
		"control character": {cells(`<c t="str"><v>_x0001_</v></c>`), "cell-unreadable"},
		"too many rows": {
			`<worksheet><sheetData><row r="200001"><c><v>1</v></c></row></sheetData></worksheet>`,
			"rows-too-many",
		},
		"no such row":  {`<worksheet><sheetData><row r="0"/></sheetData></worksheet>`, "xlsx-damaged"},
		"no such cell": {cells(`<c r="7B"><v>1</v></c>`), "xlsx-damaged"},
		"cut off":      {"<worksheet><sheetData><row>", "xlsx-damaged"},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			if _, list := Read("f.xlsx", bare(t, tt.sheet), Options{}); !slices.Equal(ids(list), []string{tt.want}) {
				t.Errorf("got %v", list)
			}
		})
	}
}

// TestBrokenParts leaves out or breaks the parts around the cells.
func TestBrokenParts(t *testing.T) {
	const office = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/"
	book := func(sheets, relations string, more map[string]string) []byte {
		parts := map[string]string{
			"_rels/.rels": `<R><Relationship Type="` +
				office + `officeDocument" Target="xl/workbook.xml"/></R>`,
			"xl/workbook.xml":            `<workbook><sheets>` + sheets + `</sheets></workbook>`,
			"xl/_rels/workbook.xml.rels": `<R>` + strings.ReplaceAll(relations, "^", office) + `</R>`,
		}
		maps.Copy(parts, more)
		return zipped(t, parts)
	}
	tests := map[string]struct {
		sheets, relations string
		more              map[string]string
		want              []string
	}{
		"no list of sheets": {"<", "", nil, []string{"xlsx-damaged"}},
		"no sheet":          {"", "", nil, []string{"sheets-none"}},
		"no part": {
			`<sheet name="A" id="a"/>`, `<Relationship Id="a" Type="^worksheet" Target="a.xml"/>`,
			nil,
			[]string{"xlsx-damaged"},
		},
		"a chart": {
			`<sheet name="A" id="a"/>`, `<Relationship Id="a" Type="^chartsheet" Target="a.xml"/>`,
			nil,
			[]string{"sheet-no-table", "sheets-none"},
		},
		"no texts": {
			"", `<Relationship Type="^sharedStrings" Target="s.xml"/>`, nil,
			[]string{"xlsx-damaged"},
		},
		"broken texts": {
			"", `<Relationship Type="^sharedStrings" Target="s.xml"/>`,
			map[string]string{"xl/s.xml": "<sst><si>"},
			[]string{"xlsx-damaged"},
		},
		"broken styles": {
			"", `<Relationship Type="^styles" Target="s.xml"/>`,
			map[string]string{"xl/s.xml": "<"},
			[]string{"xlsx-damaged"},
		},
		"styles without end": {
			"", `<Relationship Type="^styles" Target="s.xml"/>`,
			map[string]string{"xl/s.xml": strings.Repeat(" ", maxList+1)},
			[]string{"xlsx-damaged"},
		},
		"sheets without end": {strings.Repeat("<sheet/>", maxSheets+1), "", nil, []string{"xlsx-damaged"}},
		"two sheets, one part": {
			`<sheet name="A" id="a"/><sheet name="B" id="a"/>`,
			`<Relationship Id="a" Type="^worksheet" Target="a.xml"/>`,
			map[string]string{"xl/a.xml": "<worksheet/>"},
			[]string{"xlsx-damaged"},
		},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			if _, list := Read("f.xlsx", book(tt.sheets, tt.relations, tt.more), Options{}); !slices.Equal(ids(list),
				tt.want) {
				t.Errorf("got %v", list)
			}
		})
	}
}

// claimed packs parts that say they are of the given sizes.
func claimed(t *testing.T, sizes ...uint64) []byte {
	t.Helper()
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for i, size := range sizes {
		if _, err := z.CreateRaw(&zip.FileHeader{Name: string(rune('a' + i)), UncompressedSize64: size}); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func TestUnusableWorkbooks(t *testing.T) {
	whole := made(t, func(f *excelize.File) { _ = f.SetCellValue("Sheet1", "A1", "x") })
	var secret bytes.Buffer
	f := excelize.NewFile()
	if err := f.Write(&secret, excelize.Options{Password: "x"}); err != nil {
		t.Fatal(err)
	}
	tests := map[string]struct {
		data []byte
		want string
	}{
		"encrypted":   {secret.Bytes(), "file-encrypted"},
		"huge part":   {claimed(t, 1<<63, 1<<63), "file-too-large-unpacked"},
		"cut off":     {whole[:len(whole)/2], "xlsx-damaged"},
		"other zip":   {zipped(t, map[string]string{"a.txt": "x"}), "xlsx-none"},
		"empty zip":   {zipped(t, nil), "xlsx-none"},
		"large part":  {claimed(t, maxPart+1), "file-too-large-unpacked"},
		"large parts": {claimed(t, maxPart, maxPart, 1), "file-too-large-unpacked"},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			sheets, list := Read("f.xlsx", tt.data, Options{})
			if !slices.Equal(ids(list), []string{tt.want}) || list.Err() == nil || len(sheets) > 0 {
				t.Errorf("%d sheets, %v", len(sheets), list)
			}
		})
	}
}
