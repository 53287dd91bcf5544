package docx

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"os"
	"path"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"seatward/internal/document"
	"seatward/internal/render/sample"
)

// fataler is what tests and properties have in common.
type fataler interface {
	Helper()
	Fatal(args ...any)
	Fatalf(format string, args ...any)
}

func made(t fataler, d *document.Document) []byte {
	t.Helper()
	var a, b bytes.Buffer
	if err := errors.Join(Write(&a, d), Write(&b, d)); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Fatal("the same document gives other bytes")
	}
	return a.Bytes()
}

func unzipped(t fataler, data []byte) map[string]string {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	parts := map[string]string{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		if _, twice := parts[f.Name]; twice {
			t.Fatalf("%s stands twice in the package", f.Name)
		}
		parts[f.Name] = string(text)
	}
	return parts
}

// element is an element of a part with its attributes by local name.
type element struct {
	name string
	at   map[string]string
	text string // directly in it
}

// elements walks a part in order; it fails where it is not well formed.
func elements(t fataler, text string) []element {
	t.Helper()
	d, all, open := xml.NewDecoder(strings.NewReader(text)), []element(nil), []int(nil)
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return all
		}
		if err != nil {
			t.Fatalf("%v in %.300q", err, text)
		}
		switch v := token.(type) {
		case xml.StartElement:
			e := element{name: v.Name.Local, at: map[string]string{}}
			for _, a := range v.Attr {
				e.at[a.Name.Local] = a.Value
			}
			open = append(open, len(all))
			all = append(all, e)
		case xml.EndElement:
			open = open[:len(open)-1]
			all = append(all, element{name: "/" + v.Name.Local})
		case xml.CharData:
			if len(open) > 0 {
				all[open[len(open)-1]].text += string(v)
			}
		}
	}
}

// sound reads a package back: every part is well formed and has a type, every link has
// its target, every style, number and bookmark that is named is there, ids are unique.
func sound(t fataler, data []byte) map[string]string {
	t.Helper()
	parts := unzipped(t, data)
	styles, numbers, marks := map[string]bool{}, map[string]bool{"0": true}, map[string]bool{} // 0 takes a number away
	for _, e := range elements(t, parts["word/styles.xml"]) {
		if e.name == "style" {
			styles[e.at["styleId"]] = true
		}
	}
	for _, e := range elements(t, parts["word/numbering.xml"]) {
		if e.name == "num" {
			numbers[e.at["numId"]] = true
		}
	}
	for _, e := range elements(t, parts["word/document.xml"]) {
		if e.name == "bookmarkStart" {
			marks[e.at["name"]] = true
		}
	}
	pictures := map[string]bool{}
	for name, text := range parts {
		if !strings.HasSuffix(name, ".xml") && !strings.HasSuffix(name, ".rels") {
			continue
		}
		if strings.HasSuffix(name, ".xml") && !strings.Contains(parts["[Content_Types].xml"], `"/`+name+`"`) &&
			name != "[Content_Types].xml" {
			t.Fatalf("%s has no content type", name)
		}
		links := map[string]bool{}
		for _, e := range elements(t, parts[path.Dir(name)+"/_rels/"+path.Base(name)+".rels"]) {
			if e.name == "Relationship" {
				links[e.at["Id"]] = true
			}
		}
		for _, e := range elements(t, text) {
			switch e.name {
			case "Relationship":
				base := path.Dir(path.Dir(name))
				if _, there := parts[path.Join(base, e.at["Target"])]; !there {
					t.Fatalf("%s links to %s, which is not there", name, e.at["Target"])
				}
			case "pStyle", "rStyle", "basedOn", "next":
				if !styles[e.at["val"]] {
					t.Fatalf("%s names the style %q, which is not there", name, e.at["val"])
				}
			case "numId":
				if !numbers[e.at["val"]] {
					t.Fatalf("number %q is not there", e.at["val"])
				}
			case "hyperlink":
				if !marks[e.at["anchor"]] {
					t.Fatalf("bookmark %q is not there", e.at["anchor"])
				}
			case "blip", "svgBlip", "headerReference", "footerReference":
				id := e.at["embed"] + e.at["id"]
				if !links[id] {
					t.Fatalf("%s names the link %q, which is not there", name, id)
				}
			case "docPr":
				if pictures[e.at["id"]] {
					t.Fatalf("picture id %s stands twice", e.at["id"])
				}
				pictures[e.at["id"]] = true
			}
		}
	}
	return parts
}

