package document

import (
	"fmt"
	"strings"

	"seatward/basis"
	"seatward/judge"
	"seatward/quantity"
	"seatward/valve"
)

// writeDatasheet keeps to two pages: curves stand in the submittal, and what a crew needs in
// full in the sheets that are theirs.
func writeDatasheet(w *sheet) {
	w.verdict()
	for _, p := range []struct {
		title string
		write func()
	}{
		{"Identification", w.identification},
		{"Size and connection", w.connection},
		{"Rating, tests and materials", func() { w.rating(); w.materialForm() }},
		{"Hydraulics", func() { w.hydraulics(); w.duties() }},
		{"Closing and slam", w.slamShort},
		{"Conditions and objections", w.conditionsShort},
	} {
		w.heading(2, p.title)
		p.write()
	}
	for _, c := range w.Study.Cautions {
		if c.ID == "preliminary" {
			w.put(Paragraph{Text: joined(" ", c.Text,
				w.say("Curves stand in the submittal. Before any work on the valve, read the cautions of the installation and maintenance sheets.")), Tone: Warning})
		}
	}
}

// slamShort is what the stops do with the valve, without how it was found.
func (w *sheet) slamShort() {
	a := w.Assessment
	s, id := &a.Slam, a.Item.ID
	if a.Pending() || s.NotRun != "" || s.Class == "" {
		w.slam()
		return
	}
	if f := a.SlamFinding(); f != nil {
		w.put(Paragraph{Text: f.Text, Tone: Plain})
	}
	f := w.form("slam", "")
	f.add("", "Deceleration, no valve",
		Cell{Text: w.number(id+" deceleration", s.Deceleration)}).
		add("", "Head rise", Cell{Text: w.likely(id+" head_rise", s.HeadRise, nil)}).
		put()
	w.later()
}

// conditionsShort lists what speaks against the valve, each in a line; remedies and sources
// stand in submittal and calculation.
func (w *sheet) conditionsShort() {
	found := false
	for _, f := range w.Assessment.Findings {
		said, tone := objection(f.Severity)
		if f.Severity == judge.Confirm {
			said, tone = "confirm before ordering", Plain
		}
		if said != "" {
			found = true
			w.put(Paragraph{Label: w.say(said) + ":", Text: f.Text, Tone: tone})
		}
	}
	switch {
	case found:
	case w.Assessment.Separation != "":
		w.text(Open, "No condition on the valve itself. Column separation threatens the station whatever the valve.")
	default:
		w.text(Good, "No condition and no objection.")
	}
}

// materialForm is the bill of materials in one line for each part.
func (w *sheet) materialForm() {
	f := w.form("bill", "")
	for _, p := range w.Configuration.Parts {
		if p.Name != "ends" {
			f.words(sentenceStart(p.Name), joined(", ", p.Material.Material, p.Standard))
		}
	}
	f.put()
}

// sheetParts is what a submittal says of the valve, its headings at the level.
func (w *sheet) sheetParts(level int) {
	parts := []struct {
		title string
		write func()
	}{
		{"Identification", w.identification},
		{"Size and connection", w.connection},
		{"Rating and tests", w.rating},
		{"Materials", w.materials},
		{"Hydraulics", w.hydraulics},
		{"At the duty points", w.duties},
		{"Closing and slam", w.slam},
		{"Spares", w.spares},
	}
	for _, p := range parts {
		w.heading(level, p.title)
		p.write()
	}
}

func (w *sheet) identification() {
	st, it, p := w.Study.Station, w.Assessment.Item, w.Profile
	f := w.form("identification", "")
	f.add("tag", "Tag", w.field("tag", p.Tag.Text)).
		add("", "Project", w.field("project", p.Project.Text)).
		words("Service", string(st.Fluid.Kind)).
		words("Position", w.position()).
		words("Catalog ID", it.ID).
		add("", "Quantity", w.field("quantity", p.Quantity.Text)).
		words("Type", it.Family.Title).
		words("Place", st.Valve.Where).
		words("Station", joined(", ", st.Name, st.Place)).
		words("Maker and data", fmt.Sprintf("%s %s, %s", it.Family.Catalog.Maker, it.Family.Catalog.Version,
			it.Family.Catalog.Date)).
		words("Order text", w.orderText()).
		put()
}

// position says how the valve stands.
func (w *sheet) position() string {
	at := w.Study.Station.Valve
	text := map[valve.Position]string{
		valve.Horizontal: "horizontal pipe", valve.FlowUp: "vertical pipe, flow up",
		valve.FlowDown: "vertical pipe, flow down",
	}[at.Position]
	if !at.PositionGiven {
		return w.say(text) + ", " + w.say("assumed")
	}
	return w.say(text)
}

