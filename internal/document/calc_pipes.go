package document

import (
	"fmt"
	"strings"

	"seatward/basis"
	"seatward/pipe"
	"seatward/quantity"
	"seatward/station"
)

// pipeRun is a run of pipe with the tag by which equations name its numbers.
type pipeRun struct {
	*station.Run
	tag string
}

// runs are those of branch and main in the order of the flow.
func (c *calc) runs() (branch, main []pipeRun) {
	st := c.Study.Station
	for i := range st.Branch.Runs {
		branch = append(branch, pipeRun{&st.Branch.Runs[i], fmt.Sprintf("b%d", i+1)})
	}
	for i := range st.Main.Runs {
		main = append(main, pipeRun{&st.Main.Runs[i], fmt.Sprintf("m%d", i+1)})
	}
	return branch, main
}

// pipes lists the runs with their dimensions, their fittings, and what their waves rest on.
func (c *calc) pipes() {
	branch, main := c.runs()
	all := append(branch, main...)
	c.heading(3, "Pipes")
	t := Table{ID: "pipes", Columns: []Column{
		c.column("Run", 0.18), c.column("Pipe", 0.26), c.numbers("Bore d", quantity.Diameter),
		c.numbers("Wall e", quantity.Diameter), c.numbers("Length L", quantity.Length),
		{Title: c.say("Roughness ε"), Unit: c.unit(quantity.Roughness), Right: true},
		c.column("From", 0.24),
	}}
	for _, r := range all {
		rough, sources := c.roughness(r), []string{}
		for _, v := range []basis.Value{r.InnerDiameter, r.Wall, r.Length, surface(r.Run)} {
			if s := c.from(v); !holds(sources, s) {
				sources = append(sources, s)
			}
		}
		t.Rows = append(t.Rows, Row{ID: r.tag, Cells: []Cell{
			{Text: r.Name},
			{Text: joined(", ", joined(" ", r.Material, r.Class), r.Size.Format(c.units()))},
			c.input("d."+r.tag, "d", "pipes", r.tag, 1, c.in(quantity.Diameter, r.InnerDiameter.SI)),
			c.input("e."+r.tag, "e", "pipes", r.tag, 2, c.in(quantity.Diameter, r.Wall.SI)),
			c.input("l."+r.tag, "L", "pipes", r.tag, 3, c.in(quantity.Length, r.Length.SI)),
			rough,
			{Text: strings.Join(sources, "; ")},
		}})
	}
	c.put(t)
	if c.hazen(all) {
		c.text(Source, "Where the user chose Hazen and Williams, the coefficient C stands in place of the roughness.")
	}
	c.fittings(all)
	c.elastic(all)
}

