package document

import (
	"fmt"
	"slices"

	"seatward/basis"
	"seatward/judge"
	"seatward/quantity"
)

// compared is how many valves stand side by side unless they are named.
const compared = 4

func writeComparison(w *sheet) {
	all := w.compared()
	w.heading(1, "Side by side")
	if !slices.ContainsFunc(all, func(a *judge.Assessment) bool { return a.Answer == nil }) {
		w.text(Plain, "All valves by the same stops of this station, run in time, with the same draws of what is uncertain.")
	}
	w.put(w.sideBySide(all))
	w.heading(1, "Cost over the years")
	w.text(Plain, "In the currency of the station file. Purchase price and annual maintenance are blanks unless the catalog or you give them; in a spreadsheet every sum follows from the cells above it.")
	w.put(w.money(), w.lifeCycle(all))
	w.heading(1, "Why they rank in this order")
	for _, a := range amongThese(all) {
		text := a.RankReason
		if a.Verdict == judge.Unsuitable {
			text = judge.WhyNot(a)
		}
		w.put(Paragraph{Label: a.Item.ID + ":", Text: sentence(text)})
	}
	w.put(Paragraph{Text: judge.RankingRule, Tone: Source})
	w.heading(1, "Conditions and objections")
	w.put(w.against(all))
	w.cautions("preliminary", "surge")
}

// amongThese are the valves in their order, each weighed against those of the table: a valve
// that is not in it is no reason.
func amongThese(all []*judge.Assessment) []judge.Assessment {
	var out []judge.Assessment
	for _, a := range all {
		out = append(out, *a)
	}
	judge.Rank(out)
	return out
}

// WithCompared names the valves of a comparison where nobody did, so that the stops of each
// are run: one that was run does not stand beside one that was not.
func (r Request) WithCompared(kinds []Kind) Request {
	if len(r.Compared) == 0 && slices.ContainsFunc(kinds, func(k Kind) bool { return k.Compares }) {
		r.Compared = Best(r.Study, compared)
	}
	return r
}

// sideBySide has a column for each valve.
func (w *sheet) sideBySide(all []*judge.Assessment) Table {
	t := Table{ID: "valves", Caption: w.say("Valves"), Columns: []Column{w.column("", 0.26), w.column("Unit", 0)}}
	for _, a := range all {
		t.Columns = append(t.Columns, Column{Title: a.Item.ID, Right: true})
	}
	words := func(label string, read func(a *judge.Assessment) string) {
		r := Row{Cells: []Cell{{Text: w.say(label)}, {}}}
		for _, a := range all {
			r.Cells = append(r.Cells, Cell{Text: read(a)})
		}
		t.Rows = append(t.Rows, r)
	}
	values := func(label, path string, kind quantity.Kind, read func(a *judge.Assessment) basis.Value) {
		r := Row{ID: path, Cells: []Cell{{Text: w.say(label)}, {Text: w.units().Unit(kind)}}}
		for _, a := range all {
			r.Cells = append(r.Cells, w.of(a.Item.ID+" "+path, read(a)))
		}
		t.Rows = append(t.Rows, r)
	}
	words("Type", func(a *judge.Assessment) string { return a.Item.Family.Title })
	words("Size", func(a *judge.Assessment) string { return a.Item.Size.String() })
	words("Verdict", func(a *judge.Assessment) string { return w.say(a.Verdict.String()) })
	values("Head loss at normal flow", "loss", quantity.Head,
		func(a *judge.Assessment) basis.Value { return a.Governing.Loss })
	values("Normal velocity", "velocity", quantity.Velocity,
		func(a *judge.Assessment) basis.Value { return a.Governing.Velocity })
	values("Full-open velocity", "full_open_velocity", quantity.Velocity,
		func(a *judge.Assessment) basis.Value { return a.FullOpenVelocity })
	words("Slam", func(a *judge.Assessment) string { return w.slamWords(a) })
	words("Chances", func(a *judge.Assessment) string {
		if a.Slam.Runs == 0 {
			return "–"
		}
		return w.chances(a)
	})
	words("Worst stop", func(a *judge.Assessment) string { return orDash(a.Slam.Event) })
	values("Reverse velocity", "reverse_velocity", quantity.Velocity,
		func(a *judge.Assessment) basis.Value { return a.Slam.ReverseVelocity })
	words("median", func(a *judge.Assessment) string {
		if a.Slam.Runs == 0 || !a.Slam.ReverseVelocity.Known() {
			return "–"
		}
		return w.quote(a.Item.ID+" reverse_velocity median", quantity.Velocity, a.Slam.MedianMS)
	})
	words("likely (5 to 95 %)", func(a *judge.Assessment) string {
		if v := a.Slam.ReverseVelocity; v.Known() {
			return v.FormatRange(w.units())
		}
		return "–"
	})
	values("Head rise", "head_rise", quantity.Head, func(a *judge.Assessment) basis.Value { return a.Slam.HeadRise })
	words("Column separation", func(a *judge.Assessment) string { return w.separationWords(a) })
	values("Minimum back head to seal", "least_back_head", quantity.Head,
		func(a *judge.Assessment) basis.Value { return a.BackHead })
	values("Clear passage (sphere)", "passage", quantity.Diameter,
		func(a *judge.Assessment) basis.Value { return a.Item.Passage })
	values("Mass", "mass", quantity.Mass, func(a *judge.Assessment) basis.Value { return a.Item.Mass })
	values("Face-to-face length", "face_to_face", quantity.Diameter,
		func(a *judge.Assessment) basis.Value { return a.Item.FaceToFace })
	words("Conditions", func(a *judge.Assessment) string { return fmt.Sprint(count(a, judge.Condition)) })
	words("To confirm before ordering", func(a *judge.Assessment) string { return fmt.Sprint(count(a, judge.Confirm)) })
	return t
}

