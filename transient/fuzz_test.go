package transient

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// latch is a check valve that jumps: it lets the flow run back up to a limit, then shuts
// within the step, and opens again only when it is pushed hard enough.
type latch struct {
	loss, back, push float64
	shut, next       bool
}

func (d *latch) Flow(_, _ float64, _, to, z float64) (float64, error) {
	d.next = d.shut
	switch {
	case d.shut && to > d.push:
		d.next = false
	case !d.shut && to < -d.back:
		d.next = true
	}
	if d.next {
		return 0, nil
	}
	return math.Copysign(forward(d.loss, math.Abs(to), z), to), nil
}

func (d *latch) Commit(timeS, stepS, from, to, z float64) {
	_, _ = d.Flow(timeS, stepS, from, to, z)
	d.shut = d.next
}

func (d *latch) DropM(q float64) float64 { return d.loss * q * math.Abs(q) }

// flat is a pump that runs down: its curve is flat, or droops, up to the middle.
type flat struct{ headM, droop, flow, overS float64 }

func (p flat) Gain(timeS, _, q float64) (head, slope float64) {
	a := math.Max(0, 1-timeS/p.overS)
	x := q / p.flow
	if x < 0 {
		return p.headM * (a*a + 0.5*x*x), p.headM * x / p.flow
	}
	return p.headM * (a*a + a*p.droop*x - 0.6*x*x), p.headM * (a*p.droop - 1.2*x) / p.flow
}
func (flat) Commit(_, _, _ float64) {}

// Every step of every branch has an answer, whatever the gas, the pump's curve and the
// valve; and no volume is lost at any node.
func TestEveryStepHasAnAnswer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		q, lift := draw("flow", 0.01, 0.1), draw("lift", 2, 60)
		device := Device(&latch{
			loss: draw("loss", 1, 2000), back: q * draw("back", 0, 0.5),
			push: q * draw("push", 0, 0.1),
		})
		if rapid.Bool().Draw(t, "ideal") {
			device = &IdealCheck{LossS2M5: draw("loss of the ideal", 1, 2000)}
		}
		pump := flat{flow: q, droop: draw("droop", -0.2, 0.3), overS: draw("run-down", 0.05, 2)}
		pump.headM = (lift + device.DropM(q)) / (1 + pump.droop - 0.6)
		chain := func() *Chain { return &Chain{Sources: []Source{pump}, Device: device} }
		pipes := []Pipe{
			{Name: "branch", From: "start", To: "header", LengthM: draw("branch", 3, 30), WaveSpeedMS: 1000},
			{Name: "main", From: "header", To: "end", LengthM: draw("main", 20, 300), WaveSpeedMS: 1000},
		}
		nodes := map[string]Boundary{
			"start": &Branch{Supply: Level{0}, Chain: chain()}, "header": Junction{},
			"end": Level{lift},
		}
		switch rapid.IntRange(0, 2).Draw(t, "place") {
		case 1: // the valve in line
			nodes["start"], nodes["header"] = Level{0}, &Inline{Chain: chain()}
			pipes[1].HeadM = lift
		case 2: // two unequal branches at a header
			nodes["start"] = &Header{FlowsM3S: []float64{q / 2, q / 2}, Branches: []*Branch{
				{Supply: Level{0}, Chain: &Chain{Sources: []Source{pump}, Device: &latch{loss: 500, back: q / 10}}},
				{Supply: Level{1}, Chain: &Chain{
					Sources: []Source{flat{pump.headM, pump.droop / 2, q, 1e9}},
					Device:  &latch{loss: 800, back: q / 5},
				}},
			}}
		}
		step := pipes[0].LengthM / 2000
		for i := range pipes {
			p := &pipes[i]
			p.DiameterM, p.FlowM3S, p.FrictionFactor = 0.2, q, 0.02
			if p.HeadM == 0 && (i > 0 || nodes["start"] != (Level{0})) {
				p.HeadM = lift
			}
			if rapid.Bool().Draw(t, "unsteady") {
				p.Unsteady = &Unsteady{Weights: Turbulent(1e5, 4*1e-6*step/0.04), ViscosityM2: 1e-6}
			}
		}
		n, err := New(Model{
			StepS: step, MostAdjust: 0.5, GravityMS2: g, Pipes: pipes, Nodes: nodes,
			Gas: &Gas{VaporHeadM: -10, Fraction: math.Pow(10, draw("gas", -7, -2))},
		})
		if err != nil {
			t.Fatal(err)
		}
		before := map[*pocket]float64{}
		for range 600 {
			for _, d := range n.nodes {
				for i := range d.pockets {
					before[&d.pockets[i]] = d.pockets[i].volume
				}
			}
			if err := n.Advance(); err != nil {
				t.Fatal(err)
			}
			for _, d := range n.nodes {
				for i := range d.pockets {
					p := &d.pockets[i]
					grown := step * (d.ends[i].Q - p.pipe)
					if !(p.volume > 0) || math.Abs(p.volume-before[p]-grown) > 1e-9*(step*q+p.volume) {
						t.Fatalf("node %s at %g s: gas of %g m³ grows by %g to %g", d.name, n.TimeS(), before[p], grown,
							p.volume)
					}
				}
			}
			for _, l := range n.lines {
				for i := 1; i < l.last() && !l.gas.small; i++ { // so little gas is followed near vapor alone
					c := l.gas
					grown := step * (l.q[i] - c.up[i])
					if i >= c.first && i <= c.last && c.volume[i] > 0 && c.volume1[i] > 0 &&
						math.Abs(c.volume[i]-c.volume1[i]-grown) > 1e-9*(step*q+c.volume[i]) {
						t.Fatalf("pipe %s, node %d at %g s: gas of %g m³ grows by %g to %g", l.pipe.Name, i, n.TimeS(),
							c.volume1[i], grown, c.volume[i])
					}
				}
			}
		}
	})
}
