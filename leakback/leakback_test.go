package leakback

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatward/basis"
	"seatward/pump"
	"seatward/quantity"
)

// well is a made record: inflow and leak as flows over the area, levels in steps.
type well struct {
	inflow, leak, drains float64 // m/s, m/s, m of level that can come back (0: no end)
	drift                float64 // change of inflow, m/s per s
	step                 float64
}

// spell adds readings each 10 s over the time.
func (w well) spell(record []Reading, lastsS float64, open bool) []Reading {
	t0, level := 0.0, 1.0
	if n := len(record); n > 0 {
		t0, level = record[n-1].TimeS+10, record[n-1].LevelM
	}
	for t := 0.0; t <= lastsS; t += 10 {
		back := 0.0
		if open {
			back = w.leak * t
			if w.drains > 0 {
				back = math.Min(back, w.drains)
			}
		}
		at := t0 + t
		h := level + w.inflow*t + w.drift*(at*at-t0*t0)/2 + back
		if w.step > 0 {
			h = math.Round(h/w.step) * w.step
		}
		record = append(record, Reading{TimeS: at, LevelM: h, Open: open})
	}
	return record
}

func (w well) record() []Reading {
	r := w.spell(nil, 600, false)
	r = w.spell(r, 900, true)
	return w.spell(r, 600, false)
}

// TestPair: made records of known cause come back as that cause. The numbers are of a well of
// 4 m² at 2 L/s inflow, read in steps of 1 cm or 1 mm.
func TestPair(t *testing.T) {
	for _, tt := range []struct {
		name string
		well well
		want Cause
	}{
		{"tight", well{inflow: 5e-4, step: 0.001}, NotSeen},
		{"leak 0.5 L/s", well{inflow: 5e-4, leak: 1.25e-4, step: 0.001}, SeatLeak},
		{"leak 0.5 L/s in cm", well{inflow: 5e-4, leak: 1.25e-4, step: 0.01}, SeatLeak},
		{"main empties after 300 s", well{inflow: 5e-4, leak: 5e-4, drains: 0.15, step: 0.001}, Drains},
		{"inflow falls by half", well{inflow: 8e-4, drift: -2e-7, step: 0.001}, Inflow},
		{"inflow rises", well{inflow: 2e-4, drift: 2e-7, step: 0.001}, Inflow},
	} {
		p := Pair(Fills(tt.well.record(), tt.well.step))
		if p.Cause != tt.want {
			t.Errorf("%s: %s, want %s: %+v", tt.name, p.Cause, tt.want, p)
		}
		if tt.want == Drains && math.Abs(p.ExcessM-0.15) > 0.01 {
			t.Errorf("%s: the level gained %.3f m, 0.15 m drained", tt.name, p.ExcessM)
		}
		if tt.want == Drains && math.Abs(p.EndsS-300) > 40 {
			t.Errorf("%s: the rise ends at %.0f s, want 300", tt.name, p.EndsS)
		}
	}
	if p := Pair(Fills(well{inflow: 1e-3}.spell(nil, 600, true), 0.01)); p.Cause != NotPaired {
		t.Errorf("one fill is a pair: %+v", p)
	}
}

// TestLeakComesBack: any leak well above the least that can be seen is found, and found right.
func TestLeakComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := well{
			inflow: rapid.Float64Range(0, 2e-3).Draw(t, "inflow"),
			leak:   rapid.Float64Range(1e-4, 1e-3).Draw(t, "leak"), step: 0.001,
		}
		p := Pair(Fills(w.record(), w.step))
		rate, least := p.leak()
		if math.Abs(rate-w.leak) > 3*least+1e-6 {
			t.Fatalf("leak %g found as %g, least %g", w.leak, rate, least)
		}
		if w.leak > 5*least && p.Cause != SeatLeak {
			t.Fatalf("leak %g is %s: %+v", w.leak, p.Cause, p)
		}
	})
}

