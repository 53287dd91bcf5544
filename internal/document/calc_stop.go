package document

import (
	"fmt"
	"math"
	"strings"

	"seatward/plant"

	"seatward/quantity"
	"seatward/station"
	"seatward/valve"
)

// workedStop works the stop that is worst for slam through step by step: run-down, waves,
// closing and head rise. What only the run can give is put in as a number; what follows from
// it is worked by hand.
func (c *calc) workedStop() {
	if c.Trip == nil || c.Trip.Told().Fault != "" {
		c.text(Open, "No pump stop was run, so none can be worked.")
		return
	}
	x := c.Trip.Told()
	c.text(Plain, "Worked stop: {event}. Numbers of the run are put in where hand formulas end, and are marked so.", "event", x.Event.Title)
	c.begin("stop", "")
	c.runDown(x)
	c.waves()
	c.deceleration(x)
	c.closing(x)
	c.rise(x)
	c.end()
	c.inSteps(x)
}

// stoppedPump is the pump whose valve the stop is about, with the tag of its inputs.
func (c *calc) stoppedPump(x *plant.Stop) (*station.Pump, string) {
	all := c.Study.Station.Pumps
	for i := range all {
		if all[i].Name == x.Closing.Pump {
			return &all[i], fmt.Sprint(i + 1)
		}
	}
	return &all[0], "1"
}

// runDown is the speed of a pump without power.
func (c *calc) runDown(x *plant.Stop) {
	p, tag := c.stoppedPump(x)
	q0 := x.StartFlowM3S()
	if q0 <= 0 || !p.Inertia.Known() || x.Event.RampS.Known() || x.Event.Kind == plant.Schedule {
		return
	}
	rho := c.Study.Station.Fluid.Density.SI
	w := plant.Worked{Pump: p}
	ta, shaft := w.InertiaTimeS(q0, rho)
	c.group("Speed of the pump that stops: " + p.Name)
	c.add(equation{
		id: "q0", name: "Flow of the pump before the stop", symbol: "Q_0", value: c.in(quantity.Flow, q0),
		unit: c.unit(quantity.Flow), note: "start of the run",
	})
	c.add(equation{
		id: "h0", name: "Pump head at this flow", symbol: "H_0",
		value: c.in(quantity.Head, p.Performance.Head(q0).SI),
		unit:  c.unit(quantity.Head), note: "read off the curve as for the worked point",
	})
	c.add(equation{
		id: "eta0", name: "Pump efficiency at this flow", symbol: "η_0", value: 100 * p.Performance.Efficiency(q0).SI,
		unit: "%", note: "likewise",
	})
	c.add(equation{
		id: "p0", name: "Shaft power before the stop", symbol: "P_0", value: c.in(quantity.Power, shaft),
		unit: c.unit(quantity.Power),
		formula: c.pick("100 * {rho} * ({q0} / "+gpmPerCFS+") * {h0} / (550 * {eta0})",
			"100 * {rho} * {g} * ({q0} / 1000) * {h0} / (1000 * {eta0})"),
	})
	c.add(equation{
		id: "omega", name: "Angular speed", symbol: "ω", formula: "PI() * {n" + tag + "} / 30", value: p.Speed.SI,
		unit: "rad/s",
	})
	c.add(equation{
		id: "ta", name: "Inertia time", symbol: "T_a", value: ta, unit: "s",
		formula: c.pick("{i"+tag+"} * {omega}^2 / (550 * {g} * {p0})", "{i"+tag+"} * {omega}^2 / (1000 * {p0})"),
	})
	if t := x.Closing.ReversedS; t > 0 && x.Closing.Closed {
		c.add(equation{
			id: "tr", name: "Time of flow reversal, of the run", symbol: "t_r", value: t, unit: "s",
			note: "read off the run",
		})
		c.add(equation{
			id: "nr", name: "Speed then, by hand", symbol: "N/N_0", value: 100 / (1 + t/ta), unit: "%",
			formula: "100 / (1 + {tr} / {ta})",
		})
		if now, ok := reading(x, plant.ReadSpeed, t); ok {
			c.add(equation{
				id: "nrun", name: "Speed then, of the run", symbol: "N/N_0", value: 100 * now, unit: "%",
				note: "the run takes the torque from the pump's four quadrants, the hand formula as the square of the speed",
			})
		}
	}
}

