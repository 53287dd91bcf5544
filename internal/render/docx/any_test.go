package docx

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatward/internal/document"
	"seatward/internal/render/sample"
	"seatward/internal/render/wording"
)

// Any document gives a sound package that shows every text, and so every number, of it.
func TestAnyDocument(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := sample.Random(t)
		holds(t, sound(t, made(t, d)), d)
	})
}

// holds holds the main part against the blocks of its document.
func holds(t fataler, parts map[string]string, d *document.Document) {
	t.Helper()
	shown, at := plain(t, parts["word/document.xml"]), 0
	for _, want := range texts(d) {
		i := strings.Index(shown[at:], want)
		if i < 0 {
			t.Fatalf("%q is not next in %.300q", want, shown[at:])
		}
		at += i + len(want)
	}
}

// texts are what the blocks of a document say, in order and as XML can hold it.
func texts(d *document.Document) []string {
	var all []string
	add := func(s ...string) {
		for _, s := range s {
			all = append(all, strings.TrimRight(wording.Clean(s), " "))
		}
	}
	for _, b := range d.Blocks {
		switch b := b.(type) {
		case document.Heading:
			add(b.Text)
		case document.Paragraph:
			add(b.Label, b.Text)
		case document.List:
			add(b.Items...)
		case document.Clause:
			add(b.Text)
		case document.Listing:
			for _, l := range b.Lines {
				add(strings.TrimLeft(l, " "))
			}
		case document.Figure:
			add(b.Caption)
		case document.Code:
			add(b.Caption, b.Text)
		case document.Space:
			add(append([]string{b.Title}, b.Lines...)...)
		case document.Table:
			add(tableTexts(b)...)
		}
	}
	return all
}

func tableTexts(t document.Table) []string {
	all := []string{t.Caption}
	for _, c := range t.Columns {
		if !t.Form {
			all = append(all, c.Title, c.Unit)
		}
	}
	if len(t.Columns) == 0 {
		return all
	}
	for _, r := range t.Rows {
		for _, c := range r.Cells {
			all = append(all, c.Text)
		}
	}
	return all
}

// plain is the text of a part without its structure.
func plain(t fataler, text string) string {
	t.Helper()
	var b strings.Builder
	for _, e := range elements(t, text) {
		switch e.name {
		case "br":
			b.WriteByte('\n')
		case "tab":
			b.WriteByte('\t')
		case "t":
			b.WriteString(e.text)
		}
	}
	return b.String()
}

// Whatever numbers the clauses have, in whatever order, the file shows them: by its
// numbering, or as text where they are none.
func TestAnyClauses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := &document.Document{Title: "t"}
		few := rapid.IntRange(1, 3)
		for range rapid.IntRange(0, 30).Draw(t, "clauses") {
			c := document.Clause{Level: rapid.IntRange(0, 4).Draw(t, "level"), Text: "text"}
			n := few.Draw(t, "n")
			c.Number = [...]string{
				fmt.Sprintf("PART %d", n), fmt.Sprintf("%d.%d", few.Draw(t, "part"), n),
				string("?ABC"[n]) + ".", fmt.Sprintf("%d.", n), string("?abc"[n]) + ".",
			}[c.Level]
			if rapid.IntRange(0, 9).Draw(t, "odd") == 0 {
				c.Number = "Annex"
			}
			d.Blocks = append(d.Blocks, c)
		}
		parts := sound(t, made(t, d))
		counted, texts := automatic(t, parts), strings.Count(outline(t, parts["word/document.xml"]), "Annex⇥")
		for _, b := range d.Blocks {
			switch number := b.(document.Clause).Number; {
			case number == "Annex":
				texts--
			case len(counted) == 0 || counted[0] != number:
				t.Fatalf("%q is not next in %q", number, counted)
			default:
				counted = counted[1:]
			}
		}
		if len(counted) > 0 || texts != 0 {
			t.Fatalf("%q and %d texts too many", counted, texts)
		}
	})
}

// A part after an article that began a count begins one of its own: programs differ in
// how they count parts that were never there.
func TestPartAfterArticle(t *testing.T) {
	d := &document.Document{Title: "t"}
	for i, number := range []string{"2.4", "A.", "2.5", "PART 3", "3.1"} {
		d.Blocks = append(d.Blocks, document.Clause{Level: [...]int{1, 2, 1, 0, 1}[i], Number: number, Text: "text"})
	}
	numbers := sound(t, made(t, d))["word/numbering.xml"]
	if n := strings.Count(numbers, "<w:num "); n != 2 || !strings.Contains(numbers, `w:lvlText w:val="2.%2"`) {
		t.Errorf("%d counts, 2 wanted, the first with its part as text: %s", n, numbers)
	}
}
