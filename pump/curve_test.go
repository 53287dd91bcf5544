package pump

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"seatward/basis"
	"seatward/quantity"
)

// sample is the pump printed in the Hydraulic Institute Engineering Data Book,
// pump curve page, with a shut-off head added here.
var sample = []Point{
	{0, 205 * foot}, {500 * gpm, 186 * foot}, {900 * gpm, 155 * foot}, {1200 * gpm, 100 * foot},
}

func mustCurve(t testing.TB, points []Point) Curve {
	t.Helper()
	c, p := NewCurve(points)
	if err := p.Err(); err != nil {
		t.Fatal(err)
	}
	return c
}

// reporter is what near needs of a *testing.T or a *rapid.T.
type reporter interface {
	Helper()
	Errorf(format string, args ...any)
}

func near(t reporter, what string, got, want, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Abs(want)) {
		t.Errorf("%s = %.12g, want %.12g within %g of it", what, got, want, rel)
	}
}

func TestCurvePassesThroughItsPoints(t *testing.T) {
	c := mustCurve(t, sample)
	for _, x := range sample {
		r := c.Head(x.FlowM3S)
		near(t, "head", r.SI, x.HeadM, 1e-14)
		if r.Condition != OnCurve {
			t.Errorf("at %g m3/s: %v", x.FlowM3S, r.Condition)
		}
	}
	if c.Origin() != FromPoints {
		t.Errorf("origin %v", c.Origin())
	}
}

func TestOffTheCurveIsSaid(t *testing.T) {
	late := mustCurve(t, sample[1:])
	for _, x := range []struct {
		what string
		c    Curve
		q    float64
		want Condition
	}{
		{"beyond the end", mustCurve(t, sample), 1201 * gpm, Runout},
		{"at the end", mustCurve(t, sample), 1200 * gpm, OnCurve},
		{"before the first point", late, 100 * gpm, BelowFirst},
		{"at the first point", late, 500 * gpm, OnCurve},
		{"reverse", late, -1, Backflow},
		{"no number", late, math.NaN(), NotAFlow},
		{"infinite", late, math.Inf(1), NotAFlow},
		{"no curve", Curve{}, 1, NotAFlow},
	} {
		if got := x.c.Head(x.q).Condition; got != x.want {
			t.Errorf("%s: %v, want %v", x.what, got, x.want)
		}
		if got := x.c.Slope(x.q).Condition; got != x.want {
			t.Errorf("%s: slope %v, want %v", x.what, got, x.want)
		}
	}
}

func TestEndOfCurveScalesWithSpeed(t *testing.T) {
	c := mustCurve(t, sample)
	for _, ratio := range []float64{0.5, 0.7, 0.8333333, 0.9, 1.1} {
		s, err := c.AtSpeed(ratio)
		if err != nil {
			t.Fatal(err)
		}
		_, end := s.Range()
		if got := s.Head(end).Condition; got != OnCurve {
			t.Errorf("ratio %g: end of the curve reads %v", ratio, got)
		}
		near(t, "head at the scaled end", s.Head(end).SI, ratio*ratio*100*foot, 1e-12)
		near(t, "scaled point", s.Points()[3].HeadM, ratio*ratio*100*foot, 1e-12)
		near(t, "scaled shut-off", s.ShutOffM(), ratio*ratio*205*foot, 1e-12)
		near(t, "slope", s.Slope(0.4*end).SI, ratio*c.Slope(0.4*end/ratio).SI, 1e-12)
	}
	for _, ratio := range []float64{0, -1, 2.1, math.NaN(), math.Inf(1)} {
		var want *SpeedError
		if _, err := c.AtSpeed(ratio); !errors.As(err, &want) {
			t.Errorf("ratio %g: error %v, want a SpeedError", ratio, err)
		}
	}
}

