package calibrate

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"seatward/internal/lsq"
	"seatward/internal/pool"
	"seatward/plant"
)

// ways are the directions in which slopes are found at the end of a fit: the axes of what is known,
// each over the width to which it is. A run moves in small jumps as its numbers are turned, by which
// step the valve seats; number by number these jumps hide the floor of the valleys, in which several
// numbers go together.
type ways struct {
	dir  *mat.Dense // a column for each
	wide []float64
}

// widely is over how many standard deviations to each side slopes are found along the ways.
const widely = 2.0

// waysOf takes the axes of what is known after a fit; nil where nothing follows from it.
func (f *fitter) waysOf(a *lsq.Answer) *ways {
	c := a.Covariance()
	var e mat.EigenSym
	if c == nil || !e.Factorize(c, true) {
		return nil
	}
	n := f.numbers()
	w := &ways{dir: mat.NewDense(n, n, nil), wide: make([]float64, n)}
	e.VectorsTo(w.dir)
	for k, v := range e.Values(nil) {
		later := 0.0
		for c := range n {
			later += f.laterBy(c) * w.dir.At(c, k)
		}
		w.wide[k] = widely * math.Sqrt(math.Max(0, v))
		if later != 0 { // the seating moves by several steps of the run
			w.wide[k] = math.Max(w.wide[k], near*f.stops[0].reach()/math.Abs(later))
		}
		w.wide[k] = math.Min(1, w.wide[k])
	}
	return w
}

// laterBy is by how many s a number moves the seatings against the log, for a turn of one.
func (f *fitter) laterBy(c int) float64 {
	if c >= len(f.knobs) && f.which(c) == timeAt {
		return f.stops[(c-len(f.knobs))/ownNumbers].AtErrS
	}
	return f.later[c]
}

// place is what is seen with some numbers.
type place struct {
	x, misfit []float64
	runs      []*plant.Traced // nil where there is none
}

// slopesAlong are the slopes by the runs to both sides in each of the ways.
func (f *fitter) slopesAlong(x, base []float64) ([][]float64, error) {
	n := f.numbers()
	sides, errs := make([]place, 2*n), make([]error, 2*n)
	pool.Each(len(sides), func(i int) {
		k, h := i/2, f.along.wide[i/2]
		if i%2 == 1 {
			h = -h
		}
		y := slices.Clone(x)
		for c := range y {
			y[c] += h * f.along.dir.At(c, k)
		}
		runs, err := f.traces(y, -1, false)
		if err != nil {
			errs[i] = err
			return
		}
		sides[i] = place{y, f.misfit(y, runs), runs}
	})
	f.count(len(sides))
	if f.ctx.Err() != nil {
		return nil, f.ctx.Err()
	}
	here := place{x: x, misfit: base}
	columns := make([][]float64, n)
	f.reverse = make([][]float64, n)
	for c := range n {
		columns[c], f.reverse[c] = make([]float64, len(base)), make([]float64, len(f.stops))
	}
	for _, s := range f.stops {
		here.runs, s.bentMS = append(here.runs, s.base), 0
	}
	for k := range n {
		to, from, span := sides[2*k], sides[2*k+1], 2*f.along.wide[k]
		switch {
		case to.runs == nil && from.runs == nil:
			return nil, errors.Join(errs[2*k], errs[2*k+1])
		case to.runs == nil:
			to, span = here, span/2
		case from.runs == nil:
			from, span = here, span/2
		}
		f.addSlope(columns, k, [3]place{from, here, to}, span)
	}
	return columns, nil
}

// addSlope adds what two places so far apart in a way tell.
func (f *fitter) addSlope(columns [][]float64, way int, at [3]place, span float64) {
	for c, col := range columns {
		part := f.along.dir.At(c, way) / span
		for j := range col {
			col[j] += part * (at[2].misfit[j] - at[0].misfit[j])
		}
	}
	for i, s := range f.stops {
		var v [3]float64
		for k, p := range at {
			v[k] = s.seating(p.runs[i], p.x[f.own(i, timeAt)]).ReverseMS
		}
		for c := range columns {
			f.reverse[c][i] += f.along.dir.At(c, way) / span * (v[2] - v[0])
		}
		bent := (v[0]+v[2])/2 - v[1] // of values that scatter alike: 3/2 of their variance
		s.bentMS = math.Sqrt(s.bentMS*s.bentMS + bent*bent/1.5/float64(len(columns)))
	}
}

// polished goes on from a fit along the ways.
func (f *fitter) polished(a *lsq.Answer) (*lsq.Answer, error) {
	defer func() { f.along = nil }()
	for range polishings {
		if f.along = f.waysOf(a); f.along == nil {
			return a, nil
		}
		for i, s := range f.stops { // no number moves much any more
			s.untilS = s.times[len(s.times)-1] - a.X[f.own(i, timeAt)]*s.AtErrS + behindAllS
		}
		if err := f.rescale(a.X); err != nil {
			return nil, err
		}
		var err error
		if a, err = f.solve(a.X, finest, fineEnough); err != nil {
			return nil, err
		}
	}
	return a, f.rescale(a.X)
}

const (
	polishings = 2
	behindAllS = 0.2
)
