package truth

import (
	"maps"
	"math"
	"testing"

	"seatward/valve"
)

// follow closes an element between two pipes without end whose free velocity falls evenly
// from 2 m/s, and gives its motion and the greatest deviation from the free velocity.
func follow(t *testing.T, m *valve.Mechanism, waveMS, rate float64) (valve.Motion, float64) {
	t.Helper()
	e := endless{waveMS: waveMS, stepS: 0.001, rateMS2: rate}
	n, l, err := e.network(m)
	if err != nil {
		t.Fatal(err)
	}
	apart := 0.0
	for l.Motion.First.TimeS == 0 && n.TimeS() < 3 {
		if err := n.Advance(); err != nil {
			t.Fatal(err)
		}
		if l.Motion.First.TimeS == 0 {
			free := startMS - rate*(n.TimeS()-e.stepS) // a wave is a step on its way
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
	m, err := typ.Build(typ.Numbers(values, "reference valve"),
		valve.Setting{DensityKgM3: 1000, GravityMS2: roundGravity})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// The rigid limit: the stiffer the pipes, the less any valve changes the flow before it
// shuts, V → V_free as a → ∞ (derived here).
func TestRigidLimit(t *testing.T) {
	m, err := referenceSwings["B"](valve.Setting{DensityKgM3: 1000, GravityMS2: roundGravity})
	if err != nil {
		t.Fatal(err)
	}
	_, soft := follow(t, m, 1e3, 2)
	_, stiff := follow(t, m, 1e6, 2)
	if !(stiff < 0.02 && stiff < soft/10) {
		t.Errorf("the flow is apart from the free one by %.4f m/s in pipes of 1000 m/s, by %.4f in stiff ones", soft,
			stiff)
	}
}

// The ideal limit, no reverse flow, is reached as the spring grows. Near the seat a light
// disc follows the water: what leaks past it is y = c s at the lift s, with the pressure
// F/A of the spring across the gap C_c πD s, so
//
//	ds/dt = V − c s,  c = (4 C_c/D) √(2F/(ρA)),
//
// and in a flow that slows evenly at α it shuts about 1/c after the water has turned, with
// the reverse velocity α/c (derived here; stiff pipes, the element's mass neglected). The
// closed form holds between two ends: the gap must be small beside the bore, and the lift
// at the turn, α/c², large beside that at which the element is taken as seated, a
// ten-thousandth of its stroke; the springs are chosen between, where both are within 5 %.
func TestIdealLimit(t *testing.T) {
	const rate, contraction, bore = 8.0, 0.8, 0.2
	area := math.Pi / 4 * bore * bore
	for _, force := range []float64{5e3, 1.5e4, 5e4} {
		m := made(t, "A", valve.Values{
			"stroke": 0.003, "full_open_loss": 450, "moving_mass": 0.005, "added_mass_factor": 0.001,
			"spring_force": force, "spring_rate": 1,
		})
		motion, _ := follow(t, m, 1e6, rate)
		want := rate / (4 * contraction / bore * math.Sqrt(2*force/(1000*area)))
		t.Logf("spring of %g N: %.5f m/s back, %.5f by the closed form", force, motion.First.ReverseMS, want)
		if math.Abs(motion.First.ReverseMS/want-1) > 0.05 {
			t.Errorf("a spring of %g N lets %.5f m/s run back, %.5f by the closed form", force, motion.First.ReverseMS,
				want)
		}
	}
}
