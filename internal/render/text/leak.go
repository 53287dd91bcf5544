package text

import (
	"fmt"
	"io"

	"seatward/internal/site"
)

// Leak prints what a test of the wet well says.
func Leak(w io.Writer, l *site.Leak, opt Options) error {
	p := newPage(opt)
	a := l.Answer
	p.heading("Leak-back: " + string(a.Cause))
	p.para("  ", a.Cause.Meaning())
	p.gap()
	t := &table{indent: "  ", cols: []column{{head: "what", gives: true}, {head: "best", right: true}, {head: "range"}}}
	for _, line := range l.Lines(opt.Units) {
		t.add(line.Name, line.Best, line.Range)
	}
	p.table(t)
	p.gap()
	for _, d := range l.Doubts() {
		p.item(rust, "  ", "!", d)
	}
	for _, n := range l.Notes(opt.Units) {
		p.note(n)
	}
	if r, ok := l.Reading(); ok {
		p.item(plain, "  ", "·", "For the cause: seatward diagnose --found "+site.LeakTest+"="+r)
	}
	if said, weak := l.Pump(opt.Units); len(said) > 0 {
		p.heading("Pump flow from the drawdown")
		for i, s := range said {
			if weak && i == len(said)-1 {
				s += " See: seatward diagnose."
			}
			p.para("  ", s)
		}
	}
	if notes := l.Stuck(opt.Units); len(notes) > 0 {
		p.heading("If the valve sticks open")
		for _, n := range notes {
			if n.Warns {
				p.note(n)
			} else {
				p.para("  ", n.Text)
			}
		}
	}
	p.heading("Where it comes from")
	for _, s := range l.Assumed(opt.Units) {
		p.item(plain, "  ", "·", s)
	}
	for i, ref := range l.References() {
		p.para(fmt.Sprintf("%4d  ", i+1), ref)
	}
	p.fieldCautions()
	return p.flush(w)
}

// note prints a sentence behind the mark of its weight.
func (p *page) note(n site.Note) {
	if n.Warns {
		p.item(amber, "  ", "!", n.Text)
	} else {
		p.item(plain, "  ", "·", n.Text)
	}
}

// fieldCautions go with everything that sends people to a wet well.
func (p *page) fieldCautions() {
	p.heading("Cautions")
	for _, c := range site.Cautions() {
		p.item(amber, "  ", "!", c)
	}
}
