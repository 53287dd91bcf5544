package xlsx

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"

	"seatward/internal/document"
	"seatward/internal/render/sample"
	"seatward/internal/render/wording"
)

// failer is what tests and properties have in common.
type failer interface {
	Helper()
	Fatalf(format string, a ...any)
	Errorf(format string, a ...any)
}

// written writes a document twice, holds the bytes to be the same, and opens them.
func written(t failer, d *document.Document) *excelize.File {
	t.Helper()
	var first, second bytes.Buffer
	for _, out := range []*bytes.Buffer{&first, &second} {
		if err := Write(out, d); err != nil {
			t.Fatalf("%v", err)
		}
	}
	if !bytes.Equal(first.Bytes(), second.Bytes()) {
		t.Fatalf("the same document gave other bytes")
	}
	f, err := excelize.OpenReader(bytes.NewReader(first.Bytes()))
	if err != nil {
		t.Fatalf("%v", err)
	}
	return f
}

// cells are the raw texts of all cells of a sheet by row.
func cells(t failer, f *excelize.File, name string) [][]string {
	t.Helper()
	rows, err := f.GetRows(name, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return rows
}

// dump is every cell with its address, kind, number format and formula.
func dump(t failer, f *excelize.File) string {
	t.Helper()
	var b strings.Builder
	for _, name := range f.GetSheetList() {
		fmt.Fprintf(&b, "== %s\n", name)
		pictures, err := f.GetPictureCells(name)
		if err != nil {
			t.Fatalf("%v", err)
		}
		slices.Sort(pictures)
		for _, p := range pictures {
			fmt.Fprintf(&b, "picture at %s\n", p)
		}
		for i, row := range cells(t, f, name) {
			for k, raw := range row {
				if raw == "" {
					continue
				}
				cell := at(k+1, i+1)
				formula, _ := f.GetCellFormula(name, cell)
				shown, _ := f.GetCellValue(name, cell)
				fmt.Fprintf(&b, "%s %q", cell, raw)
				if shown != raw {
					fmt.Fprintf(&b, " shown %q", shown)
				}
				if formula != "" {
					fmt.Fprintf(&b, " = %s", formula)
				}
				b.WriteString("\n")
			}
		}
	}
	for _, n := range f.GetDefinedName() {
		fmt.Fprintf(&b, "%s %s\n", n.Name, n.RefersTo)
	}
	return b.String()
}

func full() *document.Document {
	d := sample.Full()
	d.Words = document.Words{
		Contents: "Contents", Page: "Page {n} of {total}", Figure: "{caption}",
		Foot: "no. {number} & {revision}",
	}
	return d
}

func TestGolden(t *testing.T) {
	got := dump(t, written(t, full()))
	file := filepath.Join("testdata", "full.txt")
	if os.Getenv("SEATWARD_UPDATE") != "" {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("the workbook is not that of %s; look at the difference, then renew it with SEATWARD_UPDATE=1", file)
	}
}

// TestAnyDocument: whatever a document holds, the workbook opens again, holds every number
// and every text of the tables at its place and the others on the first sheet, and no text
// became a formula.
func TestAnyDocument(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := sample.Random(t)
		f := written(t, d)
		list := f.GetSheetList()
		head := map[string]bool{"": true}
		for _, row := range cells(t, f, list[0]) {
			for _, c := range row {
				head[c] = true
			}
		}
		n := 0
		for _, b := range d.Blocks {
			for _, s := range texts(b) {
				if !head[wording.Clean(s)] {
					t.Fatalf("%q is not on the first sheet", s)
				}
			}
			if _, is := b.(document.Table); is {
				n++
			}
		}
		if len(list) <= n {
			t.Fatalf("%d sheets for %d tables and the first one", len(list), n)
		}
		k, under := 0, ""
		for _, b := range d.Blocks {
			switch x := b.(type) {
			case document.Heading:
				under = x.Text
			case document.Table:
				k++
				x.Caption = orName(x.Caption, under)
				holdTable(t, f, list[k], x)
			}
		}
	})
}

