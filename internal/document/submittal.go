package document

import (
	"fmt"
	"strings"

	"seatward/dimension"
	"seatward/internal/chart"
	"seatward/quantity"
)

func writeSubmittal(w *sheet) {
	w.transmittal()
	w.put(w.enclosed(), Contents{}, Break{})
	w.compliance()
	w.heading(1, "Data sheet")
	w.verdict()
	w.sheetParts(2)
	w.objections()
	w.heading(1, "Dimensions")
	w.dimensions()
	w.heading(1, "Curves")
	w.lossChart()
	w.systemChart()
	w.stopCharts()
	w.heading(1, "Tests at the works")
	w.testProcedure()
	w.heading(1, "Coating")
	w.coating()
	w.heading(1, "Certificates and declarations")
	w.certificates()
	w.heading(1, "Installation")
	w.installing()
	w.heading(1, "Operation and maintenance")
	w.caring()
	w.heading(1, "Warranty")
	w.put(Space{
		Title: w.say("Warranty of the maker"),
		Lines: []string{w.say("Term, start, and what it covers: blank, for the maker to fill in.")}, HeightMM: 35,
	})
	w.heading(1, "Cautions of the study")
	for _, c := range w.Study.Cautions {
		w.put(Paragraph{Text: c.Text, Tone: Warning})
	}
}

func (w *sheet) transmittal() {
	p := w.Profile
	w.heading(1, "Transmittal")
	w.form("transmittal", "").
		add("", "Submittal number", w.field("document number", p.Number.Text)).
		add("", "Revision", w.field("revision", p.Revision.Text)).
		add("", "Project", w.field("project", p.Project.Text)).
		add("", "Project number", w.field("project number", p.ProjectNo.Text)).
		add("", "Owner", w.field("owner", p.Owner.Text)).
		add("", "Engineer", w.field("engineer", p.Engineer.Text)).
		add("", "Contractor", w.field("contractor", p.Contractor.Text)).
		add("", "Submitted by", w.field("company", p.Company.Text)).
		words("Address", p.Address.Text).
		words("Contact", p.Contact.Text).
		add("", "Specification section", w.field("specification section", p.Section.Text)).
		add("", "Paragraph", w.field("paragraph", p.Paragraph.Text)).
		add("", "Drawing and detail", w.field("drawing", p.Drawing.Text)).
		add("", "Tag", w.field("tag", p.Tag.Text)).
		add("", "Quantity", w.field("quantity", p.Quantity.Text)).
		words("Item", w.orderText()).
		put()
	w.put(List{Boxes: true, Items: []string{
		w.say("first submittal"), w.say("resubmittal"), w.say("for approval"), w.say("for record"),
		w.say("as specified"), w.say("substitution for (product specified, reason, what it changes): ______________"),
	}})
	w.put(Space{
		Title: w.say("Contractor's review and approval"),
		Lines: []string{w.say("Stamp, signature and date of the contractor: blank. A submittal without it is returned unreviewed.")}, HeightMM: 28,
	})
	w.put(Space{Title: w.say("Reviewer's action"), HeightMM: 24})
}

// enclosed lists what is in this submittal, and what is to be attached by name.
func (w *sheet) enclosed() Table {
	t := Table{ID: "enclosed", Columns: []Column{
		w.column("Enclosed", 0.6), w.column("Where", 0.4),
	}}
	add := func(what, where string) {
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: w.say(what)}, {Text: w.say(where)}}})
	}
	attach := func(what string) {
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: w.say(what)}, {Text: w.say("to be attached"), Tone: Open}}})
	}
	add("Compliance matrix and list of deviations", "Compliance matrix")
	add("Data sheet with bill of materials", "Data sheet")
	if w.Assessment.Item.FaceToFace.Known() {
		add("Dimension sketch from catalog data", "Dimensions")
	}
	switch {
	case w.Loss != nil && w.Closing != nil:
		add("Head-loss curve and closing curve, with their basis", "Curves")
	case w.Loss != nil:
		add("Head-loss curve, with its basis", "Curves")
	}
	add("Test procedure; installation and maintenance sheets", "Tests at the works")
	attach("Dimension drawing of the maker, number and revision")
	attach("Certificates, as listed; warranty of the maker")
	return t
}

