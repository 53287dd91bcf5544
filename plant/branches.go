package plant

import (
	"fmt"
	"math"
	"slices"

	"seatward/pump"
	"seatward/quantity"
	"seatward/station"
	"seatward/transient"
	"seatward/valve"
)

// units of the event: those that run before it, or those that start.
func (e Event) units() []int {
	switch e.Kind {
	case Start:
		return e.stopping
	case Schedule:
		all := slices.Clone(e.running)
		for _, i := range e.stopping {
			if !slices.Contains(all, i) {
				all = append(all, i)
			}
		}
		slices.Sort(all)
		return all
	}
	return e.running
}

// branches lays a branch for each unit: wet well, pump, check valve, pipe to the header.
// Units that stand still have their valves shut and are left out.
func (b *builder) branches() error {
	length, _, area := joined(b.st.Branch)
	header := &transient.Header{}
	level := transient.Level{HeadM: b.event.level.WetWellM}
	b.out.watched, b.at = -1, map[int]int{}
	for i, unit := range b.event.units() {
		if j := b.like(i); j >= 0 {
			if b.out.rigid {
				header.Branches[b.at[j]].Parallel++
			} else {
				b.pipes[b.at[j]].Parallel++
			}
			continue
		}
		q := b.flows[i]
		k := b.loss(b.st.Branch, q) + b.plant.reducers(b.mech)
		name := fmt.Sprintf("branch %d", i+1)
		chain, err := b.unit(unit, q, name)
		if err != nil {
			return err
		}
		if b.out.rigid {
			chain.LossS2M5, chain.InertanceS2 = k, length/(quantity.StandardGravity*area)
			b.at[i] = len(header.Branches)
			header.Branches = append(header.Branches, &transient.Branch{Supply: level, Parallel: 1, Chain: chain})
			header.FlowsM3S = append(header.FlowsM3S, q)
			continue
		}
		b.at[i] = len(b.pipes)
		b.nodes[name+" start"] = &transient.Branch{Supply: level, Chain: chain}
		b.pipes = append(b.pipes, transient.Pipe{
			Name: name, From: name + " start", To: "header", LengthM: length, Parallel: 1, DiameterM: b.out.boreM,
			WaveSpeedMS: b.out.waveMS,
			LocalLoss:   k * 2 * quantity.StandardGravity * area * area, FlowM3S: q, HeadM: b.out.headerM + k*q*q,
			Profile: []transient.Elevation{{ElevationM: b.st.ValveAboveDatum()}}, Unsteady: b.unsteady(b.out.boreM, q),
		})
	}
	if b.out.rigid {
		b.nodes["header"] = header
	}
	return nil
}

// unit is the chain of one unit: its pump and its check valve.
func (b *builder) unit(unit int, q float64, name string) (*transient.Chain, error) {
	machine, err := b.machine(unit, q)
	if err != nil {
		return nil, err
	}
	out := b.out
	chain := &transient.Chain{Sources: []transient.Source{machine}}
	line := b.valve(q)
	if b.mech != nil {
		chain.Device = line
	}
	stops := slices.Contains(b.event.stopping, unit)
	if out.watched < 0 && stops {
		out.watched = len(out.machines)
	}
	pump := ""
	if len(b.plant.kinds()) > 1 {
		pump = b.st.Pumps[b.plant.units[unit].group].Name
	}
	out.machines, out.valves, out.chains = append(out.machines, machine), append(out.valves, line), append(out.chains,
		chain)
	out.pumps, out.names, out.stops = append(out.pumps, pump), append(out.names, name), append(out.stops, stops)
	return chain, nil
}

// behind reads the head behind a valve of the run.
func (l *layout) behind(i int) func() float64 {
	name := l.names[i]
	if l.rigid {
		name = l.profile[0].name
	}
	f, err := l.net.HeadAt(name, 0)
	if err != nil {
		return func() float64 { return math.NaN() }
	}
	return f
}

// like finds an earlier unit of the event that does the same as this one: the same kind of
// pump in the same flow, which stops, starts or runs on as it does. −1 where there is none.
func (b *builder) like(i int) int {
	units := b.event.units()
	if b.event.Kind == Schedule {
		return -1 // each does what its schedule says
	}
	stops := func(unit int) bool { return slices.Contains(b.event.stopping, unit) }
	for j := range i {
		if _, laid := b.at[j]; laid && b.plant.units[units[j]].kind == b.plant.units[units[i]].kind &&
			b.flows[j] == b.flows[i] && stops(units[j]) == stops(units[i]) {
			return j
		}
	}
	return -1
}

// machine is the unit's pump as the event drives it.
func (b *builder) machine(unit int, flow float64) (*pump.Machine, error) {
	g := b.plant.units[unit].group
	m := &pump.Machine{
		Quadrants: b.plant.quadrants[g], InertiaKgM2: b.st.Pumps[g].Inertia.SI + b.change.FlywheelKgM2,
		Drive: pump.Runs(1),
	}
	for _, s := range b.event.stopping {
		if s == unit {
			m.Drive = b.drive(unit)
		}
	}
	return m, m.Begin(flow)
}

func (b *builder) drive(unit int) pump.Drive {
	over := b.event.RampS.SI
	switch {
	case b.event.Kind == Schedule:
		return b.scheduled(unit)
	case b.event.Kind == Start:
		return pump.Ramps(0, 1, 0, over)
	case b.change.RampS > 0 && b.event.Kind == NormalStop:
		return pump.Ramps(1, 0, 0, b.change.RampS)
	case b.event.Kind == NormalStop && over > 0:
		return pump.Ramps(1, 0, 0, over)
	}
	return pump.Trips(1, 0)
}

// scheduled is the drive of a unit by the steps that name it.
func (b *builder) scheduled(unit int) pump.Drive {
	drive := pump.Runs(1)
	if !slices.Contains(b.event.running, unit) {
		drive = pump.Runs(0)
	}
	for _, s := range b.event.steps {
		if b.st.Unit(s.Pump) != unit {
			continue
		}
		before, from, at := drive, 0.0, s.At.SI
		var next pump.Drive
		switch s.Does {
		case "trips":
			next = pump.Trips(1, at)
		case "stops":
			from, _ = before(at)
			next = pump.Ramps(from, 0, at, rampOf(s, b.st.Surge.RampTime.SI))
		default:
			next = pump.Ramps(0, 1, at, runUp(s.RampTime).SI)
		}
		drive = func(t float64) (float64, bool) {
			if t <= at {
				return before(t)
			}
			return next(t)
		}
	}
	return drive
}

// rampOf is the length of the ramp of a step: its own, that of normal stops, or none.
func rampOf(s station.EventStep, usual float64) float64 {
	if s.RampTime.Known() {
		return s.RampTime.SI
	}
	return usual
}

// valve is the moving element at the opening at which the flow holds it.
func (b *builder) valve(flow float64) *valve.InLine {
	if b.mech == nil {
		return nil
	}
	v := flow / b.mech.AreaM2()
	xi := 0.0
	if v > 0 {
		xi = b.mech.Settle(v).Xi
	}
	return valve.NewInLine(b.mech, xi, v)
}

// newQuadrants gives every group of pumps its four quadrants.
func newQuadrants(st *station.Station) ([]*pump.Quadrants, error) {
	var out []*pump.Quadrants
	for _, g := range st.Pumps {
		q, err := pump.NewQuadrants(g.Performance, g.Speed.SI, st.Fluid.Density.SI)
		if err != nil {
			return nil, fmt.Errorf("pump %s in four quadrants: %w", g.Name, err)
		}
		out = append(out, q)
	}
	return out, nil
}
