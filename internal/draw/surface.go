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
	floor    float64   // added to the response under the logarithm
	terms    []float64 // the first is the mean
	fitted   []float64 // leave-one-out values on the fitted scale, rising
	residual []float64 // of each fitted value
}

// bestForm has the least leave-one-out error.
func bestForm(z [][]float64, y []float64) form {
	var best form
	least := math.Inf(1)
	for _, f := range []form{{}, {squares: true}, {squares: true, cross: strongest(z, y)}} {
		x := f.matrix(z)
		for _, f.log = range []bool{false, true} {
			for _, f.ridge = range []float64{0.3, 2, 12} {
				if miss := fitSurface(x, y, f).miss(); miss < least {
					least, best = miss, f
				}
			}
		}
	}
	return best
}

// strongest are the few inputs that go most with the response.
func strongest(z [][]float64, y []float64) []int {
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

// matrix has the terms of each draw in a row: 1, z, z squared less its mean, and products;
// of each the mean square over all draws is 1.
func (f form) matrix(z [][]float64) *mat.Dense {
	var rows []float64
	for _, row := range z {
		rows = append(rows, 1)
		rows = append(rows, row...)
		if f.squares {
			for _, v := range row {
				rows = append(rows, (v*v-1)/math.Sqrt2)
			}
		}
		for a, k := range f.cross {
			for _, m := range f.cross[:a] {
				rows = append(rows, row[k]*row[m])
			}
		}
	}
	return mat.NewDense(len(z), len(rows)/len(z), rows)
}

// fitSurface is ridge regression; the mean is not held to zero.
func fitSurface(x *mat.Dense, y []float64, f form) *surface {
	s := &surface{form: f, floor: 1e-3 * floats.Max(y)}
	t := make([]float64, len(y))
	for i, v := range y {
		t[i] = s.to(v)
	}
	_, columns := x.Dims()
	var normal, inverse mat.SymDense
	normal.SymOuterK(1, x.T())
	for k := 1; k < columns; k++ {
		normal.SetSym(k, k, normal.At(k, k)+f.ridge)
	}
	var chol mat.Cholesky
	// With a ridge above zero and at least one run the matrix is positive definite.
	if !chol.Factorize(&normal) || chol.InverseTo(&inverse) != nil && inverse.IsEmpty() {
		s.terms = make([]float64, columns)
		s.terms[0] = floats.Sum(t) / float64(len(t))
		s.leaveOneOut(x, t, make([]float64, len(t)))
		return s
	}
	var weights mat.Dense // what each run's value adds to each term
	weights.Mul(&inverse, x.T())
	s.solve(&weights, t)
	if !s.log {
		s.belowZero(x, &weights, t, y)
	}
	hat := make([]float64, len(y))
	for i := range hat {
		hat[i] = mat.Dot(x.RowView(i), weights.ColView(i))
	}
	s.leaveOneOut(x, t, hat)
	return s
}

func (s *surface) solve(weights *mat.Dense, t []float64) {
	var terms mat.VecDense
	terms.MulVec(weights, mat.NewVecDense(len(t), t))
	s.terms = terms.RawVector().Data
}

// values are those of the surface on the fitted scale.
func (s *surface) values(x *mat.Dense) []float64 {
	var v mat.VecDense
	v.MulVec(x, mat.NewVecDense(len(s.terms), s.terms))
	return v.RawVector().Data
}

// belowZero lets the surface go below zero where the response is zero: a valve that shuts
// in time has no reverse velocity, however much in time it shuts.
func (s *surface) belowZero(x, weights *mat.Dense, t, y []float64) {
	if floats.Min(y) > 0 || floats.Max(y) == 0 {
		return
	}
	for range 30 {
		value := s.values(x)
		for i, v := range y {
			if v == 0 {
				t[i] = min(value[i], 0)
			}
		}
		s.solve(weights, t)
	}
}

// leaveOneOut works out each run's value from all others; hat is each run's part in its own
// value.
func (s *surface) leaveOneOut(x *mat.Dense, t, hat []float64) {
	residual, order := s.values(x), make([]int, len(t))
	for i, v := range residual {
		residual[i], order[i] = (t[i]-v)/(1-min(hat[i], 0.99)), i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch d := t[a] - residual[a] - t[b] + residual[b]; {
		case d < 0:
			return -1
		case d > 0:
			return 1
		}
		return 0
	})
	for _, i := range order {
		s.fitted, s.residual = append(s.fitted, t[i]-residual[i]), append(s.residual, residual[i])
	}
}

// miss is the mean square of the leave-one-out errors of the response.
func (s *surface) miss() float64 {
	sum := 0.0
	for i, t := range s.fitted {
		d := s.from(t) - s.from(t+s.residual[i])
		sum += d * d / float64(len(s.fitted))
	}
	return sum
}

func (s *surface) to(y float64) float64 {
	if s.log {
		return math.Log(y + s.floor + math.SmallestNonzeroFloat64)
	}
	return y
}

func (s *surface) from(t float64) float64 {
	if s.log {
		return max(math.Exp(t)-s.floor, 0)
	}
	return max(t, 0)
}

// scattered is the response of draw i, t on the surface, with the residual of one of the
// runs whose value is near.
func (s *surface) scattered(t float64, i int) float64 {
	near := s.near(t)
	return s.from(t + near[mix(uint64(i))%uint64(len(near))])
}

// near are the residuals of the runs whose values on the fitted scale are nearest to t.
func (s *surface) near(t float64) []float64 {
	n := len(s.fitted)
	window := min(n, max(8, n/4))
	first := sort.SearchFloat64s(s.fitted, t) - window/2
	first = min(max(first, 0), n-window)
	return s.residual[first : first+window]
}

// again is what the surface makes of the runs themselves, each with all residuals near it.
func (s *surface) again() Distribution {
	var out []float64
	for _, t := range s.fitted {
		for _, r := range s.near(t) {
			out = append(out, s.from(t+r))
		}
	}
	return NewDistribution(out)
}

// Effect is what one input does alone, by a response surface.
type Effect struct {
	Low, High float64 // response with the input at its 5 and 95 % points, all else at its median
	Share     float64 // first-order part of the variance, on the fitted scale
}

// Effects are those of the axes on responses of the draws from 0 on; ok tells which draws
// have one. Nil with fewer than eight of them.
func Effects(s *Sequence, axes []int, response []float64, ok []bool) []Effect {
	r := runs{plan: Plan{Axes: axes}, response: response, ok: ok, z: deviates(s, axes, len(ok))}
	z, y := r.made()
	if len(y) < 8 {
		return nil
	}
	f := bestForm(z, y)
	return fitSurface(f.matrix(z), y, f).effects(len(axes))
}

// effects of each axis; the terms are orthonormal over all draws, so that the squares of
// their factors are variances.
func (s *surface) effects(axes int) []Effect {
	out := make([]Effect, axes)
	total := floats.Dot(s.residual, s.residual)/float64(len(s.residual)) + floats.Dot(s.terms[1:], s.terms[1:])
	z := make([]float64, axes)
	value := func(k int, deviate float64) float64 {
		z[k] = deviate
		y := s.from(s.values(s.matrix([][]float64{z}))[0])
		z[k] = 0
		return y
	}
	for k := range out {
		own := s.terms[1+k] * s.terms[1+k]
		if s.squares {
			own += s.terms[1+axes+k] * s.terms[1+axes+k]
		}
		out[k] = Effect{Low: value(k, Normal(lowShare)), High: value(k, Normal(highShare))}
		if total > 0 {
			out[k].Share = own / total
		}
	}
	return out
}
