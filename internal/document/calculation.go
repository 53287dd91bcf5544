package document

import (
	"fmt"
	"slices"
	"strings"

	"seatward/basis"
	"seatward/judge"
	"seatward/quantity"
	"seatward/station"
)

func writeCalculation(w *sheet) {
	w.put(Space{
		Title: w.say("Seal and signature of the licensed engineer"),
		Lines: []string{w.say("Left empty on purpose: this is a preliminary calculation for review and no sealed report.")}, HeightMM: 40,
	})
	w.form("revisions", "").
		add("", "Number", w.field("document number", w.d.Number)).
		add("", "Revision", w.field("revision", w.d.Revision)).
		add("", "Date", w.field("date", w.d.Date)).
		add("", "Checked by, date", Cell{Blank: true}).put()
	w.put(Contents{}, Break{})
	parts := []struct {
		title string
		write func()
	}{
		{"Purpose and answer", w.purpose},
		{"Inputs", w.inputs},
		{"Assumptions", w.assumed},
		{"Method", w.method},
		{"Results: steady flow", w.steadyResults},
		{"Results: pump stops", w.tripResults},
		{"Sensitivity", w.sensitivity},
		{"Calculation trees", w.trees},
		{"What was not checked", w.notChecked},
		{"Validation", w.validation},
		{"To run it again", w.again},
		{"References", w.references},
	}
	for _, p := range parts {
		w.heading(1, p.title)
		p.write()
	}
	w.cautions()
}

func (w *sheet) purpose() {
	w.text(Plain, "Head loss of the check valve, whether normal flow holds its element steady, and what each pump stop does with it in this station. Liquid: {fluid}.", "fluid", string(w.Study.Station.Fluid.Kind))
	w.identification()
	w.verdict()
	w.slam()
	w.objections()
}

// inputs lists what the user gave and what tables and catalogs gave, with the place.
func (w *sheet) inputs() {
	t := Table{ID: "inputs", Columns: []Column{
		w.column("Quantity", 0.36), w.column("Value", 0.2),
		w.column("From", 0.44),
	}}
	station.Walk(w.Study.Station, func(path string, v basis.Value) {
		from := ""
		switch v.Origin {
		case basis.Given:
			from = v.Place
		case basis.Catalog:
			from = basis.Cite(v.Source)
		default:
			return
		}
		name := v.Name
		if v.Ranged() {
			from = joined("; ", v.FormatRange(w.units()), from)
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: name}, w.cell(path, v), {Text: from}}})
	})
	w.put(t)
	for _, m := range w.Study.Station.Warnings {
		w.put(Paragraph{Text: m.Error(), Tone: Open})
	}
	for _, n := range w.Study.Station.Notes {
		w.put(Paragraph{Label: w.say("Remark of the station file:"), Text: n})
	}
}

func (w *sheet) assumed() {
	w.text(Plain, "Not given; assumed by the program. The sensitivity says which of them matter.")
	w.missingFacts()
	if w.Trip != nil {
		var more []Row
		for _, a := range w.Trip.Assumed {
			if a.Event {
				more = append(more, Row{Cells: []Cell{
					{Text: a.Value.Name},
					w.cell("trip "+a.Path, a.Value),
					{Text: a.Value.FormatRange(w.units())},
					{Text: a.Value.Reason},
				}})
			}
		}
		if len(more) > 0 {
			w.put(Table{ID: "assumed-events", Columns: []Column{
				w.column("Fact of the events", 0.28),
				w.column("Taken as", 0.14), w.column("Range", 0.2), w.column("Why", 0.38),
			}, Rows: more})
		}
	}
}

