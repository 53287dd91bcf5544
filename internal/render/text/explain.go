package text

import (
	"io"
	"strings"

	"seatward/basis"
	"seatward/judge"
	"seatward/study"
)

// Explain prints the calculation tree of a value, down to inputs and sources.
func Explain(w io.Writer, path string, v basis.Value, opt Options) error {
	p := newPage(opt)
	p.paraIn(strong, "", path)
	for _, l := range strings.Split(strings.TrimRight(basis.Explain(v, opt.Units), "\n"), "\n") {
		text := strings.TrimLeft(l, " ")
		indent := strings.Repeat(" ", min(len(l)-len(text), Width/2))
		for n, part := range Wrap(text, Width-width(indent)-4) {
			if n > 0 {
				part = "    " + part
			}
			p.put(indent + part)
		}
	}
	return p.flush(w)
}

// ByHand prints what hand formulas say of the slam, a check on the run above it; failed
// says why they say nothing.
func ByHand(w io.Writer, hand *judge.ByHand, failed error, opt Options) error {
	p := newPage(opt)
	p.out.WriteString("\n")
	if failed != nil {
		p.paraIn(faint, "", "By hand formulas: no answer: "+sentenceEnd(failed.Error()))
	} else {
		p.byHand("", hand)
		p.paraIn(faint, "", sentence(hand.Method))
	}
	return p.flush(w)
}

// Paths prints the names under which values are explained, each with its value.
func Paths(w io.Writer, values []study.Named, opt Options) error {
	p := newPage(opt)
	t := &table{cols: []column{{head: "name", gives: true}, {head: "value"}, {head: "from"}}}
	for _, v := range values {
		t.add(v.Path, p.val(v.Value), v.Value.Origin.String())
	}
	p.table(t)
	return p.flush(w)
}
