package pump

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"seatward/basis"
	"seatward/quantity"
)

const water = 998.2 // kg/m3

var sampleEfficiency = []Sample{{0, 0}, {500 * gpm, 0.65}, {900 * gpm, 0.78}, {1200 * gpm, 0.65}}

func mustPerform(t testing.TB) func(Performance, Problems) Performance {
	return func(p Performance, problems Problems) Performance {
		t.Helper()
		if err := problems.Err(); err != nil {
			t.Fatal(err)
		}
		return p
	}
}

func TestPowerAndEfficiencyAreOneCurveTwice(t *testing.T) {
	c := mustCurve(t, sample)
	byEff := mustPerform(t)(c.WithEfficiency(sampleEfficiency))
	power := make([]Sample, len(sample))
	for i, x := range sample {
		power[i] = Sample{x.FlowM3S, byEff.ShaftPower(x.FlowM3S, water).SI}
	}
	byPow := mustPerform(t)(c.WithPower(power, water))
	for i, s := range sampleEfficiency[1:] {
		near(t, "efficiency from power", byPow.Efficiency(s.FlowM3S).SI, s.SI, 1e-12)
		near(t, "power", byPow.ShaftPower(s.FlowM3S, water).SI, power[i+1].SI, 1e-12)
	}
	near(t, "power of a denser liquid", byPow.ShaftPower(0.03, 2*water).SI, 2*byPow.ShaftPower(0.03, water).SI, 1e-12)
	// Hydraulic Institute Engineering Data Book, sample pump: 36.1, 45.2 and 46.6 hp
	// printed; its constant 3960 is good to 0.1 %.
	for i, hp := range []float64{36.1, 45.2, 46.6} {
		near(t, "printed power", byEff.ShaftPower(sample[i+1].FlowM3S, 1000).SI/horsepower, hp, 0.003)
	}
	q, e := byEff.BestPoint()
	if e < 0.78 || e > 0.79 || q < 700*gpm || q > 1000*gpm {
		t.Errorf("best point %.3g gpm, %.4g", q/gpm, e)
	}
}

func TestPowerAtZeroFlowHasALimit(t *testing.T) {
	c := mustCurve(t, sample)
	for name, p := range map[string]Performance{
		"efficiency from zero": mustPerform(t)(c.WithEfficiency(sampleEfficiency)),
		"efficiency from 500":  mustPerform(t)(c.WithEfficiency(sampleEfficiency[1:])),
		"assumed":              mustPerform(t)(c.WithAssumedEfficiency(AssumedPeakEfficiency(SolidsPassing), 900*gpm)),
	} {
		rest, slow := p.ShaftPower(0, water).SI, p.ShaftPower(2*gpm, water).SI
		if !(rest > 0) || math.Abs(slow/rest-1) > 0.02 {
			t.Errorf("%s: %g W at rest, %g W at 2 gpm", name, rest, slow)
		}
		if e := p.Efficiency(0).SI; e != 0 {
			t.Errorf("%s: efficiency %g at zero flow", name, e)
		}
	}
}

func TestAssumedEfficiencyCarriesItsRange(t *testing.T) {
	c := mustCurve(t, sample)
	for kind := UnknownImpeller; kind <= Grinder; kind++ {
		peak := AssumedPeakEfficiency(kind)
		if peak.Origin != basis.Assumed || peak.Reason == "" ||
			!(0 < peak.Low && peak.Low < peak.SI && peak.SI < peak.High && peak.High < 1) {
			t.Fatalf("impeller %d: %+v", kind, peak)
		}
		p := mustPerform(t)(c.WithAssumedEfficiency(peak, 900*gpm))
		e, w := p.Efficiency(900*gpm), p.ShaftPower(900*gpm, water)
		if e.SI != peak.SI || e.Low != peak.Low || e.High != peak.High {
			t.Errorf("impeller %d: at the best flow %+v, peak %+v", kind, e, peak)
		}
		near(t, "low power is at high efficiency", w.Low*peak.High, w.SI*peak.SI, 1e-12)
		near(t, "high power is at low efficiency", w.High*peak.Low, w.SI*peak.SI, 1e-12)
	}
}

