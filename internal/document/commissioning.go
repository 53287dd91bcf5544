package document

import (
	"fmt"

	"seatward/basis"
	"seatward/judge"
	"seatward/quantity"
)

func writeCommissioning(w *sheet) {
	tests := w.stopTests()
	w.cautions()
	w.beforeStart()
	w.agreements(tests)
	w.stopLimits(tests)
	w.instruments(tests)
	w.startTests()
	w.heading(1, "Stop tests, from mild to severe")
	switch {
	case len(tests) == 0:
		w.text(Open, "No stop of this station was run with this valve: there is nothing to compare with. Have it run before the tests.")
	default:
		w.text(Plain, "In this order; each at full flow, and only when the one before stayed within its limits. Predicted are best estimates of the run. Heads in the main are pressure heads above its axis.")
		w.put(w.testTable(tests))
		w.notTested()
	}
	w.acceptance(tests)
	w.form("signed", "").add("", "Measured by, date", Cell{Blank: true}).add("", "Witnessed by, date",
		Cell{Blank: true}).put()
}

func (w *sheet) beforeStart() {
	w.heading(1, "Before the first start")
	items := []string{w.say("Arrow and position right: {p}.", "p", w.position())}
	if w.moves().Lever {
		items = append(items, w.say("Lever, weight or spring as set by the maker, guard on; setting noted: {line}", "line", w.blank("")))
	}
	if w.moves().Cushion {
		items = append(items, w.say("Oil cushion filled and bled; needle as set by the maker, noted: {line}", "line", w.blank("")))
	}
	items = append(items,
		w.say("Bolts tight to the maker's torque; no leak at rest."),
		w.say("Pressure test of the line done at no more than {p} at the valve, and trapped pressure relieved.", "p",
			w.number("configuration rating", w.Configuration.Rating)),
		w.say("Main filled slowly and vented; air valves in service."),
		w.say("Surge protection that the station has is in service and set."),
		w.say("Isolating valves: pump side {pump}, header side {header}, fully open.", "pump", w.blank(w.Profile.PumpSide.Text),
			"header", w.blank(w.Profile.HeaderSide.Text)),
	)
	w.put(List{Boxes: true, Items: items})
}

// agreements says who must agree before which test, and leaves room for it.
func (w *sheet) agreements(tests []stopTest) {
	w.heading(1, "Agreement before the tests")
	if w.Assessment.Verdict == judge.Unsuitable {
		w.text(Bad, "The valve is unsuitable for this station. Make no stop test before the engineer has said in writing what is to be done.")
	}
	t := Table{ID: "agree", Columns: []Column{
		w.column("Test", 0.1), w.column("Event", 0.45), w.column("Predicted to bring", 0.45),
	}}
	for i, x := range tests {
		if len(x.agree) > 0 {
			t.Rows = append(t.Rows, Row{Cells: []Cell{
				{Text: fmt.Sprint(i + 1)},
				{Text: x.Event.Title},
				{Text: w.list(x.agree), Tone: Bad},
			}})
		}
	}
	if len(t.Rows) == 0 && w.Assessment.Verdict != judge.Unsuitable {
		w.text(Good, "No stop is predicted to bring vapor, a harmful slam or more pressure than a rating: the operator's consent is enough.")
		return
	}
	if len(t.Rows) > 0 {
		w.text(Warning, "These tests can harm the station. Each is made only when owner, design engineer and maker have agreed in writing, with the surge protection in service; otherwise it is left out and noted.")
		w.put(t)
	}
	w.form("agreed", "").add("", "Owner, date", Cell{Blank: true}).add("", "Design engineer, date", Cell{Blank: true}).
		add("", "Maker of the valve, date", Cell{Blank: true}).put()
}

