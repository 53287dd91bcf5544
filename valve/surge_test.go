package valve

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestReversalLimits: without inertia the column stops in τ at gH/L; with much of it the
// reversal comes at √(τ T_a) and the deceleration is 2 (gH/L) √(τ/T_a).
func TestReversalLimits(t *testing.T) {
	const g = 9.81
	tau := ColumnTime(500, 1.5, 30, g)
	near(t, "reversal without inertia", ReversalTime(tau, 0), tau, 1e-12)
	near(t, "deceleration without inertia", ReversalDeceleration(500, 30, 1.5, 0, g), g*30/500, 1e-12)
	near(t, "reversal with much inertia", ReversalTime(tau, 1e6*tau), 1e3*tau, 1e-3)
	near(t, "deceleration with much inertia", ReversalDeceleration(500, 30, 1.5, 1e6*tau, g), 2*g*30/500*1e-3, 2e-3)
}

// TestReversalIsTheRoot: at the reversal time V₀ − (gH/L) t²/(T_a + t) is zero and its slope
// is the deceleration.
func TestReversalIsTheRoot(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length, head, v0, inertia := rapid.Float64Range(5, 5000).Draw(t, "L"), rapid.Float64Range(2, 100).Draw(t,
			"H"), rapid.Float64Range(0.3, 4).Draw(t, "V"), rapid.Float64Range(0.05, 20).Draw(t, "Ta")
		const g = 9.81
		v := func(x float64) float64 { return v0 - g*head/length*x*x/(inertia+x) }
		at := ReversalTime(ColumnTime(length, v0, head, g), inertia)
		if math.Abs(v(at)) > 1e-9 {
			t.Errorf("velocity %g at reversal", v(at))
		}
		d := 1e-5 * at
		near2(t, (v(at-d)-v(at+d))/(2*d), ReversalDeceleration(length, head, v0, inertia, g), 1e-5)
	})
}

func near2(t *rapid.T, got, want, tolerance float64) {
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%.8g, want %.8g", got, want)
	}
}

// TestElasticPhase: V₀ − (g/a)[H₀ − H₀/(1 + t/T_a)²] is zero at the reversal time.
func TestElasticPhase(t *testing.T) {
	const a, head, v0, inertia, g = 1000.0, 60.0, 0.4, 1.0, 9.81
	at := ElasticReversalTime(a, head, v0, inertia, g)
	x := 1 + at/inertia
	if v := v0 - g/a*head*(1-1/(x*x)); math.Abs(v) > 1e-12 {
		t.Errorf("velocity %g at reversal", v)
	}
	if at := ElasticReversalTime(a, head, 2, inertia, g); !math.IsInf(at, 1) ||
		ElasticDeceleration(a, head, 2, inertia, g) != 0 {
		t.Error("a flow that the first wave cannot turn is said to turn")
	}
}

// TestPartialClosureLimits: a valve left open changes nothing, one shut at once gives the
// full head a V₀/g.
func TestPartialClosureLimits(t *testing.T) {
	near(t, "open", PartialClosure(1, 0.7), 1, 1e-12)
	near(t, "shut", PartialClosureHead(0, 0.7), 1+2*0.7, 1e-12)
	near(t, "slow closure in 2L/a", SlowClosure(500, 1.5, 2*500/1000.0, 9.81), Joukowsky(1000, 1.5, 9.81), 1e-12)
}

// TestBounds: the hand forms lie about the full model where they are said to.
func TestBounds(t *testing.T) {
	if v := FollowingReverseVelocity(1, 0.1, 2); v != 0 {
		t.Errorf("%g m/s of an element that has closed before reversal", v)
	}
	near(t, "falling element", FallingReverseVelocity(8, 2, 0.1, 10, 0.5), 8*math.Sqrt(2*2*0.1/10)-0.5, 1e-12)
	m := build(t, "swing", swingB(1, Values{"full_open_velocity": 1.8}), water(Horizontal))
	full := closeAt(t, m, Deceleration{StartMS: 2, RateMS2: 8, FromStop: true}).ReverseVelocityMS
	if light := FollowingReverseVelocity(8, m.SweptLengthM(), 1.5); light >= full {
		t.Errorf("without mass %.3f m/s, with it %.3f", light, full)
	}
}
