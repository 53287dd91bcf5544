package document

import (
	"slices"
	"strings"

	"seatward/basis"
	"seatward/judge"
	"seatward/quantity"
)

// A calculation is for a licensed engineer who checks it by hand: what it is for, a sketch,
// every input in tables, what was assumed, numbered equations with the numbers put in, the
// results, how sure they are, what was not checked. It names no file and no function, so that
// the same station gives the same paper from any folder.
func writeCalculation(w *sheet) {
	c := &calc{equations: w.equations()}
	w.put(Space{
		Title: w.say("Seal and signature of the licensed engineer"),
		Lines: []string{w.say("Left empty on purpose: this is a preliminary calculation for review and no sealed report.")}, HeightMM: 26,
	})
	c.signatures()
	w.put(Contents{}, Break{})
	parts := []struct {
		title string
		write func()
	}{
		{"Purpose and answer", c.purpose},
		{"The station", c.sketch},
		{"Inputs", c.inputs},
		{"Assumptions", c.assumed},
		{"Method", c.method},
		{"Equations: one operating point", c.workedPoint},
		{"Equations: one pump stop", c.workedStop},
		{"Results: steady flow", c.steadyResults},
		{"Results: pump stops", c.tripResults},
		{"Results: pressures against ratings", c.ratings},
		{"Chances and sensitivity", c.chancesAndShares},
		{"What was not checked", c.unchecked},
		{"To be confirmed against the current edition", c.toBeConfirmed},
		{"References", c.references},
	}
	for _, p := range parts {
		w.heading(1, p.title)
		p.write()
	}
	w.heading(3, "To run it again")
	c.again()
	w.cautions()
}

// signatures are the blocks for revisions, and for who prepared and who checked.
func (c *calc) signatures() {
	c.form("revisions", "").
		add("", "Number", c.field("document number", c.d.Number)).
		add("", "Revision", c.field("revision", c.d.Revision)).
		add("", "Date", c.field("date", c.d.Date)).
		add("", "Prepared by", c.field("prepared by", c.d.Author)).put()
	c.put(Table{ID: "checked", Caption: c.say("Revisions and checks"), Columns: []Column{
		c.column("Revision", 0.12), c.column("What was changed", 0.34), c.column("Prepared by, date", 0.18),
		c.column("Checked by, date", 0.18), c.column("Approved by, date", 0.18),
	}, Rows: blankRows(2, 5)})
}

func (c *calc) purpose() {
	c.text(Plain, "Head loss of the check valve, whether normal flow holds its element steady, and what each pump stop does with it in this station. Liquid: {fluid}.", "fluid", string(c.Study.Station.Fluid.Kind))
	c.verdict()
	c.slam()
	c.objections()
}

// assumed lists what was taken where nothing was given, with range and reason.
func (c *calc) assumed() {
	c.text(Plain, "Not given; each was set as told under Why. The sensitivity says which of them matter.")
	if f := c.Assessment.Slam.DecisiveInput; f != "" {
		c.put(Paragraph{Label: c.say("Largest source of uncertainty:"), Text: sentence(f), Tone: Open})
	}
	for _, n := range c.Study.Station.Notes {
		c.put(Paragraph{Label: c.say("Remark of the station file:"), Text: n})
	}
	for _, m := range c.Study.Station.Warnings {
		c.put(Paragraph{Text: sentence(m.Text), Tone: Open})
	}
	t := c.assumptions()
	for i := range t.Rows {
		a := c.Study.Assumed[i].Value
		t.Rows[i].Cells[3].Text = joined(". ", c.reason(a.Reason, a.Name), c.cite2(a.Source, a.Name))
	}
	c.put(t)
	c.assumedOfEvents()
}

func (c *calc) assumedOfEvents() {
	if c.Trip == nil {
		return
	}
	var more []Row
	for _, a := range c.Trip.Assumed {
		if a.Event {
			more = append(more, Row{Cells: []Cell{
				{Text: a.Value.Name},
				c.cell("trip "+a.Path, a.Value),
				{Text: a.Value.FormatRange(c.units())},
				{Text: c.reason(a.Value.Reason, a.Value.Name)},
			}})
		}
	}
	if len(more) > 0 {
		c.put(Table{ID: "assumed-events", Columns: []Column{
			c.column("Fact of the events", 0.28),
			c.column("Taken as", 0.14), c.column("Range", 0.2), c.column("Why", 0.38),
		}, Rows: more})
	}
}

// method tells the model and every formula that a result rests on.
func (c *calc) method() {
	c.text(Plain, "Steady flow: heads of pumps, branch, valve and main balance at every combination of pumps and both levels of the wet well; the valve is in the balance at the opening at which its own element is at rest.")
	c.text(Plain, "Pump stops: the one-dimensional equations of motion and continuity by the method of characteristics, with pumps in four quadrants run down by their inertia, waves with unsteady friction, and the valve's element moved by flow, weight, spring and the pull of decelerating water. Each run is followed until the valve rests; where the head falls to vapor pressure it is made again with gas cavities. Slam is judged by the hardest seating of the worst stop. Interval and chances come from runs with all uncertain numbers drawn at once: one method and one interval (5 to 95 % points) in all papers.")
	if m := c.Assessment.Slam.Method; m != "" {
		c.put(Paragraph{Label: c.say("Slam:"), Text: sentence(m)})
	}
	t := Table{
		ID: "formulas", Caption: c.say("Formulas"),
		Columns: []Column{
			c.column("Formula", 0.24), c.column("", 0.34), c.column("Holds for", 0.24), c.column("Source", 0.18),
		},
	}
	for _, f := range c.formulas() {
		t.Rows = append(t.Rows, Row{Cells: []Cell{
			{Text: f.Title},
			{Text: f.Expr},
			{Text: c.reason(f.Range, f.Title)},
			{Text: c.cite2(f.Ref, f.Title)},
		}})
	}
	c.put(t)
}