// outline is the text of the paragraphs with their styles and, for numbered ones, their
// count: what a reader sees of the structure.
func outline(t fataler, text string) string {
	t.Helper()
	var b strings.Builder
	for _, e := range elements(t, text) {
		switch e.name {
		case "tbl", "tr":
			fmt.Fprintf(&b, "\n<%s>", e.name)
		case "/tbl":
			b.WriteString("\n</tbl>")
		case "tblHeader", "cantSplit":
			b.WriteString(" " + e.name)
		case "pStyle":
			b.WriteString("\n" + e.at["val"] + " | ")
		case "ind":
			b.WriteString("[" + e.at["left"] + "] ")
		case "pageBreakBefore":
			b.WriteString("<new page>")
		case "numId":
			b.WriteString("(" + e.at["val"] + ") ")
		case "rStyle":
			b.WriteString("{" + e.at["val"] + "}")
		case "br":
			b.WriteString("⏎")
		case "tab":
			b.WriteString("⇥")
		case "t":
			b.WriteString(e.text)
		case "instrText":
			b.WriteString("«" + e.text + "»")
		case "svgBlip", "drawing":
			b.WriteString("<" + e.name + ">")
		}
	}
	return regexp.MustCompile(`(?m)[ \t]+$`).ReplaceAllString(strings.TrimPrefix(b.String(), "\n"), "") + "\n"
}

