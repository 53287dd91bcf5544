package plant

import (
	"context"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// answersOf are all stops of some valves at a station, at best estimates.
func answersOf(t *testing.T, p *Plant, valves int) []*Answer {
	t.Helper()
	var out []*Answer
	for _, f := range some(t, p, valves) {
		out = append(out, asked(t, p, f, Ask{Least: true}))
	}
	return out
}

// Every event of the stations that broke the answer is run, or says in one sentence why
// not, and the others answer. What the old engine failed with is gone. SEATWARD_LONG=1
// asks every valve, at stations whose runs are long too.
func TestEveryEventAnswers(t *testing.T) {
	valves := map[string]int{
		"k285": 2, "k349": 2, "k264": 2, "k275": 2, "broken-off.station": 1,
		"short-lift.station": 1, "riser.station": 1, "18pumps": 1,
	}
	if long() {
		for _, name := range []string{
			"long-iron-main.station", "second-riser.station", "motion-1078", "18pumps",
			"broken-off.station", "short-lift.station", "riser.station",
		} {
			valves[name] = 100
		}
	}
	for name, n := range valves {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			p := plantOf(t, name)
			for _, a := range answersOf(t, p, n) {
				everyEvent(t, p, a)
			}
		})
	}
}

func everyEvent(t *testing.T, p *Plant, a *Answer) {
	t.Helper()
	if len(a.Stops) != len(p.Events()) {
		t.Fatalf("%s: %d stops for %d events", a.Item.ID, len(a.Stops), len(p.Events()))
	}
	for _, s := range a.Stops {
		c := s.Closing
		switch {
		case s.Fault != "":
			for _, gone := range []string{"common head", "step budget", "two flows", "not resolved", "NaN"} {
				if strings.Contains(s.Fault, gone) {
					t.Errorf("%s, %s: %s", a.Item.ID, s.Event.ID, s.Fault)
				}
			}
			if strings.Contains(strings.TrimSuffix(s.Fault, "."), ". ") || !s.Idle {
				t.Errorf("%s, %s: idle %v, %q", a.Item.ID, s.Event.ID, s.Idle, s.Fault)
			}
		case math.IsNaN(s.SlamMS() + s.RiseM() + s.MostM() + s.LeastPressureM()):
			t.Errorf("%s, %s: %+v", a.Item.ID, s.Event.ID, c)
		case s.Event.Stops() && s.Rest == NotReversed:
			t.Errorf("%s, %s: the flow does not turn in %.0f s", a.Item.ID, s.Event.ID, s.TimeS)
		case s.Event.Stops() && s.Rest == AtRest && c.Worst.TimeS > s.TimeS-leastQuietS:
			t.Errorf("%s, %s: at rest at %.3f s, but it slams at %.3f s", a.Item.ID, s.Event.ID, s.TimeS, c.Worst.TimeS)
		}
	}
	if a.Worst == nil && a.Fault == "" {
		t.Errorf("%s has no slam and does not say why", a.Item.ID)
	}
}

// A run does not end with a slam: what the blow sends out comes back, and may lift the valve
// again. Without the pull of accelerating water the ball of this riser stays open for longer
// than two cycles before it slams.
func TestRunsOutlastTheirSlams(t *testing.T) {
	p := plantOf(t, "riser.station")
	m := fit1(t, p, "ball-pocket/10in").mech.WithoutAcceleration()
	s, err := p.Run(context.Background(), m, event(t, p, "power-failure-high"), Options{})
	if err != nil || s.Fault != "" {
		t.Fatal(err, s)
	}
	if s.Rest != NeverRests || s.Closing.Later < 3 || s.Closing.RiseM < 100 {
		t.Errorf("rest %d after %.2f s, %d later slams, the hardest %.2f m/s at %.2f s with a rise of %.0f m", s.Rest,
			s.TimeS, s.Closing.Later, s.Closing.Worst.ReverseMS, s.Closing.Worst.TimeS, s.Closing.RiseM)
	}
}

// An event before which nothing flows is said to be that and takes no other with it.
func TestEventsThatCannotHappen(t *testing.T) {
	for _, name := range []string{"k285", "k349", "k275"} {
		p := plantOf(t, name)
		idle, ran := 0, 0
		for _, a := range answersOf(t, p, 2) {
			for _, s := range a.Stops {
				switch {
				case s.Idle && strings.Contains(s.Fault, "nothing flows before the event"):
					idle++
				case s.Fault == "":
					ran++
				}
			}
		}
		if idle == 0 || ran == 0 {
			t.Errorf("%s: %d events cannot happen, %d ran", name, idle, ran)
		}
	}
}

