package docx

import (
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