// stopLimits are the pressures that no test may pass, and what ends the tests.
func (w *sheet) stopLimits(tests []stopTest) {
	w.heading(1, "Pressure limits and stop criteria")
	branch, slam := w.Study.Station.Branch.Runs[0], &w.Assessment.Slam
	f := w.form("limits", "").
		value("Valve and ends, weakest rating", "configuration weakest rating", judge.WeakestRating(w.Assessment.Item)).
		value("Branch pipe, rating", "branch rating", branch.Rating)
	least, unrated := basis.Value{}, 0
	for _, r := range w.Study.Station.Main.Runs {
		switch {
		case !r.Rating.Known():
			unrated++
		case !least.Known() || r.Rating.SI < least.SI:
			least = r.Rating
		}
	}
	f.value("Main, lowest rating", "main rating", least)
	if least.Known() && unrated > 0 {
		f.words("Parts of the main without a rating", fmt.Sprint(unrated))
	}
	f.put()
	items := []string{
		w.say("A gauge passes the lowest of these ratings."),
		w.say("A gauge falls to full vacuum in a test that is not on the list of agreements."),
	}
	if h := slam.HeadRise; h.Known() && h.Ranged() {
		items = append(items, w.say("The head rise passes {high}, the upper end of the likely range of the worst stop.", "high",
			w.quote(w.Assessment.Item.ID+" head_rise high", h.Kind, h.High)))
	}
	items = append(items,
		w.say("The valve slams again and again, or a pump keeps turning backward."),
		w.say("Pipe, supports or anchors move; anything cracks, leaks or comes loose."),
		w.say("A recorder fails: repair it before the next stop."),
	)
	w.text(Plain, "Stop the tests, and call the engineer, when:")
	w.put(List{Items: items})
}

// instruments are what is measured, and how fast.
func (w *sheet) instruments(tests []stopTest) {
	w.heading(1, "Instruments")
	rate, pulse := sampling(tests)
	if rate == 0 {
		w.text(Open, "No run, so no rate is computed: at least 1000 readings a second for pressures (common practice, no source).")
		return
	}
	n := fmt.Sprint(rate)
	fast := w.say("{n} a second", "n", n)
	t := Table{ID: "instruments", Columns: []Column{
		w.column("Measured", 0.36), w.column("Range", 0.4), w.column("Readings", 0.24),
	}}
	row := func(what, span, readings string) {
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: w.say(what)}, {Text: span}, {Text: readings}}})
	}
	span := w.say("full vacuum to above the lowest rating")
	row("Pressure, header side of the valve", span, fast)
	row("Pressure, pump side of the valve", span, fast)
	for _, x := range tests {
		if x.Separates() {
			row("Pressure in the main, where vapor is predicted", span, fast)
			break
		}
	}
	row("Pump current or speed", w.say("to the motor's starting current"), w.say("same recorder, same clock"))
	row("Wet-well level", w.say("alarm levels"), w.say("1 a second"))
	w.put(t)
	w.text(Plain, "The shortest pressure pulse is a wave along the branch and back, {pulse}. At {n} readings a second a recorder keeps at least 95 % of it on average; means over seconds or minutes show nothing of a slam.",
		"pulse", w.quote("branch pulse", quantity.Time, pulse), "n", n)
	w.text(Plain, "Record from 10 s before each stop until the pressure is steady: the main swings with a period of {swing}; the valve closes up to {close} after the stop.",
		"swing", w.seconds("main swing", w.swingS()).Text+" s", "close", w.seconds("last closing", lastClosing(tests)).Text+" s")
}

// lastClosing is the longest time to the first closing of the tests, s.
func lastClosing(tests []stopTest) float64 {
	out := 0.0
	for _, x := range tests {
		if x.Closing.Closed {
			out = max(out, x.Closing.First.TimeS)
		}
	}
	return out
}

