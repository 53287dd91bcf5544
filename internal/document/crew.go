package document

import (
	"slices"
	"strings"

	"seatward/basis"
	"seatward/quantity"
	"seatward/valve"
)

// What the papers for the crew have in common, in the order of the work: before entry, make
// safe, open, lift, inspect, close, back to service, the first stop.

// moves is what this valve has on its moving element, by the data of its type.
func (w *sheet) moves() valve.Figure {
	it := w.Assessment.Item
	return it.Family.Type.Figure(it.Params)
}

// covered is true where the valve is opened by a cover; others come out of the line whole.
func (w *sheet) covered() bool {
	return w.Configuration.Cover.Known() || !w.Assessment.Item.Family.Type.Traits.Whole
}

// cautioned is true where the study has the caution.
func (w *sheet) cautioned(id string) bool {
	for _, c := range w.Study.Cautions {
		if c.ID == id {
			return true
		}
	}
	return false
}

// entering is what is settled before anybody goes in.
func (w *sheet) entering(level int) {
	w.heading(level, "Before entry")
	items := []string{
		w.say("Operator told; bypass and spill planned for the time that the line is out."),
		w.say("Maker's instructions at hand. Emergency contact: {contact}", "contact", w.blank(w.Profile.Emergency.Text)),
	}
	if w.cautioned("confined-space") {
		items = append(items, w.say("Permit, ventilation, air test before and during the work, and an attendant outside, by the local rules for confined spaces."))
	}
	if w.Study.Station.Fluid.Sewage() {
		items = append(items, w.say("Gloves, eye and face protection, and water to wash with."))
	}
	if w.Study.Station.Fluid.Drinking() {
		items = append(items, w.say("Clean tools and parts; disinfection after the work as the local code asks."))
	}
	w.put(List{Boxes: true, Items: items})
}

// blank is the text, or a line to write on.
func (w *sheet) blank(text string) string {
	if text == "" {
		return "______________"
	}
	return text
}

// securing is how stops, valves and stored energy are made safe, and how the valve is opened.
func (w *sheet) securing(level int) {
	w.heading(level, "Making safe")
	p, has := w.Profile, w.moves()
	items := []string{
		w.say("Isolate: stop the pump in hand control; close the isolating valves on the pump side, {pump}, and on the header side, {header}.",
			"pump", w.blank(p.PumpSide.Text), "header", w.blank(p.HeaderSide.Text)),
		w.say("Lock and tag the pump's disconnect and both isolating valves. Try to start the pump: it must not start. Pumps start by themselves on level."),
	}
	if has.Lever {
		items = append(items, w.say("Secure the lever first: block or tie it so that it cannot swing. Note its setting: {line}", "line", w.blank("")))
	}
	items = append(items,
		w.say("Vent: open the vent of the body slowly, standing aside. The column of water above the valve holds pressure with the pump off."),
		w.say("Drain both sides of the moving element; a closed valve traps pressure on the header side."),
		w.say("Prove zero: gauges on both sides read zero and open cocks run dry. A plugged cock proves nothing: clear it."),
	)
	switch {
	case has.Lever && (has.Weight || has.Spring):
		items = append(items, w.say("With zero proven, take the weight off or unload the spring by the maker's instructions, before the cover is loosened."))
	case has.Spring:
		items = append(items, w.say("The spring inside stays loaded at zero pressure: hold it with the maker's tool before its nut or pin is loosened."))
	}
	if has.Cushion {
		items = append(items, w.say("Relieve the oil cushion by the maker's instructions, and catch the oil."))
	}
	w.put(List{Numbered: true, Items: items})
}

// opening is how the valve is opened once it is safe.
func (w *sheet) opening(level int) {
	w.heading(level, "Opening")
	items := []string{}
	if w.covered() {
		hold := "Take the weight of the cover on a strap before the last bolts are out; mass {mass}."
		for _, l := range w.Lifts {
			if l.Part == "cover" && l.Alone {
				hold = "Hold the cover before the last bolts are out; mass {mass}."
			}
		}
		items = append(items, w.say(hold, "mass", w.number("configuration cover", w.Configuration.Cover)),
			w.say("Loosen the cover bolts crosswise, far side first, standing clear; break the joint before any bolt is taken out."))
	} else {
		items = append(items,
			w.say("The valve has no cover: it comes out of the line whole. Support the pipe on both sides and take the weight of the valve; mass {mass}.", "mass",
				w.number("configuration mass", w.Configuration.Mass)),
			w.say("Loosen the flange bolts crosswise, far side first, standing clear; break both joints before any bolt is taken out."))
	}
	items = append(items, w.say("Hands out of the seat until the moving element is blocked or out."))
	w.put(List{Numbered: true, Items: items})
}

