package document

import (
	"fmt"
	"strings"

	"seatward/basis"
	"seatward/pump"
	"seatward/quantity"
	"seatward/station"
)

// calc is a calculation being written: its equations and its sources.
type calc struct {
	*equations
	citations
}

// unit is that in which a calculation works with a kind.
func (c *calc) unit(kind quantity.Kind) string { return c.units().Unit(kind) }

// in is an SI value in the units of the paper.
func (c *calc) in(kind quantity.Kind, si float64) float64 { return c.units().In(kind, si) }

// list is a table of inputs: each with its symbol, range and source.
type list struct {
	c *calc
	t Table
}

func (c *calc) list(id, caption string) *list {
	return &list{c, Table{ID: id, Caption: c.say(caption), Columns: []Column{
		c.column("Quantity", 0.33), c.column("Symbol", 0.09),
		{Title: c.say("Value"), Width: 0.13, Right: true},
		c.column("Unit", 0.1), c.column("Range", 0.16), c.column("From", 0.19),
	}}}
}

func (l *list) put() {
	if len(l.t.Rows) > 0 {
		l.c.put(l.t)
	}
}

// add puts a value that is known; equations name it by the alias.
func (l *list) add(alias, symbol, label string, v basis.Value) *list {
	if !v.Known() {
		return l
	}
	span := ""
	if v.Ranged() {
		span = l.c.units().Number(v.Kind, v.Low) + " to " + l.c.units().Number(v.Kind, v.High)
	}
	cell := l.c.input(alias, symbol, l.t.ID, alias, 1, l.c.in(v.Kind, v.SI))
	l.t.Rows = append(l.t.Rows, Row{ID: alias, Cells: []Cell{
		{Text: l.c.say(label)}, {Text: symbol}, cell, {Text: l.c.unit(v.Kind)}, {Text: span}, {Text: l.c.from(v)},
	}})
	return l
}

// hours is add for a time in hours.
func (l *list) hours(alias, symbol, label string, v basis.Value) *list {
	if !v.Known() {
		return l
	}
	const hour = 3600.0
	span := ""
	if v.Ranged() {
		span = v.FormatRange(l.c.units())
	}
	l.t.Rows = append(l.t.Rows, Row{ID: alias, Cells: []Cell{
		{Text: l.c.say(label)},
		{Text: symbol},
		l.c.input(alias, symbol, l.t.ID, alias, 1, v.SI/hour),
		{Text: "h"},
		{Text: span},
		{Text: l.c.from(v)},
	}})
	return l
}

// words puts a row of words.
func (l *list) words(label, text string) *list {
	if text != "" {
		l.t.Rows = append(l.t.Rows, Row{Cells: []Cell{{Text: l.c.say(label)}, {}, {}, {}, {}, {Text: text}}})
	}
	return l
}

// from says in a few words where a value comes from.
func (c *calc) from(v basis.Value) string {
	switch v.Origin {
	case basis.Given:
		return c.say("given")
	case basis.Assumed:
		return joined(", ", c.say("assumed"), c.cite2(v.Source, v.Name))
	case basis.Computed:
		if v.Formula != nil {
			return joined(", ", c.say("computed"), c.cite2(v.Formula.Ref, v.Formula.Title))
		}
	case basis.Catalog:
		return c.cite2(v.Source, v.Name)
	}
	return c.say("computed")
}

// cite2 is cite for a source that may be missing.
func (c *calc) cite2(source, what string) string {
	if source == "" {
		return ""
	}
	return c.cite(source, what)
}

// inputs are the facts that the calculation works with, in tables.
func (c *calc) inputs() {
	c.liquid()
	c.levels()
	for i := range c.Study.Station.Pumps {
		c.pump(i)
	}
	c.pipes()
	c.profile()
	c.valve()
	c.costs()
}

