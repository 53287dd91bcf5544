package text

import (
	"fmt"
	"io"
	"strings"

	"seatward/basis"
	"seatward/judge"
	"seatward/quantity"
	"seatward/study"
)

// Options say how to print.
type Options struct {
	Units quantity.System
	Bold  bool // headings in bold
	All   bool // every valve and size in the table, not only the best size of each family
}

// Select prints the answer to "which check valve?".
func Select(w io.Writer, s *study.Study, opt Options) error {
	r := report{page{bold: opt.Bold}, s, opt}
	r.title()
	r.verdict()
	r.best()
	r.points()
	r.stops()
	r.all()
	r.whyNot()
	r.assumed()
	r.warnings()
	r.cautions()
	r.references()
	return r.flush(w)
}

type report struct {
	page
	s   *study.Study
	opt Options
}

func (r *report) title() {
	st := r.s.Station
	name := st.Name
	if st.Place != "" {
		name += ", " + st.Place
	}
	r.para("", name)
	pumps := 0
	for _, p := range st.Pumps {
		pumps += p.Count
	}
	fluid := st.Fluid.Kind
	r.para("", fmt.Sprintf("%s, %s, static head %s, pipe %s at the valve, %s. Known to the depth of a %s.",
		plural(pumps, "pump"), fluid, r.span(st.StaticLow, st.StaticHigh), st.Valve.Size.Format(r.opt.Units), st.Valve.Position, st.Depth))
}

// span prints two values as a range where they differ.
func (r *report) span(a, b basis.Value) string {
	if r.num(a) == r.num(b) {
		return r.val(a)
	}
	return r.num(a) + " to " + r.val(b)
}

func plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}

func (r *report) val(v basis.Value) string {
	if !v.Known() {
		return "-"
	}
	return r.opt.Units.Format(v.Kind, v.SI)
}

func (r *report) num(v basis.Value) string {
	if !v.Known() {
		return "-"
	}
	return r.opt.Units.Number(v.Kind, v.SI)
}

func (r *report) verdict() {
	r.heading("Verdict")
	if len(r.s.Assessments) == 0 {
		r.para("  ", "No valve of the catalog is made near this size.")
		return
	}
	best := &r.s.Assessments[0]
	if best.Rank == 0 {
		r.para("  ", "No valve of the catalog suits this station as it is described. The reasons stand below, valve by valve.")
		return
	}
	r.para("  ", fmt.Sprintf("%s: %s.", name(best, r.opt.Units), best.Verdict))
	r.para("  ", sentence(best.RankReason))
	if best.Slam.Method != "" {
		r.para("  ", "Slam at the governing stop, "+best.Slam.Event+": "+r.slamWords(&best.Slam)+".")
	}
	if r.s.DecisiveFact != "" {
		r.para("  ", "The answer would gain most from knowing better: "+r.s.DecisiveFact+".")
	}
}

