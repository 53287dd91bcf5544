package document

import (
	"fmt"
	"math"
	"strings"

	"seatward/pipe"
	"seatward/plant"
	"seatward/pump"
	"seatward/quantity"
	"seatward/valve"
)

// Constants of the equations, exact; they are printed to six figures.
var (
	gpmPerCFS   = literal(foot * foot * foot / gpm)
	perFootSq   = literal(1e6 * foot * foot)                    // mm²/s in 1 ft²/s
	cpPerPound  = literal(1e3 / (pound / (foot * foot * foot))) // mm²/s of 1 cP at 1 lb/ft³
	kwPerHP     = literal(550 * foot * pound * plant.GravityMS2 / 1e3)
	hazenUS     = literal(hazenSI * math.Pow(1/foot, 0.37))
	lossFromCv  = literal(valve.LossFromKv(valve.KvPerCv(), inch)) // of Cv 1 and a bore of 1 in
	lossFromKvs = literal(valve.LossFromKv(1, 1e-3))               // of Kv 1 and a bore of 1 mm
)

const (
	foot    = 0.3048
	inch    = 0.0254
	pound   = 0.45359237
	gpm     = 231 * inch * inch * inch / 60
	hazenSI = 0.849
)

// workedPoint works one operating point through, from the flow to the cost.
func (c *calc) workedPoint() {
	p, err := plant.New(c.Study.Station)
	if err != nil || c.Valve == nil {
		c.text(Open, "No operating point can be worked: the pumps do not deliver with this valve.")
		return
	}
	x, ok := p.Work(c.Valve.Mechanism)
	if !ok {
		c.text(Open, "No operating point can be worked: the pumps do not deliver with this valve.")
		return
	}
	c.text(Plain, "Worked point: {point}. The flow is the one at which pump head and system head are equal; every other number follows from it. Numbers are printed to five figures; one with fewer is exact.", "point", x.Name)
	c.begin("point", "")
	c.flow(&x)
	for i := range x.Branch {
		c.loss(fmt.Sprintf("b%d", i+1), "{q}", &x.Branch[i])
	}
	c.valveLoss(&x)
	for i := range x.Main {
		c.loss(fmt.Sprintf("m%d", i+1), "{q_m}", &x.Main[i])
	}
	c.systemHead(&x)
	c.pumpHead(&x)
	c.power(&x)
	c.end()
}

// us is true where the paper prints US units.
func (c *calc) us() bool { return c.units() == quantity.US }

// pick is the formula of the system of units.
func (c *calc) pick(us, si string) string {
	if c.us() {
		return us
	}
	return si
}

// cubic is flow in consistent units: ft³/s or m³/s.
func (c *calc) cubic(m3s float64) float64 {
	if c.us() {
		return m3s / (foot * foot * foot)
	}
	return m3s
}

func (c *calc) flow(x *plant.Worked) {
	f := &c.Study.Station.Fluid
	c.group("Liquid and flow")
	c.add(equation{
		id: "g", name: "Gravity", symbol: "g", value: c.in(quantity.Acceleration, plant.GravityMS2),
		unit: c.unit(quantity.Acceleration), note: "standard value, " + c.cite("3rd CGPM, 1901", ""),
	})
	c.add(equation{
		id: "nu", name: "Kinematic viscosity", symbol: "ν",
		formula: c.pick(cpPerPound+" * {mu} / {rho}", "1000 * {mu} / {rho}"),
		value:   1e6 * f.Viscosity.SI / f.Density.SI, unit: "mm²/s",
	})
	c.add(equation{
		id: "q_p", name: "Flow of one pump", symbol: "Q_p", value: c.in(quantity.Flow, x.FlowM3S),
		unit: c.unit(quantity.Flow), note: "found by balance: pump head equals system head",
	})
	unit := c.pick("ft³/s", "m³/s")
	c.add(equation{
		id: "q", name: "Flow in the branch", symbol: "Q", formula: c.pick("{q_p} / "+gpmPerCFS, "{q_p} / 1000"),
		value: c.cubic(x.FlowM3S), unit: unit,
	})
	main := equation{
		id: "q_m", name: "Flow in the main", symbol: "Q", formula: "{q}", value: c.cubic(x.MainM3S), unit: unit,
	}
	if x.Running > 1 {
		main.symbol, main.formula = "Q_m", fmt.Sprintf("%d * {q}", x.Running)
	} else {
		main.symbol = "Q_m"
	}
	c.add(main)
}

