package plant

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"seatward/basis"
	"seatward/catalog"
	"seatward/quantity"
	"seatward/transient"
)

// A step of a whole station, with pumps running down and valves that move, allocates
// nothing.
func TestStepsAllocateNothing(t *testing.T) {
	p := plantOf(t, "layout")
	if err := p.forRuns(); err != nil {
		t.Fatal(err)
	}
	for _, gas := range []bool{false, true} {
		l, err := p.network(fit1(t, p, "swing/6in").mech, event(t, p, "one-trips-high"), Options{}, gas)
		if err != nil {
			t.Fatal(err)
		}
		if got := testing.AllocsPerRun(600, func() {
			if err := l.net.Advance(); err != nil {
				t.Fatal(err)
			}
		}); got > 0 {
			t.Errorf("%g allocations in a step, with gas: %v", got, gas)
		}
		if l.valves[l.watched].Motion.First.TimeS == 0 {
			t.Error("the valve did not close in the steps that were watched")
		}
	}
}

// Before anything happens nothing moves: a run in which the pumps run on.
func TestNothingHappens(t *testing.T) {
	for _, name := range []string{"layout", "booster"} {
		p := plantOf(t, name)
		if err := p.forRuns(); err != nil {
			t.Fatal(err)
		}
		ev := event(t, p, "power-failure-high")
		ev.Kind, ev.stopping = OneTrips, []int{-1} // none of the units
		f := some(t, p, 2)[1]
		l, err := p.network(f.mech, ev, Options{}, false)
		if err != nil {
			t.Fatal(err)
		}
		r, err := l.net.Run(context.Background(), transient.Options{DurationS: 5})
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range r.Envelopes {
			for i := range e.MostM {
				if e.MostM[i]-e.LeastM[i] > 1e-3 {
					t.Fatalf("%s, %s: %s moves by %g m at %g m though nothing happens", name, f.item.ID, e.Pipe,
						e.MostM[i]-e.LeastM[i], e.ChainageM[i])
				}
			}
		}
	}
}

// The first closing does not depend on the grid: a branch cut finer gives the same.
func TestGridDoesNotMatter(t *testing.T) {
	p := plantOf(t, "layout")
	var last *Stop
	for _, fine := range []int{1, 2, 4} {
		s := stopped(t, p, "swing/6in", "one-trips-high", Options{fine: fine, draw: true})
		t.Logf("%d times as fine: step %.2g s, first %.5f m/s, rise %.2f m", fine, s.StepS, s.Closing.First.ReverseMS,
			s.Closing.FirstRiseM)
		if last != nil &&
			math.Abs(s.Closing.First.ReverseMS-last.Closing.First.ReverseMS) > 0.03*last.Closing.First.ReverseMS {
			t.Errorf("%d times as fine: %.5f m/s after %.5f", fine, s.Closing.First.ReverseMS,
				last.Closing.First.ReverseMS)
		}
		last = s
	}
}

// A pipe described in one run or in two is the same pipe: all that a stop has is equal.
func TestRunsOfOnePipeAreMerged(t *testing.T) {
	one := "  - material: PVC\n      class: DR18\n      size: 8 in\n      length: 3400 ft\n      fittings:\n        45 elbow: 6\n        exit: 1\n"
	two := "  - material: PVC\n      class: DR18\n      size: 8 in\n      length: 1200 ft\n      fittings:\n        45 elbow: 6\n" +
		"    - material: PVC\n      class: DR18\n      size: 8 in\n      length: 2200 ft\n      fittings:\n        exit: 1\n"
	a, b := plantOf(t, "layout"), plantOf(t, "layout", one, two)
	if len(b.st.Main.Runs) != 2 || len(merged(b.st.Main).Runs) != 1 {
		t.Fatalf("%d runs, merged %d", len(b.st.Main.Runs), len(merged(b.st.Main).Runs))
	}
	for _, id := range []string{"swing/6in", "ball-pocket/6in"} {
		for _, ev := range []string{"one-trips-high", "power-failure-low"} {
			sameStop(t, id+" "+ev, stopped(t, a, id, ev, Options{draw: true}),
				stopped(t, b, id, ev, Options{draw: true}), 1e-9)
		}
	}
}

// sameStop holds the first closing of two records to one another, and what follows from it.
func sameStop(t *testing.T, what string, a, b *Stop, within float64) {
	t.Helper()
	x, y := a.Closing, b.Closing
	for _, c := range []struct {
		name string
		a, b float64
	}{
		{"first reverse velocity", x.First.ReverseMS, y.First.ReverseMS},
		{"time of it", x.First.TimeS, y.First.TimeS},
		{"first rise", x.FirstRiseM, y.FirstRiseM},
		{"time of reversal", x.ReversedS, y.ReversedS},
		{"start", a.StartMS, b.StartMS},
		{"branch", a.BranchS, b.BranchS},
		{"step", a.StepS, b.StepS},
	} {
		if !near(c.a, c.b, within) {
			t.Errorf("%s: %s is %.12g and %.12g", what, c.name, c.a, c.b)
		}
	}
}