func (w *sheet) dimensions() {
	it, cfg := w.Assessment.Item, w.Configuration
	w.form("dimensions", "").
		words("Nominal size", it.Size.String()).
		value("Face-to-face length", "configuration face-to-face", it.FaceToFace).
		value("Free height above the axis", "configuration clearance", it.Clearance).
		value("Bore", "configuration bore", it.Bore).put()
	if f, found := dimension.FlangeOf(w.ends(), it.Size); found {
		w.form("flange", "Flange, by the standard of the ends").
			add("", "Outside diameter", w.dimension("flange outside", f.OutsideM)).
			add("", "Bolt circle", w.dimension("flange bolt circle", f.BoltCircleM)).
			words("Bolts", fmt.Sprintf("%d × %s", f.Bolts, f.Bolt)).
			add("", "Holes", w.dimension("flange hole", f.HoleM)).
			words("Standard", w.ends()).put()
	}
	if f := chart.Outline(it, w.ends(), w.units()); f != nil {
		w.figure(f, "Dimension sketch with flow arrow",
			"The valve lying in its pipe: face-to-face length, bore, outside diameter of the flanges, the free height that cover and element need above the axis, and the direction of flow. Only what catalog and flange standard give is drawn.")
		w.text(Plain, "Here it stands: {position}.", "position", w.position())
	} else {
		w.text(Open, "The catalog gives no length, so there is no sketch: ask the maker for the drawing.")
	}
	w.heading(2, "Lifting view")
	w.form("lift", "").
		value("Mass of the valve", "configuration mass", cfg.Mass).
		value("Mass of the cover", "configuration cover", cfg.Cover).
		value("Mass of the moving element", "configuration element", cfg.Element).put()
	w.text(Plain, "Cover and element come out above the axis, within the free height of the sketch. Lifting points, their loads and the center of mass are not in the catalog: the drawing of the maker names them.")
	w.text(Source, "Nominal dimensions of the catalog and of the standard of the ends. The dimension drawing of the maker goes with this paper and governs.")
}

func (w *sheet) dimension(path string, m float64) Cell {
	return w.full(Cell{Text: w.quote(path, quantity.Diameter, m)}, quantity.Diameter, m)
}

// systemChart shows the operating points as the crossings that they are.
func (w *sheet) systemChart() {
	if len(w.Points) > 0 {
		if f, err := chart.System(w.Study, w.Assessment.Item.ID); err == nil {
			f.PanelHeight = chartHeight
			w.figure(f, "Pump and system curves",
				"Head over flow: the curves of the pumps with the valve in place, of one pump without it, and of the system at the high and the low level of the wet well. The operating points are where they cross.")
		}
	}
}

// stopCharts shows how the valve shuts and what a pump stop does.
func (w *sheet) stopCharts() {
	if w.Closing != nil {
		f := w.Closing.Figure(w.Valve, w.units())
		f.PanelHeight = chartHeight
		w.figure(f, "Closing curve", "Reverse velocity against deceleration, median and 5 to 95 % band, the limits of the slam classes and the worst stop of the station as it was run.")
	}
	if w.Trip != nil && w.Trip.Told().Fault == "" {
		w.figure(chart.NewTrip(w.Trip, w.units()), "The pump stop that is worst for slam",
			"Heads at the valve, flow, opening and pump speed in time, and the least and greatest head along the main over its profile, with the rating of the pipe.")
	}
}

func (w *sheet) coating() {
	for _, p := range w.Configuration.Parts {
		if p.Name == "coating" {
			w.form("coating", "").words("Coating", p.Material.Material).words("Standard", p.Standard).
				add("", "Holiday test, result", Cell{Blank: true}).add("", "Dry film thickness, measured",
				Cell{Blank: true}).put()
			return
		}
	}
	w.text(Open, "The catalog does not tell the coating: ask the maker.")
}

func (w *sheet) certificates() {
	items := []string{
		w.say("Test record of shell and seat test, with serial number"),
		w.say("Inspection certificate of the pressure-bearing castings (EN 10204 type 3.1, or as the section asks)"),
		w.say("Certificate of the coating"),
	}
	if w.Study.Station.Fluid.Drinking() {
		items = append(items, w.say("Certificate for drinking water of every part in contact"))
	}
	items = append(items, w.say("Declaration of origin, where the funding asks for domestic iron and steel"),
		w.say("Declared standards: {list}", "list", strings.Join(w.Configuration.Standards, "; ")))
	w.put(List{Items: items, Boxes: true})
	w.text(Source, "Tick what is attached. A certificate for another heat or serial number does not count.")
}