func (c *calc) liquid() {
	f := &c.Study.Station.Fluid
	c.heading(3, "Liquid and site")
	l := c.list("liquid", "")
	l.words("Liquid", string(f.Kind)).
		add("temperature", "", "Temperature", f.Temperature).
		add("rho", "ρ", "Density", f.Density).
		add("mu", "μ", "Dynamic viscosity", f.Viscosity).
		add("bulk", "K", "Bulk modulus, with free gas", f.BulkModulus).
		add("vapor", "", "Vapor pressure", f.VaporPressure).
		add("gas", "", "Free gas by volume", f.FreeGas).
		add("m_f", "m", "Friction against that of water", f.FrictionFactor).
		add("air", "", "Air pressure", c.Study.Station.Site.AirPressure).put()
}

func (c *calc) levels() {
	st := c.Study.Station
	c.heading(3, "Levels and pressures")
	l := c.list("levels", "")
	source := st.Source()
	l.add("z_h", "z_h", "High level, "+source, wellLevel(st, st.WetWellHigh)).
		add("z_l", "z_l", "Low level, "+source, wellLow(st)).
		add("z_o", "z_o", "Level at the outlet", st.Outlet).
		add("z_v", "z_v", "Axis of the check valve", st.ValveElevation).
		add("p_s", "p_s", "Pressure at the suction, gauge", st.SuctionPressure).
		add("p_o", "p_o", "Pressure at the outlet, gauge", st.OutletPressure).
		add("h_min", "", "Static head, "+source+" high", st.StaticLow).
		add("h_max", "", "Static head, "+source+" low", st.StaticHigh).put()
}

// wellLevel is the level where the outlet's is given too: without that neither is used.
func wellLevel(st *station.Station, v basis.Value) basis.Value {
	if !st.Outlet.Known() {
		return basis.Value{}
	}
	return v
}

// wellLow is the low level of the wet well: the outlet less the greatest static head.
func wellLow(st *station.Station) basis.Value {
	if !st.WetWellHigh.Known() || !st.Outlet.Known() {
		return basis.Value{}
	}
	for _, in := range st.StaticHigh.Inputs {
		if strings.Contains(in.Name, "low level") {
			return in
		}
	}
	return basis.Value{}
}

// pump is a pump with the points of its curves.
func (c *calc) pump(i int) {
	p := &c.Study.Station.Pumps[i]
	tag := fmt.Sprint(i + 1)
	c.heading(3, "Pump {name}")
	h := c.d.Blocks[len(c.d.Blocks)-1].(Heading)
	h.Text = Fill(h.Text, "name", p.Name)
	c.d.Blocks[len(c.d.Blocks)-1] = h
	l := c.list("pump"+tag, "")
	l.words("In service, standby", fmt.Sprintf("%d, %d", p.Count-p.Standby, p.Standby)).
		add("n"+tag, "n", "Speed", p.Speed).
		add("eta_m"+tag, "η_m", "Motor efficiency", p.MotorEfficiency).
		add("i"+tag, "I", "Inertia of all that turns", p.Inertia).
		add("peak"+tag, "η_b", "Best pump efficiency", p.Performance.Told().Peak)
	if q := p.Performance.Told().BestFlowM3S; q > 0 {
		l.add("bep"+tag, "Q_b", "Flow at best efficiency", basis.NewAssumed("flow of best efficiency", quantity.Flow, q,
			q, q, "duty flow", basis.CommonPractice))
	}
	l.put()
	c.curve(tag, p)
	c.efficiency(tag, p)
}

// curve lists the points of the head curve.
func (c *calc) curve(tag string, p *station.Pump) {
	t := c.points("curve"+tag, "Head curve", quantity.Head, "Head")
	for k, x := range p.Performance.Points() {
		c.point(&t, k, "h"+tag, "H", x.FlowM3S, c.in(quantity.Head, x.HeadM))
	}
	c.put(t)
	note := "Between the points: the curve of Fritsch and Butland (1984), which rises only where they rise."
	switch p.Performance.Origin() {
	case pump.FromTwoPoints:
		note = "Two points were given: a parabola is laid through them (common practice, no source)."
	case pump.FromDuty:
		note = "Only the duty point was given: a parabola from an assumed shut-off head."
	}
	c.text(Source, note)
}

