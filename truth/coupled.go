package truth

import (
	"seatward/transient"
	"seatward/valve"
)

// fading is the far end of a pipe without end, from which a wave comes in that grows
// evenly: the free velocity of a valve between two such pipes falls at an even rate.
type fading struct {
	transient.Endless
	rate float64 // growth of B Q in the wave, over B; positive behind the valve, m³/s²
}

func (b *fading) Solve(s transient.Step, ends []transient.End) error {
	if err := b.Endless.Solve(s, ends); err != nil {
		return err
	}
	for i := range ends {
		e := &ends[i]
		e.H += e.B * b.rate * s.TimeS / 2
		e.Q = (e.C - e.H) / e.B
	}
	return nil
}

var (
	_ = evaluator("closing-curve/coupled", "transient.Inline, valve.InLine", coupled(0.002))
	_ = evaluator("closing-curve/coupled, fine steps", "transient.Inline, valve.InLine", coupled(0.0002))
)

// coupled closes the reference valve between two pipes without end by the engine itself.
func coupled(stepS float64) func(Inputs) (float64, error) {
	return ofValve(func(m *valve.Mechanism, in Inputs) (float64, error) {
		if in.S("acceleration") == "off" {
			m = m.WithoutAcceleration()
		}
		e := endless{waveMS: 1000, stepS: stepS, rateMS2: in.F("alpha")}
		n, l, err := e.network(m)
		if err != nil {
			return 0, err
		}
		for l.Motion.First.TimeS == 0 && n.TimeS() < 20 {
			if err := n.Advance(); err != nil {
				return 0, err
			}
		}
		return l.Motion.First.ReverseMS, nil
	})
}

// endless are two pipes without end, a valve between them, whose free velocity falls evenly.
type endless struct{ waveMS, stepS, rateMS2 float64 }

// startMS is the velocity from which the flow of endless pipes falls.
const startMS = 2.0

func (e endless) network(m *valve.Mechanism) (*transient.Network, *valve.InLine, error) {
	area := m.AreaM2()
	l := valve.NewInLine(m, m.Stroke, startMS)
	drop := l.DropM(startMS * area)
	pipe := func(name, from, to string, head float64) transient.Pipe {
		return transient.Pipe{
			Name: name, From: from, To: to, LengthM: e.waveMS * e.stepS, DiameterM: m.BoreM,
			WaveSpeedMS: e.waveMS, FlowM3S: startMS * area, HeadM: head,
		}
	}
	n, err := transient.New(transient.Model{
		GravityMS2: roundGravity, StepS: e.stepS,
		Pipes: []transient.Pipe{pipe("before", "a", "valve", 0), pipe("behind", "valve", "b", -drop)},
		Nodes: map[string]transient.Boundary{
			"a": &fading{rate: -e.rateMS2 * area}, "b": &fading{rate: e.rateMS2 * area},
			"valve": &transient.Inline{Chain: &transient.Chain{Device: l}},
		},
	})
	return n, l, err
}