func count(a *judge.Assessment, s judge.Severity) int {
	n := 0
	for _, f := range a.Findings {
		if f.Severity == s {
			n++
		}
	}
	return n
}

// money holds what the cost of all valves rests on.
func (w *sheet) money() Table {
	op := w.Study.Station.Operation
	f := w.form("money", "Money and time")
	f.add("tariff", "Price of electricity", w.cell("operation.tariff", op.Tariff)).
		add("interest", "Interest", w.cell("operation.interest", op.Interest)).
		add("years", "Years", w.cell("operation.years", op.Years)).
		add("running", "Running time of one pump per year", w.hours("operation.running_time", op.RunningTime)).
		add("lift", "Power to raise one unit of flow by one unit of head", w.liftPower())
	for _, v := range []basis.Value{op.Tariff, op.Interest, op.Years, op.RunningTime} {
		if v.Origin == basis.Assumed {
			f.words(v.Name, w.say("assumed: {why}", "why", v.Reason))
		}
	}
	return f.t
}

// hours is a time in hours, whatever its size: formulas count in them.
func (w *sheet) hours(path string, v basis.Value) Cell {
	c := w.cell(path, v)
	if !v.Known() {
		return c
	}
	if c.Number = v.SI / 3600; c.Unit != "h" {
		c.Text, c.Unit, c.Numeric = quantity.Figures(c.Number, 3)+" h", "h", true
	}
	return c
}

// liftPower is the hydraulic power of one unit of flow and one of head of this paper, in W:
// by it the workbook goes from flow and head loss to energy.
func (w *sheet) liftPower() Cell {
	sys := w.units()
	one := w.Study.Station.Fluid.Density.SI * quantity.StandardGravity / sys.In(quantity.Flow, 1) /
		sys.In(quantity.Head, 1)
	return Cell{Text: quantity.Figures(one, 3) + " W", Number: one, Unit: "W", Numeric: true}
}

// lifeCycle is the cost of each valve, live in spreadsheets: flow, head loss and efficiency
// give power, and hours, tariff and interest the rest.
func (w *sheet) lifeCycle(all []*judge.Assessment) Table {
	t := Table{ID: "cost", Caption: w.say("Life-cycle cost"), Columns: []Column{w.column("", 0.3), w.column("Unit", 0)}}
	row := func(id, label, unit string, bold bool) Row {
		return Row{ID: id, Cells: []Cell{{Text: w.say(label), Bold: bold}, {Text: unit}}}
	}
	currency := w.say("currency")
	rows := []Row{
		row("price", "Purchase price", currency, false), row("care", "Annual maintenance", currency, false),
		row("flow", "Normal flow through one valve", w.units().Unit(quantity.Flow), false),
		row("head", "Head loss at normal flow", w.units().Unit(quantity.Head), false),
		row("efficiency", "Efficiency of pump and motor", "%", false), row("power", "Power lost", "kW", false),
		row("energy", "Energy lost per year", "kWh", false), row("lost", "Annual energy cost", currency, false),
		row("factor", "Present-worth factor", w.say("years"), false),
		row("total", "Price, energy and maintenance, present worth", currency, true),
	}
	for _, a := range all {
		t.Columns = append(t.Columns, Column{Title: a.Item.ID, Right: true})
		for i, c := range w.costOf(a) {
			rows[i].Cells = append(rows[i].Cells, c)
		}
	}
	t.Rows = rows
	return t
}