// TestFillError: the error of made noise has the size that the formula says.
func TestFillError(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(10, 200).Draw(t, "n")
		got := FillError(1, 1, float64(n), 1)
		if want := math.Sqrt(12 / math.Pow(float64(n), 3)); math.Abs(got/want-1) > 0.02 {
			t.Fatalf("n %d: %g, for many readings √(12/n³) = %g", n, got, want)
		}
	})
	if got := FillError(2, 0.01, 2, 100); math.Abs(got-2*0.01*math.Sqrt2/100) > 1e-12 {
		t.Errorf("two readings: %g", got)
	}
}

// TestDoubts: records that cannot be as they say are found, and sound ones are not doubted.
func TestDoubts(t *testing.T) {
	test := func(r []Reading) *Test { return &Test{Fills: Fills(r, 0.001), Drops: Drawdowns(r, 0.001)} }
	sound := well{inflow: 5e-4, leak: 1e-4, step: 0.001}.record()
	if d := test(sound).Doubts(); len(d) != 0 {
		t.Errorf("a sound record is doubted: %v", d)
	}
	clipped, upside := slices.Clone(sound), slices.Clone(sound)
	for i := range clipped {
		clipped[i].LevelM = math.Min(clipped[i].LevelM, 1.2)
		upside[i].LevelM = 5 - sound[i].LevelM
	}
	swapped := slices.Clone(sound)
	for i := range swapped {
		swapped[i].Running = true
	}
	for name, r := range map[string][]Reading{"stands still": clipped, "falls in a spell": upside, "rises while a pump": swapped} {
		if d := test(r).Doubts(); len(d) != 1 || !strings.Contains(d[0], name) {
			t.Errorf("%s: %v", name, d)
		}
	}
}

// TestHoleAndLeak are each other's inverse.
func TestHoleAndLeak(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, h := rapid.Float64Range(1e-3, 0.3).Draw(t, "d"), rapid.Float64Range(0.1, 200).Draw(t, "h")
		if back := LeakHole(OrificeLeak(d, h, 0.6), h, 0.6); math.Abs(back/d-1) > 1e-9 {
			t.Fatalf("hole %g comes back as %g", d, back)
		}
	})
}

// TestRunawayGrows with the static head, stays backward, and needs one.
func TestRunawayGrows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ns := rapid.Float64Range(20, 160).Draw(t, "n_s")
		q, err := pump.NewUniversal(pump.Rated{
			FlowM3S: 0.03, HeadM: math.Pow(1450*math.Sqrt(0.03)/ns, 4.0/3),
			TorqueNM: 50, SpeedRadS: 1450 * math.Pi / 30,
		})
		if err != nil {
			t.Fatal(err)
		}
		static, friction := rapid.Float64Range(0.05, 1).Draw(t, "static"), rapid.Float64Range(0, 1).Draw(t, "friction")
		s := Runaway(q, Line{static, friction})
		more := Runaway(q, Line{static * 1.1, friction})
		if !(s.Speed < 0 && s.Flow < 0 && more.Speed < s.Speed) {
			t.Fatalf("%+v, with more static head %+v", s, more)
		}
		if left := static - friction*s.Flow*s.Flow - s.Head; math.Abs(left) > 1e-9 {
			t.Fatalf("head out of balance by %g", left)
		}
	})
	q, _ := pump.NewUniversal(pump.Rated{FlowM3S: 1, HeadM: 1, TorqueNM: 1, SpeedRadS: 3})
	if (Runaway(q, Line{0, 1}) != State{}) || (Held(q, Line{}) != State{}) {
		t.Error("a pump without a static head runs back")
	}
}

// TestStartsRise with the leak, and the water that returns is the leak over the stopped time.
func TestStartsRise(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := rapid.Float64Range(1e-4, 5e-3).Draw(t, "in")
		leak := rapid.Float64Range(0, 5e-3).Draw(t, "leak")
		if StartsPerDay(3, in, leak, 0.015) < StartsPerDay(3, in, 0, 0.015) {
			t.Fatal("a leak saves starts")
		}
		runS := StartsPerDay(3, in, leak, 0.015) * 3 / (0.015 - in)
		if got, want := Returned(3, in, leak, 0.015), leak*(dayS-runS); math.Abs(got-want) > 1e-9*(1+want) {
			t.Fatalf("returned %g, leak over the stopped time %g", got, want)
		}
	})
}

