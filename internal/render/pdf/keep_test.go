package pdf

import (
	"fmt"
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"

	"seatward/internal/document"
)

// anyTable is a table of words and numbers.
func anyTable(t *rapid.T, rows int) document.Table {
	var table document.Table
	columns := rapid.IntRange(1, 9).Draw(t, "columns")
	for i := range columns {
		table.Columns = append(table.Columns, document.Column{
			Title: rapid.SampledFrom([]string{"measured", "Head rise", "Event", "Reverse velocity", ""}).Draw(t, "title"),
			Right: i%2 == 1,
		})
	}
	for range rows {
		var r document.Row
		for range columns {
			r.Cells = append(r.Cells, document.Cell{
				Text: rapid.SampledFrom([]string{
					"7.23", "1046 ft", "0.24 to 0.51 ft/s", "one of two pumps trips, the other keeps running",
					"swing-assisted-spring/6in", "✗ vapor", "–", "ASME B16.10 Class 125",
				}).Draw(t, "text"), Blank: rapid.IntRange(0, 9).Draw(t, "blank") == 0,
			})
		}
		table.Rows = append(table.Rows, r)
	}
	return table
}

// TestNoNumberIsBroken: whatever a table holds, its columns go over the page together, and no
// line of a cell ends in a number or a word, or between a number and its unit.
func TestNoNumberIsBroken(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := newWriter(&document.Document{Paper: document.Paper(rapid.IntRange(0, 1).Draw(t, "paper"))}, 0)
		for _, g := range p.grids(anyTable(t, rapid.IntRange(1, 6).Draw(t, "rows"))) {
			wide := 0.0
			for _, w := range g.wide {
				wide += w
			}
			if full := p.width - 2*marginX; wide > full+1e-6 || wide < full-1e-6 {
				t.Fatalf("the columns are %.1f mm wide, the page %.1f", wide, full)
			}
			for _, r := range g.t.Rows {
				lines, _ := g.lay(r)
				for i, cell := range lines {
					whole(t, r.Cells[i].Text, cell)
				}
			}
		}
	})
}

// whole: each line ends where a word of the text does, or behind a mark in it.
func whole(t *rapid.T, text string, lines []string) {
	for i, l := range lines[:max(0, len(lines)-1)] {
		last, next := []rune(l)[len([]rune(l))-1], []rune(lines[i+1])[0]
		joined := strings.Contains(text, string(last)+string(next)) && !strings.Contains(text, l+" ")
		parted := unicode.IsDigit(last) && isUnit(strings.Fields(lines[i+1])[0])
		if joined && !strings.ContainsRune(marks, last) || parted {
			t.Fatalf("%q is set as %q", text, lines)
		}
	}
}

// TestHeadingsKeepWhatTheyHead: behind each heading, something stands on the same page.
func TestHeadingsKeepWhatTheyHead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := &document.Document{Title: "x"}
		for i := range rapid.IntRange(5, 60).Draw(t, "blocks") {
			switch rapid.IntRange(0, 5).Draw(t, "kind") {
			case 0, 1:
				level := rapid.IntRange(1, 3).Draw(t, "level")
				d.Blocks = append(d.Blocks, document.Heading{Level: level, Text: fmt.Sprint("H", i)})
			case 2:
				long := rapid.IntRange(1, 90).Draw(t, "long")
				d.Blocks = append(d.Blocks, document.Paragraph{Text: strings.Repeat("some words ", long)})
			case 3:
				d.Blocks = append(d.Blocks, anyTable(t, rapid.IntRange(1, 12).Draw(t, "rows")))
			case 4:
				d.Blocks = append(d.Blocks, document.List{Items: []string{"one", "two", "three"}})
			default:
				high := rapid.Float64Range(10, 120).Draw(t, "high")
				d.Blocks = append(d.Blocks, document.Space{Title: "seal", HeightMM: high})
			}
		}
		d.Blocks = append(d.Blocks, document.Paragraph{Text: "the end"})
		p, err := set(d, 0)
		if err != nil {
			t.Fatal(err)
		}
		for i, h := range p.tags.holders[:len(p.tags.holders)-1] {
			next := p.tags.holders[i+1]
			if strings.HasPrefix(h.in.tag, "H") && h.in.tag != "H1" && next.page != h.page {
				t.Fatalf("%s stands on page %d, what follows, a %s, on page %d", h.in.tag, h.page, next.in.tag,
					next.page)
			}
		}
	})
}
