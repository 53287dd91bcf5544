package pump

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func rapidPerformance(t *rapid.T) Performance {
	q := rapid.Float64Range(0.005, 0.5).Draw(t, "flow")
	h := rapid.Float64Range(5, 80).Draw(t, "head")
	c, problems := NewCurve([]Point{{0, 1.35 * h}, {0.5 * q, 1.22 * h}, {q, h}, {1.4 * q, 0.66 * h}})
	if problems.Err() != nil {
		t.Fatal(problems)
	}
	p, problems := c.WithEfficiency([]Sample{{0.4 * q, 0.5}, {0.8 * q, 0.7}, {q, 0.74}, {1.3 * q, 0.6}})
	if problems.Err() != nil {
		t.Fatal(problems)
	}
	return p
}

// In normal operation the quadrants are the pump's own curve, at any speed by affinity.
func TestOwnCurveIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rapidPerformance(t)
		omega := rapid.Float64Range(60, 320).Draw(t, "speed")
		quad, err := NewQuadrants(p, omega, 998)
		if err != nil {
			t.Fatal(err)
		}
		alpha := rapid.Float64Range(0.05, 1.2).Draw(t, "ratio")
		_, last := p.Range()
		q := alpha * last * rapid.Float64Range(0, 1).Draw(t, "share")
		head, _ := quad.Head(alpha, q)
		if want := alpha * alpha * p.Head(q/alpha).SI; math.Abs(head-want) > 1e-12*want {
			t.Errorf("head %.15g, the curve has %.15g", head, want)
		}
		want := alpha * alpha * p.ShaftPower(q/alpha, 998).SI / omega
		if got := quad.Torque(alpha, q); math.Abs(got-want) > 1e-12*want {
			t.Errorf("torque %.15g, the curve has %.15g", got, want)
		}
	})
}

// Nothing jumps anywhere round the origin, and heads scale with the square of speed.
func TestQuadrantsAreWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		quad, err := NewQuadrants(rapidPerformance(t), 180, 998)
		if err != nil {
			t.Fatal(err)
		}
		r := quad.Rated()
		x := rapid.Float64Range(0, 2*math.Pi).Draw(t, "angle")
		at := func(x, size float64) (h, torque float64) {
			a, q := -size*math.Cos(x), -size*math.Sin(x)*r.FlowM3S
			h, _ = quad.Head(a, q)
			return h / r.HeadM, quad.Torque(a, q) / r.TorqueNM
		}
		h0, t0 := at(x, 1)
		h1, t1 := at(x+1e-7, 1)
		if math.Abs(h1-h0) > 1e-5 || math.Abs(t1-t0) > 1e-5 {
			t.Errorf("at angle %g head jumps by %g, torque by %g", x, h1-h0, t1-t0)
		}
		h2, t2 := at(x, 0.5)
		if math.Abs(4*h2-h0) > 1e-9 || math.Abs(4*t2-t0) > 1e-9 {
			t.Errorf("at angle %g half the speed and flow give head %g of %g, torque %g of %g", x, h2, h0, t2, t0)
		}
	})
}

// The slope of the head is that of its values.
func TestHeadSlope(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		quad, err := NewQuadrants(rapidPerformance(t), 180, 998)
		if err != nil {
			t.Fatal(err)
		}
		a := rapid.Float64Range(-1, 1).Draw(t, "ratio")
		v := rapid.Float64Range(-1.5, 1.5).Draw(t, "flow")
		if math.Abs(a) < 0.05 {
			return
		}
		q, d := v*quad.Rated().FlowM3S, 1e-7*quad.Rated().FlowM3S
		low, s0 := quad.Head(a, q-d)
		high, s1 := quad.Head(a, q+d)
		_, slope := quad.Head(a, q)
		got := (high - low) / (2 * d)
		if lo, hi := math.Min(s0, s1), math.Max(s0, s1); got < lo-1e-3*math.Abs(lo)-1e-3 ||
			got > hi+1e-3*math.Abs(hi)+1e-3 {
			t.Errorf("at ratio %g, flow %g the slope is %g, told %g", a, v, got, slope)
		}
	})
}

// Torque proportional to speed squared runs down as 1/(1 + t/Tm) (exact integral): at
// shut-off the quadrants' torque is of that kind.
func TestRunDown(t *testing.T) {
	quad, err := NewUniversal(Rated{0.1, 30, 200, 150})
	if err != nil {
		t.Fatal(err)
	}
	m := Machine{Quadrants: quad, InertiaKgM2: 2, Drive: Trips(1, 0)}
	if err := m.Begin(0); err != nil {
		t.Fatal(err)
	}
	tm := 2 * 150 / quad.Torque(1, 0)
	const step = 1e-3
	for i := 1; i <= 5000; i++ {
		m.Commit(float64(i)*step, step, 0)
		if want := 1 / (1 + float64(i)*step/tm); math.Abs(m.Ratio()-want) > 1e-6 {
			t.Fatalf("after %g s the ratio is %.9f, want %.9f", float64(i)*step, m.Ratio(), want)
		}
	}
}

func TestDrives(t *testing.T) {
	if r, on := Ramps(1, 0, 2, 4)(3); r != 0.75 || !on {
		t.Errorf("a ramp gives %g, %v", r, on)
	}
	if _, on := Trips(1, 0.5)(0.6); on {
		t.Error("a tripped motor holds its speed")
	}
	if r, on := Runs(0.8)(99); r != 0.8 || !on {
		t.Errorf("a running motor gives %g, %v", r, on)
	}
	m := Machine{Drive: Trips(1, 0)}
	if m.Begin(0) == nil {
		t.Error("a machine without inertia begins")
	}
}

func TestSpecificSpeedOutside(t *testing.T) {
	slow, err := NewUniversal(Rated{0.001, 100, 10, 150})
	if err != nil || slow.Outside == "" {
		t.Errorf("a specific speed of %.0f is not reported: %v", slow.Rated().SpecificSpeed(), err)
	}
	if _, err := NewUniversal(Rated{0, 1, 1, 1}); err == nil {
		t.Error("a rated flow of none is taken")
	}
}