// length is a bore or a roughness in consistent units.
func (c *calc) length(m float64) float64 { return c.in(quantity.Length, m) }

// loss works one run of pipe through.
func (c *calc) loss(tag, flow string, r *plant.WorkedRun) {
	c.group(strings.ToUpper(r.Name[:1]) + r.Name[1:])
	named := func(what string) string { return what + ", " + r.Name }
	vel, head := c.unit(quantity.Velocity), c.unit(quantity.Head)
	c.add(equation{
		id: "D." + tag, name: named("Bore"), symbol: "D", formula: c.pick("{d."+tag+"} / 12", "{d."+tag+"} / 1000"),
		value: c.length(r.InnerDiameter.SI), unit: c.unit(quantity.Length),
	})
	c.add(equation{
		id: "V." + tag, name: named("Velocity"), symbol: "V",
		formula: "4 * " + flow + " / (PI() * {D." + tag + "}^2)",
		value:   c.in(quantity.Velocity, r.VelocityMS), unit: vel,
	})
	c.friction(tag, r, named, flow)
	local := equation{
		id: "hl." + tag, name: named("Loss of fittings"), symbol: "h_L",
		formula: "{k." + tag + "} * {V." + tag + "}^2 / (2 * {g})", value: c.in(quantity.Head, r.FittingsM),
		unit: head,
	}
	if r.LocalK != c.whole(tag).Loss.SI {
		c.add(equation{
			id: "kp." + tag, name: named("Fittings up to the high point"), symbol: "ΣK", value: r.LocalK,
			note: "share of the run's sum that goes with its length",
		})
		local.formula = "{kp." + tag + "} * {V." + tag + "}^2 / (2 * {g})"
	}
	c.add(local)
}

// whole is the run as the station has it, before it is cut at a high point.
func (c *calc) whole(tag string) pipeRun {
	branch, main := c.runs()
	for _, r := range append(branch, main...) {
		if r.tag == tag {
			return r
		}
	}
	return pipeRun{}
}

// friction is the loss of the straight pipe of a run.
func (c *calc) friction(tag string, r *plant.WorkedRun, named func(string) string, flow string) {
	head := c.unit(quantity.Head)
	length := "{l." + tag + "}"
	if r.LengthM != c.whole(tag).Length.SI {
		c.add(equation{
			id: "L." + tag, name: named("Length up to the high point"), symbol: "L",
			value: c.in(quantity.Length, r.LengthM), unit: c.unit(quantity.Length),
			note: "the main runs partly open beyond it",
		})
		length = "{L." + tag + "}"
	}
	if r.HazenWilliams.Known() {
		k := c.pick(hazenUS, literal(hazenSI))
		c.add(equation{
			id: "S." + tag, name: named("Slope of the head line (Hazen-Williams)"), symbol: "S",
			formula: "({V." + tag + "} / (" + k + " * {c." + tag + "} * ({D." + tag + "} / 4)^0.63))^(1/0.54)",
			value:   r.FrictionM / r.LengthM / c.Study.Station.Fluid.FrictionFactor.SI,
		})
		c.add(equation{
			id: "hf." + tag, name: named("Friction loss"), symbol: "h_f",
			formula: "{m_f} * " + length + " * {S." + tag + "}",
			value:   c.in(quantity.Head, r.FrictionM), unit: head,
		})
		return
	}
	c.add(equation{
		id: "Re." + tag, name: named("Reynolds number"), symbol: "Re",
		formula: c.pick(perFootSq, "1000000") + " * {V." + tag + "} * {D." + tag + "} / {nu}", value: r.Reynolds,
	})
	rel := r.Roughness.SI / r.InnerDiameter.SI
	c.add(equation{
		id: "rel." + tag, name: named("Relative roughness"), symbol: "ε/d",
		formula: "{eps." + tag + "} / {d." + tag + "}", value: rel,
	})
	factor := equation{
		id: "f." + tag, name: named("Friction factor (Darcy)"), symbol: "f", value: r.Factor,
		formula: frictionFormula("{Re."+tag+"}", "{rel."+tag+"}"),
	}
	turbulent := r.Regime == pipe.Turbulent || r.Regime == pipe.FullyRough
	switch r.Regime {
	case pipe.Laminar:
		factor.shown = "64 / {Re." + tag + "}"
	case pipe.Critical:
		factor.shown = "between laminar and turbulent: a straight line in Re from 64/Re at 2000 to Colebrook and White at 4000"
	default:
		factor.shown = "the value that meets 1/√f = −2 log₁₀[(ε/d)/3.7 + 2.51/(Re √f)], " + c.cite("colebrook-1939",
			"")
	}
	c.add(factor)
	if turbulent {
		c.add(equation{
			id: "x." + tag, name: named("Check of f"), symbol: "1/√f",
			formula: "-2 * LOG10({rel." + tag + "} / 3.7 + 2.51 / ({Re." + tag + "} * SQRT({f." + tag + "})))",
			value:   rootOf(r.Factor),
		})
	}
	c.add(equation{
		id: "hf." + tag, name: named("Friction loss"), symbol: "h_f",
		formula: "{m_f} * {f." + tag + "} * (" + length + " / {D." + tag + "}) * {V." + tag + "}^2 / (2 * {g})",
		value:   c.in(quantity.Head, r.FrictionM), unit: head,
	})
}

