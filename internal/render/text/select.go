package text

import (
	"fmt"
	"io"
	"strings"

	"seatward/judge"
	"seatward/study"
)

// Select prints the answer to "which check valve?".
func Select(w io.Writer, s *study.Study, opt Options) error {
	r := report{newPage(opt), s}
	r.title()
	r.answer()
	r.best()
	r.points()
	r.stops()
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
	r.para("", fmt.Sprintf("%s; %s pipe, %s; depth of a %s, %s assumed", st.Fluid.Kind, st.Valve.Size.Format(r.opt.Units), st.Valve.Position, st.Depth, plural(len(r.s.Assumed), "fact")))
	for _, n := range st.Notes {
		r.paraIn(faint, "", n)
	}
}

// answer says in plain words which valve, how it goes in, why, and what that rests on.
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
	a := &r.s.Assessments[0]
	if a.Rank == 0 {
		r.none(a)
	} else {
		r.chosen(a)
	}
	if r.s.DecisiveFact != "" {
		r.para("  ", "Knowing this better would narrow the answer most: "+r.s.DecisiveFact+".")
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
	word := a.Verdict.String()
	if a.Verdict == judge.CannotSay {
		word = "nothing rejects it, but whether it is suitable cannot be said yet"
	}
	r.item(inkOf[a.Verdict], "", markOf[a.Verdict], fmt.Sprintf("%s: %s.", r.name(a), word))
	text := fmt.Sprintf("Its ID is %s. It goes %s.", a.Item.ID, into[r.s.Station.Valve.Position])
	switch {
	case len(r.s.Assessments) == 1 || a.RankReason == "":
	case strings.HasPrefix(a.RankReason, "first"):
		text += " It stands " + a.RankReason + "."
	default:
		text += " It is " + a.RankReason + "."
	}
	r.para("  ", text)
	r.para("  ", r.rests(a))
	if a.Slam.Method != "" {
		r.para("  ", sentence(r.slamSentence(&a.Slam)))
	}
}

// into says how a valve goes into the pipe.
var into = map[string]string{
	"horizontal": "into the horizontal pipe, arrow with the flow",
	"flow up":    "into the rising pipe, arrow up",
	"flow down":  "into the falling pipe, arrow down",
}

// rests counts what a verdict depends on.
func (r *report) rests(a *judge.Assessment) string {
	var parts []string
	if ids := named(a, judge.Condition); len(ids) > 0 {
		parts = append(parts, fmt.Sprintf("%s to be met (%s)", plural(len(ids), "condition"), strings.Join(ids, ", ")))
	}
	if ids := named(a, judge.Unchecked); len(ids) > 0 {
		parts = append(parts, fmt.Sprintf("%s that could not be checked (%s)", plural(len(ids), "point"), strings.Join(ids, ", ")))
	}
	if len(parts) == 0 {
		return fmt.Sprintf("Nothing stands against it: %s checked, all in order.", plural(len(a.Findings), "point"))
	}
	return "It depends on " + strings.Join(parts, ", and on ") + "; see below."
}

// named lists the findings of a severity by their IDs.
func named(a *judge.Assessment, severity judge.Severity) []string {
	var out []string
	for i := range a.Findings {
		if a.Findings[i].Severity == severity {
			out = append(out, a.Findings[i].ID)
		}
	}
	return out
}

// slamSentence tells the slam verdict in words.
func (r *report) slamSentence(s *judge.Slam) string {
	if !s.ReverseVelocity.Known() {
		return "slam cannot be said: " + s.Method
	}
	text := fmt.Sprintf("worst stop: %s. The water then runs back at %s before it seats, at best guess %s: %s", s.Event, r.bandUnit(s.ReverseVelocity), r.num(s.ReverseVelocity), classWords(s))
	if s.HeadRise.Known() {
		text += fmt.Sprintf(", a head rise of %s", r.withUnit(s.HeadRise.Kind, r.roughBand(s.HeadRise)))
	}
	return text
}

// classWords says the class, or the span of classes where the band has one.
func classWords(s *judge.Slam) string {
	switch {
	case s.Class == "":
		return "unknown"
	case s.ClassLow == s.ClassHigh || s.ClassLow == "" || s.ClassHigh == "":
		return s.Class
	}
	return s.ClassLow + " to " + s.ClassHigh
}

// catalogs names the product data, and says so where they are invented.
func (r *report) catalogs() {
	for _, c := range r.s.Catalogs {
		text := fmt.Sprintf("Catalog: %s %s.", c.Maker, c.Version)
		if c.Invented {
			text = fmt.Sprintf("Catalog: %s %s, invented for demonstration: no such valve can be bought.", c.Maker, c.Version)
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
	markOf = map[judge.Verdict]string{judge.Suitable: "●", judge.WithConditions: "◐", judge.CannotSay: "?", judge.Unsuitable: "✕"}
	inkOf  = map[judge.Verdict]ink{judge.Suitable: strong, judge.WithConditions: amber, judge.CannotSay: amber, judge.Unsuitable: rust}

	findingMark = map[judge.Severity]string{judge.Pass: "+", judge.Note: "i", judge.Condition: "!", judge.Unchecked: "?", judge.Rejects: "✕"}
	findingInk  = map[judge.Severity]ink{judge.Condition: amber, judge.Unchecked: amber, judge.Rejects: rust}
)