// reading is what the run reads at the time, straight between its rows.
func reading(x *plant.Stop, name string, timeS float64) (float64, bool) {
	at := -1
	for i, n := range x.Names {
		if n == name {
			at = i
		}
	}
	if at < 0 {
		return 0, false
	}
	for i := 1; i < len(x.Rows); i++ {
		a, b := &x.Rows[i-1], &x.Rows[i]
		if b.TimeS >= timeS {
			share := 0.0
			if b.TimeS > a.TimeS {
				share = math.Max(0, (timeS-a.TimeS)/(b.TimeS-a.TimeS))
			}
			return a.Now[at] + share*(b.Now[at]-a.Now[at]), true
		}
	}
	return 0, false
}

// waves are wave speeds and the times of the waves.
func (c *calc) waves() {
	branch, main := c.runs()
	c.group("Pressure waves")
	speed := c.unit(quantity.Velocity)
	for _, r := range append(branch, main...) {
		x := equation{
			id: "a." + r.tag, name: "Wave speed, " + r.Name, symbol: "a", unit: speed,
			value: c.in(quantity.Velocity, r.WaveSpeed.SI),
		}
		if _, _, computed := waveInputs(r.WaveSpeed); computed {
			k := c.pick("144000 * {g} * {bulk} / {rho}", "1000000000 * {bulk} / {rho}")
			x.formula = "SQRT(" + k + ") / SQRT(1 + {c1." + r.tag + "} * {bulk} * {d." + r.tag + "} / ({E." +
				r.tag + "} * {e." + r.tag + "}))"
		} else {
			x.formula, x.shown = "{a."+r.tag+"}", "the given speed"
		}
		c.add(x)
	}
	for _, line := range []struct {
		id, name string
		runs     []pipeRun
	}{{"tb", "branch", branch}, {"tm", "main", main}} {
		sum, seconds := "", 0.0
		for _, r := range line.runs {
			sum = joined(" + ", sum, "2 * {l."+r.tag+"} / {a."+r.tag+"}")
			seconds += 2 * r.Length.SI / r.WaveSpeed.SI
		}
		c.add(equation{
			id: line.id, name: "Time of a wave along the " + line.name + " and back", symbol: "2L/a", formula: sum,
			value: seconds, unit: "s",
		})
	}
}

// handStop is the stop as hand formulas have it; false where they have none like it.
func (c *calc) handStop(x *plant.Stop) (plant.HandStop, bool) {
	p, err := plant.New(c.Study.Station)
	if err != nil {
		return plant.HandStop{}, false
	}
	points, err := p.Solve(nil)
	if err != nil {
		return plant.HandStop{}, false
	}
	for _, h := range plant.ByHand(c.Study.Station, points.ForValve()).All {
		if h.Event == x.Event.ID {
			return h, true
		}
	}
	return plant.HandStop{}, false
}

// deceleration is how fast the flow falls as it turns, by hand and by the run.
func (c *calc) deceleration(x *plant.Stop) {
	c.group("Deceleration of the flow at reversal")
	acc := c.unit(quantity.Acceleration)
	if h, ok := c.handStop(x); ok && h.InertiaTime.Known() {
		rigid := h.Deceleration.Formula != nil && h.Deceleration.Formula.ID == valve.ReversalDecelerationFormula.ID
		c.add(equation{
			id: "V0", name: "Velocity in the branch before the stop, without a valve", symbol: "V_0",
			value: c.in(quantity.Velocity, h.Velocity.SI), unit: c.unit(quantity.Velocity),
			note: "operating point without the valve",
		})
		c.add(equation{
			id: "Tah", name: "Inertia time at that flow", symbol: "T_a", value: h.InertiaTime.SI, unit: "s",
			note: "as above, at the flow without the valve",
		})
		if rigid {
			c.rigid(&h)
		} else {
			c.under = append(c.under, "The flow turns before the first wave comes back along the main, so that the formula of a rigid column does not hold: see the check by hand formulas.")
		}
	}
	d := c.Assessment.Slam.Deceleration
	if d.Known() {
		c.add(equation{
			id: "alpha", name: "Deceleration in the valve, of a run without the valve", symbol: "α",
			value: c.in(d.Kind, d.SI),
			unit:  acc, note: "mean slope from the velocity at which the valve begins to close until the flow turns",
		})
	}
}