func holds(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// surface is what the friction of a run goes by.
func surface(r *station.Run) basis.Value {
	if r.HazenWilliams.Known() {
		return r.HazenWilliams
	}
	return r.Roughness
}

func (c *calc) hazen(all []pipeRun) bool {
	for _, r := range all {
		if r.HazenWilliams.Known() {
			return true
		}
	}
	return false
}

func (c *calc) roughness(r pipeRun) Cell {
	if r.HazenWilliams.Known() {
		x := c.input("c."+r.tag, "C", "pipes", r.tag, 4, r.HazenWilliams.SI)
		x.Text = "C = " + x.Text
		return x
	}
	return c.input("eps."+r.tag, "ε", "pipes", r.tag, 4, c.in(quantity.Roughness, r.Roughness.SI))
}

// fittings lists those of each run with their loss coefficients, and the sum.
func (c *calc) fittings(all []pipeRun) {
	t := Table{
		ID: "fittings", Caption: c.say("Fittings: loss coefficients on the velocity head of the run"),
		Columns: []Column{
			c.column("Run", 0.16), c.column("Fitting", 0.26),
			{Title: c.say("Number"), Right: true},
			{Title: c.say("K of one"), Right: true},
			{Title: c.say("K"), Right: true},
			c.column("Range of K", 0.16),
			c.column("From", 0.3),
		},
	}
	for _, r := range all {
		c.fittingsOf(&t, r)
	}
	c.put(t)
}

func (c *calc) fittingsOf(t *Table, r pipeRun) {
	sum, parts := r.Loss.SI, ""
	for i, f := range r.Fittings {
		id := fmt.Sprintf("%s.%d", r.tag, i+1)
		from := c.cite2(joined(", ", f.Source, "("+f.Status+")"), "loss coefficient of the "+f.Name)
		if f.Times > 0 {
			from = joined("; ", c.say("{n} f_T, f_T = {f}", "n", printed(f.Times), "f", printed(f.Factor)),
				c.cite2(f.Source+", "+f.Status, "loss coefficient of the "+f.Name))
		}
		n := c.input("n."+id, "n", t.ID, id, 1, f.Count)
		k := c.input("k."+id, "K", t.ID, id, 2, f.K.Best)
		all := c.input("sum."+id, "n K", t.ID, id, 3, f.Count*f.K.Best)
		all.Formula = c.live("{n." + id + "}*{k." + id + "}")
		t.Rows = append(t.Rows, Row{ID: id, Cells: []Cell{
			{Text: r.Name},
			{Text: f.Name},
			n, k, all,
			{Text: c.span(pipe.Span{Low: f.Count * f.K.Low, High: f.Count * f.K.High})},
			{Text: from},
		}})
		sum -= f.Count * f.K.Best
		parts = joined("+", parts, "{sum."+id+"}")
	}
	if len(r.Fittings) > 0 && sum > 1e-9 { // the user's own coefficient beside those of the tables
		id := r.tag + ".own"
		t.Rows = append(t.Rows, Row{ID: id, Cells: []Cell{
			{Text: r.Name},
			{Text: c.say("loss coefficient given")},
			{},
			{},
			c.input("sum."+id, "K", t.ID, id, 1, sum),
			{},
			{Text: c.say("given")},
		}})
		parts = joined("+", parts, "{sum."+id+"}")
	}
	total := c.input("k."+r.tag, "ΣK", t.ID, r.tag, 1, r.Loss.SI)
	total.Formula, total.Bold = c.live(parts), true
	from := ""
	if len(r.Fittings) == 0 {
		from = c.from(r.Loss)
	}
	t.Rows = append(t.Rows, Row{ID: r.tag, Cells: []Cell{
		{Text: r.Name},
		{Text: c.say("sum"), Bold: true},
		{},
		{},
		total,
		{Text: c.span(pipe.Span{Low: r.Loss.Low, High: r.Loss.High})},
		{Text: from},
	}})
}

// span prints a range of plain numbers; nothing where it has no width.
func (c *calc) span(s pipe.Span) string {
	if s.Low == s.High {
		return ""
	}
	return printed(s.Low) + " to " + printed(s.High)
}

// elastic lists what the wave speeds rest on: given, or modulus and restraint.
func (c *calc) elastic(all []pipeRun) {
	t := Table{ID: "elastic", Caption: c.say("Speed of pressure waves"), Columns: []Column{
		c.column("Run", 0.18),
		{Title: c.say("Modulus E"), Unit: c.unit(quantity.Modulus), Right: true},
		{Title: c.say("Restraint c₁"), Right: true},
		c.numbers("Given speed a", quantity.Velocity),
		c.column("Range", 0.22), c.column("From", 0.34),
	}}
	for _, r := range all {
		v := r.WaveSpeed
		row := Row{ID: r.tag, Cells: []Cell{{Text: r.Name}}}
		if e, c1, computed := waveInputs(v); computed {
			row.Cells = append(row.Cells,
				c.input("E."+r.tag, "E", t.ID, r.tag, 1, c.in(quantity.Modulus, e.SI)),
				c.input("c1."+r.tag, "c₁", t.ID, r.tag, 2, c1.SI), Cell{},
				Cell{Text: joined("; ", "E "+c.units().Number(e.Kind, e.Low)+" to "+c.units().Number(e.Kind, e.High),
					"c₁ "+c.units().Number(c1.Kind, c1.Low)+" to "+c.units().Number(c1.Kind, c1.High))},
				Cell{Text: joined("; ", c.reason(e.Reason, e.Name), c.from(e), c.reason(c1.Reason, c1.Name))})
		} else {
			span := ""
			if v.Ranged() {
				span = v.FormatRange(c.units())
			}
			row.Cells = append(row.Cells, Cell{}, Cell{},
				c.input("a."+r.tag, "a", t.ID, r.tag, 1, c.in(quantity.Velocity, v.SI)), Cell{Text: span},
				Cell{Text: c.from(v)})
		}
		t.Rows = append(t.Rows, row)
	}
	c.put(t)
}

// waveInputs are modulus and restraint of a wave speed that is computed; false for one that is
// given or assumed as it stands.
func waveInputs(v basis.Value) (modulus, restraint basis.Value, computed bool) {
	if v.Formula == nil || v.Formula.ID != pipe.WaveSpeedMSFormula.ID || len(v.Inputs) != 6 {
		return modulus, restraint, false
	}
	return v.Inputs[2], v.Inputs[5], true
}
