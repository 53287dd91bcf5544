package document

import (
	"fmt"
	"strings"

	"seatward/basis"
	"seatward/judge"
	"seatward/quantity"
	"seatward/valve"
)

func writeInstallation(w *sheet) {
	w.heading(1, "The valve and its place")
	w.form("place", "").
		add("", "Tag", w.field("tag", w.Profile.Tag.Text)).
		words("Station", joined(", ", w.Study.Station.Name, w.Study.Station.Place)).
		words("Valve", w.Assessment.Item.Family.Title+", "+w.Assessment.Item.Size.String()).
		words("Position", w.position()).
		value("Face-to-face length", "configuration face-to-face", w.Assessment.Item.FaceToFace).
		words("Ends", w.ends()).
		value("Mass to be lifted", "configuration mass", w.Configuration.Mass).put()
	w.verdict()
	w.heading(1, "Before it goes in")
	w.put(List{Boxes: true, Items: []string{
		w.say("Tag, size, rating, ends and length are those of this sheet; nothing is damaged; blocks for transport are out."),
		w.say("The element moves freely by hand through its whole way."),
		w.say("Pumps locked out; both sides isolated, drained and vented; bypass ready where flow cannot be held."),
		w.say("Lifting gear rated for {m}; nobody below.", "m", w.number("configuration mass", w.Configuration.Mass)),
	}})
	w.installing()
	w.cautions("pressure", "moving-parts", "sewage", "confined-space", "lifting", "drinking-water")
}

// installing tells position, straight pipe, support, back head and clearance.
func (w *sheet) installing() {
	st, it := w.Study.Station, w.Assessment.Item
	arrow := map[valve.Position]string{
		valve.Horizontal: "Arrow in the direction of flow, away from the pump; cover on top, level.",
		valve.FlowUp:     "Arrow up, away from the pump.",
		valve.FlowDown:   "Arrow down, away from the pump.",
	}[st.Valve.Position]
	items := []string{w.say(arrow)}
	if v := it.Family.StraightBefore; v.Known() {
		asked := w.say("{n} diameters", "n", w.quote("configuration straight", quantity.Number, v.SI))
		have := w.say("not given")
		if st.Valve.StraightBefore.Known() {
			have = w.number("valve.straight_before", st.Valve.StraightBefore)
		}
		items = append(items, w.say("Straight pipe upstream: {asked} required by the maker; here {have}.", "asked",
			asked, "have", have))
	} else {
		items = append(items, w.say("Straight pipe before it: the maker does not tell how much; ask."))
	}
	have := w.say("not given")
	if st.Valve.Clearance.Known() {
		have = w.quote("valve.clearance", it.Clearance.Kind, st.Valve.Clearance.SI) // in the unit of what is needed
	}
	items = append(items,
		w.say("Free height above its axis for cover and element: {need} needed; here {have}.", "need",
			w.number("configuration clearance", it.Clearance), "have", have),
		w.say("Support the pipe on both sides close to the valve; its flanges carry no weight and are not used to pull pipes together."),
		w.say("Gaskets to the facing: flat-faced iron takes full-face gaskets; never bolt raised-face steel hard against flat-faced iron."),
		w.say("Bolts crosswise in steps, to the maker's torque."),
	)
	need := w.Assessment.BackHead
	if need.Known() {
		items = append(items, w.say("Minimum back head to seal {need}; the station holds {have} on it at the high level.", "need", w.number(it.ID+" least_back_head", need), "have", w.number("static_low", st.StaticLow)))
	} else {
		items = append(items, w.say("Minimum back head to seal: not given by the maker; ask."))
	}
	items = append(items, w.say("A taper, elbow or pump close before the valve unsettles its element: if one cannot be moved, expect wear."))
	w.put(List{Items: items})
}

func writeCommissioning(w *sheet) {
	w.heading(1, "Before the first start")
	w.put(List{Boxes: true, Items: []string{
		w.say("Arrow and position right: {p}.", "p", w.position()),
		w.say("Lever, weight or spring as set by the maker, and noted here: ______________"),
		w.say("Cover bolts tight; no leak at rest."),
		w.say("Pipeline test below the rating of {p}, trapped pressure relieved.", "p",
			w.number("configuration rating", w.Configuration.Rating)),
		w.say("Main filled slowly and vented."),
		w.say("Pressure recorders on both sides of the valve, 500 readings a second or more, and pump current."),
	}})
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
	w.heading(1, "Stop tests")
	w.text(Plain, "Each stop at full flow, with the predicted numbers of the run at best estimates and blanks for what is measured. Max. and min. are pressure heads in the main above its axis; head rise is that of the hardest seating.")
	w.put(w.stopTests())
	w.text(Source, "The interval of slam stands in the calculation. A measured rise far above the prediction is a finding: stop the tests and look for air, a wrong setting or a valve installed backward.")
	w.heading(1, "After the tests")
	w.put(List{Boxes: true, Items: []string{
		w.say("No pump turns back after it stops."),
		w.say("Leak test: level in the wet well does not rise in 15 minutes after the stop (common practice, no source); measured: ______________"),
		w.say("Alarms and switches of the valve proven."),
		w.say("Manuals, spares and training handed over."),
	}})
	w.form("signed", "").add("", "Measured by, date", Cell{Blank: true}).add("", "Witnessed by, date",
		Cell{Blank: true}).put()
	w.cautions()
}

