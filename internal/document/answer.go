package document

import (
	"fmt"
	"strings"

	"seatward/basis"
	"seatward/judge"
	"seatward/quantity"
)

// verdict is the answer, with the first condition in words.
func (w *sheet) verdict() {
	a := w.Assessment
	w.put(Paragraph{Label: w.say("Verdict for this place:"), Text: sentence(w.verdictWords(a)), Tone: verdictTone(a)})
	if c := a.Item.Family.Catalog; c.Invented {
		w.text(Warning, "The catalog of {maker} is invented for demonstration: no such valve can be bought.", "maker",
			c.Maker)
	}
}

// verdictTone is good only where nothing threatens the station either.
func verdictTone(a *judge.Assessment) Tone {
	switch {
	case a.Verdict == judge.Unsuitable:
		return Bad
	case a.Verdict == judge.Suitable && a.Separation == "":
		return Good
	}
	return Open
}

// verdictWords is the verdict with the first condition or the missing answer in words.
func (w *sheet) verdictWords(a *judge.Assessment) string {
	said := w.say(a.Verdict.String())
	if f := a.Decides(); f != nil {
		said += ": " + w.say(f.Kind.Head)
	}
	if a.Pending() {
		said += "; " + w.say("its pump stops are still to be run")
	}
	if a.Separation != "" && a.Verdict != judge.Unsuitable {
		said += "; " + w.say("the station itself is at risk of column separation")
	}
	return said
}

// objections lists what rejects the valve or is a condition, and what could not be said.
func (w *sheet) objections() {
	w.heading(1, "Conditions and objections")
	var rows []Row
	for _, f := range w.Assessment.Findings {
		if said, tone := objection(f.Severity); said != "" {
			rows = append(rows, Row{Cells: []Cell{
				{Text: w.say(said), Tone: tone, Bold: true},
				{Text: w.withMend(f)},
				{Text: basis.Cite(f.Basis)},
			}})
		}
	}
	switch {
	case len(rows) > 0:
		w.put(Table{ID: "open", Columns: []Column{
			w.column("", 0.14), w.column("Point", 0.56),
			w.column("Rests on", 0.3),
		}, Rows: rows})
	case w.Assessment.Separation != "":
		w.text(Open, "No condition on the valve itself. Column separation threatens the station whatever the valve.")
	default:
		w.text(Good, "No condition and no objection.")
	}
	w.confirmations()
	w.text(Plain, "Inputs assumed by the program: {n}. The calculation lists each with its range and reason.", "n",
		fmt.Sprint(len(w.Study.Assumed)))
}

// objection is the word for a severity that speaks against a valve; "" for others.
func objection(s judge.Severity) (string, Tone) {
	switch s {
	case judge.Rejects:
		return "rejects", Bad
	case judge.Condition:
		return "condition", Open
	case judge.Open:
		return "cannot say", Open
	}
	return "", Plain
}

// confirmations lists what a site visit or the maker settles before the order.
func (w *sheet) confirmations() {
	var items []string
	for _, f := range w.Assessment.Findings {
		if f.Severity == judge.Confirm {
			items = append(items, w.withMissing(f))
		}
	}
	if len(items) == 0 {
		return
	}
	w.heading(2, "Confirm before ordering")
	w.put(List{Items: items, Boxes: true})
}

func (w *sheet) withMissing(f judge.Finding) string {
	if f.Missing == "" {
		return f.Text
	}
	return joined(" ", f.Text, w.say("Missing:")+" "+sentence(f.Lacks()))
}

// withMend adds what is missing and what helps.
func (w *sheet) withMend(f judge.Finding) string {
	text := w.withMissing(f)
	if m := w.mend(f); m != "" {
		text += " " + w.say("Remedy:") + " " + sentence(m)
	}
	return text
}

