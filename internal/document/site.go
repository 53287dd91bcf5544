package document

import (
	"fmt"

	"seatward/catalog"
	"seatward/dimension"
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
		words("Flange bolts", w.bolts()).
		value("Mass to be lifted", "configuration mass", w.Configuration.Mass).put()
	w.verdict()
	w.cautions("pressure", "moving-parts", "sewage", "confined-space", "lifting", "drinking-water")
	w.heading(1, "On the ground")
	w.put(List{Boxes: true, Items: []string{
		w.say("Tag, size, rating, ends and length are those of this sheet; nothing is damaged."),
		w.say("Blocks for transport are out; the moving element travels its whole stroke by hand."),
		w.say("New gaskets and bolts of the right size at hand."),
	}})
	w.entering(1)
	w.securing(1)
	w.lifting(1)
	w.heading(1, "Setting the valve")
	w.installing()
	w.returning(1)
	w.firstStop(1)
	w.recording(1)
}

// bolts are those of the flange, where a standard has them; "" elsewhere. An inch bolt on a
// metric sheet has its millimeters beside it.
func (w *sheet) bolts() string {
	for _, o := range w.Configuration.Options {
		if o.Option.ID != catalog.EndsOption || o.Choice == nil {
			continue
		}
		f, found := dimension.FlangeOf(o.Choice.Title, w.Assessment.Item.Size)
		if !found || f.Bolts == 0 {
			return ""
		}
		text := fmt.Sprintf("%d × %s", f.Bolts, f.Bolt)
		if inch := f.Bolt[0] != 'M'; inch != (w.units() == quantity.US) {
			text += " (" + w.quote("flange bolt", quantity.Diameter, f.BoltM) + ")"
		}
		return text
	}
	return ""
}

// installing tells position, straight pipe, support, joints, back head and clearance.
func (w *sheet) installing() {
	st, it := w.Study.Station, w.Assessment.Item
	arrow := map[valve.Position]string{
		valve.Horizontal: "Arrow in the direction of flow, away from the pump; level, cover on top.",
		valve.FlowUp:     "Arrow up, away from the pump.",
		valve.FlowDown:   "Arrow down, away from the pump.",
	}[st.Valve.Position]
	if !w.covered() && st.Valve.Position == valve.Horizontal {
		arrow = "Arrow in the direction of flow, away from the pump; level, hinge or pins as the maker shows."
	}
	items := []string{w.say(arrow)}
	if v := it.Family.StraightBefore; v.Known() {
		have := w.say("not given")
		if st.Valve.StraightBefore.Known() {
			have = w.number("valve.straight_before", st.Valve.StraightBefore)
		}
		items = append(items, w.say("Straight pipe upstream: {n} diameters required by the maker. Measured length here: {have}.", "n",
			w.quote("configuration straight", quantity.Number, v.SI), "have", have))
	} else {
		items = append(items, w.say("Straight pipe upstream: the maker does not say how much; ask."))
	}
	items = append(items, w.room(),
		w.say("Support the pipe on both sides close to the valve; its flanges carry no weight and are not used to pull pipes together."),
		w.say("New gaskets to the facing: flat-faced iron takes full-face gaskets; never bolt raised-face steel hard against flat-faced iron."),
		w.say("Bolts crosswise in three steps, to the maker's torque: {line}", "line", w.blank("")))
	if need := w.Assessment.BackHead; need.Known() {
		items = append(items, w.say("Minimum back head to seal {need}; the station holds {have} on it at the high level.", "need",
			w.number(it.ID+" least_back_head", need), "have", w.number("static_low", st.StaticLow)))
	} else {
		items = append(items, w.say("Minimum back head to seal: not given by the maker; ask."))
	}
	items = append(items, w.say("A reducer, elbow or pump close upstream unsettles the moving element: if one cannot be moved, expect wear."))
	w.put(List{Items: items})
}

// room is the free height over the axis, needed and there, in one unit.
func (w *sheet) room() string {
	need, have := w.Assessment.Item.Clearance, w.Study.Station.Valve.Clearance
	short := func(path string, known bool, m float64) string {
		if !known {
			return w.say("not given")
		}
		return w.quote(path, quantity.Diameter, m)
	}
	return w.say("Free height above the axis to lift cover and moving element: {need} needed; here {have}.", "need",
		short("configuration clearance", need.Known(), need.SI), "have", short("valve.clearance", have.Known(), have.SI))
}

func writeMaintenance(w *sheet) {
	w.heading(1, "Checks without entry")
	look := "Look at the body from outside: quiet in running flow, no leak at the joints."
	switch {
	case w.moves().Lever:
		look = "Look at lever and cover from outside: lever steady while pumping, no leak at shaft or cover."
	case w.covered():
		look = "Look at the cover from outside: quiet while pumping, no leak."
	}
	w.put(List{Boxes: true, Items: []string{
		w.say("Listen at a stop: one bang is slam, bangs seconds apart are column separation, tapping in running flow is flutter."),
		w.say("Expected at a stop: {sound}.", "sound", w.expected()),
		w.say("Watch the level for 15 minutes after a stop (common practice, no source): a rise is leakage back through a valve; repeat for each pump."),
		w.say("Read pump hours, starts and current against last month; equal inflow and longer running is wear or rags."),
		w.say(look),
	}})
	w.cautions("pressure", "moving-parts", "sewage", "confined-space", "lifting", "drinking-water")
	w.entering(1)
	w.securing(1)
	w.opening(1)
	w.lifting(1)
	w.heading(1, "Inspection of the moving element")
	w.inspection()
	w.closing(1)
	w.returning(1)
	w.firstStop(1)
	w.heading(1, "Spares to have at hand")
	w.spares()
	w.recording(1)
}

// caring is the maintenance of the valve within another paper.
func (w *sheet) caring() {
	w.entering(2)
	w.securing(2)
	w.opening(2)
	w.lifting(2)
	w.heading(2, "Inspection of the moving element")
	w.inspection()
	w.closing(2)
	w.returning(2)
	w.heading(2, "Spares to have at hand")
	w.spares()
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
	typ := w.Assessment.Item.Family.Type
	floats := false
	for _, l := range typ.Looks {
		switch {
		case l.Param != "":
			row(l.At, param(l.Param))
		case l.Sound != "":
			row(l.At, Cell{Text: w.say(l.Sound)})
		case l.Mass:
			row(l.At, w.cell("configuration element mass", w.Configuration.Element))
		case l.Floats:
			floats = true
			row(l.At, w.floats(typ.Traits.Floats))
		default:
			row(l.At, Cell{Blank: true})
		}
	}
	w.put(t)
	if floats {
		w.floatTest()
	}
	w.text(Source, "Limits of wear are the maker's; where the maker gives none, note what is measured now and compare next year.")
}

// floatTest says how a ball is tried: by hand only where one person may lift it.
func (w *sheet) floatTest() {
	for _, l := range w.Lifts {
		if l.Part == "element" && l.Alone {
			w.text(Source, "Float or sink: try it in a tub of clean water.")
			return
		}
	}
	w.text(Source, "Float or sink: too heavy for a tub. Weigh the ball on the hoist and divide by its volume from the diameter; more than water's density sinks.")
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