func near(a, b, within float64) bool {
	return a == b || math.Abs(a-b) <= within*math.Max(math.Abs(a), math.Abs(b)) || math.Abs(a-b) <= within*1e-3
}

// A measured closing curve takes the place of the computed reverse velocity, spread as the
// runs are, and the record says so. Outside its decelerations it does not.
func TestMeasuredCurve(t *testing.T) {
	p := plantOf(t, "layout")
	f := fit1(t, p, "flap/6in")
	events := []Event{event(t, p, "one-trips-high")}
	plain := asked(t, p, f, Ask{Events: events, Sample: 16})
	own := *f.item
	curve := catalog.Measured{
		Kind: "reverse velocity against deceleration", Source: "made up", Licence: "CC0-1.0",
		X: []float64{0.01, 2000}, Y: []float64{0.123, 0.123},
	}
	own.Measured = append(own.Measured, curve)
	f.item = &own
	a := asked(t, p, f, Ask{Events: events, Sample: 16})
	x := a.Slam
	if x.Reverse.SI != 0.123 || x.MedianMS != 0.123 || !strings.Contains(strings.Join(a.Worst.Notes, " "), "measured") {
		t.Errorf("%g m/s, median %g: %q", x.Reverse.SI, x.MedianMS, a.Worst.Notes)
	}
	if got, want := x.Reverse.High/x.Reverse.SI,
		plain.Slam.Reverse.High/plain.Slam.MedianMS; math.Abs(got-want) > 1e-9 {
		t.Errorf("the 95 %% point is %.4f times the best, that of the runs %.4f times the median", got, want)
	}
	curve.X = []float64{1000, 2000}
	own.Measured = []catalog.Measured{curve}
	if a := asked(t, p, f, Ask{Events: events, Sample: 16}); a.Slam.Reverse.SI != plain.Slam.Reverse.SI ||
		!strings.Contains(strings.Join(a.Worst.Notes, " "), "does not reach") {
		t.Errorf("outside the curve: %g m/s, the run has %g; %q", a.Slam.Reverse.SI, plain.Slam.Reverse.SI,
			a.Worst.Notes)
	}
}

// A measured curve is read between its points and never drawn out.
func TestReadMeasured(t *testing.T) {
	m := catalog.Measured{X: []float64{2, 4, 8}, Y: []float64{0.1, 0.2, 0.6}, Source: "made up"}
	at := func(x float64) (basis.Value, error) {
		return ReadMeasured(m, basis.NewSimulated("deceleration", quantity.Acceleration, x, "made up"))
	}
	for x, want := range map[float64]float64{2: 0.1, 3: 0.15, 4: 0.2, 6: 0.4, 8: 0.6} {
		if v, err := at(x); err != nil || math.Abs(v.SI-want) > 1e-12 {
			t.Errorf("at %g: %g, %v; want %g", x, v.SI, err, want)
		}
	}
	for _, x := range []float64{0, 1.99, 8.01, math.Inf(1)} {
		if _, err := at(x); err == nil {
			t.Errorf("%g is read off outside the curve", x)
		}
	}
}

func TestEventNames(t *testing.T) {
	p := plantOf(t, "study")
	both, err := p.FindEvents("one-trips")
	if err != nil || len(both) != 2 {
		t.Errorf("one-trips means %d events: %v", len(both), err)
	}
	var unknown *NoEventError
	if _, err := p.FindEvents("one-trip-high"); !errors.As(err, &unknown) ||
		!strings.Contains(err.Error(), "one-trips-high") {
		t.Errorf("a slip of the pen is answered with %v", err)
	}
}

// A change is in the run: a flywheel eases the stop, and so does a ramp.
func TestChangeIsInTheRun(t *testing.T) {
	p := plantOf(t, "layout")
	still := stopped(t, p, "swing/6in", "one-trips-high", Options{draw: true}).SlamMS()
	if wheel := stopped(t, p, "swing/6in", "one-trips-high",
		Options{draw: true, Change: Change{FlywheelKgM2: 2}}).SlamMS(); wheel >= 0.8*still {
		t.Errorf("a flywheel takes the reverse velocity from %g to %g", still, wheel)
	}
	direct := stopped(t, p, "swing/6in", "stop-high", Options{draw: true}).SlamMS()
	if ramp := stopped(t, p, "swing/6in", "stop-high",
		Options{draw: true, Change: Change{RampS: 20}}).SlamMS(); ramp >= 0.8*direct {
		t.Errorf("a ramp of 20 s takes the reverse velocity from %g to %g", direct, ramp)
	}
}