// startTests are the pumps one by one and together.
func (w *sheet) startTests() {
	w.heading(1, "Pumps, one by one")
	t := Table{ID: "pumps", Columns: []Column{
		w.column("Point", 0.26), w.numbers("Flow, predicted", quantity.Flow),
		w.column("Flow, measured", 0.16), w.numbers("Pump head, predicted", quantity.Head), w.column("Head, measured",
			0.16), w.column("Valve still? (yes, no)", 0.14),
	}}
	for i, p := range w.Points {
		at := fmt.Sprintf("operating_points[%d].", i)
		t.Rows = append(t.Rows, Row{Cells: []Cell{
			{Text: p.Name},
			w.of(at+"flow", p.Flow),
			{Blank: true},
			w.of(at+"head", p.Head),
			{Blank: true},
			{Blank: true},
		}})
	}
	w.put(t)
}

// testTable has a group of rows for each stop.
func (w *sheet) testTable(tests []stopTest) Table {
	t := Table{ID: "stops", Columns: []Column{
		w.column("Test", 0.36), w.column("Predicted", 0.2), w.column("Measured", 0.2), w.column("Within the limit? (yes, no)", 0.24),
	}}
	heads := w.stopColumns()
	for i, x := range tests {
		title := w.say("Test {n}: {event}", "n", fmt.Sprint(i+1), "event", x.Event.Title)
		if len(x.agree) > 0 {
			title += " – " + w.say("only with the agreement")
		}
		t.Rows = append(t.Rows, Row{Group: true, Cells: []Cell{{Text: title, Bold: true}}})
		add := func(label string, c Cell, judged bool) {
			t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: label}, c, {Blank: true}, {Blank: judged}}})
		}
		cells := w.stopCells(x.Stop)
		for _, at := range []int{0, 2} {
			add(heads[at].Title, unitOf(cells[at], heads[at].Unit), at == 2)
		}
		add(w.say("Max. pressure at the valve"), w.testPressure(x.Stop), true)
		add(heads[5].Title, unitOf(cells[5], heads[5].Unit), true)
	}
	return t
}

// notTested names the stops that have no numbers.
func (w *sheet) notTested() {
	for _, x := range w.Assessment.Answer.Stops {
		if x.Event.Stops() && !x.Idle && x.Fault != "" {
			w.put(Paragraph{
				Label: w.say("Not to be tested, as it has no prediction:"),
				Text:  sentence(x.Event.Title + ": " + x.Fault), Tone: Open,
			})
		}
	}
}

// acceptance says when the tests are passed.
func (w *sheet) acceptance(tests []stopTest) {
	w.heading(1, "Acceptance")
	items := []string{w.say("No test passed a pressure limit above.")}
	if s := &w.Assessment.Slam; s.HeadRise.Known() && s.HeadRise.Ranged() {
		items = append(items, w.say("Head rise of every stop at most {high}; measured at most: {line}", "high",
			w.quote(w.Assessment.Item.ID+" head_rise high", s.HeadRise.Kind, s.HeadRise.High), "line", w.blank("")))
	}
	items = append(items,
		w.say("Reverse velocity g ΔH/a from the measured step ΔH, with a = {a} in the branch: at most {limit}, the limit of a harmful slam; found: {line}",
			"a", w.number("branch wave_speed", w.Study.Station.Branch.Runs[0].WaveSpeed),
			"limit", w.number("slam-harmful limit", w.Rules.Limit("slam-harmful").Value), "line", w.blank("")),
		w.say("The valve rests after each stop; no pump turns backward."),
		w.say("Leak test: the wet-well level does not rise in 15 minutes after the stop, inflow shut off or measured (common practice, no source); measured: {line}", "line", w.blank("")),
		w.say("Alarms and switches of the valve proven."),
		w.say("Records of all channels kept with this paper; manuals, spares and training handed over."),
	)
	w.put(List{Boxes: true, Items: items})
	w.text(Source, "The interval of slam stands in the calculation. A measured rise far above the prediction is a finding: look for air, a wrong setting or a valve installed backward.")
	if anySeparates(tests) {
		w.text(Source, "Below the vapor pressure the run knows only roughly what happens: measured numbers of such a test may differ much from the predicted ones.")
	}
}

func anySeparates(tests []stopTest) bool {
	for _, x := range tests {
		if x.Separates() {
			return true
		}
	}
	return false
}