// method tells the model and every formula that a result rests on.
func (w *sheet) method() {
	w.text(Plain, "Steady flow: heads of pumps, branch, valve and main balance at every combination of pumps and both levels of the wet well; the valve is in the balance at the opening at which its own element is at rest.")
	w.text(Plain, "Pump stops: the one-dimensional equations of motion and continuity by the method of characteristics, with pumps in four quadrants run down by their inertia, waves with unsteady friction, and the valve's element moved by flow, weight, spring and the pull of decelerating water. Each run is followed until the valve rests; where the head falls to vapor pressure it is made again with gas cavities. Slam is judged by the hardest seating of the worst stop. Interval and chances come from runs with all uncertain numbers drawn at once: one method and one interval (5 to 95 % points) in all papers.")
	if m := w.Assessment.Slam.Method; m != "" {
		w.put(Paragraph{Label: w.say("Slam:"), Text: sentence(m)})
	}
	t := Table{
		ID: "formulas", Caption: w.say("Formulas"),
		Columns: []Column{
			w.column("Formula", 0.22), w.column("", 0.3), w.column("Holds for", 0.18),
			w.column("Source", 0.3),
		},
	}
	for _, f := range w.formulas() {
		t.Rows = append(t.Rows, Row{Cells: []Cell{
			{Text: f.Title},
			{Text: f.Expr},
			{Text: f.Range},
			{Text: basis.Cite(f.Ref)},
		}})
	}
	w.put(t)
}

// formulas are all on which a value of this valve or the station rests, by title.
func (w *sheet) formulas() []*basis.Formula {
	seen := map[string]*basis.Formula{}
	for _, n := range w.values() {
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

// named is a value with its path.
type named struct {
	Path  string
	Value basis.Value
}

// values are those of the station and of this valve.
func (w *sheet) values() []named {
	var out []named
	for _, n := range w.Study.Values() {
		if n.Valve == "" || n.Valve == w.Assessment.Item.ID {
			out = append(out, named{n.Path, n.Value})
		}
	}
	return out
}

func (w *sheet) steadyResults() {
	t := Table{ID: "points", Columns: []Column{
		w.column("Operating point", 0.26), w.numbers("Flow", quantity.Flow),
		w.numbers("Pump head", quantity.Head), w.numbers("Static head", quantity.Head), w.numbers("In the main",
			quantity.Velocity), w.numbers("Power", quantity.Power),
	}}
	for i, p := range w.Points {
		at := fmt.Sprintf("operating_points[%d].", i)
		t.Rows = append(t.Rows, Row{Cells: []Cell{
			{Text: p.Name},
			w.of(at+"flow", p.Flow), w.of(at+"head", p.Head),
			w.of(at+"static_head", p.StaticHead), w.of(at+"main_velocity", p.MainVelocity), w.of(at+"power", p.Power),
		}})
	}
	w.put(t)
	w.systemChart()
	w.heading(2, "The valve at these points")
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
	w.heading(2, "Events run")
	w.cases()
	w.heading(2, "Findings")
	w.foundByStops()
	w.byHand()
	w.timeLine()
}

// trees are the calculation sheets of the results on which the verdict rests.
func (w *sheet) trees() {
	w.text(Plain, "Every result down to what was given, assumed or taken from a catalog.")
	a := w.Assessment
	root := basis.Value{Name: "results"} // one tree, so that what stands twice is printed once
	for _, v := range append([]basis.Value{
		a.Governing.Flow, a.Governing.Velocity, a.Governing.Loss, a.FullOpenVelocity,
		a.BackHead, a.EnergyPerYear,
	}, w.stopsTrees()...) {
		if v.Known() {
			root.Inputs = append(root.Inputs, v)
		}
	}
	lines := strings.Split(strings.TrimRight(basis.Explain(root, w.units()), "\n"), "\n")
	w.put(Listing{Lines: lines[1:]})
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

func (w *sheet) validation() {
	w.text(Plain, "The program is held against published tables, worked examples, closed forms and second programs of the same equations by tests that name source and tolerance. Only one experiment is among them, column separation in a laboratory pipe (Bergant and Simpson 1999, its numbers to be confirmed against the paper): the computed peak is up to 14 % above the measured one. No closing of a check valve was compared with a measured one. VALIDATION.md of the same version lists every formula with its cases, and says plainly which are not yet checked. No full-scale measurement of this station was compared.")
}

func (w *sheet) again() {
	c := w.Assessment.Item.Family.Catalog
	w.form("again", "").
		words("Program", w.Program).
		words("Station, hash", w.Study.Station.Hash).
		words("Document, hash", w.d.Hash).
		words("Catalog", joined(" ", c.Maker, c.Version, c.Date)).
		words("Valve", w.Configuration.Code()).
		words("Command", w.Command).put()
	w.text(Source, "The same station file, catalog and version give the same numbers, to the last digit.")
}

func (w *sheet) references() {
	w.put(List{Items: w.Study.References})
}
