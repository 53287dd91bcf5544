package text

import (
	"fmt"
	"io"
	"strings"

	"seatward/basis"
	"seatward/diagnosis"
	"seatward/internal/site"
	"seatward/judge"
)

// Diagnosis is a trouble with its answer and what it rests on.
type Diagnosis struct {
	Book     *diagnosis.Book
	Case     *diagnosis.Case
	Answer   diagnosis.Answer
	Name     string            // of the station; "" without one
	Existing string            // what its file says of the valve
	Valve    *judge.Assessment // of the present valve; nil where it is not known
	Guessed  bool              // it was found by the file's words
	NoFlow   bool              // no pump delivers
	Facts    *site.Facts       // nil without a station
}

// References are the sources of the station's numbers.
func (d *Diagnosis) References() []string {
	if d.Facts == nil {
		return nil
	}
	var values []basis.Value
	for _, f := range d.Facts.Numbers {
		values = append(values, f.Value)
	}
	return basis.References(values...)
}

// fullCauses are shown with all that speaks for and against them, at most, where something
// speaks for them; the rest by a line.
const fullCauses = 6

// Diagnose prints the causes in order and the next test.
func Diagnose(w io.Writer, d *Diagnosis, opt Options) error {
	p := newPage(opt)
	if d.Name != "" {
		p.paraIn(strong, "", d.Name)
		p.para("", d.valveWords())
	}
	d.noticed(&p)
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

// valveWords say which valve the numbers are of.
func (d *Diagnosis) valveWords() string {
	switch {
	case d.NoFlow:
		return "No pump of the station file delivers: check curve and levels. The numbers of the valve are left out."
	case d.Valve == nil && d.Existing == "":
		return "The station file does not say which valve is there now (valve: existing), and no --valve is given: its slam, velocities and minimum back head to seal are left out."
	case d.Valve == nil:
		return fmt.Sprintf("The valve there now, %q, is like none of the catalog in this size: give --valve ID to have its numbers.", Clean(d.Existing))
	case d.Guessed:
		return fmt.Sprintf("Present valve: %q, computed as %s; --valve ID names another.", Clean(d.Existing), d.Valve.Item.ID)
	}
	return "Present valve: " + d.Valve.Item.ID + "."
}

// noticed repeats what was given.
func (d *Diagnosis) noticed(p *page) {
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
		p.para("  ", "No test of the list tells the causes that are left apart. A pressure record of a stop and a person who knows the station come next.")
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
func (p *page) sourcesOf(d *Diagnosis) {
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
