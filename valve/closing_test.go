package valve

import (
	"math"
	"strings"
	"testing"
)

// TestClosingPinned holds the reverse velocity of reference valves whose numbers are
// not in truth: a spring of the weight's torque. Pinned: these are this code's own
// numbers, kept so that a change shows.
func TestClosingPinned(t *testing.T) {
	m := build(t, "swing-assisted", swingB(1, Values{"spring_torque": 8.2737, "opening_efficiency": 1}),
		water(Horizontal))
	for rate, want := range map[float64]float64{2: 0.0962, 8: 0.4619, 20: 2.0071} {
		c := closeAt(t, m, Deceleration{StartMS: 2, RateMS2: rate, FromStop: true})
		near(t, "reverse velocity", c.ReverseVelocityMS, want, 0.002)
	}
}

// TestSpringBeatsWeight: a weight must be set in motion, so at high deceleration a
// spring of equal torque closes earlier.
func TestSpringBeatsWeight(t *testing.T) {
	weight := build(t, "swing-assisted", swingB(1, Values{"lever_mass": 5, "lever_arm": 0.2, "opening_efficiency": 1}),
		water(Horizontal))
	spring := build(t, "swing-assisted", swingB(1, Values{"spring_torque": 8.2737, "opening_efficiency": 1}),
		water(Horizontal))
	for _, rate := range []float64{8, 10, 15, 20} {
		d := Deceleration{StartMS: 2, RateMS2: rate, FromStop: true}
		if w, s := closeAt(t, weight, d).ReverseVelocityMS, closeAt(t, spring, d).ReverseVelocityMS; s >= w {
			t.Errorf("at %g m/s²: spring %.3f m/s, weight %.3f m/s", rate, s, w)
		}
	}
}

// TestRanking: at 6 to 8 m/s² the types come in the order that the trade knows.
func TestRanking(t *testing.T) {
	order := []string{"dual-plate", "flap", "ball-cage", "swing"}
	for _, rate := range []float64{6, 8} {
		last := 0.0
		for _, key := range order {
			typ := typeNamed(t, key)
			c := closeAt(t, example(t, typ, typ.Positions[0]), Deceleration{StartMS: 2, RateMS2: rate, FromStop: true})
			if key == "swing" || c.ReverseVelocityMS > last {
				last = c.ReverseVelocityMS
				continue
			}
			t.Errorf("at %g m/s² %s closes at %.3f m/s, before the type that should be quicker at %.3f", rate, key,
				c.ReverseVelocityMS, last)
		}
		axial := closeAt(t, example(t, typeNamed(t, "axial"), Horizontal),
			Deceleration{StartMS: 2, RateMS2: rate, FromStop: true})
		if flap := closeAt(t, example(t, typeNamed(t, "flap"), Horizontal),
			Deceleration{
				StartMS: 2, RateMS2: rate,
				FromStop: true,
			}); axial.ReverseVelocityMS >= flap.ReverseVelocityMS {
			t.Errorf("at %g m/s² axial %.3f m/s is not quicker than flap %.3f", rate, axial.ReverseVelocityMS,
				flap.ReverseVelocityMS)
		}
	}
}

// TestStepConverged: a hundredth of the tolerance moves the reverse velocity by less
// than 0.1 %.
func TestStepConverged(t *testing.T) {
	for _, typ := range Types() {
		m := example(t, typ, typ.Positions[0])
		for _, rate := range []float64{1, 4, 12} {
			coarse := closeAt(t, m, Deceleration{StartMS: 2, RateMS2: rate})
			fine := closeAt(t, m, Deceleration{StartMS: 2, RateMS2: rate, Tolerance: Tolerance / 100})
			near(t, typ.Key, coarse.ReverseVelocityMS, fine.ReverseVelocityMS, 0.001)
			near(t, typ.Key+" time", coarse.TimeS, fine.TimeS, 0.001)
		}
	}
}

// TestScaling: a gravity-closed valve enlarged k times, with velocities and wave speed
// √k times, closes √k times as fast at the same deceleration (Froude's law; the ratio is
// exact).
func TestScaling(t *testing.T) {
	run := func(k float64) float64 {
		m := build(t, "swing", swingB(k, Values{"full_open_velocity": 1.8 * math.Sqrt(k)}), water(Horizontal))
		a := 1000 * math.Sqrt(k)
		return closeAt(t, m, Deceleration{
			StartMS: 2 * math.Sqrt(k), RateMS2: 8, WaveMS: [2]float64{a, a},
			FromStop: true,
		}).ReverseVelocityMS
	}
	near(t, "enlarged 4 times", run(4), 2*run(1), 2e-4)
}

// TestWaveSpeedHardlyMatters: from 300 to 1400 m/s it moves the reverse velocity by at
// most 2 % for the reference valves.
func TestWaveSpeedHardlyMatters(t *testing.T) {
	for _, m := range []*Mechanism{
		build(t, "axial", axialA, water(Horizontal)),
		build(t, "swing", swingB(1, Values{"full_open_velocity": 1.8}), water(Horizontal)),
	} {
		slow := closeAt(t, m, Deceleration{StartMS: 2, RateMS2: 8, WaveMS: [2]float64{300, 300}, FromStop: true})
		quick := closeAt(t, m, Deceleration{StartMS: 2, RateMS2: 8, WaveMS: [2]float64{1400, 1400}, FromStop: true})
		near(t, "reverse velocity", slow.ReverseVelocityMS, quick.ReverseVelocityMS, 0.02)
	}
}

