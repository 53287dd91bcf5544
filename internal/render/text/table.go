package text

import "strings"

// column is one column of a table.
type column struct {
	head  string // may hold a line break: name and unit
	right bool   // numbers
	gives bool   // this column is narrowed, and its cells wrapped, where the page is too narrow
}

// leastColumn is how narrow a column that gives may become.
const leastColumn = 12

// table prints rows under their heads, each column as wide as its widest cell.
type table struct {
	indent string
	cols   []column
	rows   []row
}

// row is one row; ink is that of its first cell.
type row struct {
	cells []string
	ink   ink
	title bool // one cell that runs over all columns
}

func (t *table) add(cells ...string) { t.rows = append(t.rows, row{cells: cells}) }

// group starts a group of rows with a line of its own.
func (t *table) group(i ink, title string) {
	t.rows = append(t.rows, row{cells: []string{title}, ink: i, title: true})
}

// print lays the table out. Gaps of two columns shrink to one, then the widest column
// that gives is narrowed, then the widest of all.
func (p *page) table(t *table) {
	widths := t.widths()
	gap := 2
	total := func() int {
		sum := width(t.indent) + gap*(len(t.cols)-1)
		for _, w := range widths {
			sum += w
		}
		return sum
	}
	if total() > Width {
		gap = 1
	}
	for total() > Width {
		widths[t.widest(widths)]--
	}
	t.head(p, widths, gap)
	for _, r := range t.rows {
		if r.title {
			for _, l := range Wrap(r.cells[0], Width-width(t.indent)) {
				p.put(t.indent + p.paint(r.ink, l))
			}
			continue
		}
		t.line(p, widths, gap, r)
	}
}

// widest is the column to narrow next.
func (t *table) widest(widths []int) int {
	widest := 0
	for _, gives := range []bool{false, true} {
		for i, w := range widths {
			if gives && t.cols[i].gives && w > leastColumn && (!t.cols[widest].gives || w > widths[widest]) || !gives &&
				w > widths[widest] {
				widest = i
			}
		}
	}
	return widest
}

func (t *table) widths() []int {
	widths := make([]int, len(t.cols))
	for i, c := range t.cols {
		for _, h := range strings.Split(c.head, "\n") {
			widths[i] = max(widths[i], width(h))
		}
		for _, r := range t.rows {
			if !r.title {
				widths[i] = max(widths[i], width(Clean(r.cells[i])))
			}
		}
	}
	return widths
}

// head prints the heads, from the top line down.
func (t *table) head(p *page, widths []int, gap int) {
	deepest := 0
	heads := make([][]string, len(t.cols))
	for i, c := range t.cols {
		if c.head == "" {
			continue
		}
		for _, l := range strings.Split(c.head, "\n") {
			heads[i] = append(heads[i], Wrap(l, widths[i])...)
		}
		deepest = max(deepest, len(heads[i]))
	}
	for n := range deepest {
		parts := make([]string, len(t.cols))
		for i, c := range t.cols {
			text := ""
			if n < len(heads[i]) {
				text = heads[i][n]
			}
			parts[i] = p.paint(faint, align(text, widths[i], c.right))
		}
		p.put(t.indent + strings.Join(parts, strings.Repeat(" ", gap)))
	}
}

func (t *table) line(p *page, widths []int, gap int, r row) {
	cells := make([][]string, len(t.cols))
	lines := 1
	for i := range t.cols {
		cells[i] = wrapCell(r.cells[i], widths[i])
		lines = max(lines, len(cells[i]))
	}
	for n := range lines {
		parts := make([]string, len(t.cols))
		for i, c := range t.cols {
			text := ""
			if n < len(cells[i]) {
				text = cells[i][n]
			}
			parts[i] = align(text, widths[i], c.right)
			if i == 0 {
				parts[i] = p.paint(r.ink, parts[i])
			}
		}
		p.put(t.indent + strings.Join(parts, strings.Repeat(" ", gap)))
	}
}

// wrapCell is Wrap that keeps the blanks at a cell's start.
func wrapCell(text string, n int) []string {
	text = Clean(text)
	if width(text) <= n {
		return []string{text}
	}
	lead := text[:len(text)-len(strings.TrimLeft(text, " "))]
	var lines []string
	for _, l := range Wrap(text, n-width(lead)) {
		lines = append(lines, lead+l)
	}
	return lines
}

func align(s string, n int, right bool) string {
	if right {
		return padLeft(s, n)
	}
	return pad(s, n)
}
