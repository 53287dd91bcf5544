package valve

import (
	"errors"
	"math"
	"testing"
)

// TestNodeLimits: an infinite resistance makes the water move as the element sweeps it,
// an infinite wave speed leaves the flow as it is.
func TestNodeLimits(t *testing.T) {
	s := State{Terms: [3]Term{Both(1e14, 0.03, 0.8)}, Mass: 2, Coupling: 0.5}
	f := solveFlow(&s, 1000, PipeAdmittance(1000, 1000, 1000), 1.5, -0.3, false)
	near(t, "velocity behind a shut gap", f.v, 0.8*f.u, 1e-4)
	s.Terms[0] = Both(3, 0.03, 0.8)
	f = solveFlow(&s, 1000, PipeAdmittance(1000, 1e15, 1e15), 1.5, -0.3, false)
	near(t, "velocity in stiff pipes", f.v, 1.5, 1e-9)
}

// TestNodeBalances: V + Y Δp = V_free, by one resistance and by several, and the impulse
// belongs to the speed.
func TestNodeBalances(t *testing.T) {
	for _, s := range []State{
		{Terms: [3]Term{Both(2, 0.03, 1)}, Mass: 5, Coupling: 2},
		{Terms: [3]Term{Both(0.4, 0.05, 2.6), Both(300, 0.02, 1), Both(0.8, 0, 0)}, Mass: 10, Coupling: 3},
		{
			Terms: [3]Term{Both(0.4, 0.05, 2.6), Both(30, 0.02, 1)}, Mass: 7.7,
			Coupling: 3.4,
		}, // lighter than water: runs ahead
		{Terms: [3]Term{{Forward: Side{2, 0.03}, Reverse: Side{40, 0.05}, Swept: 1}}, Mass: 5},
	} {
		for _, free := range []float64{-3, -0.01, 0, 0.4, 5} {
			for _, p := range []float64{-4, 0, 1} {
				y := PipeAdmittance(1000, 900, 1100)
				f := solveFlow(&s, 1000, y, free, p, false)
				if off := f.v + y*f.drop(&s, 1000) - free; math.Abs(off) > 1e-12*(1+math.Abs(free)) {
					t.Errorf("free %g, p %g: the node is off by %g m/s", free, p, off)
				}
				if off := s.Mass*f.u - s.Coupling*f.v - p; math.Abs(off) > 1e-12 {
					t.Errorf("free %g, p %g: the impulse is off by %g", free, p, off)
				}
			}
		}
	}
}

// TestSmallSteps: the motion does not depend on how a solver cuts the time, and a copy
// is a trial that leaves the element alone.
func TestSmallSteps(t *testing.T) {
	m := build(t, "swing", swingB(1, Values{"full_open_velocity": 1.8}), water(Horizontal))
	whole := closeAt(t, m, Deceleration{StartMS: 2, RateMS2: 8, FromStop: true})
	e := NewElement(m, m.Stroke, 2)
	reverse, seated := 0.0, 0.0
	const dt = 5e-4
	for i := 0; seated == 0; i++ {
		node := Node{Free: 2 - 8*dt*float64(i), Slope: -8, Admittance: PipeAdmittance(1000, 1000, 1000)}
		trial := e
		if err := trial.Advance(dt, node, nil); err != nil {
			t.Fatal(err)
		}
		before := e
		err := e.Advance(dt, node, func(s float64, e *Element, ev Event) bool {
			reverse = max(reverse, -e.V)
			if ev == Seating {
				seated = dt*float64(i) + s
			}
			return true
		})
		if err != nil {
			t.Fatal(err)
		}
		if trial != e {
			t.Fatalf("step %d from %+v: trial %+v, step %+v", i, before, trial, e)
		}
	}
	near(t, "reverse velocity", reverse, whole.ReverseVelocityMS, 0.001)
	near(t, "time", seated, whole.TimeS, 0.001)
	if e.Mode != Seated || e.V != 0 || e.U != 0 {
		t.Errorf("at the end %+v", e)
	}
}