// costOf are the cells of one valve, in the order of the rows.
func (w *sheet) costOf(a *judge.Assessment) []Cell {
	op, g := w.Study.Station.Operation, a.Governing
	price := Cell{Blank: true}
	if a.Item.Price.Known() {
		price = w.of(a.Item.ID+" price", a.Item.Price)
	}
	factor := judge.PresentValue(op.Interest.SI, op.Years.SI)
	years := w.money2(factor, "IF({money.interest}=0,{money.years},(1-(1+{money.interest}/100)^-{money.years})/({money.interest}/100))")
	dash := Cell{Text: "–", Tone: Open}
	if !a.EnergyPerYear.Known() || !g.Loss.Known() || op.RunningTime.SI <= 0 || a.EnergyPerYear.SI <= 0 {
		return []Cell{price, {Blank: true}, dash, dash, dash, dash, dash, dash, years, dash}
	}
	power := a.EnergyPerYear.SI / op.RunningTime.SI
	efficiency := w.Study.Station.Fluid.Density.SI * quantity.StandardGravity * g.Flow.SI * g.Loss.SI / power
	lost := a.EnergyPerYear.SI * op.Tariff.SI
	sum := lost * factor
	if price.Numeric {
		sum += price.Number
	}
	energy := w.of(a.Item.ID+" energy_per_year", a.EnergyPerYear)
	energy.Formula = "{power}*{money.running}"
	total := w.money2(sum, "{price}+({care}+{lost})*{factor}")
	total.Bold = true
	return []Cell{
		price,
		{Blank: true},
		w.of("duty flow", g.Flow), w.of("duty loss", g.Loss),
		w.bare(a.Item.ID+" efficiency", quantity.Fraction, efficiency),
		w.money2(power/1000, "{flow}*{head}*{money.lift}/1000/({efficiency}/100)"), energy,
		w.money2(lost, "{energy}*{money.tariff}"), years, total,
	}
}

// money2 is a computed sum to three figures, with the formula that makes it.
func (w *sheet) money2(x float64, formula string) Cell {
	c := numeric(Cell{Text: quantity.Figures(x, 3)})
	c.Number, c.Formula = x, formula
	return c
}

// against lists conditions and objections of each valve, and what is to be confirmed.
func (w *sheet) against(all []*judge.Assessment) Table {
	t := Table{
		ID: "against", Caption: w.say("Conditions"),
		Columns: []Column{w.column("Valve", 0.2), w.column("", 0.14), w.column("Point", 0.66)},
	}
	for _, a := range all {
		found := false
		for _, f := range a.Findings {
			said, tone := objection(f.Severity)
			if f.Severity == judge.Confirm {
				said, tone = "confirm before ordering", Plain
			}
			if said != "" {
				found = true
				t.Rows = append(t.Rows, Row{Cells: []Cell{
					{Text: a.Item.ID},
					{Text: w.say(said), Tone: tone},
					{Text: w.withMissing(f)},
				}})
			}
		}
		if !found {
			t.Rows = append(t.Rows, Row{Cells: []Cell{
				{Text: a.Item.ID},
				{Text: w.say("none"), Tone: Good},
				{Text: w.say("no condition and no objection")},
			}})
		}
	}
	return t
}

// slamWords is the class of a valve, or why it has none.
func (w *sheet) slamWords(a *judge.Assessment) string {
	switch {
	case a.Pending():
		return w.say("still to be run")
	case a.Slam.Class == "":
		return w.say("not run")
	case !a.Slam.AtRest:
		return w.say("{class}, does not come to rest", "class", a.SlamWords())
	case !a.Slam.Resolved:
		return w.say("{class}, not resolved", "class", a.SlamWords())
	}
	return a.SlamWords()
}

func (w *sheet) separationWords(a *judge.Assessment) string {
	switch {
	case a.Separation != "":
		return w.say("predicted")
	case a.Answer == nil:
		return "–"
	}
	return w.say("none")
}

func orDash(s string) string {
	if s == "" {
		return "–"
	}
	return s
}
