package document

import (
	"fmt"
	"math"

	"seatward/plant"
	"seatward/pump"
	"seatward/quantity"
)

// rootOf is 1/√f.
func rootOf(f float64) float64 { return 1 / math.Sqrt(f) }

// frictionFormula is the friction factor as a workbook computes it for any flow: 64/Re, a
// straight line in the critical zone, and Colebrook and White by repeated substitution, which
// gains a figure in each turn.
func frictionFormula(re, rel string) string {
	const turns = 24
	root := func(re string) string {
		x := "7"
		for range turns {
			x = "(-2*LOG10(" + rel + "/3.7+2.51/" + re + "*" + x + "))"
		}
		return x + "^-2"
	}
	return "IF(" + re + "<=2000,64/" + re + ",IF(" + re + "<4000,0.032+(" + re + "-2000)/2000*(" + root("4000") +
		"-0.032)," +
		root(re) + "))"
}

// between reads a curve between its points by the method of Fritsch and Butland: the slope at
// an inner point is a weighted harmonic mean of those of the chords beside it, and the curve
// is the cubic that has both heads and both slopes. The names of the points are q.NAME.1 and
// y.NAME.1 and so on; result is what is read at {q_p}.
func (c *calc) between(name, symbol string, xs, ys []float64, x float64, result equation) {
	i := 0
	for i+2 < len(xs) && x >= xs[i+1] {
		i++
	}
	q := func(k int) string { return fmt.Sprintf("{q.%s.%d}", name, k+1) }
	y := func(k int) string { return fmt.Sprintf("{y.%s.%d}", name, k+1) }
	for k := max(0, i-1); k <= min(len(xs)-2, i+1); k++ {
		c.add(equation{
			id: fmt.Sprintf("s.%s.%d", name, k+1), symbol: fmt.Sprintf("s_%d", k+1),
			name:    fmt.Sprintf("%s curve, slope of the chord from point %d to %d", title(symbol), k+1, k+2),
			formula: "(" + y(k+1) + " - " + y(k) + ") / (" + q(k+1) + " - " + q(k) + ")",
			value:   (ys[k+1] - ys[k]) / (xs[k+1] - xs[k]),
		})
	}
	m := [2]float64{c.slope(name, symbol, xs, ys, i), c.slope(name, symbol, xs, ys, i+1)}
	w := xs[i+1] - xs[i]
	t := (x - xs[i]) / w
	c.add(equation{
		id: "t." + name, name: title(symbol) + " curve, place between the points", symbol: "t",
		formula: "({q_p} - " + q(i) + ") / (" + q(i+1) + " - " + q(i) + ")", value: t,
	})
	p, width := "{t."+name+"}", "("+q(i+1)+" - "+q(i)+")"
	slope := func(k int) string { return fmt.Sprintf("{m.%s.%d}", name, k+1) }
	result.formula = fmt.Sprintf("(1 + 2 * %[1]s) * (1 - %[1]s)^2 * %[2]s + %[1]s * (1 - %[1]s)^2 * %[3]s * %[4]s + %[1]s^2 * (3 - 2 * %[1]s) * %[5]s + %[1]s^2 * (%[1]s - 1) * %[3]s * %[6]s",
		p, y(i), width, slope(i), y(i+1), slope(i+1))
	_ = m
	c.add(result)
}

// title is what a curve is called by its symbol.
func title(symbol string) string {
	return map[string]string{"H": "Head", "η": "Efficiency", "P": "Power"}[symbol]
}

// slope is that of the curve at a point.
func (c *calc) slope(name, symbol string, xs, ys []float64, k int) float64 {
	q := func(k int) string { return fmt.Sprintf("{q.%s.%d}", name, k+1) }
	s := func(k int) string { return fmt.Sprintf("{s.%s.%d}", name, k+1) }
	chord := func(k int) float64 { return (ys[k+1] - ys[k]) / (xs[k+1] - xs[k]) }
	out := equation{
		id: fmt.Sprintf("m.%s.%d", name, k+1), symbol: fmt.Sprintf("m_%d", k+1),
		name: fmt.Sprintf("%s curve, slope at point %d", title(symbol), k+1),
	}
	last := len(xs) - 1
	if k > 0 && k < last {
		a, b := chord(k-1), chord(k)
		w, v := xs[k]-xs[k-1], xs[k+1]-xs[k]
		if a*b > 0 {
			out.value = 3 * (w + v) / ((w+2*v)/a + (2*w+v)/b)
			out.formula = fmt.Sprintf("3 * (%[3]s - %[1]s) / ((2 * %[3]s - %[1]s - %[2]s) / %[4]s + (%[3]s + %[2]s - 2 * %[1]s) / %[5]s)",
				q(k-1), q(k), q(k+1), s(k-1), s(k))
		} else {
			out.note = "zero, since the curve turns at the point"
		}
		c.add(out)
		return out.value
	}
	edge, next, dir := 0, 1, 1
	e, in, h, o := q(0), q(1), xs[1]-xs[0], 0.0
	if k == last {
		edge, next, dir = last-1, last-2, -1
		e, in, h = q(last), q(last-1), xs[last]-xs[last-1]
	}
	far := q(k + 2*dir)
	o = math.Abs(xs[k+2*dir] - xs[k+dir])
	g := ((2*h+o)*chord(edge) - h*chord(next)) / (h + o)
	switch {
	case g*chord(edge) <= 0:
		out.note = "zero: the rule for an end would turn the curve"
	case chord(edge)*chord(next) <= 0 && math.Abs(g) > 3*math.Abs(chord(edge)):
		out.value, out.formula = 3*chord(edge), "3 * "+s(edge)
	default:
		out.value = g
		out.formula = fmt.Sprintf("((%[2]s + %[3]s - 2 * %[1]s) * %[4]s - (%[2]s - %[1]s) * %[5]s) / (%[3]s - %[1]s)", e, in, far,
			s(edge), s(next))
	}
	c.add(out)
	return out.value
}

