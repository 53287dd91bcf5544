// Package lsq solves nonlinear least squares with a prior, by Levenberg and Marquardt. It knows
// nothing of what it fits: numbers in, residuals out.
package lsq

import (
	"context"
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// Problem is a sum of squares to be made small: of the residuals, and of each number over the
// standard deviation that is thought of it before, about zero.
type Problem struct {
	Start     []float64
	Low, High []float64 // bounds
	Prior     []float64 // one over the variance of each number before; 0 for nothing known

	// Residuals gives the residuals at x; an error means that x cannot be.
	Residuals func(x []float64) ([]float64, error)
	// Slopes gives their derivatives, a column for each number.
	Slopes func(x, residuals []float64) (*mat.Dense, error)

	Most int     // rounds; 0: 30
	Near float64 // share of the sum by which a round must better it to go on; 0: 1e-4
}

// Answer is where the sum is least.
type Answer struct {
	X, Residuals []float64
	Slopes       *mat.Dense
	Sum          float64
	Rounds       int
	Settled      bool // no round was left that would better it

	prior []float64
}

// ErrStart is an answer that cannot begin.
var ErrStart = errors.New("lsq: the start cannot be")

const (
	usualRounds = 30
	usualNear   = 1e-4
	firstDamp   = 1e-2
	mostDamp    = 1e4
)

// Solve goes downhill from the start. The errors are ErrStart, with its cause, those of Slopes,
// and the context's.
func Solve(ctx context.Context, p Problem) (*Answer, error) {
	if p.Most == 0 {
		p.Most = usualRounds
	}
	if p.Near == 0 {
		p.Near = usualNear
	}
	a := &Answer{X: slices.Clone(p.Start), prior: p.Prior}
	p.hold(a.X)
	r, err := p.Residuals(a.X)
	if err != nil {
		return nil, errors.Join(ErrStart, err)
	}
	a.Residuals, a.Sum = r, p.sum(a.X, r)
	damp := firstDamp
	for a.Rounds < p.Most && !a.Settled {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if a.Slopes, err = p.Slopes(a.X, a.Residuals); err != nil {
			return nil, err
		}
		a.Rounds++
		if damp, err = p.round(ctx, a, damp); err != nil {
			return nil, err
		}
	}
	if !a.Settled { // the slopes are those of the last but one place
		a.Slopes, err = p.Slopes(a.X, a.Residuals)
	}
	return a, err
}

// round tries ever shorter steps until one betters the sum, and gives the damping for the next.
func (p *Problem) round(ctx context.Context, a *Answer, damp float64) (float64, error) {
	for ; damp < mostDamp; damp *= 10 {
		x, ok := p.step(a, damp)
		if !ok {
			continue
		}
		r, err := p.Residuals(x)
		if ctx.Err() != nil {
			return 0, ctx.Err()
		}
		if err != nil {
			continue
		}
		if s := p.sum(x, r); s < a.Sum {
			a.Settled = a.Sum-s < p.Near*a.Sum
			a.X, a.Residuals, a.Sum = x, r, s
			return math.Max(damp/5, 1e-9), nil
		}
	}
	a.Settled = true
	return damp, nil
}

// step is the next place for a damping.
func (p *Problem) step(a *Answer, damp float64) ([]float64, bool) {
	normal, slope := normal(a.Slopes, a.Residuals, a.X, p.Prior)
	n := len(a.X)
	free := make([]bool, n)
	for i := range n { // what stands at a bound and would leave it stays
		g := slope.AtVec(i)
		free[i] = !(a.X[i] <= p.Low[i] && g > 0 || a.X[i] >= p.High[i] && g < 0)
	}
	damped := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			if v := normal.At(i, j); free[i] && free[j] {
				damped.SetSym(i, j, v)
			}
		}
		d := damped.At(i, i)
		if d == 0 {
			d = 1
		}
		damped.SetSym(i, i, d*(1+damp))
		if !free[i] {
			slope.SetVec(i, 0)
		}
	}
	var c mat.Cholesky
	if !c.Factorize(damped) {
		return nil, false
	}
	var s mat.VecDense
	if err := c.SolveVecTo(&s, slope); err != nil {
		return nil, false
	}
	x := make([]float64, n)
	for i := range x {
		x[i] = a.X[i] - s.AtVec(i)
	}
	p.hold(x)
	return x, true
}

// normal are the normal equations: the matrix, and the slope of half the sum.
func normal(slopes *mat.Dense, r, x, prior []float64) (*mat.SymDense, *mat.VecDense) {
	n := len(x)
	m := mat.NewSymDense(n, nil)
	m.SymOuterK(1, slopes.T())
	g := mat.NewVecDense(n, nil)
	g.MulVec(slopes.T(), mat.NewVecDense(len(r), r))
	for i := range n {
		m.SetSym(i, i, m.At(i, i)+prior[i])
		g.SetVec(i, g.AtVec(i)+prior[i]*x[i])
	}
	return m, g
}

// hold keeps x within its bounds.
func (p *Problem) hold(x []float64) {
	for i := range x {
		x[i] = math.Max(p.Low[i], math.Min(p.High[i], x[i]))
	}
}

func (p *Problem) sum(x, r []float64) float64 {
	s := 0.0
	for _, v := range r {
		s += v * v
	}
	for i, v := range x {
		s += p.Prior[i] * v * v
	}
	if math.IsNaN(s) {
		return math.Inf(1)
	}
	return s
}

// Covariance is that of the numbers after, where the residuals are in units of their standard
// deviation: the inverse of the normal matrix. Nil where the numbers do not follow from what is
// known.
func (a *Answer) Covariance() *mat.SymDense {
	m, _ := normal(a.Slopes, a.Residuals, a.X, a.prior)
	var c mat.Cholesky
	if !c.Factorize(m) {
		return nil
	}
	var out mat.SymDense
	if err := c.InverseTo(&out); err != nil {
		return nil
	}
	return &out
}

// Spread is the standard deviation of a sum of the numbers, each times its weight.
func Spread(c mat.Symmetric, weights []float64) float64 {
	v := mat.NewVecDense(len(weights), weights)
	return math.Sqrt(math.Max(0, mat.Inner(v, c, v)))
}