// sentence starts with a capital and ends with a stop.
func sentence(s string) string {
	s = strings.TrimSpace(s)
	if s == "" {
		return s
	}
	if !strings.HasSuffix(s, ".") {
		s += "."
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func name(a *judge.Assessment, sys quantity.System) string {
	out := a.Item.Family.Title + ", " + a.Item.Size.Format(sys)
	if a.Item.VariantTitle != "" {
		out += ", " + a.Item.VariantTitle
	}
	return out
}

func (r *report) slamWords(s *judge.Slam) string {
	if !s.ReverseVelocity.Known() {
		return "cannot be said: " + s.Method
	}
	class := classWord(s)
	out := fmt.Sprintf("%s, reverse velocity %s", class, r.val(s.ReverseVelocity))
	if s.ReverseVelocity.Ranged() {
		out += " (" + s.ReverseVelocity.FormatRange(r.opt.Units) + ")"
	}
	if s.HeadRise.Known() {
		out += fmt.Sprintf(", head rise %s", r.val(s.HeadRise))
		if s.HeadRise.Ranged() {
			out += " (" + s.HeadRise.FormatRange(r.opt.Units) + ")"
		}
	}
	return out
}

// classWord says the class, and the span of classes where the band has one.
func classWord(s *judge.Slam) string {
	switch {
	case s.Class == "":
		return "unknown"
	case s.ClassLow == s.ClassHigh || s.ClassLow == "":
		return s.Class
	}
	return s.ClassLow + " to " + s.ClassHigh
}

func (r *report) best() {
	if len(r.s.Assessments) == 0 || r.s.Assessments[0].Rank == 0 {
		return
	}
	count := 0
	for i := range r.s.Assessments {
		if a := &r.s.Assessments[i]; a.Rank > 0 && a.Rank <= 3 {
			count++
		}
	}
	if count == 1 {
		r.heading("The valve in full")
	} else {
		r.heading("The best in full")
	}
	for i := range r.s.Assessments {
		if a := &r.s.Assessments[i]; a.Rank > 0 && a.Rank <= 3 {
			r.card(a)
		}
	}
}

// card prints one valve with its numbers and the findings that matter.
func (r *report) card(a *judge.Assessment) {
	r.para(fmt.Sprintf(" %d  ", a.Rank), fmt.Sprintf("%s: %s", a.Item.ID, a.Verdict))
	r.para("    ", name(a, r.opt.Units))
	r.numbers(a)
	if a.Rank > 1 && a.RankReason != "" {
		r.para("    ", "Why here: "+a.RankReason+".")
	}
	for _, f := range a.Findings {
		if f.Severity >= judge.Condition {
			r.finding("    ", f)
		}
	}
}

func (r *report) numbers(a *judge.Assessment) {
	g := a.Governing
	r.para("    ", fmt.Sprintf("At %s: flow %s, velocity %s, valve %s, loss %s.", g.Name, r.val(g.Flow), r.val(g.Velocity), g.State, r.val(g.Loss)))
	r.para("    ", fmt.Sprintf("Full open from %s; cracks at %s; seals from %s; its loss costs %s a year.",
		r.val(a.FullOpenVelocity), r.val(a.CrackingHead), r.val(a.BackHead), r.num(a.CostPerYear)))
	r.para("    ", "Slam: "+r.slamWords(&a.Slam)+".")
}

var marks = map[judge.Severity]string{
	judge.Pass: "+ ", judge.Note: "i ", judge.Condition: "! ", judge.Unchecked: "? ", judge.Rejects: "x ",
}

var severityWords = map[judge.Severity]string{
	judge.Pass: "", judge.Note: "", judge.Condition: "Condition: ", judge.Unchecked: "Not checked: ", judge.Rejects: "Rejects: ",
}

func (r *report) finding(indent string, f judge.Finding) {
	text := severityWords[f.Severity] + f.Text
	if f.Missing != "" {
		text += " Missing: " + f.Missing + "."
	}
	if f.Mend != "" {
		text += " To cure: " + f.Mend + "."
	}
	r.para(indent+marks[f.Severity], strings.ReplaceAll(text, "..", "."))
}

func (r *report) points() {
	if len(r.s.Points) == 0 {
		return
	}
	r.heading("Operating points")
	r.para("  ", "With "+r.s.Points[0].Valve+" in place; valve loss at its true opening.")
	sys := r.opt.Units
	cols := []column{
		{"point", false}, {"flow " + sys.Unit(quantity.Flow), true}, {"pump " + sys.Unit(quantity.Head), true},
		{"valve " + sys.Unit(quantity.Head), true}, {"main " + sys.Unit(quantity.Velocity), true}, {"power " + sys.Unit(quantity.Power), true},
	}
	var rows [][]string
	for i := range r.s.Points {
		p := &r.s.Points[i]
		loss := "-"
		if len(p.ValveLoss) > 0 {
			loss = r.num(p.ValveLoss[0])
		}
		rows = append(rows, []string{p.Name, r.num(p.Flow), r.num(p.Head), loss, r.num(p.MainVelocity), r.num(p.Power)})
	}
	r.table("  ", cols, rows)
	for i := range r.s.Points {
		for _, n := range r.s.Points[i].Notes {
			r.para("  ! ", r.s.Points[i].Name+": "+n)
		}
	}
}

func (r *report) stops() {
	if len(r.s.Stops.All) == 0 {
		return
	}
	r.heading("Pump stops looked at")
	for _, st := range r.s.Stops.All {
		d := st.Deceleration
		text := fmt.Sprintf("%s (%s): the flow slows at %s", st.Name, st.Level, r.val(d))
		if d.Ranged() {
			text += " (" + d.FormatRange(r.opt.Units) + ")"
		}
		r.para("  ", text+". "+st.Method)
	}
}
