package text

import (
	"fmt"
	"io"
	"strings"

	"seatward/judge"
	"seatward/study"
	"seatward/valve"
)

// Select prints the answer to "which check valve?".
func Select(w io.Writer, s *study.Study, opt Options) error {
	r := report{newPage(opt), s}
	r.title()
	r.answer()
	r.best()
	r.confirm()
	r.points()
	r.all()
	r.whyNot()
	r.tail()
	return r.flush(w)
}

// report is a page about a study.
type report struct {
	page
	s *study.Study
}

// title says which station it is and what is known of it.
func (r *report) title() {
	st := r.s.Station
	name, place := strings.Join(Wrap(st.Name, Width), " "), Clean(st.Place)
	if gap := Width - width(name) - width(place); gap >= 2 && place != "" {
		r.put(r.paint(strong, name) + strings.Repeat(" ", gap) + r.paint(faint, place))
	} else {
		r.paraIn(strong, "", name)
		if place != "" {
			r.paraIn(faint, "", place)
		}
	}
	pumps := 0
	for _, p := range st.Pumps {
		pumps += p.Count
	}
	duty := []string{plural(pumps, "pump")}
	if len(r.s.Points) > 0 && r.s.Points[0].Head.Known() {
		alone := ""
		if pumps > 1 {
			alone = "one alone "
		}
		duty[0] += fmt.Sprintf(", %s%s at %s", alone, r.val(r.s.Points[0].Flow), r.val(r.s.Points[0].Head))
	}
	static := st.StaticLow
	static.High = st.StaticHigh.SI
	static.Low = st.StaticLow.SI
	r.para("", strings.Join(append(duty, "static head "+r.bandUnit(static)), "; "))
	r.para("", fmt.Sprintf("%s; %s pipe, %s; depth of a %s, %s assumed", st.Fluid.Kind,
		st.Valve.Size.Format(r.opt.Units), st.Valve.Position, st.Depth, plural(len(r.s.Assumed), "fact")))
	for _, n := range st.Notes {
		r.paraIn(faint, "", n)
	}
}

// answer says in plain words which valve, what decides, how it goes in, and why.
func (r *report) answer() {
	if len(r.s.Assessments) == 1 {
		r.heading("The answer for this valve")
	} else {
		r.heading("The answer")
	}
	if len(r.s.Assessments) == 0 {
		r.item(rust, "", markOf[judge.Unsuitable], "No valve of the catalog is made in this size or next to it.")
		return
	}
	if r.s.Separation != "" { // the risk beyond the valve comes before it
		r.paraIn(rust, "! ", r.s.Separation)
	}
	a := &r.s.Assessments[0]
	if a.Rank == 0 {
		r.none(a)
	} else {
		r.chosen(a)
	}
	if r.s.DecisiveFact != "" {
		r.para("  ", "Largest source of uncertainty: "+r.s.DecisiveFact+".")
	}
	if r.s.Pending > 0 {
		r.item(amber, "  ", "!", fmt.Sprintf("Slam is left out: the pump stops of %s are still to be run. Without --quick they are.", plural(r.s.Pending, "valve")))
	}
	r.catalogs()
}

// none says that nothing can be used, and what comes nearest.
func (r *report) none(a *judge.Assessment) {
	if len(r.s.Assessments) == 1 {
		r.item(rust, "", markOf[a.Verdict], fmt.Sprintf("%s cannot be used here. %s", r.name(a), judge.WhyNot(*a)))
		return
	}
	r.item(rust, "", markOf[judge.Unsuitable], "No valve of the catalog can be used here as the station is described.")
	r.para("  ", fmt.Sprintf("The nearest is %s: %s", a.Item.ID, judge.WhyNot(*a)))
}

func (r *report) chosen(a *judge.Assessment) {
	r.item(inkOf[a.Verdict], "", markOf[a.Verdict], r.name(a)+": "+verdictWords(a)+".")
	text := fmt.Sprintf("Its ID is %s. It goes %s.", a.Item.ID, into[r.s.Station.Valve.Position])
	if len(r.s.Assessments) > 1 && a.RankReason != "" {
		text += " " + sentence(a.RankReason)
	}
	r.para("  ", text)
	f := a.Decides()
	slam := slamFinding(a)
	if f != nil && f.Text != slam {
		r.para("  ", sentence(f.Text))
	}
	if slam != "" {
		r.para("  ", sentence(slam))
	}
	if a.Slam.HeadRise.Known() {
		r.para("  ", "Head rise "+r.riseWords(&a.Slam)+".")
	}
}

// verdictWords is the verdict with what decides it.
func verdictWords(a *judge.Assessment) string {
	f := a.Decides()
	switch {
	case a.Verdict == judge.CannotSay && f != nil:
		return "nothing rules it out, but whether it is suitable cannot be said: " + f.Kind.Head
	case f == nil && a.Pending():
		return a.Verdict.String() + ", slam left out"
	case f == nil:
		return a.Verdict.String()
	}
	return a.Verdict.String() + ": " + f.Kind.Head
}

// into says how a valve goes into the pipe.
var into = map[valve.Position]string{
	valve.Horizontal: "into the horizontal pipe, arrow with the flow",
	valve.FlowUp:     "into the rising pipe, arrow up",
	valve.FlowDown:   "into the falling pipe, arrow down",
}

// catalogs names the product data, and says so where they are invented.
func (r *report) catalogs() {
	for _, c := range r.s.Catalogs {
		text := fmt.Sprintf("Catalog: %s %s.", c.Maker, c.Version)
		if c.Invented {
			text = fmt.Sprintf("Catalog: %s %s, invented for demonstration: no such valve can be bought.", c.Maker,
				c.Version)
		}
		r.paraIn(faint, "  ", text)
	}
}

// name is a valve in words: family, size, variant.
func (p *page) name(a *judge.Assessment) string {
	out := a.Item.Family.Title + ", " + a.Item.Size.Format(p.opt.Units)
	if a.Item.VariantTitle != "" {
		out += ", " + a.Item.VariantTitle
	}
	return out
}

// The marks of verdicts and findings: each has its own shape, and a word beside it.
var (
	markOf = map[judge.Verdict]string{
		judge.Suitable: "●", judge.WithConditions: "◐", judge.CannotSay: "?",
		judge.Unsuitable: "✕",
	}
	inkOf = map[judge.Verdict]ink{
		judge.Suitable: strong, judge.WithConditions: amber, judge.CannotSay: amber,
		judge.Unsuitable: rust,
	}

	findingMark = map[judge.Severity]string{
		judge.Pass: "+", judge.Note: "i", judge.Confirm: "?", judge.Condition: "!",
		judge.Open: "?", judge.Rejects: "✕",
	}
	findingInk = map[judge.Severity]ink{judge.Condition: amber, judge.Open: amber, judge.Rejects: rust}
)