// valveLoss is the loss of the check valve: by its flow coefficient where that is what it
// goes by, else by the loss coefficient at its opening.
func (c *calc) valveLoss(x *plant.Worked) {
	it, m := c.Assessment.Item, c.Valve.Mechanism
	c.group("Check valve")
	c.add(equation{
		id: "Dv", name: "Bore of the valve", symbol: "D", formula: c.pick("{d_v} / 12", "{d_v} / 1000"),
		value: c.length(it.Bore.SI), unit: c.unit(quantity.Length),
	})
	v := x.FlowM3S / m.AreaM2()
	c.add(equation{
		id: "Vv", name: "Velocity in the valve", symbol: "V", formula: "4 * {q} / (PI() * {Dv}^2)",
		value: c.in(quantity.Velocity, v), unit: c.unit(quantity.Velocity),
	})
	byCv := 0.0
	if it.FlowCoefficient.Known() {
		byCv = valve.LossFromKv(it.FlowCoefficient.SI, it.Bore.SI)
		c.add(equation{
			id: "Kv", name: "Loss coefficient of the valve, full open", symbol: "K",
			formula: c.pick(lossFromCv+" * {d_v}^4 / {c_v}^2", lossFromKvs+" * {d_v}^4 / {c_v}^2"),
			value:   byCv,
		})
	}
	head := equation{
		id: "hv", name: "Loss of the valve", symbol: "h_v", formula: "{Kv} * {Vv}^2 / (2 * {g})",
		value: c.in(quantity.Head, x.Valve.HeadM), unit: c.unit(quantity.Head),
	}
	if byCv == 0 || !nearly(byCv, x.Valve.Loss) {
		c.add(equation{
			id: "Ko", name: "Loss coefficient at its opening", symbol: "K", value: x.Valve.Loss,
			note: fmt.Sprintf("%s at %s of its stroke in this flow; by the mechanics of its type", x.Valve.Standing,
				c.units().Format(quantity.Fraction, x.Valve.Share)),
		})
		head.formula = "{Ko} * {Vv}^2 / (2 * {g})"
	}
	c.add(head)
	if x.ReducersM > 0 {
		c.add(equation{
			id: "hr", name: "Loss of the reducers beside the valve", symbol: "h_r",
			value: c.in(quantity.Head, x.ReducersM),
			unit:  c.unit(quantity.Head), note: "contraction and diffuser between the bores of valve and branch",
		})
	}
}