func TestProblems(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for name, x := range map[string]struct {
		points []Point
		want   ProblemKind
		index  int
	}{
		"none":             {nil, TooFewPoints, -1},
		"one":              {[]Point{{0, 20}}, TooFewPoints, -1},
		"NaN flow":         {[]Point{{0, 20}, {nan, 10}}, NotFinite, 1},
		"NaN head":         {[]Point{{0, nan}, {1, 10}}, NotFinite, 0},
		"infinite head":    {[]Point{{0, inf}, {1, 10}}, NotFinite, 0},
		"L/s taken as m3":  {[]Point{{0, 20}, {2000, 10}}, OutOfScale, 1},
		"huge head":        {[]Point{{0, 2e6}, {1, 10}}, OutOfScale, 0},
		"tiny flows":       {[]Point{{0, 20}, {1e-12, 10}}, OutOfScale, 1},
		"negative flow":    {[]Point{{-1, 20}, {1, 10}}, NegativeFlow, 0},
		"same flow twice":  {[]Point{{0, 20}, {1, 15}, {1, 10}}, FlowNotIncreasing, 2},
		"falling flow":     {[]Point{{1, 20}, {0.5, 10}}, FlowNotIncreasing, 1},
		"negative head":    {[]Point{{0, 20}, {1, -1}}, NegativeHead, 1},
		"no head":          {[]Point{{0, 0}, {1, 0}}, NoHead, -1},
		"rises twice":      {[]Point{{0, 20}, {1, 21}, {2, 19}, {3, 20}, {4, 10}}, HeadRisesTwice, 3},
		"rises to the end": {[]Point{{0, 10}, {1, 15}, {2, 20}}, HeadRisesAtEnd, 2},
		"droop":            {[]Point{{0, 20}, {1, 21}, {2, 15}}, Droop, 0},
		"droop on a step":  {[]Point{{0, 20}, {1, 20}, {2, 21}, {3, 15}}, Droop, 1},
		"hump":             {[]Point{{0, 20}, {1, 15}, {2, 16}, {3, 5}}, Hump, 1},
		"no shut-off":      {[]Point{{1, 20}, {2, 15}, {3, 5}}, NoShutOff, 0},
		"two points":       {[]Point{{0, 20}, {1, 15}}, OnlyTwoPoints, -1},
	} {
		t.Run(name, func(t *testing.T) {
			c, p := NewCurve(x.points)
			if len(p) != 1 || p[0].Kind != x.want || p[0].Index != x.index {
				t.Fatalf("problems %+v, want one %q at %d", p, x.want, x.index)
			}
			if x.want.Fatal() != (p.Err() != nil) || x.want.Fatal() != (len(c.Points()) == 0) {
				t.Errorf("%q: fatal %v, error %v, %d points", x.want, x.want.Fatal(), p.Err(), len(c.Points()))
			}
			if p[0].Text == "" || p[0].Kind.String() == "" {
				t.Error("a problem without words")
			}
		})
	}
}

func TestAllProblemsAtOnce(t *testing.T) {
	_, p := NewCurve([]Point{{0, 20}, {1, -1}, {2, math.NaN()}})
	if !p.Has(NegativeHead) || !p.Has(NotFinite) || p.Has(NegativeFlow) {
		t.Errorf("problems %v: want the negative head and the number that is none", p)
	}
	if got := p.Err().Error(); got != p[0].Text+"; "+p[1].Text {
		t.Errorf("error %q", got)
	}
}

func TestTwoPointsAreAParabola(t *testing.T) {
	c := mustCurve(t, []Point{{0, 40}, {0.02, 30}})
	near(t, "head half way", c.Head(0.01).SI, 37.5, 1e-14) // 40 - 10/4
	near(t, "slope half way", c.Slope(0.01).SI, -500, 1e-12)
	late := mustCurve(t, []Point{{0.01, 37.5}, {0.02, 30}})
	near(t, "shut-off of the same parabola", late.ShutOffM(), 40, 1e-14)
}

// drawCurve draws a usable curve: falling, with droop or with a hump.
func drawCurve(t *rapid.T) (Curve, []Point) {
	n := rapid.IntRange(2, 8).Draw(t, "points")
	points := make([]Point, n)
	q := rapid.Float64Range(0, 0.05).Draw(t, "first flow")
	h := rapid.Float64Range(5, 100).Draw(t, "head")
	rise := rapid.IntRange(0, 2*n).Draw(t, "rising step")
	for i := range points {
		if i > 0 {
			q += rapid.Float64Range(1e-3, 0.1).Draw(t, "step")
			part := rapid.Float64Range(0.01, 0.6).Draw(t, "fall")
			if i == rise && i < n-1 {
				part = -part / 3
			}
			h -= part * h
		}
		points[i] = Point{q, h}
	}
	c, p := NewCurve(points)
	if p.Err() != nil {
		t.Fatal(p)
	}
	return c, points
}

func TestInterpolationKeepsTheShape(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, points := drawCurve(t)
		i := rapid.IntRange(0, len(points)-2).Draw(t, "interval")
		part := rapid.Float64Range(0, 1).Draw(t, "part")
		a, b := points[i], points[i+1]
		r := c.Head(a.FlowM3S + part*(b.FlowM3S-a.FlowM3S))
		low, high := math.Min(a.HeadM, b.HeadM), math.Max(a.HeadM, b.HeadM)
		if r.Condition != OnCurve || r.SI < low-1e-9 || r.SI > high+1e-9 {
			t.Fatalf("between %v and %v the curve reads %v", a, b, r)
		}
	})
}

