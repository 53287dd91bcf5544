package text

import (
	"fmt"
	"io"
	"strings"

	"seatward/catalog"
	"seatward/fluid"
	"seatward/judge"
	"seatward/quantity"
	"seatward/study"
	"seatward/valve"
)

// Valve prints one valve at one station in full: what it is, what it does at every
// operating point, and every finding with its number, limit, basis and mend.
func Valve(w io.Writer, s *study.Study, opt Options) error {
	r := report{newPage(opt), s}
	r.title()
	r.answer()
	if len(s.Assessments) > 0 {
		a := &s.Assessments[0]
		r.product(a.Item)
		r.duties(a)
		r.findings(a)
		r.threshold(&a.Slam)
		r.sources(&a.Slam)
	}
	r.points()
	r.tail()
	return r.flush(w)
}

// product tells what is ordered.
func (r *report) product(it *catalog.Item) {
	f := it.Family
	r.heading("The valve")
	if f.Summary != "" {
		r.para("  ", sentence(f.Summary))
	}
	for _, line := range []struct{ name, text string }{
		{"type", f.Type.Title},
		{"services", strings.Join(fluid.ServiceWords(f.Services), ", ")},
		{"positions", valve.PositionWords(it.Positions, ", ")},
		{"laying length", layingLength(r, it)},
		{"flow coefficient", r.val(it.FlowCoefficient)},
		{"mass", fmt.Sprintf("%s, of which moving element %s", r.val(it.Mass), r.val(it.ElementMass))},
		{"rated", r.val(it.Rating)},
		{"clear passage", r.val(it.Passage)},
		{"clearance above axis", r.val(it.Clearance)},
		{"ends", ends(it)},
		{"body", material(f.Body)},
		{"moving element", material(f.Element)},
		{"seat", material(f.Seat)},
		{"bolting", material(f.Bolting)},
		{"coating", material(f.Coating)},
		{"elastomers", strings.Join(f.Elastomers, ", ")},
		{"position indicator", f.Indication},
		{"spares", strings.Join(f.Spares, ", ")},
	} {
		if line.text != "" && line.text != "unknown" {
			r.labeledLine(line.name, line.text)
		}
	}
	c := f.Catalog
	r.labeledLine("data", fmt.Sprintf("%s %s, %s, licence %s", c.Maker, c.Version, c.Date, c.Licence))
}

// labeledLine prints a text behind its name, both aligned.
func (p *page) labeledLine(name, text string) {
	const label = 22
	lead := "  " + pad(name, label)
	hang := strings.Repeat(" ", label+2)
	for n, l := range Wrap(text, Width-label-2) {
		if n == 0 {
			p.put("  " + p.paint(faint, lead[2:]) + l)
		} else {
			p.put(hang + l)
		}
	}
}

// layingLength is the face-to-face length, with the standard that it follows.
func layingLength(r *report, it *catalog.Item) string {
	if s := it.Family.LengthStandard; s != "" && s != "own" && it.FaceToFace.Known() {
		return r.val(it.FaceToFace) + ", " + s
	}
	return r.val(it.FaceToFace)
}

func material(m catalog.Material) string {
	if m.Standard == "" {
		return m.Material
	}
	return m.Material + ", " + m.Standard
}

// ends lists the ends that the size comes with.
func ends(it *catalog.Item) string {
	var out []string
	for _, e := range it.Family.Ends {
		if e.Covers(it.Size) {
			out = append(out, e.Standard)
		}
	}
	return strings.Join(out, "; ")
}

// duties prints what the valve does at every operating point.
func (r *report) duties(a *judge.Assessment) {
	r.heading("What it does here")
	for _, line := range []struct{ name, text string }{
		{"full-open velocity", r.val(a.FullOpenVelocity)},
		{"cracking head", r.val(a.CrackingHead)},
		{"back head to seal", r.val(a.BackHead)},
		{"submerged weight", r.val(a.SubmergedWeight)},
		{"energy lost", r.val(a.EnergyPerYear) + " per year"},
		{"annual energy cost", r.val(a.CostPerYear)},
		{"life-cycle cost", r.val(a.LifeCycleCost)},
	} {
		if !strings.HasPrefix(line.text, "unknown") {
			r.labeledLine(line.name, line.text)
		}
	}
	if len(a.Duties) == 0 {
		return
	}
	r.gap()
	t := &table{indent: "  ", cols: []column{
		{head: "point", gives: true},
		{head: r.head("flow", quantity.Flow), right: true},
		{head: r.head("velocity", quantity.Velocity), right: true},
		{head: r.head("open", quantity.Fraction), right: true},
		{head: "disc or ball"},
		{head: r.head("head loss", quantity.Head), right: true},
		{head: headIn("range", r.opt.Units.Unit(quantity.Head))},
	}}
	for i := range a.Duties {
		d := &a.Duties[i]
		t.add(d.Name, r.num(d.Flow), r.num(d.Velocity), r.num(d.Opening), d.State, r.num(d.Loss), r.band(d.Loss))
	}
	r.table(t)
}

var severityTitles = map[judge.Severity]string{
	judge.Rejects: "Objections", judge.Open: "What cannot be said", judge.Condition: "Conditions to be met",
	judge.Confirm: "Confirm before ordering", judge.Note: "Worth knowing", judge.Pass: "Checked and in order",
}

// findings prints all findings in groups, the decisive ones first.
func (r *report) findings(a *judge.Assessment) {
	last := judge.Severity(255)
	for i := range a.Findings {
		f := &a.Findings[i]
		if f.Severity != last {
			last = f.Severity
			r.heading(severityTitles[last])
		}
		r.finding("  ", f)
		r.grounds(f)
	}
}

// grounds prints what a finding weighed, and by which rule.
func (r *report) grounds(f *judge.Finding) {
	text := f.Kind.ID
	if f.Value.Known() {
		text += ": " + r.val(f.Value)
		if f.Limit.Known() {
			text += " against " + r.val(f.Limit)
		}
	}
	if c := cite(f.Basis); c != "" {
		text += "; basis: " + c
	}
	r.paraIn(faint, "    ", sentenceEnd(text))
}
