package text

import (
	"fmt"
	"io"
	"strings"

	"seatward/catalog"
	"seatward/standards"
)

// Standards prints which standards apply to a valve, and which do not.
func Standards(w io.Writer, it *catalog.Item, said []standards.Said, opt Options) error {
	p := newPage(opt)
	p.standardsHead(it)
	for _, v := range []standards.Verdict{standards.Applies, standards.InPart, standards.DoesNot, standards.Hangs} {
		told := false
		for _, s := range said {
			if s.Verdict != v {
				continue
			}
			if !told {
				p.heading(sentenceStart(v.String()))
				told = true
			}
			p.standard(&s)
		}
	}
	p.gap()
	p.para("  ", "Scopes are summaries, not quoted; editions are from memory and may have moved on: check the current text before it is quoted.")
	return p.flush(w)
}

func sentenceStart(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

func (p *page) standardsHead(it *catalog.Item) {
	p.heading("Standards for " + it.ID)
	p.para("  ", it.Family.Title+" of "+it.Family.Catalog.Maker+inventedMark(it.Family.Catalog)+
		". The maker declares: "+strings.Join(it.Family.Standards, "; ")+".")
}

func (p *page) standard(s *standards.Said) {
	st := s.Standard
	name := st.ID
	if len(st.Editions) > 0 {
		name += ", latest known edition " + st.Editions[0] + " (from memory)"
	}
	if st.Withdrawn != "" {
		name += ", withdrawn"
	}
	p.put("  " + p.paint(strong, p.fit(name, Width-2)))
	p.para("    ", st.Title+". "+st.Scope)
	switch {
	case s.Verdict == standards.DoesNot && s.Text != "":
		p.item(amber, "    ", "!", "Ask instead: "+s.Text)
	case s.Verdict == standards.InPart:
		p.item(amber, "    ", "!", s.Text)
	case s.Verdict == standards.Hangs:
		p.item(amber, "    ", "?", "It depends on what is not given: "+strings.Join(s.Hangs, ", ")+".")
	}
	p.paraIn(faint, "    ", sentenceEnd(st.Source+" ("+st.Status+")"))
}

// Clause prints what is to be looked at in a specification clause.
func Clause(w io.Writer, it *catalog.Item, flags []standards.Flag, opt Options) error {
	p := newPage(opt)
	p.standardsHead(it)
	p.heading("The clause")
	if len(flags) == 0 {
		p.para("  ", "No standard is named in it.")
	}
	bad := 0
	for _, f := range flags {
		i, mark := amber, "!"
		switch f.Kind {
		case "fits":
			i, mark = plain, "·"
		case "does not fit", "withdrawn", "contradiction":
			i, mark = rust, "✗"
			bad++
		case "hangs", "unknown":
			mark = "?"
		}
		p.item(i, "  ", mark, fmt.Sprintf("line %d, column %d, %s: %s. %s", f.Place.Line, f.Place.Col, f.Found, f.Kind,
			sentence(f.Text)))
	}
	p.gap()
	p.para("  ", fmt.Sprintf("%s against this valve. Scopes are summaries, not quoted; editions from memory: check the current texts. A deviation is declared, not hidden.", plural(bad, "point")))
	return p.flush(w)
}