// tested are the columns of stopColumns that a stop test predicts, and whether they are measured.
var tested = []struct {
	at       int
	measured bool
}{{0, true}, {1, false}, {2, true}, {4, true}, {5, true}}

// stopTests has a row for each stop that was run.
func (w *sheet) stopTests() Table {
	t := Table{ID: "stops", Caption: w.say("Stop tests"), Columns: []Column{w.column("Event", 0.26)}}
	heads := w.stopColumns()
	for _, c := range tested {
		t.Columns = append(t.Columns, heads[c.at])
		if c.measured {
			t.Columns = append(t.Columns, w.column("measured", 0))
		}
	}
	if w.Trip == nil {
		return t
	}
	for _, x := range w.Trip.Answer.Stops {
		if !x.Event.Stops() || x.Idle {
			continue
		}
		cells := []Cell{{Text: x.Event.Title}}
		predicted := w.stopCells(x)
		for _, c := range tested {
			cells = append(cells, predicted[c.at])
			if c.measured {
				cells = append(cells, Cell{Blank: true})
			}
		}
		t.Rows = append(t.Rows, Row{Cells: cells})
	}
	return t
}

func writeMaintenance(w *sheet) {
	w.heading(1, "Checks without entry")
	w.put(List{Boxes: true, Items: []string{
		w.say("Listen at a stop: one bang is slam, bangs seconds apart are column separation, tapping in running flow is flutter."),
		w.say("Watch the level for 15 minutes after a stop (common practice, no source): a rise is leakage back through a valve; repeat for each pump."),
		w.say("Read pump hours, starts and current against last month; equal inflow and longer running is wear or rags."),
		w.say("Look at lever, switch and cover from outside: still in running flow, no weeping."),
	}})
	w.caring()
	w.cautions()
}

// caring is how the valve is opened, lifted out and looked at.
func (w *sheet) caring() {
	w.heading(2, "Making safe")
	w.put(List{Numbered: true, Items: []string{
		w.say("Plan bypass and spill; tell the operator. Test the air; entry only by the local rules for confined spaces."),
		w.say("Lock out and tag every pump that can feed the line; prove that none can start by itself on level."),
		w.say("Shut isolation valves on both sides; the column of water above the valve holds pressure when the pump is off."),
		w.say("Vent and drain the body; prove zero pressure at a gauge or open cock on both sides."),
		w.say("Secure lever, weight or spring before the cover is loosened; loosen bolts crosswise, far side first, standing clear."),
	}})
	w.heading(2, "Lifting")
	t := Table{ID: "lifting", Columns: []Column{
		w.column("Part", 0.3), w.numbers("Mass", quantity.Mass),
		w.column("By hand", 0.5),
	}}
	for _, l := range w.Lifts {
		said, tone := w.say("not given: weigh it, or ask the maker, before it is lifted"), Open
		switch {
		case l.Mass.Known() && l.Alone:
			said, tone = w.say("one person may lift it ({p} of the limit)", "p",
				quantity.Figures(100*l.Index, 2)+"%"), Good
		case l.Mass.Known():
			said, tone = w.say("a lifting plan: rated gear, clear room, nobody below"), Bad
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{
			{Text: l.Part},
			w.of("configuration "+l.Part+" mass", l.Mass),
			{Text: said, Tone: tone},
		}})
	}
	w.put(t)
	w.text(Source, "One person may lift {limit} here, by {source}, for a lift from knee height onto a bench with arms half stretched: assumed. Lifting points and their loads are the maker's to tell; never take an eyebolt's load from memory.",
		"limit", w.number("lifting limit", w.LiftLimit), "source", basis.Cite(w.LiftLimit.Source))
	w.heading(2, "Inspection of the moving element")
	w.inspection()
	w.heading(2, "Spares to have at hand")
	w.spares()
	w.heading(2, "Record")
	w.put(Table{ID: "record", Columns: []Column{
		w.column("Date", 0.14), w.column("Found", 0.36), w.column("Done", 0.3),
		w.column("By", 0.2),
	}, Rows: blankRows(4, 4)})
}