// efficiency lists the points of efficiency or of shaft power.
func (c *calc) efficiency(tag string, p *station.Pump) {
	told := p.Performance.Told()
	switch {
	case len(told.Efficiency) > 0:
		t := c.points("eta"+tag, "Pump efficiency", quantity.Fraction, "Efficiency")
		for k, x := range told.Efficiency {
			c.point(&t, k, "e"+tag, "η", x.FlowM3S, 100*x.SI)
		}
		c.put(t)
	case len(told.Power) > 0:
		t := c.points("power"+tag, "Shaft power", quantity.Power, "Shaft power")
		for k, x := range told.Power {
			c.point(&t, k, "p"+tag, "P", x.FlowM3S, c.in(quantity.Power, x.SI))
		}
		c.put(t)
	default:
		c.text(Source, "No efficiency was given: η = η_b x (2 − x) with x = Q/Q_b, at most 1.7 (common practice, no source).")
	}
}

func (c *calc) points(id, caption string, kind quantity.Kind, title string) Table {
	return Table{ID: id, Caption: c.say(caption), Columns: []Column{
		c.column("Point", 0.3), c.numbers("Flow", quantity.Flow), c.numbers(title, kind),
	}}
}

// point puts a point of a curve; equations name its numbers q1h… and h1….
func (c *calc) point(t *Table, k int, name, value string, flowM3S, v float64) {
	n := fmt.Sprint(k + 1)
	q := c.input("q."+name+"."+n, "Q_"+n, t.ID, "p"+n, 1, c.in(quantity.Flow, flowM3S))
	y := c.input("y."+name+"."+n, value+"_"+n, t.ID, "p"+n, 2, v)
	t.Rows = append(t.Rows, Row{ID: "p" + n, Cells: []Cell{{Text: c.say("Point {n}", "n", n)}, q, y}})
}

// profile lists the axis of the main.
func (c *calc) profile() {
	st := c.Study.Station
	c.heading(3, "Profile of the main")
	if len(st.Main.Profile) == 0 {
		c.text(Open, "No profile was given: the axis of the main is taken straight from the valve to the outlet.")
		return
	}
	t := Table{ID: "profile", Columns: []Column{
		c.numbers("Chainage", quantity.Length), c.numbers("Elevation of the axis", quantity.Length),
		c.column("Range", 0.5),
	}}
	for _, p := range st.Main.Profile {
		span := ""
		if p.LowM != p.HighM {
			span = c.units().Number(quantity.Length, p.LowM) + " to " + c.units().Number(quantity.Length, p.HighM)
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{
			c.plain(c.in(quantity.Length, p.ChainageM)), c.plain(c.in(quantity.Length, p.ElevationM)), {Text: span},
		}})
	}
	c.put(t)
}

// plain is a number that no equation names.
func (c *calc) plain(v float64) Cell { return Cell{Text: printed(v), Number: v, Numeric: true} }

// valve lists what the catalog says of the valve's loss and mechanics.
func (c *calc) valve() {
	it := c.Assessment.Item
	c.heading(3, "Check valve")
	c.identification()
	l := c.list("valve", "Loss and mechanics")
	l.add("d_v", "d_v", "Bore", it.Bore).
		add("c_v", c.unit(quantity.FlowCoefficient), "Flow coefficient, full open", it.FlowCoefficient)
	for _, p := range it.Family.Type.Params {
		if v, said := it.Params[p.Key]; said {
			l.add("param."+p.Key, "", p.Title, v)
		}
	}
	l.put()
}

// costs are the running time and what electricity costs.
func (c *calc) costs() {
	op := c.Study.Station.Operation
	c.heading(3, "Operation")
	c.list("operation", "").
		hours("hours", "t_y", "Running time of one pump per year", op.RunningTime).
		add("tariff", "c_e", "Price of electricity", op.Tariff).
		add("starts", "", "Starts of one pump in an hour", op.StartsPerHour).put()
}