func (w *sheet) connection() {
	it, cfg := w.Assessment.Item, w.Configuration
	f := w.form("connection", "")
	f.words("Nominal size", it.Size.String()).
		value("Bore", "configuration bore", it.Bore).
		value("Face-to-face length", "configuration face-to-face", it.FaceToFace).
		words("Length standard", it.Family.LengthStandard).
		words("Ends", w.ends()).
		value("Mass", "configuration mass", cfg.Mass).
		value("Clearance above the axis", "configuration clearance", it.Clearance).
		value("Clear passage (sphere)", "configuration passage", it.Passage).
		words("Position indicator", it.Family.Indication)
	straight := func(v basis.Value) string {
		if !v.Known() {
			return w.say("not given")
		}
		return w.say("{n} diameters", "n", w.quote("configuration straight", quantity.Number, v.SI))
	}
	f.words("Straight pipe required", w.say("upstream {a}, downstream {b}", "a", straight(it.Family.StraightBefore), "b",
		straight(it.Family.StraightAfter))).put()
}

// ends are the chosen end connections.
func (w *sheet) ends() string {
	for _, o := range w.Configuration.Options {
		if o.Option.ID == "ends" && o.Choice != nil {
			return o.Choice.Title
		}
	}
	return w.say("not given")
}

func (w *sheet) rating() {
	cfg := w.Configuration
	f := w.form("rating", "")
	f.value("Pressure rating", "configuration rating", cfg.Rating).
		value("Shell test", "configuration shell test", cfg.ShellTest).
		value("Seat test", "configuration seat test", cfg.SeatTest).
		words("Drinking water", orNotTold(w, cfg.DrinkingWater)).
		words("Declared standards", strings.Join(cfg.Standards, "; ")).put()
	if len(cfg.Say) > 0 {
		w.put(Paragraph{
			Label: w.say("The catalog does not tell:"), Text: strings.Join(cfg.Say, ", ") + ".",
			Tone: Open,
		})
	}
}

func orNotTold(w *sheet, text string) string {
	if text == "" {
		return w.say("not given")
	}
	return text
}

func (w *sheet) materials() {
	t := Table{ID: "bill", Columns: []Column{
		w.column("Part", 0.18), w.column("Material", 0.36),
		w.column("Standard and grade", 0.34), w.numbers("Mass", quantity.Mass),
	}}
	for _, p := range w.Configuration.Parts {
		mass := Cell{}
		if p.Mass.Known() {
			mass = w.of("configuration part mass", p.Mass)
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{
			{Text: p.Name},
			{Text: p.Material.Material},
			{Text: p.Standard},
			mass,
		}})
	}
	w.put(t)
}

func (w *sheet) hydraulics() {
	a, id := w.Assessment, w.Assessment.Item.ID
	f := w.form("hydraulics", "")
	f.value("Flow coefficient, full open", "configuration flow coefficient", a.Item.FlowCoefficient).
		value("Full-open velocity", id+" full_open_velocity", a.FullOpenVelocity).
		value("Normal velocity", id+" velocity", a.Governing.Velocity).
		value("Cracking head", id+" cracking_head", a.CrackingHead).
		value("Min. back head to seal", id+" least_back_head", a.BackHead).
		value("Energy lost per year", id+" energy_per_year", a.EnergyPerYear)
	basisOf := w.say("computed by the mechanics of its type; no measured curve is in the catalog")
	if a.Item.MeasuredSteady() {
		basisOf = w.say("measured curves of the catalog")
	}
	f.words("Head loss is", basisOf).put()
}

func (w *sheet) duties() {
	t := Table{ID: "duties", Columns: []Column{
		w.column("Point", 0.3), w.numbers("Flow", quantity.Flow), w.numbers("Velocity", quantity.Velocity),
		w.numbers("Open", quantity.Fraction), w.column("Disc or ball position", 0.14),
		w.numbers("Head loss", quantity.Head),
	}}
	for _, p := range w.Assessment.Duties {
		t.Rows = append(t.Rows, Row{Cells: []Cell{
			{Text: p.Name},
			w.of("duty flow", p.Flow), w.of("duty velocity", p.Velocity), w.of("duty opening", p.Opening),
			{Text: p.State},
			w.of("duty loss", p.Loss),
		}})
	}
	w.put(t)
}

func (w *sheet) spares() {
	if len(w.Configuration.Spares) == 0 {
		w.text(Open, "The catalog lists no spare parts: ask the maker.")
		return
	}
	t := Table{ID: "spares", Columns: []Column{
		w.column("Spare part", 0.4), w.column("Material", 0.3),
		w.column("Part number", 0.16), w.column("On the shelf", 0.14),
	}}
	for _, s := range w.Configuration.Spares {
		material := ""
		for _, p := range w.Configuration.Parts {
			if strings.Contains(s, p.Name) || s == p.Name {
				material = p.Material.Material
			}
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: s}, {Text: material}, {Blank: true}, {Blank: true}}})
	}
	w.put(t)
}

// chartHeight is that of charts of one panel on paper, px of the figure.
const chartHeight = 340

func (w *sheet) lossChart() {
	if w.Loss == nil {
		return
	}
	f := w.Loss.Figure(w.Valve, w.units())
	f.PanelHeight = chartHeight
	w.figure(f, "Head loss against flow",
		"Head loss of the valve over its flow on logarithmic axes. Where the valve is part open it loses more than the dashed line of the full-open valve; the duty points are marked.")
}

// joined joins what is there.
func joined(with string, parts ...string) string {
	var out []string
	for _, p := range parts {
		if p != "" && (len(out) == 0 || out[len(out)-1] != p) {
			out = append(out, p)
		}
	}
	return strings.Join(out, with)
}
