package truth

import (
	"fmt"
	"math"
	"sync"

	"seatward/pump"
	"seatward/transient"
)

// gravity of the cases that were worked out with 9.81 m/s².
const roundGravity = 9.81

// pipeCase is a pipe of 1 m bore between two nodes, in a run of its own.
type pipeCase struct {
	length, wave, diameter, velocity, head float64
	friction                               func(p *transient.Pipe)
	reaches                                int
	gravity                                float64
	from, to                               transient.Boundary
	gas                                    *transient.Gas
}

// network lays the case on its grid.
func (c pipeCase) network() (*transient.Network, error) {
	if c.gravity == 0 {
		c.gravity = roundGravity
	}
	p := transient.Pipe{
		Name: "pipe", From: "from", To: "to", LengthM: c.length, DiameterM: c.diameter,
		WaveSpeedMS: c.wave, HeadM: c.head,
	}
	p.FlowM3S = c.velocity * p.AreaM2()
	if c.friction != nil {
		c.friction(&p)
	}
	return transient.New(transient.Model{
		GravityMS2: c.gravity, StepS: c.length / c.wave / float64(c.reaches), MostAdjust: 1e-9, Gas: c.gas,
		Pipes: []transient.Pipe{p}, Nodes: map[string]transient.Boundary{"from": c.from, "to": c.to},
	})
}

// place is a reading of a network whose pipe is called pipe.
func head(n *transient.Network, share float64) func() float64 {
	f, err := n.HeadAt("pipe", share)
	if err != nil {
		return func() float64 { return math.NaN() }
	}
	return f
}

func flowAt(n *transient.Network, share float64) func() float64 {
	f, err := n.FlowAt("pipe", share)
	if err != nil {
		return func() float64 { return math.NaN() }
	}
	return f
}

// until steps the network to the time and tells every step.
func until(n *transient.Network, timeS float64, each func()) error {
	for n.TimeS() < timeS-0.5*n.StepS() {
		if err := n.Advance(); err != nil {
			return err
		}
		if each != nil {
			each()
		}
	}
	return nil
}

// unitOutlet discharges the unit bore at 1 m/s under the head, at the opening of the law.
func unitOutlet(headM, areaM2 float64, law func(t float64) float64) transient.Outlet {
	return transient.Outlet{CdAM2: areaM2 / math.Sqrt(2*roundGravity*headM), Opening: law, GravityMS2: roundGravity}
}

var (
	_ = evaluator("sudden-stop", "transient.Network.Advance", func(in Inputs) (float64, error) {
		n, err := pipeCase{
			length: 1000, wave: 1000, diameter: 1, velocity: 1, head: 150, reaches: 20,
			from: transient.Level{HeadM: 150}, to: transient.Junction{},
		}.network()
		if err != nil {
			return 0, err
		}
		err = until(n, in.F("t"), nil)
		return head(n, in.F("at"))(), err
	})
	_ = evaluator("partial-stop", "transient.Junction", func(in Inputs) (float64, error) {
		left := 1 - in.F("share")
		n, err := pipeCase{
			length: 1000, wave: 1000, diameter: 1, velocity: 1, head: 150, reaches: 20,
			from: transient.Level{HeadM: 150}, to: transient.Junction{OutflowM3S: left * math.Pi / 4},
		}.network()
		if err != nil {
			return 0, err
		}
		err = until(n, 1, nil)
		return head(n, 1)() - 150, err
	})
	_ = evaluator("even-closing", "transient.Outlet",
		allievi(func(share float64) float64 { return math.Max(0, 1-share) }, 1))
	_ = evaluator("even-opening", "transient.Outlet",
		allievi(func(share float64) float64 { return math.Min(1, share) }, 0))
	_ = evaluator("junction", "transient.Junction", junctionCase)
	_ = evaluator("textbook-pipe", "transient.Network.Advance, transient.Outlet", textbookPipe)
	_ = evaluator("laminar-stop", "transient.Unsteady, transient.Laminar", laminarStop)
	_ = evaluator("one-cavity", "transient.Gas", oneCavity)
	_ = evaluator("adelaide", "transient.Gas, transient.Turbulent", adelaide)
	_ = evaluator("power-failure", "pump.Machine, transient.Branch", powerFailure)
	_ = evaluator("pump-failure-chart", "pump.Machine, transient.Branch, transient.IdealCheck", pumpChart)
	_ = evaluator("zero-inertia", "pump.Machine, transient.IdealCheck", func(in Inputs) (float64, error) {
		c := chartCase{twoRho: in.F("two-rho"), k: 1000, ideal: true, until: 4}
		r, err := c.run()
		return r[in.S("read")], err
	})
	_ = evaluator("flow-establishment", "transient.Network.Advance", func(in Inputs) (float64, error) {
		length, fall, final := in.F("L"), in.F("H"), in.F("Vf")
		n, err := pipeCase{
			length: length, wave: 10_000, diameter: 1, head: fall, reaches: 10, from: transient.Level{HeadM: fall},
			to:       transient.Level{},
			friction: func(p *transient.Pipe) { p.LocalLoss = fall * 2 * roundGravity / (final * final) },
		}.network()
		if err != nil {
			return 0, err
		}
		q := flowAt(n, 0.5)
		for q() < in.F("share")*final*math.Pi/4 && n.TimeS() < 1000 {
			if err := n.Advance(); err != nil {
				return 0, err
			}
		}
		return n.TimeS(), nil
	})
	_ = evaluator("surge-shaft", "transient.StandPipe", func(in Inputs) (float64, error) {
		n, err := pipeCase{
			length: in.F("L"), wave: 1000, diameter: math.Sqrt(4 / math.Pi * in.F("A")), velocity: in.F("V0"),
			head: 100, reaches: 10,
			from: transient.Level{HeadM: 100}, to: &transient.StandPipe{AreaM2: in.F("As")},
		}.network()
		if err != nil {
			return 0, err
		}
		level, top, crossings, last, period := head(n, 1), 0.0, 0, 0.0, 0.0
		err = until(n, 400, func() {
			z := level() - 100
			top = math.Max(top, z)
			if last < 0 && z >= 0 || last > 0 && z <= 0 {
				if crossings++; crossings == 2 {
					period = n.TimeS()
				}
			}
			last = z
		})
		if in.S("read") == "period" {
			return period, err
		}
		return top, err
	})
)