// pumpEfficiency is that of the pump at the flow, by whichever of efficiency, shaft power or
// an assumed best efficiency there is.
func (c *calc) pumpEfficiency(tag string, x *plant.Worked) {
	told := x.Pump.Performance.Told()
	q := c.in(quantity.Flow, x.FlowM3S)
	eta := equation{id: "eta", name: "Pump efficiency", symbol: "η", value: 100 * x.Share, unit: "%"}
	within := func(s []pump.Sample) bool { return inside(x, s) }
	switch {
	case len(told.Efficiency) > 2 && within(told.Efficiency):
		xs, ys := c.samples(told.Efficiency, func(v float64) float64 { return 100 * v })
		c.between("e"+tag, "η", xs, ys, q, eta)
	case len(told.Power) > 2 && within(told.Power): // follows from the power
	case told.Peak.Known() && x.FlowM3S <= 1.7*told.BestFlowM3S:
		eta.formula = "{peak" + tag + "} * ({q_p} / {bep" + tag + "}) * (2 - {q_p} / {bep" + tag + "})"
		c.add(eta)
	default:
		eta.note = "read off the given points"
		c.add(eta)
	}
}

// inside is true for a flow between the first and the last sample.
func inside(x *plant.Worked, s []pump.Sample) bool {
	return x.On == pump.OnCurve && x.FlowM3S >= s[0].FlowM3S && x.FlowM3S <= s[len(s)-1].FlowM3S
}

// samples are the points of a curve in the units of the paper.
func (c *calc) samples(s []pump.Sample, of func(float64) float64) (xs, ys []float64) {
	for _, p := range s {
		xs, ys = append(xs, c.in(quantity.Flow, p.FlowM3S)), append(ys, of(p.SI))
	}
	return xs, ys
}

// shaftPower is that of the pump: from the water power by the efficiency, or off the given
// points, from which the efficiency follows.
func (c *calc) shaftPower(tag string, x *plant.Worked) {
	told := x.Pump.Performance.Told()
	p := equation{
		id: "Ps", name: "Shaft power", symbol: "P", unit: c.unit(quantity.Power),
		value:   c.in(quantity.Power, x.ShaftW),
		formula: "100 * {Pw} / {eta}",
	}
	if len(told.Power) < 3 || !inside(x, told.Power) || !nearly(told.DensityKgM3, c.Study.Station.Fluid.Density.SI) {
		if _, known := c.known["eta"]; !known {
			c.add(equation{
				id: "eta", name: "Pump efficiency", symbol: "η", value: 100 * x.Share, unit: "%",
				note: "from the given shaft power at this flow",
			})
		}
		c.add(p)
		return
	}
	xs, ys := c.samples(told.Power, func(v float64) float64 { return c.in(quantity.Power, v) })
	c.between("p"+tag, "P", xs, ys, c.in(quantity.Flow, x.FlowM3S), p)
	c.add(equation{
		id: "eta", name: "Pump efficiency", symbol: "η", value: 100 * x.Share, unit: "%",
		formula: "100 * {Pw} / {Ps}",
	})
}

// power goes from the water to the meter.
func (c *calc) power(x *plant.Worked) {
	st := c.Study.Station
	tag := fmt.Sprint(x.Pump.Index + 1)
	for i := range st.Pumps {
		if &st.Pumps[i] == x.Pump {
			tag = fmt.Sprint(i + 1)
		}
	}
	unit := c.unit(quantity.Power)
	water := pump.HydraulicPower(st.Fluid.Density.SI, x.FlowM3S, x.HeadM)
	c.group("Power and cost, one pump")
	c.add(equation{
		id: "Pw", name: "Water power", symbol: "P_w", unit: unit, value: c.in(quantity.Power, water),
		formula: c.pick("{rho} * {q} * {Hp} / 550", "{rho} * {g} * {q} * {Hp} / 1000"),
	})
	c.shaftPower(tag, x)
	electrical := pump.InputPower(x.ShaftW, x.Pump.MotorEfficiency.SI, 1)
	c.add(equation{
		id: "Pe", name: "Electrical power at the motor", symbol: "P_e", unit: "kW", value: electrical / 1e3,
		formula: c.pick("100 * "+kwPerHP+" * {Ps} / {eta_m"+tag+"}", "100 * {Ps} / {eta_m"+tag+"}"),
	})
	perVolume := electrical / 3.6e6 / x.FlowM3S // kWh per m³
	volume := "m³"
	if c.us() {
		perVolume, volume = perVolume*3.785411784, "1000 gal"
	}
	c.add(equation{
		id: "E", name: "Energy per volume pumped", symbol: "E_v", unit: "kWh per " + volume, value: perVolume,
		formula: c.pick("1000 * {Pe} / (60 * {q_p})", "{Pe} / (3.6 * {q_p})"),
	})
	op := st.Operation
	if !op.Tariff.Known() {
		return
	}
	tariff := op.Tariff.SI * 3.6e6
	c.add(equation{
		id: "C", name: "Specific energy cost", symbol: "C_v", unit: "currency per " + volume,
		value:   perVolume * tariff,
		formula: "{tariff} * {E}",
	})
	if op.RunningTime.Known() {
		c.add(equation{
			id: "Cy", name: "Energy cost of one pump per year", symbol: "C_y", unit: "currency per year",
			value: electrical / 1e3 * op.RunningTime.SI / 3600 * tariff, formula: "{tariff} * {Pe} * {hours}",
		})
	}
}