// TestReopens: the seated element opens when the pipes press more than its closing force,
// and rises to its stop.
func TestReopens(t *testing.T) {
	m := build(t, "axial", axialA, water(Horizontal))
	e := NewElement(m, 0, 0)
	y := PipeAdmittance(1000, 1000, 1000)
	cracking := 30 / m.AreaM2() // spring over area
	if err := e.Advance(0.1, Node{Free: 0.99 * cracking * y, Admittance: y}, nil); err != nil || e.Mode != Seated {
		t.Fatalf("%v below the cracking pressure, error %v", e.Mode, err)
	}
	var events []Event
	err := e.Advance(5, Node{Free: 0, Slope: 1, Admittance: y}, func(at float64, e *Element, ev Event) bool {
		if ev != None {
			events = append(events, ev)
		}
		if ev == Released {
			near(t, "pressure at opening", at/y, cracking, 1e-3)
		}
		return true
	})
	if err != nil || len(events) != 2 || events[0] != Released || events[1] != Stop || e.Mode != AtStop {
		t.Errorf("events %v, then %v, error %v", events, e.Mode, err)
	}
}

// TestSticks: friction greater than any force holds the element where it is.
func TestSticks(t *testing.T) {
	m, err := NewMechanism(Frame{BoreM: 0.2, Stroke: 0.1, DensityKgM3: 1000, GravityMS2: 9.81},
		func(xi float64, s *State) {
			s.Closing, s.Mass, s.Friction = 1000*(xi-0.05), 1, 5
		})
	if err != nil {
		t.Fatal(err)
	}
	e := NewElement(m, 0.1, 0) // a spring that is slack at half stroke
	if err := e.Advance(10, Node{}, nil); err != nil {
		t.Fatal(err)
	}
	if e.Mode != Stuck || e.U != 0 || math.Abs(e.Xi-0.05) > 0.005+1e-6 {
		t.Errorf("%v at %g with speed %g; want it held within 5 mm of the spring's rest", e.Mode, e.Xi, e.U)
	}
	// Each half swing of a spring with friction is shorter by 2 F/k = 10 mm: from +50 mm to
	// −40, +30, −20, +10, 0.
	near(t, "resting place", e.Xi, 0.05, 0.001)
}

func TestAdvanceFaults(t *testing.T) {
	m := build(t, "axial", axialA, water(Horizontal))
	for _, dt := range []float64{-1, math.NaN(), math.Inf(1)} {
		e := NewElement(m, m.Stroke, 1)
		if err := e.Advance(dt, Node{}, nil); err == nil {
			t.Errorf("a step of %g s was taken", dt)
		}
	}
	light, err := NewMechanism(Frame{BoreM: 0.2, Stroke: 0.1, DensityKgM3: 1000, GravityMS2: 9.81},
		func(xi float64, s *State) {
			s.Closing, s.Mass = math.Sin(1e9*xi), 1e-12
		})
	if err != nil {
		t.Fatal(err)
	}
	e := NewElement(light, 0.05, 0)
	if err := e.Advance(1e6, Node{}, nil); !errors.Is(err, ErrSteps) {
		t.Errorf("error %v, want ErrSteps", err)
	}
}

func TestNewMechanismFaults(t *testing.T) {
	good := Frame{BoreM: 0.2, Stroke: 0.1, DensityKgM3: 1000, GravityMS2: 9.81}
	law := func(_ float64, s *State) { s.Mass = 1 }
	for name, bad := range map[string]func(*Frame){
		"bore":    func(f *Frame) { f.BoreM = 0 },
		"stroke":  func(f *Frame) { f.Stroke = math.NaN() },
		"density": func(f *Frame) { f.DensityKgM3 = -1 },
		"gravity": func(f *Frame) { f.GravityMS2 = math.Inf(1) },
	} {
		f := good
		bad(&f)
		if _, err := NewMechanism(f, law); err == nil {
			t.Errorf("a frame of bad %s was taken", name)
		}
	}
	for name, s := range map[string]State{
		"no mass":                   {},
		"loss without number":       {Mass: 1, Terms: [3]Term{Both(math.NaN(), 0, 0)}},
		"closing without bound":     {Mass: 1, Closing: math.Inf(1)},
		"pull greater than inertia": {Mass: 1, Coupling: 2, Terms: [3]Term{Both(100, 0.03, 1)}},
	} {
		if _, err := NewMechanism(good, func(_ float64, to *State) { *to = s }); err == nil {
			t.Errorf("%s was taken", name)
		}
	}
}

// drop is the pressure drop of the valve in this flow, Pa.
func (f *flow) drop(s *State, density float64) float64 {
	var dp float64
	for i := range s.terms() {
		dp += 0.5 * density * s.Terms[i].side(f.y[i]).Loss * f.y[i] * math.Abs(f.y[i])
	}
	return dp
}