func TestFull(t *testing.T) {
	parts := sound(t, made(t, sample.Full()))
	got := outline(t, parts["word/document.xml"])
	const golden = "testdata/full.txt"
	if os.Getenv("SEATWARD_UPDATE") != "" {
		if err := errors.Join(os.MkdirAll("testdata", 0o755), os.WriteFile(golden, []byte(got), 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("-golden +now\n%s", diff)
	}
	if strings.Contains(parts["word/settings.xml"], "updateFields") {
		t.Error("Word would ask whoever opens the file")
	}
}

// Numbers of clauses as a reader of numbering.xml counts them, by a way of its own.
func automatic(t fataler, parts map[string]string) []string {
	t.Helper()
	type level struct{ start, format, text string }
	levels, abstract := map[string][]level{}, ""
	for _, e := range elements(t, parts["word/numbering.xml"]) {
		if n := len(levels[abstract]) - 1; true {
			switch e.name {
			case "abstractNum":
				abstract = e.at["abstractNumId"]
			case "lvl":
				levels[abstract] = append(levels[abstract], level{})
			case "start":
				levels[abstract][n].start = e.at["val"]
			case "numFmt":
				levels[abstract][n].format = e.at["val"]
			case "lvlText":
				levels[abstract][n].text = e.at["val"]
			}
		}
	}
	letter := func(format string, n int) string {
		s := fmt.Sprint(n)
		if format != "decimal" {
			s = ""
			for i := 0; i <= (n-1)/26; i++ {
				s += string("ABCDEFGHIJKLMNOPQRSTUVWXYZ"[(n-1)%26])
			}
		}
		if format == "lowerLetter" {
			s = strings.ToLower(s)
		}
		return s
	}
	counts, all, style, ilvl := map[string][]int{}, []string(nil), "", 0
	for _, e := range elements(t, parts["word/document.xml"]) {
		switch e.name {
		case "pStyle":
			style = e.at["val"]
		case "ilvl":
			fmt.Sscan(e.at["val"], &ilvl)
		case "numId":
			if !strings.HasPrefix(style, "Clause") || e.at["val"] == "0" {
				continue
			}
			def, c := levels[e.at["val"]], counts[e.at["val"]] // numId and abstractNumId are the same here
			starts := make([]int, len(def))
			for i, l := range def {
				fmt.Sscan(l.start, &starts[i])
			}
			for len(c) <= ilvl {
				c = append(c, starts[len(c)]-map[bool]int{true: 1}[len(c) == ilvl])
			}
			c = c[:ilvl+1]
			c[ilvl]++
			counts[e.at["val"]] = c
			text := def[ilvl].text
			for i := range c {
				text = strings.ReplaceAll(text, fmt.Sprintf("%%%d", i+1), letter(def[i].format, c[i]))
			}
			all = append(all, text)
		}
	}
	return all
}

func TestClauseNumbers(t *testing.T) {
	d := &document.Document{Title: "Section", Blocks: sample.Clauses()}
	data := made(t, d)
	var want []string
	for _, b := range d.Blocks {
		if c := b.(document.Clause); c.Number != "Annex" {
			want = append(want, c.Number)
		}
	}
	parts := sound(t, data)
	if diff := cmp.Diff(want, automatic(t, parts)); diff != "" {
		t.Errorf("-author +numbering\n%s", diff)
	}
	if n := strings.Count(parts["word/numbering.xml"], "<w:num "); n != 4 {
		t.Errorf("%d counts: one for the first run, one for each number that is not the next, 4 wanted", n)
	}
	if got := outline(t, parts["word/document.xml"]); strings.Contains(got, "PART 1") ||
		!strings.Contains(got, "Annex⇥A number") {
		t.Errorf("a number of the numbering must not stand in the text as well, and another must:\n%s", got)
	}
}

// What a Word file cannot hold is reported, and nothing is written.
func TestBad(t *testing.T) {
	for _, tt := range []struct {
		b    document.Block
		want string
	}{
		{document.Heading{Level: 4, Text: "x"}, "1, 2 or 3 expected"},
		{document.Clause{Level: 5, Number: "i."}, "0 to 4 expected"},
		{document.Space{Title: "x"}, "mm expected"},
		{document.Figure{Caption: "x"}, "no drawing"},
		{document.Table{Columns: make([]document.Column, 64)}, "at most 63"},
		{document.Table{Rows: []document.Row{{Cells: make([]document.Cell, 1)}}}, "1 cells and the table 0 columns"},
		{document.Code{Text: strings.Repeat("x", 3000)}, "shorten it"},
	} {
		var out bytes.Buffer
		err := Write(&out, &document.Document{Title: "t", Blocks: []document.Block{tt.b}})
		if err == nil || !strings.Contains(err.Error(), tt.want) || out.Len() > 0 {
			t.Errorf("%T: error %v and %d bytes, want %q and none", tt.b, err, out.Len(), tt.want)
		}
	}
}

// A logo, A4, large type and no date.
func TestFrame(t *testing.T) {
	d := sample.Full()
	d.Paper, d.Large, d.Date, d.Blocks = document.A4, true, "March 2026", d.Blocks[:4]
	d.Logo = &document.Picture{Format: "png", Data: []byte("\x89PNG"), Width: 300, Height: 100}
	parts := sound(t, made(t, d))
	for name, want := range map[string]string{
		"word/document.xml": `w:w="11906" w:h="16838"`, "word/styles.xml": `<w:sz w:val="27"/>`,
		"word/header2.xml": "Marram Ness", "docProps/custom.xml": d.Hash, "word/footer1.xml": "NUMPAGES",
		"word/media/logo.png": "PNG",
	} {
		if !strings.Contains(parts[name], want) {
			t.Errorf("%s does not hold %q", name, want)
		}
	}
	if strings.Contains(parts["docProps/core.xml"], "created") {
		t.Error("a date that is none stands in the properties")
	}
}

// A break begins one page, however many there are, and none at the end.
func TestBreak(t *testing.T) {
	text := document.Paragraph{Text: "x"}
	head := document.Heading{Level: 1, Text: "x"}
	for _, tt := range []struct {
		blocks []document.Block
		want   int
	}{
		{[]document.Block{text, document.Break{}}, 0},
		{[]document.Block{text, document.Break{}, document.Break{}, text, text}, 1},
		{[]document.Block{text, document.Break{}, head, document.Break{}, text}, 2},
	} {
		main := sound(t, made(t, &document.Document{Title: "t", Blocks: tt.blocks}))["word/document.xml"]
		if n := strings.Count(main, "pageBreakBefore"); n != tt.want {
			t.Errorf("%T: %d new pages, want %d", tt.blocks, n, tt.want)
		}
	}
}

// A table has a gap after it, which a file needs at its end, but none before a new page,
// where it could fill a page of its own.
func TestGapAfterTable(t *testing.T) {
	table := document.Table{Columns: []document.Column{{Title: "x"}}}
	for _, tt := range []struct {
		blocks []document.Block
		want   int
	}{
		{[]document.Block{table}, 1},
		{[]document.Block{table, document.Break{}}, 1},
		{[]document.Block{table, document.Space{HeightMM: 9}}, 2},
		{[]document.Block{table, document.Break{}, document.Heading{Level: 1}}, 0},
	} {
		main := sound(t, made(t, &document.Document{Title: "t", Blocks: tt.blocks}))["word/document.xml"]
		if n := strings.Count(main, `"AfterTable"`); n != tt.want {
			t.Errorf("%T: %d gaps, want %d", tt.blocks, n, tt.want)
		}
	}
}

// Words of the frame stand as the paper has them, with fields for its numbers.
func TestWords(t *testing.T) {
	d := &document.Document{
		Title: "t", Number: "7",
		Words: document.Words{
			Page: "Seite {n} von {total}", Foot: "Nr. {number}, Stand {revision}",
			Contents: "Inhalt",
		}, Blocks: []document.Block{document.Contents{}},
	}
	parts := sound(t, made(t, d))
	foot := outline(t, parts["word/footer1.xml"])
	for _, want := range []string{"Seite « PAGE »1 von « NUMPAGES »1", "Nr. 7, Stand ____"} {
		if !strings.Contains(foot, want) {
			t.Errorf("%q is not in %q", want, foot)
		}
	}
	if main := outline(t, parts["word/document.xml"]); !strings.Contains(main, "TOCHeading | Inhalt") {
		t.Error(main)
	}
}
