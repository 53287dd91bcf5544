package lsq

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// decay is y = x0 exp(-x1 t) at t = 0.1 i, against readings with an error of sd.
func decay(y []float64, sd float64) Problem {
	free := math.Inf(1)
	p := Problem{
		Start: []float64{1, 0.1}, Low: []float64{-free, -free}, High: []float64{free, free}, Prior: []float64{0, 0},
	}
	p.Residuals = func(x []float64) ([]float64, error) {
		r := make([]float64, len(y))
		for i := range y {
			r[i] = (x[0]*math.Exp(-x[1]*0.1*float64(i)) - y[i]) / sd
		}
		return r, nil
	}
	p.Slopes = func(x, _ []float64) (*mat.Dense, error) {
		m := mat.NewDense(len(y), 2, nil)
		for i := range y {
			t := 0.1 * float64(i)
			e := math.Exp(-x[1] * t)
			m.SetRow(i, []float64{e / sd, -x[0] * t * e / sd})
		}
		return m, nil
	}
	return p
}

func readings(a, b, noise float64, r *rand.Rand) []float64 {
	y := make([]float64, 60)
	for i := range y {
		y[i] = a*math.Exp(-b*0.1*float64(i)) + noise*r.NormFloat64()
	}
	return y
}

// TestSolve: without noise the numbers come back, from far away.
func TestSolve(t *testing.T) {
	a, err := Solve(context.Background(), decay(readings(5, 1.3, 0, rand.New(rand.NewPCG(1, 1))), 1))
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(a.X[0]-5) > 1e-6 || math.Abs(a.X[1]-1.3) > 1e-6 || !a.Settled {
		t.Errorf("found %v in %d rounds, settled %v; they are 5 and 1.3", a.X, a.Rounds, a.Settled)
	}
}

// TestCovariance: of 400 fits to noisy readings the scatter is that which each states.
func TestCovariance(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	const n, sd = 400, 0.05
	var inside [2]int
	for range n {
		a, err := Solve(context.Background(), decay(readings(5, 1.3, sd, r), sd))
		if err != nil {
			t.Fatal(err)
		}
		c := a.Covariance()
		for k, want := range []float64{5, 1.3} {
			if math.Abs(a.X[k]-want) < 1.96*math.Sqrt(c.At(k, k)) {
				inside[k]++
			}
		}
	}
	for k, m := range inside { // 380 of 400, standard deviation 4.4
		if m < 366 || m > 394 {
			t.Errorf("number %d lies within its 95 %% interval %d times of %d", k, m, n)
		}
	}
}

// TestPriorAndBounds: what the readings do not tell stays at its prior; bounds hold.
func TestPriorAndBounds(t *testing.T) {
	p := decay(make([]float64, 60), 1e6) // readings that tell nothing
	p.Prior = []float64{1, 4}
	a, err := Solve(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	c := a.Covariance()
	if math.Abs(a.X[0]) > 1e-3 || math.Abs(c.At(0, 0)-1) > 1e-6 || math.Abs(c.At(1, 1)-0.25) > 1e-6 {
		t.Errorf("x %v, variances %g and %g; the prior has 0, 1 and 0.25", a.X, c.At(0, 0), c.At(1, 1))
	}
	p = decay(readings(5, 1.3, 0, rand.New(rand.NewPCG(1, 1))), 1)
	p.High[0] = 4
	if a, err = Solve(context.Background(), p); err != nil || a.X[0] != 4 || a.X[1] > 1.3 || a.X[1] < 0.8 {
		t.Errorf("under the bound of 4: %v, %v", a, err)
	}
}

func TestSolveFaults(t *testing.T) {
	p := decay(make([]float64, 60), 1)
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := Solve(ctx, p); !errors.Is(err, context.Canceled) {
		t.Errorf("canceled: %v", err)
	}
	p.Residuals = func([]float64) ([]float64, error) { return nil, errors.New("no") }
	if _, err := Solve(context.Background(), p); !errors.Is(err, ErrStart) {
		t.Errorf("no start: %v", err)
	}
}