// systemHead adds up what the pump has to lift.
func (c *calc) systemHead(x *plant.Worked) {
	st, unit := c.Study.Station, c.unit(quantity.Head)
	c.group("System head")
	lift := equation{
		id: "z", name: "Static head", symbol: "z", value: c.in(quantity.Head, x.LiftM), unit: unit,
		note: "levels and pressures of suction and outlet at this level of the wet well",
	}
	_, high := c.known["z_h"]
	_, low := c.known["z_l"]
	_, out := c.known["z_o"]
	open := st.OutletPressure.SI == 0 && st.SuctionPressure.SI == 0
	switch {
	case x.HighPoint != nil:
		lift.name, lift.note = "Static head to the high point",
			"the high point of the profile sets the head, not the outlet"
	case high && low && out && open:
		lift.formula, lift.note = map[plant.WellLevel]string{
			plant.WellHigh: "{z_o} - {z_h}", plant.WellLow: "{z_o} - {z_l}",
			plant.WellMiddle: "{z_o} - ({z_h} + {z_l}) / 2",
		}[x.Level], ""
	}
	c.add(lift)
	sum := "{z}"
	for i := range x.Branch {
		sum += fmt.Sprintf(" + {hf.b%d} + {hl.b%d}", i+1, i+1)
	}
	sum += " + {hv}"
	if x.ReducersM > 0 {
		sum += " + {hr}"
	}
	for i := range x.Main {
		sum += fmt.Sprintf(" + {hf.m%d} + {hl.m%d}", i+1, i+1)
	}
	c.add(equation{
		id: "H", name: "System head", symbol: "H", formula: sum, value: c.in(quantity.Head, x.SystemM()), unit: unit,
	})
}

// pumpHead reads the pump's curve between its points.
func (c *calc) pumpHead(x *plant.Worked) {
	tag := fmt.Sprint(x.Pump.Index + 1)
	for i := range c.Study.Station.Pumps {
		if &c.Study.Station.Pumps[i] == x.Pump {
			tag = fmt.Sprint(i + 1)
		}
	}
	c.group("Pump: " + x.Pump.Name)
	of := x.Pump.Performance
	result := equation{
		id: "Hp", name: "Pump head", symbol: "H_p", value: c.in(quantity.Head, x.HeadM), unit: c.unit(quantity.Head),
	}
	switch pts := of.Points(); {
	case x.On != pump.OnCurve:
		result.note = "continued beyond the points of the curve: " + x.On.String()
		c.add(result)
	case of.Origin() != pump.FromPoints:
		k := len(pts)
		for pts[k-1].FlowM3S == 0 {
			k--
		}
		c.parabola("h"+tag, k, of.Curve, result)
	default:
		xs, ys := make([]float64, len(pts)), make([]float64, len(pts))
		for i, p := range pts {
			xs[i], ys[i] = c.in(quantity.Flow, p.FlowM3S), c.in(quantity.Head, p.HeadM)
		}
		c.between("h"+tag, "H", xs, ys, c.in(quantity.Flow, x.FlowM3S), result)
	}
	c.pumpEfficiency(tag, x)
}

// parabola reads a curve of two points, or of the duty point alone.
func (c *calc) parabola(name string, k int, of pump.Curve, result equation) {
	q, y := fmt.Sprintf("{q.%s.%d}", name, k), fmt.Sprintf("{y.%s.%d}", name, k)
	if of.Points()[0].FlowM3S == 0 {
		first := fmt.Sprintf("{y.%s.1}", name)
		result.formula = first + " - (" + first + " - " + y + ") * ({q_p} / " + q + ")^2"
		c.add(result)
		return
	}
	c.add(equation{
		id: "Hs", name: "Shut-off head of the parabola", symbol: "H_s", value: c.in(quantity.Head, of.ShutOffM()),
		unit: c.unit(quantity.Head),
		formula: "{y." + name + ".1} + ({y." + name + ".1} - " + y + ") * {q." + name + ".1}^2 / (" + q +
			"^2 - {q." + name + ".1}^2)",
	})
	result.formula = "{Hs} - ({Hs} - " + y + ") * ({q_p} / " + q + ")^2"
	c.add(result)
}