func TestPerformanceProblems(t *testing.T) {
	c := mustCurve(t, sample)
	peak := AssumedPeakEfficiency(UnknownImpeller)
	first := func(_ Performance, p Problems) Problems { return p }
	for name, x := range map[string]struct {
		got  Problems
		want ProblemKind
	}{
		"one sample":         {first(c.WithEfficiency([]Sample{{0.01, 0.5}})), TooFewPoints},
		"NaN":                {first(c.WithEfficiency([]Sample{{0, 0}, {0.01, math.NaN()}})), NotFinite},
		"percent":            {first(c.WithEfficiency([]Sample{{0, 0}, {0.01, 65}})), EfficiencyRange},
		"negative":           {first(c.WithEfficiency([]Sample{{0, 0}, {0.01, -0.5}})), EfficiencyRange},
		"efficient at rest":  {first(c.WithEfficiency([]Sample{{0, 0.1}, {0.01, 0.5}})), EfficiencyAtRest},
		"short":              {first(c.WithEfficiency(sampleEfficiency[:3])), ShortSamples},
		"flows fall":         {first(c.WithPower([]Sample{{0.02, 3e4}, {0.01, 3e4}}, water)), FlowNotIncreasing},
		"no power":           {first(c.WithPower([]Sample{{0, 0}, {0.07, 6e4}}, water)), PowerNotPositive},
		"kW taken as W":      {first(c.WithPower([]Sample{{0, 20}, {0.07, 35}}, water)), PowerBelowHydraulic},
		"low between points": {first(c.WithPower([]Sample{{0, 1e3}, {1200 * gpm, 2.6e4}}, water)), PowerBelowHydraulic},
		"no density":         {first(c.WithPower([]Sample{{0, 2e4}, {0.08, 4e4}}, 0)), BadRatio},
		"no best flow":       {first(c.WithAssumedEfficiency(peak, 0)), OutOfScale},
		"no peak":            {first(c.WithAssumedEfficiency(basis.Value{}, 0.05)), EfficiencyRange},
		"no curve":           {first(Curve{}.WithEfficiency(sampleEfficiency)), TooFewPoints},
		"no curve, assumed":  {first(Curve{}.WithAssumedEfficiency(peak, 0.05)), TooFewPoints},
	} {
		if len(x.got) == 0 || x.got[0].Kind != x.want {
			t.Errorf("%s: %v, want %q", name, x.got, x.want)
		}
	}
}

func TestPerformanceFollowsAffinity(t *testing.T) {
	base := mustPerform(t)(mustCurve(t, sample).WithEfficiency(sampleEfficiency))
	rapid.Check(t, func(t *rapid.T) {
		ratio := rapid.Float64Range(0.3, 1.5).Draw(t, "ratio")
		q := rapid.Float64Range(0, 1300*gpm).Draw(t, "flow at full speed")
		p, err := base.AtSpeed(ratio)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "efficiency", p.Efficiency(q*ratio).SI, base.Efficiency(q).SI, 1e-9)
		near(t, "power", p.ShaftPower(q*ratio, water).SI, AffinityPower(base.ShaftPower(q, water).SI, ratio), 1e-9)
		near(t, "power is head and flow over efficiency",
			p.ShaftPower(q*ratio, water).SI*p.Efficiency(q*ratio).SI,
			HydraulicPower(water, q*ratio, math.Max(p.Head(q*ratio).SI, 0)), 1e-2)
	})
	var want *SpeedError
	if _, err := base.AtSpeed(0); !errors.As(err, &want) {
		t.Errorf("speed ratio 0: %v", err)
	}
}

func TestPerformanceSaysWhereItWasRead(t *testing.T) {
	p := mustPerform(t)(mustCurve(t, sample).WithEfficiency(sampleEfficiency[1:3]))
	for q, want := range map[float64]Condition{
		100 * gpm: BelowFirst, 600 * gpm: OnCurve, 1000 * gpm: Runout, 1300 * gpm: Runout, -1: Backflow,
	} {
		if got := p.Efficiency(q).Condition; got != want {
			t.Errorf("efficiency at %g: %v, want %v", q, got, want)
		}
	}
	if got := p.ShaftPower(math.NaN(), water); got.Condition != NotAFlow || got.SI != 0 {
		t.Errorf("power at no flow: %+v", got)
	}
	if got := (Performance{}).Efficiency(1); got.Condition != NotAFlow {
		t.Errorf("zero performance: %+v", got)
	}
}

func TestEnergyKernels(t *testing.T) {
	near(t, "a kilowatt for an hour", HeadEnergy(1000, 1/quantity.StandardGravity, 1, 3600, 1), 3.6e6, 1e-14)
	near(t, "input", InputPower(100, 0.95, 0.96), 100/(0.95*0.96), 1e-14)
}

func BenchmarkHead(b *testing.B) {
	source := mustCurve(b, sample).Source()
	q := 0.0
	for b.Loop() {
		if q += 1e-5; q > 0.07 {
			q = 0
		}
		if source.Head(q) <= 0 {
			b.Fatal("no head on the curve")
		}
	}
}