// allievi is a pipe whose outlet moves evenly over theta times 2L/a; read are whole
// multiples of 2L/a.
func allievi(law func(share float64) float64, v0 float64) func(Inputs) (float64, error) {
	return func(in Inputs) (float64, error) {
		h0 := 1000 * 1 / (2 * roundGravity * in.F("rho"))
		over := in.F("theta") * 2
		n, err := pipeCase{
			length: 1000, wave: 1000, diameter: 1, velocity: v0, head: h0, reaches: 10,
			from: transient.Level{HeadM: h0},
			to:   unitOutlet(h0, math.Pi/4, func(t float64) float64 { return law(t / over) }),
		}.network()
		if err != nil {
			return 0, err
		}
		err = until(n, 2*in.F("i"), nil)
		return head(n, 1)() / h0, err
	}
}

// junctionCase sends a wave of 1 m through a step of area.
func junctionCase(in Inputs) (float64, error) {
	pipe := func(name, from, to string, area float64) transient.Pipe {
		return transient.Pipe{
			Name: name, From: from, To: to, LengthM: 1000, DiameterM: math.Sqrt(4 / math.Pi * area),
			WaveSpeedMS: 1000,
		}
	}
	n, err := transient.New(transient.Model{
		GravityMS2: roundGravity, StepS: 0.1,
		Pipes: []transient.Pipe{pipe("pipe", "far", "step", in.F("A1")), pipe("next", "step", "end", in.F("A2"))},
		Nodes: map[string]transient.Boundary{
			"far": transient.Level{HeadM: 1}, "step": transient.Junction{},
			"end": &transient.Endless{},
		},
	})
	if err != nil {
		return 0, err
	}
	if err := until(n, 1.5, nil); err != nil {
		return 0, err
	}
	passed, err := n.HeadAt("next", 0.2)
	if in.S("read") == "passed" {
		return passed(), err
	}
	return head(n, 0.8)() - 1, err
}

// textbookPipe is the single pipe with a valve of Wylie and Streeter 1993, ch. 3.
func textbookPipe(in Inputs) (float64, error) {
	const g, diameter, f, cdA, length = 9.80665, 0.5, 0.018, 0.009, 600.0
	area := math.Pi / 4 * diameter * diameter
	loss := f * length / diameter / (2 * g * area * area)
	q := math.Sqrt(150 / (loss + 1/(2*g*cdA*cdA)))
	n, err := pipeCase{
		length: length, wave: 1200, diameter: diameter, velocity: q / area, head: 150, reaches: int(in.F("reaches")),
		gravity: g,
		from:    transient.Level{HeadM: 150}, friction: func(p *transient.Pipe) { p.FrictionFactor = f },
		to: transient.Outlet{
			CdAM2: cdA, GravityMS2: g,
			Opening: func(t float64) float64 { return math.Pow(math.Max(0, 1-t/2.1), 1.5) },
		},
	}.network()
	if err != nil {
		return 0, err
	}
	valve, most := head(n, 1), 0.0
	if in.S("read") == "most" {
		err = until(n, 4.3, func() { most = math.Max(most, valve()) })
		return most, err
	}
	err = until(n, in.F("t"), nil)
	readings := map[string]func() float64{"valve-head": valve, "valve-flow": flowAt(n, 1), "middle-head": head(n, 0.4), "reservoir-flow": flowAt(n, 0)}
	return readings[in.S("read")](), err
}

