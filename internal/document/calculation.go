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
	w.put(Space{Title: w.say("Seal and signature of the licensed engineer"), Lines: []string{w.say("Left empty on purpose: this is a preliminary calculation for review and no sealed report.")}, HeightMM: 40})
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
	w.text(Plain, "Which head the check valve loses, whether its element stands still, and what a pump stop does with it in the station. Flow: {fluid}.", "fluid", w.Study.Station.Fluid.Kind)
	w.identification()
	w.verdict()
	w.slam()
	w.openPoints()
}

// inputs lists what the user gave and what tables and catalogs gave, with the place.
func (w *sheet) inputs() {
	t := Table{ID: "inputs", Columns: []Column{w.column("Quantity", 0.36), w.column("Value", 0.2), w.column("From", 0.44)}}
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
	w.text(Plain, "Filled in by the program because nobody told them. Each has a range; the sensitivity says which of them matter.")
	w.missingFacts()
	if w.Trip != nil {
		var more []Row
		for _, a := range w.Trip.Assumed {
			if strings.HasPrefix(a.Path, "events ") {
				more = append(more, Row{Cells: []Cell{{Text: a.Value.Name}, w.cell("trip "+a.Path, a.Value), {Text: a.Value.FormatRange(w.units())}, {Text: a.Value.Reason}}})
			}
		}
		if len(more) > 0 {
			w.put(Table{ID: "assumed-events", Columns: []Column{w.column("Fact of the events", 0.28), w.column("Taken as", 0.14), w.column("Range", 0.2), w.column("Why", 0.38)}, Rows: more})
		}
	}
}

// method tells the model and every formula that a result rests on.
func (w *sheet) method() {
	w.text(Plain, "Steady flow: heads of pumps, branch, valve and main balance at every combination of pumps and both levels of the wet well; the valve is in the balance at the opening at which its own element is at rest.")
	w.text(Plain, "Pump stops: the one-dimensional equations of motion and continuity by the method of characteristics, with pumps in four quadrants run down by their inertia, and the valve's element moved by flow, weight, spring and the pull of decelerating water. Where the head falls to vapor pressure the run is made again with gas cavities.")
	if m := w.Assessment.Slam.Method; m != "" {
		w.put(Paragraph{Label: w.say("Slam verdict:"), Text: sentence(m)})
	}
	t := Table{ID: "formulas", Caption: w.say("Formulas"), Columns: []Column{w.column("Formula", 0.22), w.column("", 0.3), w.column("Holds for", 0.18), w.column("Source", 0.3)}}
	for _, f := range w.formulas() {
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: f.Title}, {Text: f.Expr}, {Text: f.Range}, {Text: basis.Cite(f.Ref)}}})
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
		if id, _, isValve := strings.Cut(n.Path, " "); !isValve || !strings.Contains(id, "/") || id == w.Assessment.Item.ID {
			out = append(out, named{n.Path, n.Value})
		}
	}
	return out
}

func (w *sheet) steadyResults() {
	t := Table{ID: "points", Columns: []Column{w.column("Operating point", 0.26), w.numbers("Flow", quantity.Flow), w.numbers("Pump head", quantity.Head), w.numbers("Static head", quantity.Head), w.numbers("In the main", quantity.Velocity), w.numbers("Power", quantity.Power)}}
	for i, p := range w.Points {
		at := fmt.Sprintf("operating_points[%d].", i)
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: p.Name}, w.of(at+"flow", p.Flow), w.of(at+"head", p.Head), w.of(at+"static_head", p.StaticHead), w.of(at+"main_velocity", p.MainVelocity), w.of(at+"power", p.Power)}})
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
		w.text(Open, "No pump stop was run through.")
		return
	}
	w.heading(2, "Cases run")
	w.put(w.cases())
	w.heading(2, "What was found")
	for _, f := range w.Trip.Findings {
		tone := map[judge.Severity]Tone{judge.Pass: Good, judge.Rejects: Bad, judge.Condition: Bad, judge.Unchecked: Open}[f.Severity]
		text := f.Text
		if f.Mend != "" {
			text += " " + w.say("Cure:") + " " + f.Mend + "."
		}
		w.put(Paragraph{Text: text, Tone: tone})
	}
	t := w.Trip.Told()
	w.heading(2, "In time: the worst stop for slam")
	rows := []Row{}
	for _, m := range t.Moments[:min(len(t.Moments), mostMoments)] {
		rows = append(rows, Row{Cells: []Cell{w.seconds("trip timeline", m.TimeS), {Text: sentence(m.Text)}}})
	}
	w.put(Table{ID: "timeline", Columns: []Column{{Title: w.say("Time"), Unit: "s", Right: true}, w.column("What happens", 0.85)}, Rows: rows})
	if more := len(t.Moments) - len(rows); more > 0 {
		w.text(Source, "{n} further moments are not listed.", "n", fmt.Sprint(more))
	}
	for _, n := range t.Notes {
		w.put(Paragraph{Text: n, Tone: Open})
	}
	w.text(Source, "Grid: {steps} steps of {step}; greatest change of a wave speed to fit it {adj}.", "steps", fmt.Sprint(t.Steps), "step", w.quote("trip step", quantity.Time, t.StepS), "adj", w.quote("trip adjusted", quantity.Fraction, t.Adjusted))
}