// lifting says by what each part is lifted, by its mass.
func (w *sheet) lifting(level int) {
	w.heading(level, "Lifting")
	t := Table{ID: "lifting", Columns: []Column{
		w.column("Part", 0.24), w.numbers("Mass", quantity.Mass), w.column("Lift it", 0.56),
	}}
	best := w.Rules.Limit("one-person-mass").Value
	for _, l := range w.Lifts {
		if l.Part == "cover" && !w.covered() {
			continue
		}
		said, tone := w.say("mass not given: weigh it, or ask the maker, before it is lifted"), Open
		switch mass := w.units().Format(quantity.Mass, l.Mass.SI); {
		case !l.Mass.Known():
		case l.Alone:
			said, tone = w.say("by hand, one person ({p} of the limit)", "p", quantity.Figures(100*l.Index, 2)+"%"), Good
		case l.Mass.High <= best.SI:
			said, tone = w.say("two persons, or a strap from above: more than one person should lift here"), Open
		default:
			said, tone = w.say("hoist and slings rated for more than {mass}; lifting plan, clear room, nobody below",
				"mass", mass), Bad
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{
			{Text: w.say(l.Part)},
			w.of("configuration "+l.Part+" mass", l.Mass),
			{Text: said, Tone: tone},
		}})
	}
	w.put(t)
	if w.d.Kind == "installation" && w.Study.Station.Valve.Existing != "" {
		w.text(Open, "The mass of the old valve is not known: weigh it, or ask its maker, before it is lifted out.")
	}
	w.text(Source, "One person may lift {limit} here, by {source}, for a lift from knee height onto a bench with arms half stretched: assumed. Lifting points and their loads are the maker's to give; never take an eyebolt's load from memory.",
		"limit", w.number("lifting limit", w.LiftLimit), "source", basis.Cite(w.LiftLimit.Source))
}

// closing is how the valve is put together again.
func (w *sheet) closing(level int) {
	w.heading(level, "Reassembly")
	has := w.moves()
	items := []string{
		w.say("Seat and gasket faces clean and dry; nothing left inside."),
		w.say("New gasket, of the maker's size and of a material for this liquid: never one that was used before."),
		w.say("Bolts hand tight, then crosswise in three steps to the maker's torque: {line}", "line", w.blank("")),
	}
	switch {
	case has.Element == "ball":
		items = slices.Insert(items, 1, w.say("The ball rolls freely into its guide and back onto the seat."))
	case !has.Spring || has.Lever:
		items = slices.Insert(items, 1, w.say("The moving element travels its whole stroke by hand and closes by itself."))
	default:
		items = slices.Insert(items, 1, w.say("The moving element travels its whole stroke and the spring brings it back onto the seat."))
	}
	if has.Lever {
		items = append(items, w.say("Lever, weight and spring back to the setting noted; guard on; block still in place."))
	}
	if has.Cushion {
		items = append(items, w.say("Oil cushion filled and bled; needle at the setting noted."))
	}
	w.put(List{Boxes: true, Items: items})
}

// returning brings the line back to service.
func (w *sheet) returning(level int) {
	w.heading(level, "Back to service")
	items := []string{w.say("Tools, rags and people out. Drains closed, vent open, lock still on the pump.")}
	if w.moves().Lever {
		items = append(items, w.say("Take the block off the lever, standing clear."))
	}
	items = append(items,
		w.say("Open the pump-side isolating valve a little: fill slowly until the vent runs without air, then close the vent."),
		w.say("Open the header-side isolating valve a little, and wait for the pressure. No leak at cover, flanges or shaft, or isolate again."),
		w.say("Open both isolating valves fully."),
		w.say("Each person removes their own lock and tag. Tell the operator."),
		w.say("Start the pump in hand control: no air, no knocking, no leak."),
	)
	w.put(List{Numbered: true, Items: items})
}

// firstStop is the mildest stop, to be watched, with its predicted numbers.
func (w *sheet) firstStop(level int) {
	w.heading(level, "First stop, watched")
	tests := w.stopTests()
	if len(tests) == 0 {
		w.text(Open, "No stop of this station was run with this valve: there are no numbers to watch for. Ask the engineer before the first stop.")
		return
	}
	x := tests[0]
	if len(x.agree) > 0 {
		w.text(Bad, "Even the mildest stop is predicted to bring {why}. Call the engineer before the first stop.", "why", w.list(x.agree))
	}
	if w.moves().Lever {
		w.text(Plain, "Stand clear of the lever, listen, and watch the gauge. First stop: {event}.", "event", x.Event.Title)
	} else {
		w.text(Plain, "Stand clear, listen, and watch the gauge. First stop: {event}.", "event", x.Event.Title)
	}
	cells := w.stopCells(x.Stop)
	heads := w.stopColumns()
	t := Table{ID: "first", Columns: []Column{
		w.column("What", 0.36), w.column("Predicted", 0.3), w.column("Seen", 0.34),
	}}
	row := func(what string, predicted Cell) {
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: what}, predicted, {Blank: true}}})
	}
	for _, at := range []int{0, 2} {
		row(heads[at].Title, unitOf(cells[at], heads[at].Unit))
	}
	row(w.say("Max. pressure at the valve"), w.testPressure(x.Stop))
	row(w.say("Sound"), Cell{Text: w.expected()})
	w.put(t)
	w.text(Source, "Closing time from the stop of the pump. Harder than predicted, or the pump turns backward: isolate, and call the engineer.")
}

// unitOf gives a bare cell its unit.
func unitOf(c Cell, unit string) Cell {
	if c.Numeric && unit != "" {
		c.Text += " " + unit
	}
	return c
}

// list joins phrases with commas, in the user's wording.
func (w *sheet) list(phrases []string) string {
	out := make([]string, len(phrases))
	for i, p := range phrases {
		out[i] = w.say(p)
	}
	return strings.Join(out, ", ")
}

// recording is what is written down at the end of the work.
func (w *sheet) recording(level int) {
	w.heading(level, "Record")
	w.put(Table{ID: "record", Columns: []Column{
		w.column("Date", 0.14), w.column("Found", 0.36), w.column("Done", 0.3), w.column("By", 0.2),
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
