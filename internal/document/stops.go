package document

import (
	"fmt"
	"slices"
	"strings"

	"seatward/judge"
	"seatward/plant"
	"seatward/quantity"
	"seatward/valve"
)

// stopCells are the numbers of one stop, as trip gives them: closing time, reverse
// velocity, head rise, greatest head at the valve, greatest and least pressure head of the main.
func (w *sheet) stopCells(x *plant.Stop) []Cell {
	dash := Cell{Text: "–"}
	if x.Fault != "" {
		return []Cell{{Text: w.say("not run"), Tone: Open}, dash, dash, dash, dash, dash}
	}
	at := "trip " + x.Event.ID + " "
	cells := []Cell{{Text: w.say("stays open"), Tone: Open}, dash, dash}
	if x.Closing.Closed {
		cells = []Cell{
			w.seconds(at+"closing_time", x.Closing.First.TimeS),
			w.bare(at+"reverse_velocity", quantity.Velocity, x.SlamMS()),
			w.bare(at+"head_rise", quantity.Head, x.RiseM()),
		}
	}
	least := w.bare(at+"least_pressure_head", quantity.Head, x.LeastPressureM())
	if x.Separates() {
		least = Cell{Text: w.say("vapor"), Tone: Bad}
	}
	return append(cells, w.bare(at+"greatest_head", quantity.Head, x.MostM()),
		w.bare(at+"greatest_pressure_head", quantity.Head, x.MostPressureM()), least)
}

// stopColumns are the heads over stopCells.
func (w *sheet) stopColumns() []Column {
	return []Column{
		{Title: w.say("Closes at"), Unit: "s", Right: true},
		w.numbers("Reverse velocity", quantity.Velocity), w.numbers("Head rise", quantity.Head),
		w.numbers("Max. head at the valve", quantity.Head), w.numbers("Max. in main", quantity.Head),
		w.numbers("Min. in main", quantity.Head),
	}
}

// cases has a row for each stop and start of the record.
func (w *sheet) cases() {
	t := Table{ID: "cases", Columns: append([]Column{w.column("Event", 0.34)}, w.stopColumns()...)}
	for _, x := range w.Trip.Answer.Stops {
		t.Rows = append(t.Rows, Row{Cells: append([]Cell{{Text: x.Event.Title}}, w.stopCells(x)...)})
	}
	w.put(t)
	w.text(Source, "Best estimates. Head at the valve above {datum}; heads in the main are pressure heads above its axis. Reverse velocity and head rise are those of the hardest seating of the whole run.", "datum", w.Trip.Datum)
	for _, x := range w.Trip.Answer.Stops {
		if x.Fault != "" {
			w.put(Paragraph{Label: x.Event.Title + ":", Text: sentence(x.Fault), Tone: Open})
		}
	}
}

// byHand sets hand formulas beside the run: a check on it, never in its place.
func (w *sheet) byHand() {
	s := &w.Assessment.Slam
	if !s.HeadRise.Known() {
		return
	}
	w.heading(3, "Check by hand formulas")
	w.text(Plain, "The head rise is read off the run: the greatest head after a seating over that just before it. It holds the sudden stop of the reverse flow and the waves that are under way in the pipes, so it may be above or below a V/g.")
	run := w.Study.Station.Branch.Runs[0]
	boreShare := w.Assessment.Item.Bore.SI / run.InnerDiameter.SI
	inPipe := s.ReverseVelocity.SI * boreShare * boreShare
	w.text(Plain, "By hand formulas: a V/g with the wave speed of the branch {a} and the run's reverse velocity taken into the branch {v} gives {h}; the run gives {rise}.",
		"a", w.number("branch wave_speed", run.WaveSpeed), "v", w.quote("by hand velocity", quantity.Velocity, inPipe),
		"h", w.quote("by hand rise", quantity.Head,
			valve.Joukowsky(run.WaveSpeed.SI, inPipe, quantity.StandardGravity)), "rise",
		w.number(w.Assessment.Item.ID+" head_rise", s.HeadRise))
	hand := w.Trip.ByHand
	if !hand.Reverse.Known() {
		return
	}
	w.text(Plain, "By hand formulas: reverse velocity {v} at {event}; {method}", "v",
		w.number("by hand reverse_velocity", hand.Reverse), "event", hand.Event, "method", lower(sentence(hand.Method)))
	if hand.Doubt != "" {
		w.put(Paragraph{Label: w.say("Limit of the hand formulas:"), Text: sentence(hand.Doubt), Tone: Open})
	}
}

// sensitivity says what the interval and the chances depend on.
func (w *sheet) sensitivity() {
	s := &w.Assessment.Slam
	if len(s.Inputs) == 0 {
		w.text(Open, "No interval of the slam was computed, so there is nothing to share out.")
	} else {
		w.text(Plain, "All uncertain numbers are drawn at once. The share is the part of the variance of the reverse velocity that a number explains alone.")
		t := Table{ID: "shares", Columns: []Column{
			w.column("Uncertain number", 0.5), w.column("Range", 0.3),
			w.numbers("Share", quantity.Fraction),
		}}
		for _, x := range s.Inputs {
			t.Rows = append(t.Rows, Row{Cells: []Cell{
				{Text: x.Value.Name},
				{Text: x.Value.FormatRange(w.units())},
				w.bare("share "+x.Value.Name, quantity.Fraction, x.Share),
			}})
		}
		w.put(t)
		w.threshold()
	}
	w.remedies()
}