// rigid is the deceleration of a rigid column, step by step.
func (c *calc) rigid(h *plant.HandStop) {
	tau := valve.ColumnTime(h.Length.SI, h.Velocity.SI, h.Head.SI, plant.GravityMS2)
	turns := valve.ReversalTime(tau, h.InertiaTime.SI)
	what := "Water column that is stopped, as a length of the branch"
	c.add(equation{
		id: "Lc", name: what, symbol: "L", value: c.in(quantity.Length, h.Length.SI), unit: c.unit(quantity.Length),
		note: map[bool]string{
			true:  "the branch alone: the header keeps its head",
			false: "Σ L (D/D_i)² over branch and main",
		}[h.Held],
	})
	c.add(equation{
		id: "Hc", name: "Head that drives it back", symbol: "H", value: c.in(quantity.Head, h.Head.SI),
		unit: c.unit(quantity.Head),
		note: map[bool]string{true: "head at the header", false: "static head"}[h.Held],
	})
	c.add(equation{
		id: "tau", name: "Stopping time of the column without the pump", symbol: "τ", value: tau, unit: "s",
		formula: "{Lc} * {V0} / ({g} * {Hc})",
	})
	c.add(equation{
		id: "trh", name: "Time of flow reversal, by hand", symbol: "t_r", value: turns, unit: "s",
		formula: "({tau} / 2) * (1 + SQRT(1 + 4 * {Tah} / {tau}))",
	})
	c.add(equation{
		id: "alphah", name: "Deceleration in the branch, by hand", symbol: "α", unit: c.unit(quantity.Acceleration),
		value: c.in(quantity.Acceleration, valve.ReversalDeceleration(h.Length.SI, h.Head.SI, h.Velocity.SI,
			h.InertiaTime.SI,
			plant.GravityMS2)),
		formula: "({g} * {Hc} / {Lc}) * (1 - 1 / (1 + {trh} / {Tah})^2)",
	})
	bore := c.Assessment.Item.Bore.SI / c.Study.Station.Branch.Runs[0].InnerDiameter.SI
	c.add(equation{
		id: "alphav", name: "Deceleration in the valve, by hand", symbol: "α_v", unit: c.unit(quantity.Acceleration),
		value: c.in(quantity.Acceleration, valve.ReversalDeceleration(h.Length.SI, h.Head.SI, h.Velocity.SI,
			h.InertiaTime.SI,
			plant.GravityMS2)) / (bore * bore),
		formula: "{alphah} * {d.b1}^2 / {d_v}^2",
	})
}

// closing is what the valve does between reversal and its seat.
func (c *calc) closing(x *plant.Stop) {
	k := &x.Closing
	if !k.Closed {
		return
	}
	vel := c.unit(quantity.Velocity)
	c.group("Closing")
	c.add(equation{
		id: "ts", name: "Time of the hardest seating", symbol: "t_s", value: k.Worst.TimeS, unit: "s",
		note: "read off the run",
	})
	c.add(equation{
		id: "VR", name: "Greatest reverse velocity in the valve", symbol: "V_R",
		value: c.in(quantity.Velocity, x.SlamMS()),
		unit:  vel, note: "read off the run",
	})
	if _, timed := c.known["tr"]; timed && k.Worst.TimeS == k.First.TimeS && k.Worst.TimeS > k.ReversedS && x.Resolved() {
		c.add(equation{
			id: "alpham", name: "Mean deceleration from reversal to the seat", symbol: "α_m",
			unit:    c.unit(quantity.Acceleration),
			formula: "{VR} / ({ts} - {tr})",
			value:   c.in(quantity.Acceleration, x.SlamMS()/(k.Worst.TimeS-k.ReversedS)),
			note:    "less than α where the closing valve itself throttles the reverse flow",
		})
	}
	if hand := c.Trip.ByHand; hand.Reverse.Known() {
		c.add(equation{
			id: "VRh", name: "Reverse velocity by hand formulas", symbol: "V_R",
			value: c.in(quantity.Velocity, hand.Reverse.SI),
			unit:  vel, note: "the element followed to its seat in a flow that slows evenly; " + hand.Event,
		})
	}
}