// TestKernels are those of formulas that no outside row holds: worked by hand.
func TestKernels(t *testing.T) {
	for name, x := range map[string][2]float64{
		"leak":     {LeakFlow(4, 0.09, 600, 0.06, 600), 2e-4},
		"fill":     {FillFlow(4, 0.06, 600), 4e-4},
		"drawdown": {DrawdownFlow(4, 0.3, 120, 4e-4), 0.0104},
		"pair":     {PairError(3, 4), 15},
		"noise":    {LevelNoise(0.012), 0.0034641016},
		"rise":     {Rise(2, 4), 0.5},
		"prism":    {Prism(4, 0.5), 2},
		"cost":     {LeakCost(1000, 10, 36, 0.5, 1/3.6e6*0.15), 365.25 * 36 * 98.0665 / 0.5 / 3600 * 0.15},
	} {
		if math.Abs(x[0]-x[1]) > 1e-8*math.Abs(x[1]) {
			t.Errorf("%s: %g, want %g", name, x[0], x[1])
		}
	}
}

// TestSources: every formula cites what the bibliography knows.
func TestSources(t *testing.T) {
	for _, f := range []basis.Formula{
		LevelNoiseFormula, FillErrorFormula, PairErrorFormula, LeakFlowFormula, FillFlowFormula, OrificeLeakFormula,
		LeakHoleFormula, StartsPerDayFormula, ReturnedFormula, LeakCostFormula, DrainedVolumeFormula,
		RestartHeatFormula, DrawdownFormula, PrismFormula, RiseFormula,
	} {
		if !basis.Cited(f.Ref) {
			t.Errorf("%s cites %q", f.ID, f.Ref)
		}
	}
}

// TestAnswer works a test by hand: a well of 4 m², 9 cm in 10 min open and 6 cm in 10 min shut.
func TestAnswer(t *testing.T) {
	given := func(name string, kind quantity.Kind, si float64) basis.Value {
		return basis.NewGiven(name, kind, si, "here")
	}
	test := Test{
		Area: given("area", quantity.Area, 4), Step: given("step", quantity.Length, 0.001), Place: "here",
		Fills: []Fill{Measured(false, 0.06, 600, 0.001), Measured(true, 0.09, 600, 0.001)},
		Drops: []Fill{Measured(true, -0.3, 120, 0.001)},
		Site: Site{
			Head: given("head", quantity.Head, 10), Band: given("band", quantity.Length, 0.75),
			PumpFlow: given("pump", quantity.Flow, 0.015), PumpHead: given("pump head", quantity.Head, 12),
			Density: given("density", quantity.Density, 1000), Efficiency: given("efficiency", quantity.Fraction, 0.5),
			Tariff: given("tariff", quantity.Tariff, 0.15/3.6e6),
		},
	}
	test.Fills[1].FromS = 700
	a := test.Answer()
	starts := 86400 / (3/(4e-4+2e-4) + 3/(0.015-4e-4))
	for name, x := range map[string][2]float64{
		"leak": {a.Leak.SI, 2e-4}, "inflow": {a.Inflow.SI, 4e-4}, "pump": {a.PumpFlow.SI, 0.0104},
		"starts": {a.StartsNow.SI, starts}, "returned": {a.Returned.SI, starts * 2e-4 * 3 / 6e-4},
		"least": {a.Least.SI, 3 * 4 * 0.001 / math.Sqrt(12) * 2 / 600},
		"hole":  {a.Hole.SI, math.Sqrt(4 * 2e-4 / (math.Pi * 0.6 * math.Sqrt(2*9.80665*10)))},
	} {
		if math.Abs(x[0]-x[1]) > 1e-9*math.Abs(x[1]) {
			t.Errorf("%s: %g, want %g", name, x[0], x[1])
		}
	}
	if a.Cause != SeatLeak || !(a.StartsDry.SI < a.StartsNow.SI) || !(a.Cost.SI > 0) || !(a.Leak.Low < 2e-4) {
		t.Errorf("%+v", a)
	}
	for _, c := range []Cause{NotSeen, SeatLeak, Drains, Fading, Inflow, NotPaired} {
		if c.Meaning() == "" {
			t.Errorf("%s means nothing", c)
		}
	}
}
