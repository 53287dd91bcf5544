// Package text prints a Study for a terminal of 80 columns: plain words, aligned
// columns, no line longer, color only where it is asked for and never needed.
package text

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// Width is the greatest number of columns that a line takes.
const Width = 80

// page collects lines.
type page struct {
	out  strings.Builder
	bold bool // headings in bold, for terminals that show it
}

// flush writes the page.
func (p *page) flush(w io.Writer) error {
	_, err := io.WriteString(w, p.out.String())
	return err
}

func (p *page) line(format string, args ...any) {
	p.out.WriteString(strings.TrimRight(fmt.Sprintf(format, args...), " ") + "\n")
}

// heading starts a section.
func (p *page) heading(text string) {
	if p.out.Len() > 0 {
		p.out.WriteString("\n")
	}
	text = strings.ToUpper(text)
	if p.bold {
		text = "\x1b[1m" + text + "\x1b[0m"
	}
	p.line("%s", text)
}

// para prints a text in lines that fit, the first after the lead, the others
// indented as far.
func (p *page) para(lead, text string) {
	indent := strings.Repeat(" ", width(lead))
	for i, l := range wrap(text, Width-width(lead)) {
		if i == 0 {
			p.line("%s%s", lead, l)
		} else {
			p.line("%s%s", indent, l)
		}
	}
}

// wrap breaks a text into lines of at most n columns, at blanks; a longer word is
// cut.
func wrap(text string, n int) []string {
	n = max(n, 8)
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		for width(word) > n {
			if line != "" {
				lines = append(lines, line)
				line = ""
			}
			cut := []rune(word)
			lines = append(lines, string(cut[:n]))
			word = string(cut[n:])
		}
		switch {
		case line == "":
			line = word
		case width(line)+1+width(word) <= n:
			line += " " + word
		default:
			lines = append(lines, line)
			line = word
		}
	}
	if line != "" || len(lines) == 0 {
		lines = append(lines, line)
	}
	return lines
}

// width counts columns: every character that the reports print takes one.
func width(s string) int { return utf8.RuneCountInString(s) }

// column is one column of a table.
type column struct {
	head  string
	right bool // numbers
}

// table prints rows under their heads, each column as wide as its widest cell. The
// first column gives way where the table would pass the page.
func (p *page) table(indent string, cols []column, rows [][]string) {
	widths := make([]int, len(cols))
	for i, c := range cols {
		widths[i] = width(c.head)
		for _, r := range rows {
			widths[i] = max(widths[i], width(r[i]))
		}
	}
	total := width(indent) + 2*(len(cols)-1)
	for _, w := range widths {
		total += w
	}
	if over := total - Width; over > 0 {
		widths[0] = max(widths[0]-over, 8)
	}
	heads := make([]string, len(cols))
	for i, c := range cols {
		heads[i] = c.head
	}
	p.row(indent, cols, widths, heads)
	for _, r := range rows {
		p.row(indent, cols, widths, r)
	}
}

func (p *page) row(indent string, cols []column, widths []int, cells []string) {
	parts := make([]string, len(cols))
	for i, c := range cols {
		cell := cells[i]
		if width(cell) > widths[i] {
			cell = string([]rune(cell)[:widths[i]-1]) + "…"
		}
		pad := strings.Repeat(" ", widths[i]-width(cell))
		if c.right {
			parts[i] = pad + cell
		} else {
			parts[i] = cell + pad
		}
	}
	p.line("%s%s", indent, strings.Join(parts, "  "))
}

// Wrapped prints lines, those that are too long broken with their indentation kept.
func Wrapped(w io.Writer, lines string) error {
	p := &page{}
	for _, l := range strings.Split(strings.TrimRight(lines, "\n"), "\n") {
		trimmed := strings.TrimLeft(l, " ")
		indent := l[:len(l)-len(trimmed)]
		for i, part := range wrap(trimmed, Width-width(indent)-4) {
			if i > 0 {
				part = "    " + part
			}
			p.line("%s%s", indent, part)
		}
	}
	return p.flush(w)
}
