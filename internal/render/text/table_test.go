package text

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatward/quantity"
)

// TestTableFits: whatever the cells, no line passes the page, every row starts where
// the others do, and no cell's letters are lost.
func TestTableFits(t *testing.T) {
	cell := rapid.StringMatching(`[a-z0-9./ -]{0,60}`)
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 7).Draw(t, "columns")
		table := &table{indent: "  "}
		for range n {
			table.cols = append(table.cols, column{
				head: rapid.SampledFrom([]string{
					"", "loss\nft",
					"what happens",
				}).Draw(t, "head"), right: rapid.Bool().Draw(t, "right"),
				gives: rapid.Bool().Draw(t, "gives"),
			})
		}
		letters := ""
		for range rapid.IntRange(0, 4).Draw(t, "rows") {
			row := make([]string, n)
			for i := range row {
				row[i] = cell.Draw(t, "cell")
				letters += row[i]
			}
			table.add(row...)
		}
		p := newPage(Options{})
		p.table(table)
		out := p.out.String()
		for _, l := range strings.Split(out, "\n") {
			if width(l) > Width {
				t.Fatalf("%d columns: %q", width(l), l)
			}
		}
		if got, want := strings.Count(out, "z"), strings.Count(letters, "z"); got < want {
			t.Fatalf("%d letters z, want %d", got, want)
		}
	})
}

// TestTable: numbers stand under each other, at the right.
func TestTable(t *testing.T) {
	p := newPage(Options{Units: quantity.US})
	tab := &table{indent: "  ", cols: []column{{head: "point"}, {head: p.head("flow", quantity.Flow), right: true}}}
	tab.add("1 pump", "587")
	tab.group(plain, "the rest")
	tab.add("2 pumps together", "1200")
	p.table(tab)
	want := `  point             flow
                     gpm
  1 pump             587
  the rest
  2 pumps together  1200
`
	if got := p.out.String(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}
