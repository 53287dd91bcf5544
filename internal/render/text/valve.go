package text

import (
	"fmt"
	"io"

	"seatward/basis"
	"seatward/judge"
	"seatward/quantity"
	"seatward/study"
)

// Valve prints one valve at one station in full: every finding with its number, limit
// and basis.
func Valve(w io.Writer, s *study.Study, opt Options) error {
	r := report{page{bold: opt.Bold}, s, opt}
	r.title()
	if len(s.Assessments) > 0 {
		a := &s.Assessments[0]
		r.heading("The valve")
		r.para("  ", fmt.Sprintf("%s, %s: %s.", a.Item.ID, name(a, opt.Units), a.Verdict))
		if a.Governing.Flow.Known() {
			r.numbers(a)
		}
		r.product(a)
		r.duties(a)
		r.heading("Findings")
		for _, f := range a.Findings {
			r.finding("  ", f)
			r.grounds(f)
		}
		r.slamShares(a)
	}
	r.points()
	r.stops()
	r.assumed()
	r.warnings()
	r.cautions()
	r.references()
	return r.flush(w)
}

// grounds prints what a finding weighed and by which rule.
func (r *report) grounds(f judge.Finding) {
	text := ""
	if f.Value.Known() {
		text = r.val(f.Value)
		if f.Limit.Known() {
			text += " against " + r.val(f.Limit)
		}
		text += "; "
	}
	r.para("      ", text+"basis: "+basis.Cite(f.Basis))
}

func (r *report) product(a *judge.Assessment) {
	it := a.Item
	r.para("    ", fmt.Sprintf("Laying length %s, mass %s, rated %s, passes %s.", r.val(it.FaceToFace), r.val(it.Mass), r.val(it.Rating), r.val(it.Passage)))
	r.para("    ", fmt.Sprintf("Body %s (%s); element %s; coating %s.", it.Family.Body.Material, it.Family.Body.Standard, it.Family.Element.Material, it.Family.Coating.Material))
	c := it.Family.Catalog
	note := ""
	if c.Invented {
		note = " The catalog is invented for demonstration."
	}
	r.para("    ", fmt.Sprintf("Data: %s %s, %s, licence %s.%s", c.Maker, c.Version, c.Date, c.Licence, note))
}

func (r *report) duties(a *judge.Assessment) {
	if len(a.Duties) == 0 {
		return
	}
	r.heading("In this valve")
	u := r.opt.Units
	cols := []column{{"point", false}, {"flow " + u.Unit(quantity.Flow), true}, {"V " + u.Unit(quantity.Velocity), true}, {"open", true}, {"state", false}, {"loss " + u.Unit(quantity.Head), true}}
	var rows [][]string
	for _, d := range a.Duties {
		rows = append(rows, []string{d.Name, r.num(d.Flow), r.num(d.Velocity), fmt.Sprintf("%.0f%%", 100*d.Opening.SI), d.State, r.num2(d.Loss)})
	}
	r.table("  ", cols, rows)
}

func (r *report) slamShares(a *judge.Assessment) {
	if len(a.Slam.Shares) == 0 {
		return
	}
	r.heading("What makes the slam band wide")
	u := r.opt.Units
	for i, x := range a.Slam.Shares {
		if i == 5 {
			break
		}
		f := func(v float64) string { return quantity.Figures(u.In(quantity.Velocity, v), 2) }
		r.para("  ", fmt.Sprintf("%s: %s and %s %s at the ends of its range", x.Input, f(x.LowMS), f(x.HighMS), u.Unit(quantity.Velocity)))
	}
}