// texts are what stands on the first sheet of a block.
func texts(b document.Block) []string {
	switch x := b.(type) {
	case document.Heading:
		return []string{x.Text}
	case document.Paragraph:
		return []string{wording.Label(x), wording.Body(x)}
	case document.List:
		return x.Items
	case document.Clause:
		return []string{x.Number, x.Text}
	case document.Listing:
		return x.Lines
	case document.Code:
		return []string{x.Caption + "\n" + x.Text}
	case document.Space:
		return []string{x.Title, strings.Join(x.Lines, "\n")}
	}
	return nil
}

// holdTable compares a sheet with its table, cell by cell.
func holdTable(t failer, f *excelize.File, name string, x document.Table) {
	t.Helper()
	s := &sheet{table: &x, units: make([]bool, len(x.Columns))}
	for _, r := range x.Rows {
		for i, c := range r.Cells {
			s.units[i] = s.units[i] || c.Numeric && read(c).after != ""
		}
	}
	rows := cells(t, f, name)
	value := func(column, row int) string {
		if row > len(rows) || column > len(rows[row-1]) {
			return ""
		}
		return rows[row-1][column-1]
	}
	if got := value(1, 1); got != wording.Clean(x.Caption) {
		t.Fatalf("%s: caption %q is %q", name, x.Caption, got)
	}
	top := 2
	if x.Caption != "" {
		top = 3
	}
	if !x.Form && len(x.Columns) > 0 {
		for i, c := range x.Columns {
			if got := value(s.column(i), top); got != wording.Clean(c.Title) {
				t.Fatalf("%s: head %q is %q", name, c.Title, got)
			}
		}
		top++
		if s.unitRow() {
			top++
		}
	}
	for i, r := range x.Rows {
		for k, c := range r.Cells {
			got := value(s.column(k), top+i)
			if formula, _ := f.GetCellFormula(name, at(s.column(k), top+i)); formula != "" {
				t.Fatalf("%s: %q became the formula %s", name, c.Text, formula)
			}
			if !c.Numeric {
				if want := wording.Clean(wording.Cell(c)); got != want {
					t.Fatalf("%s: text %q is %q", name, want, got)
				}
				continue
			}
			// The library rounds what it reads to 15 figures.
			if number, err := strconv.ParseFloat(got, 64); err != nil ||
				math.Abs(number-c.Number) > 1e-14*math.Abs(c.Number) {
				t.Fatalf("%s: number %g is %q", name, c.Number, got)
			}
			if v := read(c); v.after != "" && value(s.column(k)+1, top+i) != v.after {
				t.Fatalf("%s: %q has %q after the number, want %q", name, c.Text, value(s.column(k)+1, top+i), v.after)
			}
		}
	}
}

// TestFormulas: a formula's cell keeps the number, as a number, and the library reaches
// the same one.
func TestFormulas(t *testing.T) {
	f := written(t, full())
	const name = "Losses valve pipe all"
	found := 0
	for i, row := range cells(t, f, name) {
		for k, raw := range row {
			cell := at(k+1, i+1)
			formula, _ := f.GetCellFormula(name, cell)
			if formula == "" {
				continue
			}
			found++
			kept, err := strconv.ParseFloat(raw, 64)
			if err != nil {
				t.Errorf("%s keeps %q, which is no number", cell, raw)
			}
			if kind, _ := f.GetCellType(name, cell); kind != excelize.CellTypeUnset && kind != excelize.CellTypeNumber {
				t.Errorf("%s is kept as kind %d, not as a number", cell, kind)
			}
			text, err := f.CalcCellValue(name, cell, excelize.Options{RawCellValue: true})
			if err != nil {
				t.Fatalf("%s = %s: %v", cell, formula, err)
			}
			if got, _ := strconv.ParseFloat(text, 64); got < kept*(1-1e-12) || got > kept*(1+1e-12) {
				t.Errorf("%s = %s keeps %g and makes %g", cell, formula, kept, got)
			}
		}
	}
	if found != 2 {
		t.Errorf("%d formulas, want 2", found)
	}
}