func blankRows(rows, cells int) []Row {
	out := make([]Row, rows)
	for i := range out {
		for range cells {
			out[i].Cells = append(out[i].Cells, Cell{Blank: true})
		}
	}
	return out
}

// inspection has the measures that tell wear in this type, which the type lists, as new where
// the catalog knows, and blanks for limits of the maker and for what is measured.
func (w *sheet) inspection() {
	t := Table{ID: "inspection", Columns: []Column{
		w.column("Measure", 0.34), w.column("As new", 0.18),
		w.column("Limit of the maker", 0.24), w.column("Measured", 0.24),
	}}
	row := func(label string, asNew Cell) {
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: w.say(label)}, asNew, {Blank: true}, {Blank: true}}})
	}
	param := func(key string) Cell {
		if p, found := w.Assessment.Item.Params[key]; found {
			return w.full(Cell{Text: w.quote("mechanics "+key, p.Kind, p.SI)}, p.Kind, p.SI)
		}
		return Cell{Text: w.say("not given"), Tone: Open}
	}
	element := w.of("configuration element mass", w.Configuration.Element)
	if element.Numeric {
		element.Text += " " + w.units().Unit(quantity.Mass)
	}
	typ := w.Assessment.Item.Family.Type
	for _, l := range typ.Looks {
		switch {
		case l.Param != "":
			row(l.At, param(l.Param))
		case l.Sound != "":
			row(l.At, Cell{Text: w.say(l.Sound)})
		case l.Mass:
			row(l.At, element)
		case l.Floats:
			row(l.At, w.floats(typ.Traits.Floats))
		default:
			row(l.At, Cell{Blank: true})
		}
	}
	w.put(t)
	w.text(Source, "Limits of wear are the maker's; where the maker tells none, note what is measured now and compare next year.")
}

// floats says what a sound element of that density does in water.
func (w *sheet) floats(density string) Cell {
	p, found := w.Assessment.Item.Params[density]
	switch {
	case !found:
		return Cell{Text: w.say("not given"), Tone: Open}
	case p.SI < 1000:
		return Cell{Text: w.say("floats")}
	}
	return Cell{Text: w.say("sinks")}
}

func writeFieldcard(w *sheet) {
	a, it := w.Assessment, w.Assessment.Item
	tag := w.Profile.Tag.Text
	if tag == "" {
		tag = "__________"
	}
	w.form("card", "").
		words("Tag", tag).
		words("Valve", it.Family.Title+", "+it.Size.String()).
		words("Position", w.position()).
		add("", "Whole valve", Cell{Text: w.both("configuration mass", w.Configuration.Mass)}).
		add("", "Cover", Cell{Text: w.both("configuration cover", w.Configuration.Cover)}).
		add("", "Ball, disc or flap", Cell{Text: w.both("configuration element", w.Configuration.Element)}).
		add("", "Rating", Cell{Text: w.both("configuration rating", w.Configuration.Rating)}).
		add("", "Min. back head to seal", Cell{Text: w.both(it.ID+" least_back_head", a.BackHead)}).
		add("", "Normal flow", Cell{Text: w.both(it.ID+" flow", a.Governing.Flow)}).
		words("At a stop", w.expected()).put()
	w.put(List{Numbered: true, Items: []string{
		w.say("Stay out: look, listen, watch the level first."),
		w.say("Air tested, entry by local rules."),
		w.say("Pumps locked out; they start by themselves."),
		w.say("Isolate, lock, vent and drain both sides. Prove zero pressure."),
		w.say("Lifting gear for what is too heavy: {list}.", "list", w.heavy()),
	}})
	w.put(Code{
		Text: "seatward:" + w.Study.Station.Hash + "/" + it.ID,
		Caption: w.say("Names the study {hash}. The maker's instructions and local rules go before this card.", "hash",
			w.Study.Station.Hash[:min(12, len(w.Study.Station.Hash))]),
	})
}

// expected is what a crew should hear at a stop.
func (w *sheet) expected() string {
	switch w.Assessment.VerdictClass() {
	case judge.Quiet:
		return w.say("quiet; a bang is a fault")
	case judge.Audible:
		return w.say("a thud; harder than last time is a fault")
	case judge.Harmful:
		return w.say("slam: call the engineer")
	}
	return w.say("not computed")
}

func (w *sheet) heavy() string {
	var out []string
	for _, l := range w.Lifts {
		if !l.Alone {
			out = append(out, l.Part)
		}
	}
	if len(out) == 0 {
		return w.say("nothing")
	}
	return strings.Join(out, ", ")
}
