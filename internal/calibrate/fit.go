package calibrate

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"seatward/internal/lsq"
	"seatward/plant"
)

// Faults of a fit, beside those of the context.
var (
	ErrNoStop  = errors.New("the log shows no stop with enough readings before and behind it")
	ErrNoRun   = errors.New("the station cannot be run")
	ErrUnknown = errors.New("nothing of the station or of the valve is uncertain: there is nothing to fit")
)

// Options say who looks on.
type Options struct {
	Progress func(runs int)
}

// Of fits the model to the stops, all at once: the numbers of station and valve are common to
// them. The errors are those above, those of the valve, and the context's.
func Of(ctx context.Context, m *Model, stops []Stop, opt Options) (*Fit, error) {
	if len(stops) == 0 {
		return nil, ErrNoStop
	}
	p, err := plant.New(m.Station)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrNoRun, err)
	}
	all, err := p.Knobs(m.Item)
	if err != nil {
		return nil, err
	}
	if len(all) == 0 {
		return nil, ErrUnknown
	}
	f := &fitter{ctx: ctx, model: m, plant: p, done: opt.Progress}
	for i := range stops {
		f.stops = append(f.stops, &fitted{Stop: &stops[i]})
	}
	var gas *plant.Knob
	for _, k := range all {
		if k.Name == gasKnob { // taken in only where the trace asks for it
			gas = &k
			continue
		}
		f.knobs = append(f.knobs, k)
	}
	starts, err := f.begin()
	if err != nil {
		return nil, err
	}
	best, err := f.found(starts, gas)
	if err != nil {
		return nil, err
	}
	return f.answer(best)
}

// How finely runs and readings are laid on one another, stage after stage, as shares of the time
// to the closing: a steep front is found only from nearby.
var stages = []stage{
	{true, 0.4, 0.006, 1.5, 0.03, 5},
	{true, 1, 0.006, 2, 0.03, 5},
	{false, 0, 0.02, 3, 0.03, 6},
	{false, 0, 0.006, 2, 0.02, 5},
	{false, 0, 0, leastBlur, 0.005, 3},
}

const (
	wholeFrom   = 2   // the first stage of all readings
	leastBlur   = 1.5 // steps of the logger
	finest      = 4   // rounds at the end
	roughEnough = 0.03
	fineEnough  = 3e-4
)

// stage is one fineness.
type stage struct {
	rough        bool    // the numbers of the valve are held
	fall         float64 // share of the fall that is looked at; 0: all readings
	share, reads float64 // of the blur: of the time to the closing, in steps of the logger
	scale        float64 // of the range of the readings
	most         int     // rounds
}

// look takes the readings that are used with the numbers x.
func (f *fitter) look(x []float64) error {
	if _, err := f.rebase(x); err != nil {
		return err
	}
	for i, s := range f.stops {
		if err := s.window(s.base, x[f.own(i, timeAt)]); err != nil {
			return fmt.Errorf("%w: %w", ErrNoStop, err)
		}
	}
	return nil
}

// stage fits at one fineness.
func (f *fitter) stage(x []float64, st stage) (*lsq.Answer, error) {
	f.rough = st.rough
	for _, s := range f.stops {
		s.blur = math.Max(math.Max(st.reads*s.stepS, ringTimes*s.base.BranchS), st.share*s.lasts())
		s.scale = math.Max(s.NoiseM, st.scale*s.rangeM())
		if s.toS = math.Inf(1); st.fall > 0 {
			s.toS = s.endOfFall(st.fall)
		}
	}
	return f.solve(x, st.most, roughEnough)
}

// rangeM is the range of the readings.
func (s *fitted) rangeM() float64 { return slices.Max(s.HeadM) - slices.Min(s.HeadM) }

// descend goes from rough to fine, from a stage on.
func (f *fitter) descend(x []float64, from int) (*lsq.Answer, error) {
	if err := f.look(x); err != nil {
		return nil, err
	}
	for _, st := range stages[from:] {
		a, err := f.stage(x, st)
		if err != nil {
			return nil, err
		}
		x = a.X
	}
	if err := f.rescale(x); err != nil {
		return nil, err
	}
	a, err := f.solve(x, finest, fineEnough)
	if err != nil {
		return nil, err
	}
	return f.polished(a)
}

// solve fits at the smoothing and scale that are set.
func (f *fitter) solve(x []float64, most int, near float64) (*lsq.Answer, error) {
	n := f.numbers()
	p := lsq.Problem{Start: x, Most: most, Near: near}
	p.Low, p.High, p.Prior = make([]float64, n), make([]float64, n), make([]float64, n)
	for c := range n {
		p.Prior[c], p.Low[c], p.High[c] = 1, -farthest, farthest
		if c < len(f.knobs) {
			p.Low[c], p.High[c] = f.ends(c)
		}
	}
	var tried []float64
	var runs []*plant.Traced
	p.Residuals = func(x []float64) ([]float64, error) {
		next, err := f.traces(x, -1, false)
		f.count(1)
		if err != nil {
			return nil, err
		}
		tried, runs = slices.Clone(x), next
		return f.misfit(x, next), nil
	}
	p.Slopes = func(x, r []float64) (*mat.Dense, error) {
		if !slices.Equal(tried, x) {
			if _, err := f.rebase(x); err != nil {
				return nil, err
			}
		} else {
			for i, s := range f.stops {
				s.base = runs[i]
			}
		}
		columns, err := f.slopes(x, r)
		if err != nil {
			return nil, err
		}
		m := mat.NewDense(len(r), n, nil)
		for c, col := range columns {
			m.SetCol(c, col)
		}
		return m, nil
	}
	return lsq.Solve(f.ctx, p)
}

// ends are how far a knob can be turned: not where it stops to answer.
func (f *fitter) ends(c int) (low, high float64) {
	k := &f.knobs[c]
	low, high = -farthest, farthest
	for low < 0 && k.At(low) == k.At(low+0.1) {
		low += 0.1
	}
	for high > 0 && k.At(high) == k.At(high-0.1) {
		high -= 0.1
	}
	return math.Min(0, low), math.Max(0, high)
}

// rebase runs the stops with the numbers and keeps them as those beside which slopes are found.
func (f *fitter) rebase(x []float64) ([]float64, error) {
	runs, err := f.traces(x, -1, false)
	f.count(1)
	if err != nil {
		return nil, err
	}
	for i, s := range f.stops {
		s.base = runs[i]
	}
	return f.misfit(x, runs), nil
}
