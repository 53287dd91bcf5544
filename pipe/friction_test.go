package pipe

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// near fails unless got is within a relative tolerance of want.
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%s = %.10g, want %.10g within %g of it", what, got, want, tolerance)
	}
}

// Colebrook 1939, constants 3.7 and 2.51, solved to 50 digits apart from this
// program; laminar values are exact (Hagen-Poiseuille).
func TestFrictionFactor(t *testing.T) {
	for _, c := range []struct {
		re, rough, want float64
		regime          Regime
	}{
		{100, 0, 0.64, Laminar},
		{2000, 1e-3, 0.032, Laminar},
		{4e3, 0, 0.03990701405563, Turbulent},
		{4e3, 5e-2, 0.07698683488922, Turbulent},
		{1e4, 1e-3, 0.03238180636309, Turbulent},
		{1e5, 1e-4, 0.018513866077471648, Turbulent},
		{5e5, 5e-4, 0.01766279526516, Turbulent},
		{1e7, 0, 0.008102669430875, Turbulent},
		{1e8, 0, 0.005940466351637, Turbulent},
		{1e8, 1e-2, 0.03790432338735, FullyRough},
	} {
		got, regime, err := FrictionFactor(c.re, c.rough)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "friction factor", got, c.want, 1e-12)
		if regime != c.regime {
			t.Errorf("Re %g ε/D %g: regime %s, want %s", c.re, c.rough, regime, c.regime)
		}
	}
}

func TestFrictionFactorOutOfRange(t *testing.T) {
	nan := math.NaN()
	for _, c := range [][2]float64{
		{0, 0},
		{-1, 0},
		{1e-310, 0},
		{nan, 0},
		{2e8, 0},
		{math.Inf(1), 1e-3},
		{1e5, -1e-9},
		{1e5, 0.051},
		{1e5, nan},
	} {
		if f, _, err := FrictionFactor(c[0], c[1]); !errors.Is(err, ErrRange) || f != 0 {
			t.Errorf("FrictionFactor(%g, %g) = %g, %v; want an error of range", c[0], c[1], f, err)
		}
	}
	for _, r := range []float64{0, -1, nan, 0.06} {
		if f, err := RoughPipeFactor(r); !errors.Is(err, ErrRange) || f != 0 {
			t.Errorf("RoughPipeFactor(%g) = %g, %v; want an error of range", r, f, err)
		}
	}
}

// The residual of Colebrook-White at the answer is a few units of the last digit.
func TestColebrookIsSolved(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		re := math.Pow(10, rapid.Float64Range(math.Log10(4000), 8).Draw(t, "log Re"))
		rough := rapid.Float64Range(0, 0.049).Draw(t, "relative roughness")
		x := 1 / math.Sqrt(colebrook(re, rough))
		right := -2 * math.Log10(rough/3.7+2.51*x/re)
		if math.Abs(x-right) > 1e-13*x {
			t.Errorf("1/√f = %.17g, right side %.17g", x, right)
		}
	})
}

func TestFrictionFactorProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		re := math.Pow(10, rapid.Float64Range(math.Log10(TurbulentFromRe), 7.9).Draw(t, "log Re"))
		rough := rapid.Float64Range(0, 0.049).Draw(t, "relative roughness")
		f := factor(t, re, rough)
		if faster := factor(t, re*1.05, rough); faster >= f {
			t.Errorf("f must fall with Re: %g then %g", f, faster)
		}
		if rougher := factor(t, re, rough+0.001); rougher <= f {
			t.Errorf("f must rise with roughness: %g then %g", f, rougher)
		}
		if rough > 0 {
			limit, err := RoughPipeFactor(rough)
			if err != nil {
				t.Fatal(err)
			}
			if f < limit {
				t.Errorf("f = %g below its rough limit %g", f, limit)
			}
		}
	})
}

func factor(t *rapid.T, re, rough float64) float64 {
	f, _, err := FrictionFactor(re, rough)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// The factor has no jump where the regime changes.
func TestFrictionFactorContinuous(t *testing.T) {
	for _, rough := range []float64{0, 1e-4, 0.05} {
		for _, edge := range []float64{LaminarEndRe, TurbulentFromRe} {
			below, low, err := FrictionFactor(edge*(1-1e-9), rough)
			if err != nil {
				t.Fatal(err)
			}
			above, high, err := FrictionFactor(edge*(1+1e-9), rough)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "factor across the edge", above, below, 1e-8)
			if low == high {
				t.Errorf("at Re %g the regime %s does not change", edge, low)
			}
		}
	}
}

func BenchmarkFrictionFactor(b *testing.B) {
	for b.Loop() {
		if _, _, err := FrictionFactor(2.3e5, 4e-4); err != nil {
			b.Fatal(err)
		}
	}
}
