package truth

import (
	"maps"
	"math"
	"testing"

	"seatward/transient"
	"seatward/valve"
)

// follow closes an element between two pipes without end whose free velocity falls evenly
// from 2 m/s, and gives its motion and the greatest deviation from the free velocity.
func follow(t *testing.T, m *valve.Mechanism, waveMS, rate float64) (valve.Motion, float64) {
	t.Helper()
	const start, stepS = 2.0, 0.001
	area := m.AreaM2()
	l := valve.NewInLine(m, m.Stroke, start)
	drop := l.DropM(start * area)
	pipe := func(name, from, to string, head float64) transient.Pipe {
		return transient.Pipe{Name: name, From: from, To: to, LengthM: waveMS * stepS, DiameterM: m.BoreM, WaveSpeedMS: waveMS, FlowM3S: start * area, HeadM: head}
	}
	n, err := transient.New(transient.Model{
		GravityMS2: roundGravity, StepS: stepS,
		Pipes: []transient.Pipe{pipe("before", "a", "valve", 0), pipe("behind", "valve", "b", -drop)},
		Nodes: map[string]transient.Boundary{
			"a": &fading{rate: -rate * area}, "b": &fading{rate: rate * area}, "valve": &transient.Inline{Chain: &transient.Chain{Device: l}},
		},
	})
	if err != nil {
		t.Fatal(err)
	}
	apart := 0.0
	for l.Motion.SeatedS == 0 && n.TimeS() < 3 {
		if err := n.Advance(); err != nil {
			t.Fatal(err)
		}
		if l.Motion.SeatedS == 0 {
			free := start - rate*(n.TimeS()-stepS) // a wave is a step on its way
			apart = math.Max(apart, math.Abs(l.Element().V-free))
		}
	}
	return l.Motion, apart
}

// made builds a reference valve with some numbers replaced.
func made(t *testing.T, name string, change valve.Values) *valve.Mechanism {
	t.Helper()
	r := referenceValves[name]
	typ, err := valve.TypeNamed(r.kind)
	if err != nil {
		t.Fatal(err)
	}
	values := maps.Clone(r.values)
	maps.Copy(values, change)
	m, err := typ.Build(typ.Numbers(values, "reference valve"), valve.Setting{DensityKgM3: 1000, GravityMS2: roundGravity})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// The rigid limit: the stiffer the pipes, the less any valve changes the flow before it
// shuts, V → V_free as a → ∞ (derived here).
func TestRigidLimit(t *testing.T) {
	_, soft := follow(t, made(t, "B", nil), 1e3, 2)
	_, stiff := follow(t, made(t, "B", nil), 1e6, 2)
	if !(stiff < 0.02 && stiff < soft/10) {
		t.Errorf("the flow is apart from the free one by %.4f m/s in pipes of 1000 m/s, by %.4f in stiff ones", soft, stiff)
	}
}

// The ideal limit: a hair of a stroke and hardly any mass shut as the water
// stops, with little reverse flow: what is left is the step of the run and the way itself.
func TestIdealLimit(t *testing.T) {
	quick := made(t, "A", valve.Values{"stroke": 0.001, "full_open_loss": 4000, "full_open_velocity": 1.5, "moving_mass": 0.05, "added_mass_factor": 0.01, "spring_force": 2000, "spring_rate": 1000})
	ideal, _ := follow(t, quick, 1e6, 8)
	plain, _ := follow(t, made(t, "A", nil), 1e6, 8)
	if !(ideal.SeatedS > 0 && ideal.ReverseMS < 0.05 && ideal.ReverseMS < plain.ReverseMS/5) {
		t.Errorf("it seats at %.4f s with %.4f m/s back, the plain valve with %.4f", ideal.SeatedS, ideal.ReverseMS, plain.ReverseMS)
	}
}