// The same pipe in one run or in two, as users wrote it.
func TestSplitPipe(t *testing.T) {
	for _, pair := range [][2]string{{"split-1062-one", "split-1062-two"}, {"split-1032-one", "split-1032-two"}} {
		twins(t, pair[0], pair[1], plantOf(t, pair[0]), plantOf(t, pair[1]), 1, 1e-6)
	}
}

// twins holds all stops of two stations that must have one answer to one another.
func twins(t *testing.T, first, second string, p, q *Plant, valves int, within float64) {
	t.Helper()
	mine, others := answersOf(t, p, valves), answersOf(t, q, valves)
	for i, a := range mine {
		b := others[i]
		if a.Item.ID != b.Item.ID || len(a.Stops) != len(b.Stops) {
			t.Fatalf("%s has %s with %d stops, %s has %s with %d", first, a.Item.ID, len(a.Stops), second, b.Item.ID,
				len(b.Stops))
		}
		for k := range a.Stops {
			x, y := a.Stops[k], b.Stops[k]
			what := first + " and " + second + ", " + a.Item.ID + " " + x.Event.ID
			if x.Event.ID != y.Event.ID || x.Fault != y.Fault || x.Rest != y.Rest {
				t.Errorf("%s: %s, %q, rest %d and %s, %q, rest %d", what, x.Event.ID, x.Fault, x.Rest, y.Event.ID,
					y.Fault, y.Rest)
				continue
			}
			sameStop(t, what, x, y, within)
		}
		if (a.Worst == nil) != (b.Worst == nil) || a.Worst != nil &&
			(a.Worst.Event.ID != b.Worst.Event.ID || a.Worst.Closing.Pump != b.Worst.Closing.Pump) {
			t.Errorf("%s and %s, %s: the worst stops are %+v and %+v", first, second, a.Item.ID, a.Worst, b.Worst)
		}
	}
}

// bag is all stops of an answer by event, pump and rounded numbers, in no order.
func bag(a *Answer) map[string]float64 {
	out := map[string]float64{}
	for _, s := range a.Stops {
		out[s.Event.ID+" of "+s.Closing.Pump] = s.SlamMS()
	}
	return out
}

// Pumps in another order in the file are the same pumps: the same events, the same worst
// stop of the same pump.
func TestOrderOfPumps(t *testing.T) {
	for _, pair := range [][2]string{{"two-unequal-ab", "two-unequal-ba"}, {"order-3009-a", "order-3009-b"}} {
		mine, others := answersOf(t, plantOf(t, pair[0]), 2), answersOf(t, plantOf(t, pair[1]), 2)
		for i, a := range mine {
			b := others[i]
			x, y := bag(a), bag(b)
			if len(x) != len(y) {
				t.Errorf("%s, %s: %v and %v", pair[0], a.Item.ID, x, y)
			}
			for key, v := range x {
				if w, ok := y[key]; !ok || !near(v, w, 1e-6) {
					t.Errorf("%s, %s: %s is %.9g and %.9g", pair[0], a.Item.ID, key, v, w)
				}
			}
			if a.Worst != nil && (b.Worst == nil || a.Worst.Event.ID != b.Worst.Event.ID ||
				a.Worst.Closing.Pump != b.Worst.Closing.Pump) {
				t.Errorf("%s, %s: worst %s of %s, and %s of %s", pair[0], a.Item.ID, a.Worst.Event.ID,
					a.Worst.Closing.Pump, b.Worst.Event.ID, b.Worst.Closing.Pump)
			}
		}
	}
}

// Equal pumps listed apart are as if they were one group.
func TestEqualPumpsApart(t *testing.T) {
	text := fileText(t, "layout")
	group := text[strings.Index(text, "  - name: P1/P2"):strings.Index(text, "levels:")]
	single := strings.Replace(group, "count: 2", "count: 1", 1)
	apart := strings.Replace(text, group,
		strings.Replace(single, "P1/P2", "P1", 1)+strings.Replace(single, "P1/P2", "P2", 1), 1)
	q, err := New(readStation(t, apart))
	if err != nil {
		t.Fatal(err)
	}
	twins(t, "layout", "layout with its pumps apart", plantOf(t, "layout"), q, 3, 1e-9)
}

