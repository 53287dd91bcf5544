package leakback

import (
	"math"
	"slices"

	"seatward/basis"
	"seatward/quantity"
)

// Test is what was measured at the wet well.
type Test struct {
	Area, Step basis.Value // of the well's surface; step of the level reading
	Fills      []Fill
	Drops      []Fill // spells in which a pump ran; their rise is below zero
	Place      string // where the readings stand
	Site       Site
}

// Site is what is known of the station; what is not is an unknown value.
type Site struct {
	Head       basis.Value // across the closed valve
	Band       basis.Value // level from pump on to pump off
	PumpFlow   basis.Value // of one pump, by curve and system
	PumpHead   basis.Value
	Density    basis.Value
	Efficiency basis.Value // overall
	Tariff     basis.Value
	Drains     basis.Value // volume of the main that can drain back
}

// Answer is what the test says; a value that could not be worked out is unknown.
type Answer struct {
	Pairing
	Leak      basis.Value // as a flow
	Least     basis.Value // the least leak that this pair could show
	Inflow    basis.Value
	Hole      basis.Value
	Gained    basis.Value // volume that came back before the rise ended
	Returned  basis.Value // per day
	StartsNow basis.Value // per day
	StartsDry basis.Value // per day, without the leak
	Cost      basis.Value // per year
	PumpFlow  basis.Value // from the drawdown
	Coarse    bool        // the level rose by fewer than ten steps
}

// coarseSteps are the steps of level that a fill should span: below, the errors of single
// readings are no longer independent.
const coarseSteps = 10

// noLeak stands for a tight valve in comparisons.
var noLeak = basis.NewAssumed("no leak", quantity.Flow, 0, 0, 0, "for comparison", basis.DerivedHere)

// Answer works the test out.
func (t *Test) Answer() Answer {
	a := Answer{Pairing: Pair(t.Fills)}
	if a.Cause != NotPaired {
		t.pair(&a)
	} else if f, ok := longestOf(t.Fills); ok {
		// One fill alone gives the inflow with what comes back in it.
		rise := t.length("rise of the level", f.RiseM, 3*rateError(&f)*f.LastsS)
		a.Inflow = FillFlowFormula.Eval3("flow into the wet well", FillFlow, t.Area, rise, t.time("length of the fill", f.LastsS))
	}
	t.drawdown(&a)
	return a
}

// Doubts are what in the readings themselves does not fit, in sentences.
func (t *Test) Doubts() []string {
	var out []string
	add := func(text string) {
		if !slices.Contains(out, text) {
			out = append(out, text)
		}
	}
	for i := range t.Fills {
		f := &t.Fills[i]
		if f.RateMS() < -3*rateError(f) {
			add("The level falls in a spell in which no pump is said to run: states and levels may be shifted in time or swapped, or the level may be read as a depth below the cover.")
		}
		if f.still() {
			add("The level stands still at the end of a fill: a sensor at its limit, an overflow, or readings that were only held. The fill is not to be trusted.")
		}
	}
	for i := range t.Drops {
		if f := &t.Drops[i]; f.RateMS() > 3*rateError(f) {
			add("The level rises while a pump is said to run: states and levels may be shifted in time or swapped, or the inflow is more than the pump's flow.")
		}
	}
	return out
}

// still is true where the last quarter of many readings is one level, after it moved before.
func (f *Fill) still() bool {
	n := len(f.levels)
	if n < 2*minHalves {
		return false
	}
	end := f.levels[n-n/4:]
	for _, r := range end {
		if r.LevelM != end[0].LevelM {
			return false
		}
	}
	return math.Abs(f.levels[n-n/4].LevelM-f.levels[0].LevelM) > coarseSteps*f.NoiseM
}

// pair fills in what follows from a pair of fills.
func (t *Test) pair(a *Answer) {
	openRise := t.length("rise with the isolating valve open", a.OpenM, 3*a.OpenError*a.OpenS)
	shutRise := t.length("rise with the isolating valve shut", a.ShutM, (3*a.ShutError+a.InflowM)*a.ShutS)
	openS, shutS := t.time("length of the fill with it open", a.OpenS), t.time("length of the fill with it shut", a.ShutS)
	a.Leak = LeakFlowFormula.Eval5("leak-back", LeakFlow, t.Area, openRise, openS, shutRise, shutS)
	a.Inflow = FillFlowFormula.Eval3("inflow", FillFlow, t.Area, shutRise, shutS)
	a.Least = PairErrorFormula.Eval2("least leak that this test could show", PairError,
		t.fillError("standard error of the open fill", &a.open), t.fillError("standard error of the shut fill", &a.shut))
	a.Coarse = a.OpenM < coarseSteps*t.Step.SI
	if a.Cause == Drains || a.Cause == Fading {
		gained := t.length("level gained until the rise ended", a.ExcessM, 3*a.OpenError*a.OpenS)
		a.Gained = Volume("volume that came back", t.Area, gained)
	}
	if a.Cause == SeatLeak || a.Cause == Fading {
		t.leak(a)
	}
}