func TestCurveIsSmoothAtItsEnds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, _ := drawCurve(t)
		low, high := c.Range()
		for _, end := range []float64{low, high} {
			if end == 0 {
				continue
			}
			d := end * 1e-9
			before, after := c.Head(end-d).SI, c.Head(end+d).SI
			if math.Abs(before-after) > 1e-6*c.ShutOffM()+1e-6 {
				t.Fatalf("the head jumps from %g to %g at %g m3/s", before, after, end)
			}
		}
	})
}

func TestNeverNotANumber(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, _ := drawCurve(t)
		c, err := c.AtSpeed(rapid.Float64Range(0.01, 2).Draw(t, "ratio"))
		if err != nil {
			t.Fatal(err)
		}
		q := rapid.Float64().Draw(t, "flow")
		for _, v := range []float64{c.Head(q).SI, c.Slope(q).SI, c.Source().Head(q)} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("at %g m3/s: %g", q, v)
			}
		}
	})
}

// A first flow next to nothing has no bend that a number can hold.
func TestFirstFlowNextToNothing(t *testing.T) {
	c := mustCurve(t, []Point{{3.5601181736115222e-307, 5}, {0.03, 2}, {0.06, 1}})
	for _, q := range []float64{-1, 0, 1e-308} {
		for _, v := range []float64{c.Head(q).SI, c.Slope(q).SI} {
			if math.IsNaN(v) || math.IsInf(v, 0) || v > 5 {
				t.Errorf("at %g m3/s: %g", q, v)
			}
		}
	}
}

func TestAnyPointsAreAnsweredInWords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		points := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Point {
			return Point{rapid.Float64().Draw(t, "flow"), rapid.Float64().Draw(t, "head")}
		}), 0, 6).Draw(t, "points")
		c, p := NewCurve(points)
		if (p.Err() == nil) != (len(c.Points()) > 0) {
			t.Fatalf("problems %v with %d points", p, len(c.Points()))
		}
		if h := c.ShutOffM(); math.IsNaN(h) || math.IsInf(h, 0) {
			t.Fatalf("shut-off head %g", h)
		}
	})
}

func TestDutyCurve(t *testing.T) {
	duty := Point{0.0284, 18.9} // 450 gpm, 62 ft
	c, p := FromDutyPoint(duty, 4.0/3, 3)
	if p.Err() != nil {
		t.Fatal(p)
	}
	near(t, "head at duty", c.Head(duty.FlowM3S).SI, duty.HeadM, 1e-14)
	near(t, "shut-off", c.ShutOffM(), duty.HeadM*4/3, 1e-14)
	_, end := c.Range()
	// Rossman (2000), from memory: the single-point curve has shut-off 4/3 of the
	// duty head and ends, without head, at twice the duty flow.
	near(t, "end", end, 2*duty.FlowM3S, 1e-14)
	if c.Origin() != FromDuty {
		t.Errorf("origin %v", c.Origin())
	}
	ends, p := FromDutyPoint(duty, 1.25, 1)
	if _, end := ends.Range(); p != nil || end != duty.FlowM3S {
		t.Errorf("a curve that ends at the duty point ends at %g with %v", end, p)
	}
	for _, x := range []struct {
		duty       Point
		ratio, end float64
		want       ProblemKind
	}{
		{duty, 1, 1.4, BadRatio},
		{duty, math.NaN(), 1.4, BadRatio},
		{duty, 6, 1.4, BadRatio},
		{duty, 1.3, 0.9, BadRatio},
		{Point{0, 10}, 1.3, 1.4, OutOfScale},
		{Point{1, -3}, 1.3, 1.4, OutOfScale},
		{Point{math.Inf(1), 3}, 1.3, 1.4, OutOfScale},
	} {
		if _, p := FromDutyPoint(x.duty, x.ratio, x.end); len(p) != 1 || p[0].Kind != x.want {
			t.Errorf("%+v: %v", x, p)
		}
	}
}

func TestShutOffRatioIsListedAsAssumed(t *testing.T) {
	plain := AssumedShutOffRatio(basis.Value{})
	ns := basis.NewGiven("specific speed", quantity.Number, 86, "")
	by := AssumedShutOffRatio(ns)
	for _, v := range []basis.Value{
		plain, by, AssumedEndRatio(), AssumedMotorEfficiency(1e3),
		AssumedMotorEfficiency(15e3), AssumedMotorEfficiency(1e5),
	} {
		if v.Origin != basis.Assumed || v.Reason == "" || v.Source == "" || !(v.Low < v.SI && v.SI < v.High) {
			t.Errorf("%s: %+v", v.Name, v)
		}
	}
	near(t, "half way between 25 and 147", by.SI, (1.288+1.970)/2, 1e-12)
	near(t, "held below", ShutOffRatio(5), 1.288, 0)
	near(t, "held above", ShutOffRatio(500), 2.750, 0)
}
