// Package text prints what a Study holds, and the curves of single valves, for a
// terminal of 80 columns: plain words, aligned columns, no line longer. Color is put
// on only where it is asked for and never carries meaning alone: a mark and a word
// stand beside it. Texts that come from users' files lose their control characters
// here, so that no file can speak to the terminal.
package text

import (
	"io"
	"strings"

	"seatward/quantity"
)

// Width is the greatest number of columns that a line takes.
const Width = 80

// Options say how to print.
type Options struct {
	Units quantity.System
	Color bool // escape codes for terminals that show color
	All   bool // every valve and size in the table, not only the best size of each family
}

// ink is a way to print, for terminals that show it.
type ink string

const (
	plain  ink = ""
	strong ink = "1"    // names and numbers that are looked for
	faint  ink = "2"    // reasons and sources
	water  ink = "36"   // headings
	amber  ink = "33"   // conditions and what was not checked
	rust   ink = "1;31" // what rejects
)

// page collects lines.
type page struct {
	out  strings.Builder
	opt  Options
	gaps int // blank lines at the end
}

func newPage(opt Options) page { return page{opt: opt} }

// flush writes the page in one piece.
func (p *page) flush(w io.Writer) error {
	_, err := io.WriteString(w, p.out.String())
	return err
}

// paint wraps a text in the escape codes of the ink.
func (p *page) paint(i ink, text string) string {
	if i == plain || !p.opt.Color || text == "" {
		return text
	}
	return "\x1b[" + string(i) + "m" + text + "\x1b[0m"
}

// put writes one finished line.
func (p *page) put(line string) {
	p.out.WriteString(strings.TrimRight(line, " ") + "\n")
	p.gaps = 0
}

// gap leaves one blank line, and no second one.
func (p *page) gap() {
	if p.out.Len() > 0 && p.gaps == 0 {
		p.out.WriteString("\n")
		p.gaps = 1
	}
}

// heading starts a section with its name and a rule to the page's edge.
func (p *page) heading(text string) {
	p.gap()
	rule := strings.Repeat("─", max(Width-width(text)-1, 0))
	p.put(p.paint(water, text) + " " + p.paint(faint, rule))
}

// para prints a text behind a lead, in lines that fit; the lines after the first are
// indented as far as the lead is wide.
func (p *page) para(lead, text string) { p.paraIn(plain, lead, text) }

// paraIn is para in an ink.
func (p *page) paraIn(i ink, lead, text string) {
	indent := strings.Repeat(" ", width(lead))
	for n, l := range Wrap(text, Width-width(lead)) {
		if n > 0 {
			lead = indent
		}
		p.put(lead + p.paint(i, l))
	}
}

// item prints a text behind a mark in an ink.
func (p *page) item(i ink, indent, mark, text string) {
	lead := indent + mark + " "
	hang := strings.Repeat(" ", width(lead))
	for n, l := range Wrap(text, Width-width(lead)) {
		if n > 0 {
			p.put(hang + l)
		} else {
			p.put(indent + p.paint(i, mark) + " " + l)
		}
	}
}