// leak fills in what a leak costs.
func (t *Test) leak(a *Answer) {
	if t.Site.Head.Known() && t.Site.Head.Low > 0 {
		a.Hole = LeakHoleFormula.Eval3("hole that would leak as much", LeakHole, a.Leak, t.Site.Head, DischargeCoefficient())
	}
	if !t.Site.Band.Known() || !t.Site.PumpFlow.Known() || !(a.Inflow.Low > 0) || !(a.Leak.Low > 0) ||
		!(t.Site.PumpFlow.Low > a.Inflow.High) {
		return
	}
	band := Volume("volume between pump on and pump off", t.Area, t.Site.Band)
	a.StartsNow = StartsPerDayFormula.Eval4("starts per day at this inflow", StartsPerDay, band, a.Inflow, a.Leak, t.Site.PumpFlow)
	a.StartsDry = StartsPerDayFormula.Eval4("starts per day without the leak", StartsPerDay, band, a.Inflow, noLeak,
		t.Site.PumpFlow)
	a.Returned = ReturnedFormula.Eval4("volume pumped again per day", Returned, band, a.Inflow, a.Leak, t.Site.PumpFlow)
	s := t.Site
	if s.PumpHead.Known() && s.Efficiency.Known() && s.Tariff.Known() && s.Efficiency.Low > 0 {
		a.Cost = LeakCostFormula.Eval5("energy cost of the leak per year", LeakCost, s.Density, s.PumpHead, a.Returned,
			s.Efficiency, s.Tariff)
	}
}

// drawdown fills in the pump's flow from the longest spell in which one ran.
func (t *Test) drawdown(a *Answer) {
	f, ok := longestOf(t.Drops)
	if !ok || !a.Inflow.Known() {
		return
	}
	drop := t.length("drop of the level while the pump ran", -f.RiseM, 3*rateError(&f)*f.LastsS)
	a.PumpFlow = DrawdownFormula.Eval4("pump flow from the drawdown", DrawdownFlow, t.Area, drop,
		t.time("time for which the pump ran", f.LastsS), a.Inflow)
}

// fillError is the standard error of the flow of a fill.
func (t *Test) fillError(name string, f *Fill) basis.Value {
	noise := LevelNoiseFormula.Eval1("standard error of one level", LevelNoise, t.Step)
	if f.NoiseM > noise.SI {
		noise = basis.NewGiven("scatter of the levels about their line", quantity.Length, f.NoiseM, t.Place)
	}
	return FillErrorFormula.Eval4(name, FillError, t.Area, noise,
		basis.NewGiven("readings", quantity.Number, float64(f.N), t.Place), t.time("time between readings", f.EveryS()))
}

func (t *Test) length(name string, m, error float64) basis.Value {
	return basis.NewGiven(name, quantity.Length, m, t.Place).WithRange(m-error, m+error)
}

func (t *Test) time(name string, s float64) basis.Value {
	return basis.NewGiven(name, quantity.Time, s, t.Place)
}

// longestOf is the longest of fills; false where there is none.
func longestOf(fills []Fill) (out Fill, ok bool) {
	for _, f := range fills {
		if f.LastsS > out.LastsS {
			out, ok = f, true
		}
	}
	return out, ok
}

// PrismFormula records Prism.
var PrismFormula = basis.Formula{
	ID: "prism", Title: "Volume of a wet well over a height", Expr: "V = A h", Symbols: []string{"A", "h"},
	Kind: quantity.Volume, Ref: basis.DerivedHere, Range: "upright walls",
}

// Prism is the volume over the height, m3.
func Prism(areaM2, heightM float64) float64 { return areaM2 * heightM }

// Volume is that with its record.
func Volume(name string, area, height basis.Value) basis.Value {
	return PrismFormula.Eval2(name, Prism, area, height)
}
