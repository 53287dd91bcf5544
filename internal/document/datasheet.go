package document

import (
	"fmt"
	"strings"

	"seatward/basis"
	"seatward/judge"
	"seatward/quantity"
)

func writeDatasheet(w *sheet) {
	w.verdict()
	w.sheetParts(1)
	w.lossChart()
	w.openPoints()
	w.cautions()
}

// sheetParts is what a data sheet says of the valve, its headings at the level.
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

// verdict is the answer, with what stands in its way.
func (w *sheet) verdict() {
	a := w.Assessment
	tone := map[judge.Verdict]Tone{judge.Suitable: Good, judge.WithConditions: Open, judge.CannotSay: Open, judge.Unsuitable: Bad}[a.Verdict]
	w.put(Paragraph{Label: w.say("Verdict for this place:"), Text: sentence(w.say(a.Verdict.String())), Tone: tone})
	if a.Verdict == judge.Unsuitable {
		w.put(Paragraph{Text: judge.WhyNot(*a), Tone: Bad})
	}
	if c := a.Item.Family.Catalog; c.Invented {
		w.text(Warning, "The catalog of {maker} is invented for demonstration: no such valve can be bought.", "maker", c.Maker)
	}
}

func (w *sheet) identification() {
	st, it, p := w.Study.Station, w.Assessment.Item, w.Profile
	f := w.form("identification", "")
	f.add("tag", "Tag", w.field("tag", p.Tag.Text)).
		add("", "Project", w.field("project", p.Project.Text)).
		words("Station", joined(", ", st.Name, st.Place)).
		words("Service", st.Fluid.Kind).
		words("Position", w.position()).
		words("Place", st.Valve.Where).
		words("Type", it.Family.Title).
		words("Maker and data", fmt.Sprintf("%s %s, %s", it.Family.Catalog.Maker, it.Family.Catalog.Version, it.Family.Catalog.Date)).
		words("Catalog ID", it.ID).
		words("Order text", w.Configuration.Code()).
		add("", "Quantity", w.field("quantity", p.Quantity.Text)).
		put()
}

// position says how the valve stands.
func (w *sheet) position() string {
	at := w.Study.Station.Valve
	text := map[string]string{"horizontal": "horizontal pipe", "flow up": "vertical pipe, flow up", "flow down": "vertical pipe, flow down"}[at.Position]
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
		value("Passes a sphere of", "configuration passage", it.Passage)
	for _, x := range []struct {
		label string
		v     basis.Value
	}{{"Straight pipe asked for before", it.Family.StraightBefore}, {"Straight pipe asked for after", it.Family.StraightAfter}} {
		text := w.say("not told")
		if x.v.Known() {
			text = w.say("{n} diameters", "n", w.quote("configuration straight", quantity.Number, x.v.SI))
		}
		f.words(x.label, text)
	}
	f.words("Shows its position by", it.Family.Indication).put()
}

// ends are the chosen end connections.
func (w *sheet) ends() string {
	for _, o := range w.Configuration.Options {
		if o.Option.ID == "ends" && o.Choice != nil {
			return o.Choice.Title
		}
	}
	return w.say("not told")
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
		w.put(Paragraph{Label: w.say("The catalog does not tell:"), Text: strings.Join(cfg.Say, ", ") + ".", Tone: Open})
	}
}

func orNotTold(w *sheet, text string) string {
	if text == "" {
		return w.say("not told")
	}
	return text
}

func (w *sheet) materials() {
	t := Table{ID: "bill", Columns: []Column{w.column("Part", 0.18), w.column("Material", 0.36), w.column("Standard and grade", 0.34), w.numbers("Mass", quantity.Mass)}}
	for _, p := range w.Configuration.Parts {
		mass := Cell{}
		if p.Mass.Known() {
			mass = w.of("configuration part mass", p.Mass)
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: p.Name}, {Text: p.Material.Material}, {Text: p.Standard}, mass}})
	}
	w.put(t)
}