// laminarStop is the oil of Holmboe and Rouleau (1967), stopped at once.
func laminarStop(in Inputs) (float64, error) {
	const g, nu, d, length, wave, v0, reaches = 9.80665, 0.03484 / 878.4, 0.0254, 36.09, 1324.36, 0.128, 160
	step := length / wave / reaches
	n, err := pipeCase{
		length: length, wave: wave, diameter: d, velocity: v0, head: 50, reaches: reaches, gravity: g,
		from: transient.Level{HeadM: 50}, to: transient.Junction{},
		friction: func(p *transient.Pipe) {
			p.LinearLossS = 128 * nu * length / (math.Pi * g * d * d * d * d)
			if in.S("friction") == "unsteady" {
				p.Unsteady = &transient.Unsteady{Weights: transient.Laminar(4 * nu * step / (d * d)), ViscosityM2: nu}
			}
		},
	}.network()
	if err != nil {
		return 0, err
	}
	valve := head(n, 1)
	steady := valve()
	err = until(n, in.F("t")*2*length/wave, nil)
	return (valve() - steady) / (wave * v0 / g), err
}

// adelaidePipe is the copper pipe of Bergant and Simpson (1999), level and without
// friction unless that is added.
func adelaidePipe(v0 float64, reaches int, gas *transient.Gas) pipeCase {
	return pipeCase{
		length: 37.23, wave: 1319, diameter: 0.0221, velocity: v0, head: 22, reaches: reaches,
		from: transient.Level{HeadM: 22}, to: transient.Junction{}, gas: gas,
	}
}

// cavityPipe is that pipe with a single cavity, at the valve: all but the valve lies
// lower.
func cavityPipe(v0 float64, reaches int) (*transient.Network, error) {
	c := adelaidePipe(v0, reaches, &transient.Gas{VaporHeadM: -10.25, Fraction: 1e-13})
	c.friction = func(p *transient.Pipe) {
		p.Profile = []transient.Elevation{{ChainageM: 37, ElevationM: -20}, {ChainageM: 37.23, ElevationM: 0}}
	}
	return c.network()
}

func oneCavity(in Inputs) (float64, error) {
	n, err := cavityPipe(in.F("V0"), 64)
	if err != nil {
		return 0, err
	}
	valve, most := head(n, 1), 0.0
	if in.S("read") == "most" {
		err = until(n, in.F("t"), func() { most = math.Max(most, valve()) })
		return most, err
	}
	err = until(n, in.F("t"), nil)
	return valve(), err
}

// adelaide is the measured column separation, with the friction that the row names.
func adelaide(in Inputs) (float64, error) {
	const nu = 1.14e-6 // water of 15 °C
	v0, reaches := in.F("V0"), 64
	reynolds := v0 * 0.0221 / nu
	c := adelaidePipe(v0, reaches, &transient.Gas{VaporHeadM: -10.25})
	c.friction = func(p *transient.Pipe) {
		p.FrictionFactor = 0.3164 / math.Pow(reynolds, 0.25) // Blasius, smooth
		p.Profile = []transient.Elevation{{ChainageM: 0, ElevationM: -2.03}, {ChainageM: 37.23, ElevationM: 0}}
		if in.S("friction") == "unsteady" {
			step := p.LengthM / p.WaveSpeedMS / float64(reaches)
			p.Unsteady = &transient.Unsteady{
				Weights:     transient.Turbulent(reynolds, 4*nu*step/(0.0221*0.0221)),
				ViscosityM2: nu,
			}
		}
	}
	area := math.Pi / 4 * 0.0221 * 0.0221
	const outside = -50.0
	steady := 22 - c.velocity*c.velocity/(2*roundGravity)*(0.3164/math.Pow(reynolds, 0.25)*37.23/0.0221)
	c.to = transient.Outlet{
		OutsideM: outside, GravityMS2: roundGravity,
		CdAM2: v0 * area / math.Sqrt(2*roundGravity*(steady-outside)), Opening: func(t float64) float64 {
			return math.Max(0, 1-t/0.009)
		},
	}
	n, err := c.network()
	if err != nil {
		return 0, err
	}
	valve, most := head(n, 1), 0.0
	err = until(n, 0.5, func() { most = math.Max(most, valve()) })
	return most, err
}

