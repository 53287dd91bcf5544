package pdf

import (
	"bytes"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"seatward/internal/document"
	"seatward/internal/figure"
	"seatward/internal/render/sample"
)

// TestAnyDocument: whatever a document holds, the file is whole, every cross reference of
// the structure points at its object, marked contents are balanced, and a second writing
// gives the same bytes.
func TestAnyDocument(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := sample.Random(t)
		var first, second bytes.Buffer
		if _, err := Write(&first, d); err != nil {
			t.Fatal(err)
		}
		if _, err := Write(&second, d); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(first.Bytes(), second.Bytes()) {
			t.Fatal("the same document gave other bytes")
		}
		crossReferences(t, first.Bytes())
	})
}

var entry = regexp.MustCompile(`(\d+) 1\n(\d{10}) 00000 n \n`)

// crossReferences reads the tables of the update.
func crossReferences(t interface{ Fatalf(string, ...any) }, file []byte) {
	start, err := strconv.Atoi(string(startXref.FindSubmatch(file[bytes.LastIndex(file, []byte("startxref")):])[1]))
	if err != nil || !bytes.HasPrefix(file[start:], []byte("xref\n")) {
		t.Fatalf("no cross references stand at %d: %v", start, err)
	}
	all := entry.FindAllSubmatch(file[start:], -1)
	if len(all) == 0 {
		t.Fatalf("the update names no object")
	}
	for _, e := range all {
		at, _ := strconv.Atoi(string(e[2]))
		if want := string(e[1]) + " 0 obj\n"; !strings.HasPrefix(string(file[at:min(len(file), at+20)]), want) {
			t.Fatalf("object %s does not stand at %d", e[1], at)
		}
	}
}

// TestWrap: no character is lost, and no line is wider than asked.
func TestWrap(t *testing.T) {
	p := newWriter(&document.Document{}, 0)
	rapid.Check(t, func(t *rapid.T) {
		p.font(sans, rapid.SampledFrom([]string{"", "B"}).Draw(t, "style"), 9)
		s := p.clean(sample.Text(t))
		mm := rapid.Float64Range(6, 170).Draw(t, "width")
		if leftward(s) { // TestOrder
			return
		}
		lines := p.wrap(s, mm)
		if got, want := strings.Join(lines, ""), strings.Join(strings.Fields(s), ""); strings.ReplaceAll(got, " ",
			"") != want {
			t.Fatalf("%q became %q", want, got)
		}
		for _, l := range lines {
			if p.pdf.GetStringWidth(l) > mm+1e-6 && utf8.RuneCountInString(l) > 1 {
				t.Fatalf("%q is wider than %g mm", l, mm)
			}
		}
	})
}

// TestCleanTellsMissing: what the font cannot draw stands as a box, what it can stays.
func TestCleanTellsMissing(t *testing.T) {
	p := newWriter(&document.Document{}, 0)
	for in, want := range map[string]string{
		"Δ ° × ₂ ½ ≤ ζ θ ρ ft/s² – “x” ☐ ✓ ✗ ✎ ▸": "Δ ° × ₂ ½ ≤ ζ θ ρ ft/s² – “x” ☐ ✓ ✗ ✎ ▸",
		"町 🚰":      "□ □",
		"ܐ א":      "□ א",
		"e\u0301a": "éa",
		"a\tb\x00": "a b",
		"\xff":     "□",
	} {
		if got := p.clean(in); got != want {
			t.Errorf("%q is set as %q, want %q", in, got, want)
		}
	}
}

// TestHeadsAreRepeated: a table over several pages has its heads on each, in the structure
// once, and every row stands once.
func TestHeadsAreRepeated(t *testing.T) {
	table := document.Table{Columns: []document.Column{{Title: "row"}, {Title: "text"}}}
	for i := range 200 {
		table.Rows = append(table.Rows, document.Row{Cells: []document.Cell{{Text: strconv.Itoa(i)}, {Text: "x"}}})
	}
	p := newWriter(&document.Document{}, 0)
	p.tags.within("Document", "", func() { p.table(table) })
	heads, rows := 0, 0
	for _, h := range p.tags.holders {
		switch h.in.tag {
		case "TH":
			heads++
		case "TD":
			rows++
		}
	}
	if pages := p.pdf.PageCount(); pages < 3 || heads != 2 || rows != 400 {
		t.Errorf("%d pages have %d heads and %d cells, want 2 and 400", pages, heads, rows)
	}
}

// TestLogo: a logo stands in the head of each page, and the file holds it once.
func TestLogo(t *testing.T) {
	var png bytes.Buffer
	if err := (&figure.Figure{Title: "logo", Panels: []figure.Panel{{}}}).PNG(&png); err != nil {
		t.Fatal(err)
	}
	logo, err := document.ReadLogo("logo.png", png.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	var with, without bytes.Buffer
	d := &document.Document{
		Title: "x", Logo: logo,
		Blocks: []document.Block{
			document.Break{},
			document.Paragraph{Text: "a"},
			document.Break{},
			document.Paragraph{Text: "b"},
		},
	}
	if _, err := Write(&with, d); err != nil {
		t.Fatal(err)
	}
	d.Logo = nil
	if _, err := Write(&without, d); err != nil {
		t.Fatal(err)
	}
	if n := bytes.Count(with.Bytes(), []byte("/Subtype /Image")); n != 1 ||
		bytes.Contains(without.Bytes(), []byte("/Subtype /Image")) {
		t.Errorf("the file holds %d pictures", n)
	}
}