// formulas are all on which a value of this valve or the station rests, by title.
func (w *sheet) formulas() []*basis.Formula {
	seen := map[string]*basis.Formula{}
	for _, n := range w.Study.Values() {
		if n.Valve != "" && n.Valve != w.Assessment.Item.ID {
			continue
		}
		n.Value.Walk(func(_ int, v basis.Value) bool {
			if v.Formula != nil {
				seen[v.Formula.ID] = v.Formula
			}
			return true
		})
	}
	var out []*basis.Formula
	for _, f := range seen {
		out = append(out, f)
	}
	slices.SortFunc(out, func(a, b *basis.Formula) int { return strings.Compare(a.Title+a.ID, b.Title+b.ID) })
	return out
}

func (w *sheet) steadyResults() {
	t := Table{ID: "points", Columns: []Column{
		w.column("Operating point", 0.26), w.numbers("Flow", quantity.Flow),
		w.numbers("Pump head", quantity.Head), w.numbers("Static head", quantity.Head), w.numbers("In the main",
			quantity.Velocity), w.numbers("Electrical power, all pumps", quantity.Power),
	}}
	for i, p := range w.Points {
		at := "operating_points[" + decimal(i) + "]."
		t.Rows = append(t.Rows, Row{Cells: []Cell{
			{Text: p.Name},
			w.of(at+"flow", p.Flow), w.of(at+"head", p.Head),
			w.of(at+"static_head", p.StaticHead), w.of(at+"main_velocity", p.MainVelocity), w.of(at+"power", p.Power),
		}})
	}
	w.put(t)
	w.systemChart()
	w.heading(3, "The valve at these points")
	w.duties()
	w.hydraulics()
	w.lossChart()
}

func (w *sheet) tripResults() {
	w.stopCharts()
	if w.Trip == nil {
		w.text(Open, "No pump stop was run.")
		return
	}
	w.heading(3, "Events run")
	w.cases()
	w.heading(3, "Findings")
	w.foundByStops()
	w.byHand()
	w.timeLine()
}

// chancesAndShares are the chances of the classes, and what they depend on.
func (c *calc) chancesAndShares() {
	if c.Assessment.Slam.Runs > 0 {
		c.text(Plain, "Chances of the worst stop: {chances}. Limits of the classes: quiet below {quiet}, harmful above {harmful}.",
			"chances", c.chances(c.Assessment),
			"quiet", c.units().Format(quantity.Velocity, c.Rules.Limit("slam-quiet").Value.SI),
			"harmful", c.units().Format(quantity.Velocity, c.Rules.Limit("slam-harmful").Value.SI))
	}
	c.sensitivity()
}

// unchecked says what was left out, and against what the methods themselves were held.
func (c *calc) unchecked() {
	c.notChecked()
	c.heading(3, "Validation")
	c.validation()
}

func (w *sheet) notChecked() {
	var items []string
	for _, f := range w.Assessment.Findings {
		if f.Severity == judge.Confirm || f.Severity == judge.Open {
			items = append(items, w.withMissing(f))
		}
	}
	items = append(items,
		w.say("Air in the main, and air valves that are not described in the station file."),
		w.say("Pipes that move, and stress in pipes, supports and anchors."),
		w.say("Fatigue by the number of stops over the years."),
		w.say("Water quality, odor and corrosion beyond the advice on materials."),
		w.say("Anything that the local code or the permit asks for beyond the rules named here."),
	)
	w.put(List{Items: items})
}

func (c *calc) validation() {
	c.text(Plain, "The program is held against published tables, worked examples, closed forms and second programs of the same equations by tests that name source and tolerance. Only one experiment is among them, column separation in a laboratory pipe (Bergant and Simpson 1999): the computed peak is up to 14 % above the measured one. No closing of a check valve was compared with a measured one. The validation report of the same version lists every formula with its cases, and says plainly which are not yet checked. No full-scale measurement of this station was compared.")
	c.toConfirm("Numbers of the laboratory experiment", "Bergant and Simpson, 1999")
}

// toBeConfirmed is the one list of facts whose source was not read again.
func (c *calc) toBeConfirmed() {
	if len(c.confirm) == 0 {
		c.text(Plain, "None.")
		return
	}
	c.text(Plain, "These numbers were not read again in the current edition of their source. Confirm them before the calculation is relied on.")
	c.put(List{Items: c.confirm, Boxes: true})
}

func (w *sheet) again() {
	cat := w.Assessment.Item.Family.Catalog
	w.form("again", "").
		words("Program", w.Program).
		words("Station, hash", w.Study.Station.Hash).
		words("Document, hash", w.d.Hash).
		words("Catalog", joined(" ", cat.Maker, cat.Version, cat.Date)).
		words("Valve", w.Configuration.Code()).put()
	w.text(Source, "The same station file, catalog and version give the same numbers, to the last digit.")
}

// references lists the numbered sources.
func (c *calc) references() {
	for i := range c.Assessment.Findings { // sources of limits and rules too
		if f := &c.Assessment.Findings[i]; f.Basis != "" && f.Basis != judge.FromCatalog {
			c.cite(f.Basis, f.Kind.Head)
		}
	}
	var items []string
	for i, s := range c.sources {
		items = append(items, "["+decimal(i+1)+"] "+s)
	}
	c.put(List{Items: items})
}