// mostMoments is how many moments of a run a paper lists.
const mostMoments = 24

func (w *sheet) cases() Table {
	t := Table{ID: "cases", Columns: []Column{w.column("Event", 0.34), {Title: w.say("Shuts after"), Unit: "s", Right: true}, w.numbers("Slows at", quantity.Acceleration), w.numbers("Runs back at", quantity.Velocity), w.numbers("Rise", quantity.Head), w.numbers("Most", quantity.Head), w.numbers("Least", quantity.Head)}}
	for _, x := range w.Trip.Trips {
		dash := Cell{Text: "–"}
		cells := []Cell{{Text: x.Event.Title}, dash, dash, dash, dash}
		if c := x.Closing; c.Closed {
			cells = []Cell{
				{Text: x.Event.Title},
				w.seconds("trip closing_time", c.TimeS), w.bare("trip deceleration", quantity.Acceleration, c.DecelerationMS2),
				w.bare("trip reverse_velocity", quantity.Velocity, c.ReverseMS), w.bare("trip head_rise", quantity.Head, c.RiseM),
			}
		}
		least := w.bare("trip least_pressure_head", quantity.Head, x.LeastPressureM())
		if len(x.Cavities) > 0 {
			least = Cell{Text: w.say("vapor"), Tone: Bad}
		}
		t.Rows = append(t.Rows, Row{Cells: append(cells, w.bare("trip greatest_pressure_head", quantity.Head, x.MostPressureM()), least)})
	}
	return t
}

func (w *sheet) sensitivity() {
	s := w.Assessment.Slam
	if len(s.Shares) == 0 {
		w.text(Open, "No band of the slam could be computed, so there is nothing to share out.")
	} else {
		w.text(Plain, "Reverse velocity with each uncertain number alone at the ends of its range.")
		t := Table{ID: "shares", Columns: []Column{w.column("Uncertain number", 0.5), w.numbers("At its low end", quantity.Velocity), w.numbers("At its high end", quantity.Velocity)}}
		for _, x := range s.Shares {
			t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: x.Input}, w.bare("share low", quantity.Velocity, x.LowMS), w.bare("share high", quantity.Velocity, x.HighMS)}})
		}
		w.put(t)
	}
	if w.Trip == nil || len(w.Trip.Remedies) == 0 {
		return
	}
	w.heading(2, "What would change it")
	t := Table{ID: "remedies", Columns: []Column{w.column("What if", 0.5), w.numbers("Runs back at", quantity.Velocity), w.numbers("Rise", quantity.Head), w.numbers("Most at the valve", quantity.Head)}}
	for _, r := range w.Trip.Remedies {
		if r.Trip == nil {
			t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: r.What}, {Text: w.say("could not be run"), Tone: Open}, {}, {Text: r.Fault}}})
			continue
		}
		c := r.Trip.Closing
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: sentence(r.What)}, w.bare("remedy reverse_velocity", quantity.Velocity, c.ReverseMS), w.bare("remedy rise", quantity.Head, c.RiseM), w.bare("remedy most", quantity.Head, c.MostM)}})
	}
	w.put(t)
}

// trees are the calculation sheets of the results on which the verdict rests.
func (w *sheet) trees() {
	w.text(Plain, "Every result down to what was given, assumed or taken from a catalog.")
	a := w.Assessment
	root := basis.Value{Name: "results"} // one tree, so that what stands twice is printed once
	for _, v := range []basis.Value{a.Governing.Flow, a.Governing.Velocity, a.Governing.Loss, a.FullOpenVelocity, a.BackHead, a.EnergyPerYear, a.Slam.Deceleration, a.Slam.ReverseVelocity, a.Slam.HeadRise} {
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
		if f.Severity == judge.Unchecked {
			items = append(items, joined(" ", f.Text, f.Missing))
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
	w.text(Plain, "The program is held against published tables, worked examples, closed forms and experiments by tests that name source and tolerance; VALIDATION.md of the same version lists every formula with its cases, and says plainly which are not yet checked. No full-scale measurement of this station was compared.")
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