// TestFreeFunction: the same fall of the flow, told as a function, gives the same run.
func TestFreeFunction(t *testing.T) {
	m := build(t, "swing", swingB(1, Values{"full_open_velocity": 1.8}), water(Horizontal))
	straight := closeAt(t, m, Deceleration{StartMS: 2, RateMS2: 8, FromStop: true})
	told := closeAt(t, m, Deceleration{StartMS: 2, Free: func(t float64) float64 { return 2 - 8*t }, FromStop: true})
	near(t, "reverse velocity", told.ReverseVelocityMS, straight.ReverseVelocityMS, 0.001)
	near(t, "time", told.TimeS, straight.TimeS, 0.001)
	near(t, "deceleration", told.DecelerationMS2, 8, 0.01)
}

// TestNeverCloses: an element that its weight holds open, and that the water does not
// push, stays open. The run ends, and says so.
func TestNeverCloses(t *testing.T) {
	m, err := NewMechanism(Frame{BoreM: 0.2, Stroke: 0.1, DensityKgM3: 1000, GravityMS2: 9.81},
		func(_ float64, s *State) {
			*s = State{Terms: [3]Term{Both(1, 0, 1)}, Closing: -5, Mass: 2}
		})
	if err != nil {
		t.Fatal(err)
	}
	if yes, from := m.SelfClosing(); yes || from != 1 {
		t.Errorf("self-closing %v, from %g", yes, from)
	}
	if open := m.FullOpenVelocity(); open.VelocityMS != 0 || open.Meaning != FallsOpen {
		t.Errorf("full open at %+v", open)
	}
	c := closeAt(t, m, Deceleration{StartMS: 2, RateMS2: 5, LimitMS: 3})
	if c.Outcome != NeverClosed || c.ReverseVelocityMS < 3 || c.TimeS != 0 {
		t.Errorf("outcome %v at %.3f m/s after %g s", c.Outcome, c.ReverseVelocityMS, c.TimeS)
	}
	if c := closeAt(t, m, Deceleration{
		StartMS: 2, Free: func(float64) float64 { return 2 },
		LimitS: 1,
	}); c.Outcome != NeverClosed {
		t.Errorf("in a flow that does not fall: %v", c.Outcome)
	}
}

// TestStartsClosed: a flow too weak to open the valve gives no closing.
func TestStartsClosed(t *testing.T) {
	m := build(t, "axial", axialA, water(Horizontal))
	c := closeAt(t, m, Deceleration{StartMS: 1e-5, RateMS2: 5})
	if c.Outcome != AlwaysClosed || c.ReverseVelocityMS != 0 {
		t.Errorf("outcome %v, %g m/s", c.Outcome, c.ReverseVelocityMS)
	}
}

func TestDecelerationFaults(t *testing.T) {
	m := build(t, "axial", axialA, water(Horizontal))
	for want, d := range map[string]Deceleration{
		"deceleration 0":     {StartMS: 2},
		"deceleration -1":    {StartMS: 2, RateMS2: -1},
		"deceleration NaN":   {StartMS: 2, RateMS2: math.NaN()},
		"velocity 0 m/s":     {RateMS2: 5},
		"velocity 200 m/s":   {StartMS: 200, RateMS2: 5},
		"wave speed -10 m/s": {StartMS: 2, RateMS2: 5, WaveMS: [2]float64{-10, 0}},
	} {
		if _, err := m.Close(d); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%+v: error %v, want one with %q", d, err, want)
		}
	}
}

// TestCushion: with a narrower orifice the disc takes longer through its cushion, and
// more water runs back.
func TestCushion(t *testing.T) {
	typ := typeNamed(t, "swing-cushioned")
	run := func(orifice string) Closing {
		p, err := typ.ReadExample()
		if err != nil {
			t.Fatal(err)
		}
		if p["orifice_diameter"], err = typ.Param("orifice_diameter").Read(orifice, "test"); err != nil {
			t.Fatal(err)
		}
		m, err := typ.Build(p, In(998.2, Horizontal))
		if err != nil {
			t.Fatal(err)
		}
		return closeAt(t, m, Deceleration{StartMS: 3, RateMS2: 8})
	}
	wide, narrow := run("20 mm"), run("1.5 mm")
	if narrow.CushionS <= wide.CushionS || narrow.CushionS > narrow.TimeS ||
		narrow.ReverseVelocityMS <= wide.ReverseVelocityMS || narrow.TimeS <= wide.TimeS {
		t.Errorf("narrow %+v, wide %+v", narrow, wide)
	}
	// The speed in the cushion follows from the balance of force and oil.
	near(t, "cushioned speed", CushionSpeedMS(CushionForce(870, 2e-3, 2e-5, 0.65)*0.01, 870, 2e-3, 2e-5, 0.65), 0.1,
		1e-12)
}

// TestEvents: a run tells when the element leaves its stop and when it seats.
func TestEvents(t *testing.T) {
	m := build(t, "axial", axialA, water(Horizontal))
	var events []string
	samples, last := 0, -1.0
	c := closeAt(t, m, Deceleration{
		StartMS: 2, RateMS2: 8, FromStop: true,
		OnEvent: func(_ float64, ev Event) { events = append(events, ev.String()) },
		Trace: func(s Sample) {
			samples++
			if s.TimeS < last {
				t.Errorf("time runs back from %g to %g", last, s.TimeS)
			}
			last = s.TimeS
		},
	})
	if got := strings.Join(events, ", "); got != "leaves its rest, seats" {
		t.Errorf("events: %s", got)
	}
	if samples < 20 || last != c.TimeS {
		t.Errorf("%d samples to %g s, closed at %g s", samples, last, c.TimeS)
	}
}
