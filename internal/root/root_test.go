package root

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestExactAndBounded(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.Float64Range(-10, 10).Draw(t, "zero")
		power := rapid.SampledFrom([]float64{1, 3, 7, 0.2}).Draw(t, "power")
		calls := 0
		f := func(x float64) float64 {
			calls++
			return math.Copysign(math.Pow(math.Abs(x-at), power), x-at)
		}
		got := Find(f, Point{-11, f(-11)}, Point{12, f(12)}, 0)
		if math.Abs(got-at) > 23*0x1p-52 && f(got) != 0 {
			t.Fatalf("found %.17g, the zero is at %.17g", got, at)
		}
		if calls > 60 {
			t.Fatalf("%d calls, bisection needs 56", calls)
		}
	})
}

func TestWithin(t *testing.T) {
	calls := 0
	f := func(x float64) float64 { calls++; return math.Exp(x) - 2 }
	got := Find(f, Point{0, f(0)}, Point{1, f(1)}, 1e-6)
	if math.Abs(got-math.Ln2) > 2e-6 || calls > 9 {
		t.Errorf("found %.9g in %d calls, the zero is at %.9g", got, calls, math.Ln2)
	}
}

// TestJump: where the function has no zero, the nearer side of its jump.
func TestJump(t *testing.T) {
	f := func(x float64) float64 {
		if x < 0.3 {
			return -1
		}
		return 5
	}
	if got := Find(f, Point{0, -1}, Point{1, 5}, 0); math.Abs(got-0.3) > 1e-15 || f(got) != -1 {
		t.Errorf("found %.17g, where it is %g", got, f(got))
	}
}

// TestAround: the bracket is widened to either side, and nothing is found where nothing is.
func TestAround(t *testing.T) {
	for _, at := range []float64{-1e6, -3, 0, 0.25, 7e4} {
		got, ok := Around(func(x float64) float64 { return math.Cbrt(at - x) }, 0.1, 0.5)
		if !ok || math.Abs(got-at) > 1e-9*(1+math.Abs(at)) {
			t.Errorf("found %.12g (%v), the zero is at %g", got, ok, at)
		}
	}
	if x, ok := Around(func(float64) float64 { return 1 }, 0, 1); ok {
		t.Errorf("a zero at %g of a function without one", x)
	}
}
