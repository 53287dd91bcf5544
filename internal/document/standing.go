package document

import (
	"strings"

	"seatward/judge"
	"seatward/quantity"
)

// What the stops found stands under the title of every paper that a decision rests on: that
// the valve is unsuitable, column separation, harder or later slams, runs without an answer,
// and ratings that are exceeded, each with its number and limit. It is put there once, for
// all kinds, before the kind writes its own text.

// head stands under the title of a paper.
func (w *sheet) head(k Kind) {
	if k.Compares {
		w.standings()
		return
	}
	a := w.Assessment
	if k.Decides {
		for _, p := range w.standing(a) {
			w.put(p)
		}
	}
	if a.Verdict == judge.Unsuitable && !w.d.Large { // a card has one page, and its title says so
		w.put(Paragraph{Label: w.say("Unsuitable for this station:"), Text: judge.WhyNot(*a), Tone: Bad})
	}
}

// standing is what the stops found of one valve, worst for the station first. A card has
// room for the heads alone.
func (w *sheet) standing(a *judge.Assessment) []Paragraph {
	if w.d.Large {
		var heads []string
		for _, f := range standingOf(a) {
			if f.Kind != judge.SlamSample { // of no use to a crew
				heads = append(heads, w.say(f.Kind.Head))
			}
		}
		if len(heads) == 0 {
			return nil
		}
		return []Paragraph{{
			Text: w.say("Found: {list}.", "list", strings.Join(heads, "; ")), Tone: Warning,
		}}
	}
	var out []Paragraph
	for _, f := range standingOf(a) {
		p := Paragraph{Text: f.Text, Tone: Open}
		switch {
		case f.Kind == judge.ColumnSeparation:
			p.Text, p.Tone = joined(" ", f.Text, w.separationNumbers(a)), Warning
		case f.Severity == judge.Rejects || f.Kind == judge.SlamNoRest:
			p.Tone = Bad
		case f.Kind == judge.SlamLater:
			p.Label = w.say("Later slams:")
		case f.Kind == judge.SlamNotResolved || f.Kind == judge.SlamSample || f.Severity == judge.Confirm:
			p.Label = w.say("Without a sure answer:")
		case f.Kind.Point == judge.OnSurge:
			p.Label = w.say("Rating exceeded:")
		}
		out = append(out, p)
	}
	return out
}

// standingOf are the findings of the stops that a reader must not miss, in the order in which
// they are listed.
func standingOf(a *judge.Assessment) []judge.Finding {
	var out []judge.Finding
	for _, of := range []func(f *judge.Finding) bool{
		func(f *judge.Finding) bool { return f.Kind == judge.ColumnSeparation },
		func(f *judge.Finding) bool {
			return f.Kind.Point == judge.OnSurge && f.Kind != judge.ColumnSeparation && f.Severity != judge.Pass
		},
		func(f *judge.Finding) bool {
			return f.Kind.Point == judge.OnSlam && (f.Severity == judge.Rejects || f.Severity == judge.Condition ||
				f.Kind == judge.SlamNoRest)
		},
		func(f *judge.Finding) bool { return f.Kind == judge.SlamLater },
		func(f *judge.Finding) bool {
			return f.Kind.Point == judge.OnSlam && (f.Severity == judge.Confirm || f.Severity == judge.Open ||
				f.Kind == judge.SlamNotResolved || f.Kind == judge.SlamSample)
		},
	} {
		for i := range a.Findings {
			f := &a.Findings[i]
			if of(f) && !told(out, f) {
				out = append(out, *f)
			}
		}
	}
	return out
}

// told is true for a finding that is in the list already.
func told(list []judge.Finding, f *judge.Finding) bool {
	for i := range list {
		if list[i].Kind == f.Kind && list[i].Text == f.Text {
			return true
		}
	}
	return false
}

// separationNumbers tells in how many events the column separates, and how low the head falls.
func (w *sheet) separationNumbers(a *judge.Assessment) string {
	worst := judge.Separation(a.Answer)
	if worst == nil {
		return ""
	}
	n, ran := 0, 0
	for _, s := range a.Answer.Stops {
		if s.Fault == "" {
			ran++
		}
		if s.Separates() {
			n++
		}
	}
	head := func(m float64) string { return minus(w.units().Format(quantity.Head, m)) }
	said := w.say("It is predicted in {n} of the {all} stops and starts that were run: the pressure head in the main falls to the limit at which the liquid boils, {vapor}.",
		"n", decimal(n), "all", decimal(ran), "vapor", head(worst.VaporM))
	if least := worst.LeastPressureM(); least > worst.VaporM+1 { // gas that comes out of the water holds it up
		said += " " + w.say("With gas that comes out of the water in the run, its min. is {least}.", "least", head(least))
	}
	return said
}

// standings tells the findings of the stops of all compared valves: column separation once,
// since it is the station's, the rest for each valve.
func (w *sheet) standings() {
	all := w.compared()
	w.separations(all)
	for _, a := range all {
		var texts []string
		for _, f := range standingOf(a) {
			if f.Kind != judge.ColumnSeparation {
				texts = append(texts, f.Text)
			}
		}
		if a.Pending() {
			texts = append(texts, w.say("Its pump stops are still to be run."))
		}
		if len(texts) > 0 {
			w.put(Paragraph{Label: a.Item.ID + ":", Text: strings.Join(texts, " "), Tone: Open})
		}
	}
}

// separations tells column separation once for all compared valves with which it is predicted.
func (w *sheet) separations(all []*judge.Assessment) {
	var ids []string
	var first *judge.Assessment
	for _, a := range all {
		if a.Separation != "" {
			ids = append(ids, a.Item.ID)
			if first == nil {
				first = a
			}
		}
	}
	if first == nil {
		return
	}
	with := w.say("It is predicted with every valve of this comparison.")
	if len(ids) < len(all) {
		with = w.say("It is predicted with {valves}.", "valves", strings.Join(ids, ", "))
	}
	w.put(Paragraph{Text: joined(" ", first.Separation, with, w.separationNumbers(first)), Tone: Warning})
}