// TestRefuses: what a workbook cannot hold is reported, and nothing is written.
func TestRefuses(t *testing.T) {
	cell := func(formula string) document.Block {
		return document.Table{
			Columns: []document.Column{{}},
			Rows: []document.Row{{ID: "a", Cells: []document.Cell{{
				Text: "1", Number: 1, Numeric: true,
				Formula: formula,
			}}}},
		}
	}
	for want, b := range map[string]document.Block{
		"names {b}":      cell("{b}+1"),
		"names {}":       cell("{}"),
		"not closed":     cell("{a"),
		"a cell holds":   document.Paragraph{Text: strings.Repeat("x", longest+1)},
		"square code":    document.Code{Text: strings.Repeat("x", 5000)},
		"has no drawing": document.Figure{},
	} {
		var out bytes.Buffer
		err := Write(&out, &document.Document{Blocks: []document.Block{b}})
		if err == nil || !strings.Contains(err.Error(), want) || out.Len() > 0 {
			t.Errorf("error %v with %d bytes written, want one with %q and none", err, out.Len(), want)
		}
	}
}

func TestRead(t *testing.T) {
	for text, want := range map[string]value{
		"960 gpm": {"0", "gpm"}, "6.130 ft/s": {"0.000", "ft/s"}, "1.05": {"0.00", ""}, "5.0%": {"0.0", "%"},
		"−3.5°":   {"0.0", "°"},
		"1.2e-06": {"0.0E+00", ""}, "0.30 (0.05 to 0.35) ft/s": {"0.00", "(0.05 to 0.35) ft/s"}, "3 e": {"0", "e"},
		"word": {"General", "word"}, "=1+2": {"General", "=1+2"},
	} {
		if got := read(document.Cell{Text: text, Numeric: true}); got != want {
			t.Errorf("%q is read as %q, want %q", text, got, want)
		}
	}
	if got := read(document.Cell{Text: "2", Tone: document.Bad}).format; got != `"✗ "0` {
		t.Errorf("a bad number has the format %s", got)
	}
}

// TestNames: names of sheets are legal and no two are the same, whatever the captions.
func TestNames(t *testing.T) {
	for _, want := range []struct{ title, name string }{
		{"History", "History 2"},
		{"a/b: [c]?*\\", "a b c"},
		{"'quoted'", "quoted"},
		{"", "Table"},
		{"A B C", "A B C 2"},
	} {
		n := names{}
		n.take("a b c", "Table")
		if want.title == "a/b: [c]?*\\" {
			n = names{}
		}
		if got := n.take(want.title, "Table"); got != want.name {
			t.Errorf("%q is called %q, want %q", want.title, got, want.name)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		n, seen := names{}, map[string]bool{}
		f := excelize.NewFile()
		defer f.Close()
		for range rapid.IntRange(1, 30).Draw(t, "sheets") {
			name := n.take(rapid.OneOf(rapid.SampledFrom(sample.Nasty), rapid.String(),
				rapid.StringMatching(`x{25,40}`)).Draw(t, "title"), "Table")
			if seen[strings.ToLower(name)] {
				t.Fatalf("%q stands twice", name)
			}
			seen[strings.ToLower(name)] = true
			if _, err := f.NewSheet(name); err != nil {
				t.Fatalf("%q: %v", name, err)
			}
		}
	})
}

// TestPage: texts in the head of a page are no codes, and are cut before they are too long.
func TestPage(t *testing.T) {
	if got, want := pageText("A & B", "T"), "&L&8 A && B&R&8 T"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got := pageText(strings.Repeat("& ", 500), strings.Repeat("🚰", 500)); len([]rune(got)) > pageLine {
		t.Errorf("%d characters", len([]rune(got)))
	}
	f := written(t, full())
	for _, name := range f.GetSheetList() {
		h, err := f.GetHeaderFooter(name)
		if err != nil || !strings.HasSuffix(h.OddFooter, "Page &P of &N") || !strings.Contains(h.OddFooter, "&&") {
			t.Errorf("%s has the foot %q (%v)", name, h.OddFooter, err)
		}
		l, err := f.GetPageLayout(name)
		if err != nil || *l.Size != 1 || *l.FitToWidth != 1 {
			t.Errorf("%s is not one letter page wide (%v)", name, err)
		}
	}
	p, err := f.GetDocProps()
	if err != nil || p.Created != "2026-03-04T00:00:00Z" || p.Modified != p.Created || p.Title != full().Title {
		t.Errorf("the properties are %+v (%v)", p, err)
	}
}
