package draw

import (
	"math"
	"slices"
	"sort"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// form is how a surface is fitted.
type form struct {
	squares bool    // squared terms too
	cross   []int   // inputs whose products are terms
	log     bool    // the logarithm of the response is fitted
	ridge   float64 // how strongly the terms are held to zero, against one run
}

// surface is a response surface with what it leaves over.
type surface struct {
	form
	floor    float64   // response below which the logarithm says nothing
	terms    []float64 // the first is the mean
	scatter  float64   // mean square of the leave-one-out residuals, in the response
	fitted   []float64 // leave-one-out values on the fitted scale, rising
	residual []float64 // of each fitted value
}

// bestSurface has the form with the least leave-one-out error.
func bestSurface(z [][]float64, y []float64) *surface {
	var best *surface
	strong := strongest(z, y)
	for _, log := range []bool{false, true} {
		for _, f := range []form{{}, {squares: true}, {squares: true, cross: strong}} {
			for _, f.ridge = range []float64{0.1, 0.5, 2, 8, 32} {
				f.log = log
				if s := fitSurface(z, y, f); best == nil || s.scatter < best.scatter {
					best = s
				}
			}
		}
	}
	return best
}

// strongest are the few inputs that go most with the response.
func strongest(z [][]float64, y []float64) []int {
	if len(z) == 0 {
		return nil
	}
	mean := floats.Sum(y) / float64(len(y))
	with := make([]float64, len(z[0]))
	order := make([]int, len(with))
	for k := range with {
		order[k] = k
		for i := range z {
			with[k] += z[i][k] * (y[i] - mean)
		}
	}
	sort.SliceStable(order, func(a, b int) bool { return math.Abs(with[order[a]]) > math.Abs(with[order[b]]) })
	return order[:min(4, len(order))]
}

// fitSurface is ridge regression; the mean is not held to zero.
func fitSurface(z [][]float64, y []float64, f form) *surface {
	s := &surface{form: f}
	for _, v := range y {
		s.floor = max(s.floor, v)
	}
	s.floor *= 1e-3
	n := len(y)
	if n == 0 {
		return s
	}
	columns := len(f.features(z[0]))
	x, t := mat.NewDense(n, columns, nil), mat.NewVecDense(n, nil)
	for i := range z {
		x.SetRow(i, f.features(z[i]))
		t.SetVec(i, s.to(y[i]))
	}
	var normal mat.SymDense
	normal.SymOuterK(1, x.T())
	for k := 1; k < columns; k++ {
		normal.SetSym(k, k, normal.At(k, k)+f.ridge)
	}
	var chol mat.Cholesky
	if !chol.Factorize(&normal) {
		return s
	}
	var right, terms mat.VecDense
	right.MulVec(x.T(), t)
	if err := chol.SolveVecTo(&terms, &right); err != nil && terms.Len() == 0 {
		return s
	}
	s.terms = slices.Clone(terms.RawVector().Data)
	if !s.log {
		s.belowZero(x, t, y, &chol)
	}
	s.leaveOneOut(x, t, &chol)
	return s
}

// belowZero lets the surface go below zero where the response is zero: a valve that shuts
// in time has no reverse velocity, however much in time it shuts.
func (s *surface) belowZero(x *mat.Dense, t *mat.VecDense, y []float64, chol *mat.Cholesky) {
	if floats.Min(y) > 0 {
		return
	}
	for range 30 {
		var value, right, terms mat.VecDense
		value.MulVec(x, mat.NewVecDense(len(s.terms), s.terms))
		for i, v := range y {
			if v == 0 {
				t.SetVec(i, min(value.AtVec(i), 0))
			}
		}
		right.MulVec(x.T(), t)
		_ = chol.SolveVecTo(&terms, &right)
		s.terms = slices.Clone(terms.RawVector().Data)
	}
}

// leaveOneOut works out each run's value from all others.
func (s *surface) leaveOneOut(x *mat.Dense, t *mat.VecDense, chol *mat.Cholesky) {
	n, _ := x.Dims()
	type pair struct{ fitted, residual float64 }
	pairs := make([]pair, n)
	for i := range n {
		row := x.RowView(i)
		var solved mat.VecDense
		_ = chol.SolveVecTo(&solved, row)
		hat := min(mat.Dot(row, &solved), 0.99)
		value := mat.Dot(row, mat.NewVecDense(len(s.terms), s.terms))
		r := (t.AtVec(i) - value) / (1 - hat)
		pairs[i] = pair{t.AtVec(i) - r, r}
		d := s.from(t.AtVec(i)) - s.from(t.AtVec(i)-r)
		s.scatter += d * d / float64(n)
	}
	sort.SliceStable(pairs, func(a, b int) bool { return pairs[a].fitted < pairs[b].fitted })
	for _, p := range pairs {
		s.fitted, s.residual = append(s.fitted, p.fitted), append(s.residual, p.residual)
	}
}

// features are the terms of a draw: 1, z, and z squared less its mean.
func (f form) features(z []float64) []float64 {
	out := append([]float64{1}, z...)
	if f.squares {
		for _, v := range z {
			out = append(out, (v*v-1)/math.Sqrt2)
		}
	}
	for a, k := range f.cross {
		for _, m := range f.cross[:a] {
			out = append(out, z[k]*z[m])
		}
	}
	return out
}

func (s *surface) to(y float64) float64 {
	if s.log {
		return math.Log(max(y, s.floor) + s.floor)
	}
	return y
}

func (s *surface) from(t float64) float64 {
	if s.log {
		return max(math.Exp(t)-s.floor, 0)
	}
	return max(t, 0)
}

// scattered is the response of draw i on the surface, with the residual of one of the
// runs whose value is near.
func (s *surface) scattered(z []float64, i int) float64 {
	if len(s.fitted) == 0 {
		return math.NaN()
	}
	t := 0.0
	for k, v := range s.features(z) {
		t += s.terms[k] * v
	}
	n := len(s.fitted)
	window := min(n, max(8, n/4))
	first := sort.SearchFloat64s(s.fitted, t) - window/2
	first = min(max(first, 0), n-window)
	pick := first + int(mix(uint64(i))%uint64(window))
	return s.from(t + s.residual[pick])
}

// shares are the first-order parts of the variance of each axis, on the fitted scale:
// the deviates are standard normal, so the squares of the terms are variances.
func (s *surface) shares(axes int) []float64 {
	out := make([]float64, axes)
	if len(s.terms) == 0 {
		return out
	}
	total := 0.0
	for _, r := range s.residual {
		total += r * r / float64(len(s.residual))
	}
	for k, v := range s.terms[1:] {
		if k < axes || s.squares && k < 2*axes {
			out[k%axes] += v * v
		}
		total += v * v
	}
	for k := range out {
		if total > 0 {
			out[k] /= total
		}
	}
	return out
}