// rise is the head rise by Joukowsky beside that of the run.
func (c *calc) rise(x *plant.Stop) {
	if !x.Closing.Closed {
		return
	}
	st, head := c.Study.Station, c.unit(quantity.Head)
	run := &st.Branch.Runs[0]
	bore := c.Assessment.Item.Bore.SI / run.InnerDiameter.SI
	vb := x.SlamMS() * bore * bore
	jump := valve.Joukowsky(run.WaveSpeed.SI, vb, plant.GravityMS2)
	c.group("Head rise")
	c.add(equation{
		id: "Vb", name: "Reverse velocity in the branch", symbol: "V_b", formula: "{VR} * {d_v}^2 / {d.b1}^2",
		value: c.in(quantity.Velocity, vb), unit: c.unit(quantity.Velocity),
	})
	c.add(equation{
		id: "dH", name: "Head rise of the sudden stop (Joukowsky)", symbol: "ΔH", formula: "{a.b1} * {Vb} / {g}",
		value: c.in(quantity.Head, jump), unit: head,
	})
	c.add(equation{
		id: "dp", name: "The same as pressure", symbol: "Δp",
		formula: c.pick("{rho} * {dH} / 144", "{rho} * {g} * {dH} / 1000"),
		value:   c.in(quantity.Pressure, st.Fluid.Density.SI*plant.GravityMS2*jump), unit: c.unit(quantity.Pressure),
	})
	c.add(equation{
		id: "dHrun", name: "Head rise of the run", symbol: "ΔH_run", value: c.in(quantity.Head, x.RiseM()),
		unit: head,
		note: "greatest head behind the valve after a seating over that just before it",
	})
	c.add(equation{
		id: "dHw", name: "Part of other waves", symbol: "ΔH_w", formula: "{dHrun} - {dH}",
		value: c.in(quantity.Head, x.RiseM()-jump), unit: head,
		note: "waves under way in branch, header and main at that moment, friction, and the finite time of the stop",
	})
	c.add(equation{
		id: "Hmax", name: "Max. head behind the valve, of the run", symbol: "H_max",
		value: c.in(quantity.Head, x.MostM()),
		unit:  head, note: "above " + c.Trip.Datum,
	})
	axis := st.ValveAboveDatum()
	c.add(equation{
		id: "zv", name: "Axis of the valve above the same line", symbol: "z", value: c.in(quantity.Head, axis),
		unit: head,
		note: "from the levels",
	})
	c.add(equation{
		id: "pmax", name: "Max. pressure at the valve in this stop", symbol: "p", unit: c.unit(quantity.Pressure),
		formula: c.pick("{rho} * ({Hmax} - {zv}) / 144", "{rho} * {g} * ({Hmax} - {zv}) / 1000"),
		value:   c.in(quantity.Pressure, st.Fluid.Density.SI*plant.GravityMS2*(x.MostM()-axis)),
	})
	if x.Cushioned() {
		c.under = append(c.under, "The valve has a cushion and seats more slowly than a wave runs along the branch and back: the sudden stop is an upper bound.")
	}
}

// inSteps is the run in a dozen instants.
func (c *calc) inSteps(x *plant.Stop) {
	end := x.TimeS
	if x.Closing.Closed {
		end = math.Min(end, 1.2*x.Closing.Worst.TimeS)
	}
	const steps = 12
	t := Table{
		ID: "steps", Caption: c.say("The run in steps, to the hardest seating and a little beyond"),
		Columns: []Column{
			{Title: c.say("Time"), Unit: "s", Right: true},
			{Title: c.say("Pump speed"), Unit: "%", Right: true},
			c.numbers("Flow in the valve", quantity.Flow),
			{Title: c.say("Opening"), Unit: "%", Right: true},
			c.numbers("Head before the valve", quantity.Head), c.numbers("Head behind the valve", quantity.Head),
		},
	}
	for k := 0; k <= steps; k++ {
		at := end * float64(k) / steps
		row := []Cell{{Text: c.units().Number(quantity.Time, at)}}
		for _, r := range []struct {
			name string
			kind quantity.Kind
		}{
			{plant.ReadSpeed, quantity.Fraction},
			{plant.ReadFlow, quantity.Flow},
			{plant.ReadOpening, quantity.Fraction},
			{plant.ReadUp, quantity.Head},
			{plant.ReadDown, quantity.Head},
		} {
			v, ok := reading(x, r.name, at)
			if !ok {
				row = append(row, Cell{Text: "–"})
				continue
			}
			row = append(row, numeric(Cell{Text: strings.Replace(c.units().Number(r.kind, tidy(v)), "-", "−", 1)}))
		}
		t.Rows = append(t.Rows, Row{Cells: row})
	}
	c.put(t)
	c.text(Source, "Heads above {datum}. The run has {steps} steps of {step}; the valve follows from its moving mass, weight, spring and the flow in each step, which no hand formula does.", "datum", c.Trip.Datum, "steps", fmt.Sprint(x.Steps), "step", c.units().Format(quantity.Time, x.StepS))
}

// tidy takes off what is round-off beside a full stroke, speed or flow.
func tidy(v float64) float64 {
	if math.Abs(v) < 1e-6 {
		return 0
	}
	return v
}