// A booster stated by pressures or by levels is one station.
func TestBoosterPair(t *testing.T) {
	density := []string{"temperature: 10 °C", "temperature: 10 °C, density: 999.7 kg/m3"}
	p, q := plantOf(t, "booster-boostA", density...), plantOf(t, "booster-boostB", density...)
	for _, f := range some(t, p, 3) {
		a, err := p.Solve(f.mech)
		if err != nil {
			t.Fatal(err)
		}
		b, err := q.Solve(f.mech)
		if err != nil {
			t.Fatal(err)
		}
		x, y := a.List(""), b.List("")
		for i := range x {
			if !near(x[i].Flow.SI, y[i].Flow.SI, 1e-6) || !near(x[i].Head.SI, y[i].Head.SI, 1e-6) {
				t.Errorf("%s, %s: %.9g m3/s at %.9g m, and %.9g at %.9g", f.item.ID, x[i].Name, x[i].Flow.SI,
					x[i].Head.SI, y[i].Flow.SI, y[i].Head.SI)
			}
		}
	}
	twins(t, "boostA", "boostB", p, q, 3, 1e-6)
}

// All elevations shifted by one number are the same station.
func TestDatumShift(t *testing.T) {
	twins(t, "chaotic-1026", "chaotic-1026-datum", plantOf(t, "chaotic-1026"), plantOf(t, "chaotic-1026-datum"), 1,
		1e-6)
}

// What a stop is asked beside the run does not change it: readings, a film, progress.
func TestRecordingChangesNothing(t *testing.T) {
	p := plantOf(t, "layout")
	bare := stopped(t, p, "ball-pocket/6in", "one-trips-high", Options{})
	whole := stopped(t, p, "ball-pocket/6in", "one-trips-high",
		Options{Record: true, Frames: 20, Progress: func(float64) {}})
	if bare.Closing != whole.Closing || bare.SlamMS() != whole.SlamMS() || bare.MostM() != whole.MostM() ||
		bare.LeastPressureM() != whole.LeastPressureM() {
		t.Errorf("%+v and, recorded, %+v", bare.Closing, whole.Closing)
	}
}

// The worst stop is the one with the hardest seating of all, and every event has its own
// record, by its own ID, also where one run serves two.
func TestWorstOfAll(t *testing.T) {
	p := plantOf(t, "layout", "count: 2", "count: 1") // power failure and direct stop are one
	a := asked(t, p, fit1(t, p, "swing/6in"), Ask{Least: true})
	worst := 0.0
	for i, s := range a.Stops {
		if s.Event.ID != p.Events()[i].ID {
			t.Errorf("stop %d is of %s, not of %s", i, s.Event.ID, p.Events()[i].ID)
		}
		if s.Event.Stops() && s.Closing.Closed {
			worst = math.Max(worst, s.SlamMS())
		}
		// Of a run at best estimates that serves for several events, all numbers are equal.
		alone, err := p.Run(context.Background(), fit1(t, p, "swing/6in").mech, s.Event, Options{})
		if err != nil || alone.SlamMS() != s.SlamMS() || alone.MostM() != s.MostM() {
			t.Errorf("%s alone: %g m/s, among all %g m/s", s.Event.ID, alone.SlamMS(), s.SlamMS())
		}
	}
	if a.Worst == nil || a.Worst.SlamMS() != worst || a.Slam.Reverse.SI != worst {
		t.Errorf("the worst is %g, the slam %g, the greatest of all %g", a.Worst.SlamMS(), a.Slam.Reverse.SI, worst)
	}
}

// The worse of two grids is the number wherever they do not agree.
func TestTwoGrids(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(0, 3)
		s := Stop{Finer: &Closing{}}
		s.Closing.Worst.ReverseMS, s.Finer.Worst.ReverseMS = x.Draw(t, "usual"), x.Draw(t, "finer")
		a, b := s.Closing.Worst.ReverseMS, s.Finer.Worst.ReverseMS
		apart := math.Abs(a-b) > math.Max(0.25*math.Max(a, b), 0.05)
		if s.Resolved() == apart {
			t.Fatalf("%g and %g m/s: resolved %v", a, b, s.Resolved())
		}
		if want := a; apart {
			if want = math.Max(a, b); s.SlamMS() != want {
				t.Fatalf("%g and %g m/s: %g", a, b, s.SlamMS())
			}
		} else if s.SlamMS() != want {
			t.Fatalf("%g and %g m/s that agree: %g", a, b, s.SlamMS())
		}
	})
}