// threshold is the value of one fact at which the class changes.
func (w *sheet) threshold() {
	t := w.Assessment.Slam.Threshold
	if t == nil {
		return
	}
	side := "below it the class is milder"
	if t.Above {
		side = "above it the class is milder"
	}
	w.form("threshold", "The deciding fact").
		words("Fact", t.Fact.Name).
		words("Range", w.Assessment.Slam.ThresholdRange(w.units())).
		add("", "Limit of the class", w.cell("threshold limit", t.Limit)).
		add("", "The class changes at", Cell{Text: w.number("threshold", t.At) + "; " + w.say(side)}).put()
}

// remedies are the what-ifs with their own runs; recommended is only what they confirm.
func (w *sheet) remedies() {
	if w.Trip == nil || len(w.Trip.Remedies) == 0 {
		return
	}
	w.heading(3, "Remedies")
	t := Table{ID: "remedies", Columns: []Column{
		w.column("What if", 0.4), w.numbers("Reverse velocity", quantity.Velocity),
		w.numbers("Head rise", quantity.Head),
		w.numbers("Max. head at the valve", quantity.Head), w.numbers("Min. in main", quantity.Head),
		w.column("Recommended", 0),
	}}
	for i := range w.Trip.Remedies {
		r := &w.Trip.Remedies[i]
		if r.Answer == nil || r.Answer.Worst == nil {
			t.Rows = append(t.Rows, Row{Cells: []Cell{
				{Text: joined(": ", sentenceStart(r.What), r.Fault)},
				{Text: w.say("not run"), Tone: Open},
			}})
			continue
		}
		at := "remedy " + r.Name + " "
		least := w.bare(at+"least_pressure_head", quantity.Head, r.LeastPressureM())
		if r.Separates() {
			least = Cell{Text: w.say("vapor"), Tone: Bad}
		}
		said := Cell{Text: w.say("no")}
		switch {
		case i == 0:
			said = Cell{Text: "–"}
		case r.Cures:
			said = Cell{Text: w.say("yes"), Tone: Good}
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{
			{Text: joined(": ", sentenceStart(r.Name), r.What)},
			w.bare(at+"reverse_velocity", quantity.Velocity, r.Answer.Worst.SlamMS()),
			w.bare(at+"head_rise", quantity.Head, r.Answer.Worst.RiseM()),
			w.bare(at+"greatest_head", quantity.Head, r.MostM()), least, said,
		}})
	}
	w.put(t)
	w.text(Source, "Each is run through every stop at best estimates; max. and min. are those of all events. Recommended is only what its own runs show to be better: a lower reverse velocity, and no column separation.")
}

// sentenceStart begins with a capital.
func sentenceStart(s string) string { return strings.TrimSuffix(sentence(s), ".") }

// compared are the valves that stand side by side, in the order asked for.
func (w *sheet) compared() []*judge.Assessment {
	ids := w.Compared
	if len(ids) == 0 {
		ids = Best(w.Study, compared)
	}
	var all []*judge.Assessment
	for _, id := range ids {
		if i := slices.IndexFunc(w.Study.Assessments,
			func(a judge.Assessment) bool { return a.Item.ID == id }); i >= 0 {
			all = append(all, &w.Study.Assessments[i])
		}
	}
	return all
}

// foundByStops are the findings of the record, with what helps.
func (w *sheet) foundByStops() {
	for _, f := range w.Trip.Findings {
		tone := map[judge.Severity]Tone{
			judge.Pass: Good, judge.Rejects: Bad, judge.Condition: Bad, judge.Confirm: Open,
			judge.Open: Open,
		}[f.Severity]
		if f.Kind == judge.ColumnSeparation || f.Kind == judge.SlamNoRest {
			tone = Bad
		}
		w.put(Paragraph{Text: w.withMend(f), Tone: tone})
	}
}

// timeLine tells the stop that is worst for slam, moment by moment.
func (w *sheet) timeLine() {
	t := w.Trip.Told()
	if t.Fault != "" {
		return
	}
	w.heading(3, "In time: the worst stop for slam")
	moments := momentsTold(t)
	var rows []Row
	for _, m := range moments {
		rows = append(rows, Row{Cells: []Cell{w.seconds("trip timeline", m.TimeS), {Text: sentence(m.Text)}}})
	}
	w.put(Table{ID: "timeline", Columns: []Column{
		{Title: w.say("Time"), Unit: "s", Right: true},
		w.column("What happens", 0.85),
	}, Rows: rows})
	if more := len(t.Moments) - len(rows); more > 0 {
		w.text(Source, "{n} further moments are not listed: vapor at other places, and what follows.", "n",
			fmt.Sprint(more))
	}
	for _, n := range t.Notes {
		w.put(Paragraph{Text: n, Tone: Open})
	}
	w.text(Source, "Grid: {steps} steps of {step}; greatest change of a wave speed to fit it {adj}.", "steps",
		fmt.Sprint(t.Steps), "step", w.quote("trip step", quantity.Time, t.StepS), "adj", w.quote("trip adjusted",
			quantity.Fraction, t.Adjusted))
}

// mostMoments is how many moments of a run a paper lists.
const mostMoments = 24

// momentsTold are the moments of a run as a paper lists them: vapor that forms at many
// places in a row is named by where it begins.
func momentsTold(t *plant.Stop) []plant.Moment {
	var out []plant.Moment
	for i, m := range t.Moments {
		if i == 0 || m.Kind != plant.VaporForms || t.Moments[i-1].Kind != plant.VaporForms {
			out = append(out, m)
		}
	}
	return out[:min(len(out), mostMoments)]
}