// ratedPump is a radial pump whose rated point is that of the unit pipe at 1 m/s.
func ratedPump(headM, inertiaTimeS float64) (*pump.Machine, error) {
	const omega = 150.0
	area := math.Pi / 4
	r := pump.Rated{FlowM3S: area, HeadM: headM, TorqueNM: 1000, SpeedRadS: omega}
	quad, err := pump.NewUniversal(pump.Rated{
		FlowM3S: r.FlowM3S, HeadM: r.HeadM, TorqueNM: r.TorqueNM,
		SpeedRadS: 25 * 2 * math.Pi / 60 * math.Pow(headM, 0.75) / math.Sqrt(area),
	})
	if err != nil {
		return nil, err
	}
	// The speed is the one that makes the specific speed that of the published pump.
	return &pump.Machine{
		Quadrants: quad, InertiaKgM2: inertiaTimeS * 1000 / quad.Rated().SpeedRadS,
		Drive: pump.Trips(1, 0),
	}, nil
}

// failures keeps runs that several rows read.
var failures sync.Map

func powerFailure(in Inputs) (float64, error) {
	rho, s := in.F("rho"), in.F("s")
	key := fmt.Sprintf("%g %g", rho, s)
	if r, ok := failures.Load(key); ok {
		return r.(map[string]float64)[in.S("read")], nil
	}
	h0 := 1000 / (2 * roundGravity * rho)
	m, err := ratedPump(h0, 1)
	if err != nil {
		return 0, err
	}
	c := pipeCase{
		length: 1, wave: 1000, diameter: 1, velocity: 1, head: h0, reaches: 1,
		from: &transient.Branch{
			Supply: transient.Level{},
			Chain:  &transient.Chain{Sources: []transient.Source{m}},
		}, to: &transient.Endless{},
	}
	if err := m.Begin(math.Pi / 4); err != nil {
		return 0, err
	}
	n, err := c.network()
	if err != nil {
		return 0, err
	}
	if err := until(n, s, nil); err != nil {
		return 0, err
	}
	r := map[string]float64{"speed": m.Ratio(), "flow": flowAt(n, 0)() / (math.Pi / 4), "head": head(n, 0)() / h0}
	failures.Store(key, r)
	return r[in.S("read")], nil
}

// chartCase is pump, frictionless pipe and reservoir, in the parameters of the charts.
type chartCase struct {
	twoRho, k float64
	ideal     bool
	until     float64 // in L/a
}

func pumpChart(in Inputs) (float64, error) {
	c := chartCase{in.F("two-rho"), in.F("k"), in.S("valve") == "ideal", 16}
	if r, ok := failures.Load(c); ok {
		return r.(map[string]float64)[in.S("read")], nil
	}
	r, err := c.run()
	if err != nil {
		return 0, err
	}
	failures.Store(c, r)
	return r[in.S("read")], nil
}

// run gives heads over the rated one, times in L/a and the lowest speed.
func (c chartCase) run() (map[string]float64, error) {
	h0 := 1000 / (roundGravity * c.twoRho)
	m, err := ratedPump(h0, 1/c.k)
	if err != nil {
		return nil, err
	}
	chain := &transient.Chain{Sources: []transient.Source{m}}
	check := &transient.IdealCheck{}
	if c.ideal {
		chain.Device = check
	}
	if err := m.Begin(math.Pi / 4); err != nil {
		return nil, err
	}
	n, err := pipeCase{
		length: 1000, wave: 1000, diameter: 1, velocity: 1, head: h0, reaches: 200,
		from: &transient.Branch{Supply: transient.Level{}, Chain: chain}, to: transient.Level{HeadM: h0},
	}.network()
	if err != nil {
		return nil, err
	}
	at, middle, flow := head(n, 0), head(n, 0.5), flowAt(n, 0)
	r := map[string]float64{"least": 1, "least-middle": 1, "slowest": 1}
	before := 1.0
	err = until(n, c.until, func() {
		h, hm := at()/h0, middle()/h0
		r["least"], r["least-middle"] = math.Min(r["least"], h), math.Min(r["least-middle"], hm)
		r["most"], r["most-middle"] = math.Max(r["most"], h), math.Max(r["most-middle"], hm)
		r["slowest"] = math.Min(r["slowest"], m.Ratio())
		if q := flow(); q < 0 && r["reverses"] == 0 {
			r["reverses"] = n.TimeS() - n.StepS()*q/(q-before)
		} else {
			before = q
		}
	})
	r["turns-back"], r["shuts"] = m.ReversedS(), check.ShutS
	return r, err
}