// mend is what helps: for slam only what the remedies' own runs have shown, where they were run.
func (w *sheet) mend(f judge.Finding) string {
	text, _, _ := strings.Cut(f.Mend, "; seatward trip")
	if text == "" || f.Kind.Point != judge.OnSlam || w.Trip == nil || len(w.Trip.Remedies) == 0 {
		return text
	}
	var cures []string
	for i := range w.Trip.Remedies {
		if r := &w.Trip.Remedies[i]; r.Cures {
			cures = append(cures, r.What)
		}
	}
	if len(cures) == 0 {
		return w.say("none of those that were run; see the table of remedies")
	}
	return w.say("by its own run, {list}; see the table of remedies", "list", strings.Join(cures, ", or "))
}

// slam is what the stops do with the valve, from their record.
func (w *sheet) slam() {
	a := w.Assessment
	s, id := &a.Slam, a.Item.ID
	if a.Pending() {
		w.text(Open, "The pump stops are still to be run with this valve: there is no slam number.")
		return
	}
	if s.NotRun != "" || s.Class == "" {
		w.put(Paragraph{Label: w.say("Slam was not run:"), Text: sentence(orNotTold(w, s.NotRun)), Tone: Open})
		return
	}
	if f := a.SlamFinding(); f != nil {
		w.put(Paragraph{Text: f.Text, Tone: Lead})
	}
	f := w.form("slam", "")
	f.words("Slam class", a.SlamWords())
	if s.Runs > 0 {
		f.words("Chances", w.chances(a)).words("Interval and chances",
			w.say("5 to 95 % points of {n} runs, all uncertain numbers drawn at once", "n", fmt.Sprint(s.Runs)))
	}
	f.words("Worst stop", s.Event).
		words("Valve of", s.Pump).
		add("", "Deceleration at flow reversal, without the valve",
			Cell{Text: w.number(id+" deceleration", s.Deceleration)}).
		add("", "Reverse velocity", Cell{Text: w.likely(id+" reverse_velocity", s.ReverseVelocity, s)}).
		add("", "Head rise", Cell{Text: w.likely(id+" head_rise", s.HeadRise, nil)}).
		words("Largest source of uncertainty", s.DecisiveInput).
		words("Method", s.Method).put()
	w.later()
}

// later tells slams after the first, runs that are not resolved, and valves that do not rest.
func (w *sheet) later() {
	for _, f := range w.Assessment.Findings {
		switch {
		case f.Kind.Point != judge.OnSlam || f.SaysSlam():
		case f.Kind == judge.SlamNoRest:
			w.put(Paragraph{Text: f.Text, Tone: Bad})
		default:
			w.put(Paragraph{Text: f.Text, Tone: Open})
		}
	}
}

// chances are those of the three classes.
func (w *sheet) chances(a *judge.Assessment) string {
	c, id := a.Slam.Chances, a.Item.ID
	for name, x := range map[string]float64{"quiet": c.Quiet, "audible": c.Audible, "harmful": c.Harmful} {
		w.d.Quotes = append(w.d.Quotes, Quote{id + " chance_" + name, quantity.Fraction, x, judge.Percent(x)})
	}
	return w.say("quiet {quiet}, audible {audible}, harmful {harmful}", "quiet", judge.Percent(c.Quiet), "audible",
		judge.Percent(c.Audible), "harmful", judge.Percent(c.Harmful))
}

// likely prints a result of the run at best estimates with its 5 to 95 % interval; the
// median first where that run is a lucky one.
func (w *sheet) likely(path string, v basis.Value, s *judge.Slam) string {
	best := w.number(path, v)
	if !v.Known() || !v.Ranged() {
		return best
	}
	w.quote(path+" low", v.Kind, v.Low)
	w.quote(path+" high", v.Kind, v.High)
	likely := w.say("likely {range}", "range", v.FormatRange(w.units()))
	if s != nil && s.Lucky {
		return w.say("{median} in half of the cases, {likely}; the run at best estimates gives {best}, outside the middle half",
			"median", w.quote(path+" median", v.Kind, s.MedianMS), "likely", likely, "best", best)
	}
	return best + ", " + likely
}