func (w *sheet) hydraulics() {
	a, id := w.Assessment, w.Assessment.Item.ID
	f := w.form("hydraulics", "")
	f.value("Flow coefficient, full open", "configuration flow coefficient", a.Item.FlowCoefficient).
		value("Velocity that opens it in full", id+" full_open_velocity", a.FullOpenVelocity).
		value("Normal velocity here", id+" velocity", a.Governing.Velocity).
		value("Head at which it cracks open", id+" cracking_head", a.CrackingHead).
		value("Least back head that seals it", id+" least_back_head", a.BackHead).
		value("Submerged weight of the element", id+" submerged_weight", a.SubmergedWeight).
		value("Energy lost in it", id+" energy_per_year", a.EnergyPerYear)
	basisOf := w.say("computed by the mechanics of its type; no measured curve is in the catalog")
	if a.Item.MeasuredSteady() {
		basisOf = w.say("measured curves of the catalog")
	}
	f.words("Loss rests on", basisOf).put()
}

func (w *sheet) duties() {
	t := Table{ID: "duties", Columns: []Column{
		w.column("Point", 0.3), w.numbers("Flow", quantity.Flow), w.numbers("Velocity", quantity.Velocity), w.numbers("Open", quantity.Fraction), w.column("Stands", 0.14), w.numbers("Head loss", quantity.Head),
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

func (w *sheet) slam() {
	s, id := w.Assessment.Slam, w.Assessment.Item.ID
	class := s.Class
	if class == "" {
		class = "cannot be said"
	}
	f := w.form("slam", "")
	f.words("Class at the best estimate", class).
		words("Class over its band", joined(" to ", s.ClassLow, s.ClassHigh)).
		words("Worst stop", s.Event).
		add("", "Deceleration of the water", Cell{Text: w.band(id+" deceleration", s.Deceleration)}).
		add("", "Reverse velocity as it shuts", Cell{Text: w.band(id+" reverse_velocity", s.ReverseVelocity)}).
		add("", "Head rise as it shuts", Cell{Text: w.band(id+" head_rise", s.HeadRise)}).
		words("Would narrow it most", s.DecisiveInput).
		words("Method", s.Method).put()
}

func (w *sheet) spares() {
	if len(w.Configuration.Spares) == 0 {
		w.text(Open, "The catalog lists no spare parts: ask the maker.")
		return
	}
	t := Table{ID: "spares", Columns: []Column{w.column("Spare part", 0.4), w.column("Material", 0.3), w.column("Part number", 0.16), w.column("On the shelf", 0.14)}}
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

// openPoints lists conditions and what could not be checked: a verdict hides neither.
func (w *sheet) openPoints() {
	w.heading(1, "Conditions and unchecked points")
	var rows []Row
	for _, f := range w.Assessment.Findings {
		var said string
		tone := Open
		switch f.Severity {
		case judge.Rejects:
			said, tone = "rejects", Bad
		case judge.Condition:
			said = "condition"
		case judge.Unchecked:
			said = "not checked"
		default:
			continue
		}
		text := f.Text
		if f.Missing != "" {
			text += " " + w.say("Missing:") + " " + f.Missing + "."
		}
		if f.Mend != "" {
			text += " " + w.say("Cure:") + " " + f.Mend + "."
		}
		rows = append(rows, Row{Cells: []Cell{{Text: w.say(said), Tone: tone, Bold: true}, {Text: text}, {Text: basis.Cite(f.Basis)}}})
	}
	if len(rows) == 0 {
		w.text(Good, "None: {n} points were checked and are in order.", "n", fmt.Sprint(len(w.Assessment.Findings)))
	} else {
		w.put(Table{ID: "open", Columns: []Column{w.column("", 0.14), w.column("Point", 0.56), w.column("Rests on", 0.3)}, Rows: rows})
	}
	w.text(Plain, "The sheet rests on {n} assumed facts of the station; the calculation lists each with its range and reason.", "n", fmt.Sprint(len(w.Study.Assumed)))
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
