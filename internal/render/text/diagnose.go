package text

import (
	"fmt"
	"io"
	"strings"

	"seatward/diagnosis"
	"seatward/internal/site"
)

// fullCauses are shown with all that speaks for and against them, at most, where something
// speaks for them; the rest by a line.
const fullCauses = 6

// Diagnose prints the causes in order and the next test.
func Diagnose(w io.Writer, d *site.Trouble, opt Options) error {
	p := newPage(opt)
	if d.Name != "" {
		p.paraIn(strong, "", d.Name)
		p.para("", Clean(d.ValveWords("give --valve ID")))
	}
	p.noticed(d)
	p.heading("Causes, the most likely first")
	p.paraIn(faint, "  ", diagnosis.NoShares)
	var rest []*diagnosis.Weighed
	for i := range d.Answer.Causes {
		c := &d.Answer.Causes[i]
		if i < fullCauses && len(c.For) > 0 && c.Standing != diagnosis.RuledOut {
			p.gap()
			p.weighed(i+1, c)
		} else {
			rest = append(rest, c)
		}
	}
	p.short(rest)
	p.next(d.Answer.Next)
	p.sourcesOf(d)
	p.fieldCautions()
	return p.flush(w)
}

// noticed repeats what was given.
func (p *page) noticed(d *site.Trouble) {
	p.heading("Noticed and found")
	for _, id := range d.Case.Signs {
		for i := range d.Book.Signs {
			if s := &d.Book.Signs[i]; s.ID == id {
				p.item(plain, "  ", "·", s.Text)
			}
		}
	}
	for i := range d.Book.Tests {
		t := &d.Book.Tests[i]
		if found, ok := d.Case.Found[t.ID]; ok {
			for _, r := range t.Readings {
				if r.ID == found {
					p.item(plain, "  ", "·", t.Title+": "+r.Text)
				}
			}
		}
	}
}

// weighed prints one cause in full.
func (p *page) weighed(n int, c *diagnosis.Weighed) {
	p.paraIn(strong, fmt.Sprintf("%3d. ", n), c.Cause.Title+" ("+string(c.Standing)+")")
	p.para("     ", c.Cause.Text)
	for _, s := range c.For {
		p.item(plain, "     ", "+", s)
	}
	for _, s := range c.Against {
		p.item(plain, "     ", "−", s)
	}
	for _, s := range c.Shows {
		p.item(plain, "     ", "·", "would show: "+s)
	}
	p.paraIn(faint, "     ", "Basis: "+sentenceEnd(c.Cause.Source+" ("+c.Cause.Status+")"))
}

// short prints the causes that are left by a line each, so that none is lost.
func (p *page) short(rest []*diagnosis.Weighed) {
	if len(rest) == 0 {
		return
	}
	p.gap()
	p.para("  ", "Also possible, or spoken against:")
	for _, c := range rest {
		text := c.Cause.Title + " (" + string(c.Standing) + ")"
		if len(c.Against) > 0 {
			text += ": " + c.Against[len(c.Against)-1]
		}
		p.item(plain, "  ", "·", text)
	}
}

// next prints the next test in full and the others by a line.
func (p *page) next(tests []diagnosis.Next) {
	if len(tests) == 0 {
		p.heading("No test is left")
		p.para("  ", diagnosis.NoTest)
		return
	}
	n := tests[0]
	p.heading("Next test: " + n.Test.Title)
	p.paraIn(strong, "  ", "What it takes: "+n.Test.Safety)
	p.para("  ", n.Test.Steps)
	p.gap()
	for _, s := range n.Expects {
		causes := "none of the causes by itself"
		if len(s.Causes) > 0 {
			causes = strings.Join(s.Causes, "; ")
		}
		p.item(plain, "  ", "·", s.Reading.Text+" → "+causes)
		p.paraIn(faint, "      ", "--found "+n.Test.ID+"="+s.Reading.ID)
	}
	if len(tests) == 1 {
		return
	}
	p.gap()
	p.para("  ", "Then, in this order:")
	for _, t := range tests[1:] {
		p.item(plain, "  ", "·", t.Test.Title+" ("+t.Test.Safety+"; "+t.Test.ID+")")
	}
}

// sourcesOf prints what the station's numbers rest on.
func (p *page) sourcesOf(d *site.Trouble) {
	refs := d.References()
	if len(refs) == 0 {
		return
	}
	p.heading("References of the numbers")
	for i, ref := range refs {
		p.para(fmt.Sprintf("%4d  ", i+1), ref)
	}
}

// Signs lists the signs and the tests with their readings.
func Signs(w io.Writer, b *diagnosis.Book, opt Options) error {
	p := newPage(opt)
	for _, group := range []struct{ name, title string }{
		{"seen", "Seen or heard (--seen)"}, {"when", "When in the cycle (--when)"}, {"since", "Since when (--since)"},
	} {
		p.heading(group.title)
		t := &table{indent: "  ", cols: []column{{head: "sign"}, {head: "meaning", gives: true}}}
		for i := range b.Signs {
			if s := &b.Signs[i]; s.Group == group.name {
				t.add(s.ID, s.Text)
			}
		}
		p.table(t)
	}
	p.heading("Tests (--found TEST=READING)")
	for i := range b.Tests {
		x := &b.Tests[i]
		p.gap()
		p.paraIn(strong, "  ", x.ID+": "+x.Title+" ("+x.Safety+")")
		for _, r := range x.Readings {
			p.item(plain, "    ", "·", r.ID+": "+r.Text)
		}
	}
	return p.flush(w)
}
