package draw

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
)

// Plan is what an estimate from few runs needs to know.
type Plan struct {
	Sequence *Sequence
	Axes     []int     // the axes of Sequence that the response depends on
	Limits   []float64 // rising limits between the classes of the response

	// Run makes the draws from (with) to (without) and gives each one's response, at least
	// zero, and whether it has one. It may make them side by side.
	Run func(from, to int) (response []float64, ok []bool)

	// Each does 0 to n-1, perhaps side by side; nil: one after another.
	Each func(n int, do func(i int))

	Stages []int // how many draws are made before each look at the errors; nil: DefaultStages
	Aim    Aim   // zero: DefaultAim
	Plain  bool  // no standard errors are asked: the distribution alone

	// Scattered is how many draws it takes at least to believe a surface that leaves much
	// over; 0: 64.
	Scattered int
}

// Aim is how small the standard errors must be to stop: of the 5, 50 and 95 % points the
// greater of Relative (a share of the median) and Absolute (in the response's unit), and of the chances.
type Aim struct{ Relative, Absolute, Chance float64 }

// FullSample is the size of the sample that an estimate stands for (physics A7.1).
const FullSample = 1024

// DefaultStages end with the full sample: where no surface can stand for the runs, they
// are all made.
func DefaultStages() []int { return []int{16, 32, 64, 128, 256, 512, FullSample} }

// DefaultAim is 0.6 of what must agree with the full sample (10 % or 0.02 m/s, and 0.1:
// physics A7.1), for standard errors are exceeded in one case of three.
func DefaultAim() Aim { return Aim{Relative: 0.06, Absolute: 0.012, Chance: 0.06} }

// Estimate is the distribution of a response as far as the runs tell it.
type Estimate struct {
	Distribution
	Class   []float64 // chance of each class, in the order of the limits
	Effects []Effect  // of each of Plan.Axes alone

	Runs, Failed int  // draws made, and those of them without a response
	Settled      bool // the errors are within the aim, or the sample is full

	plain bool // the surface explains nearly all

	// Standard errors against the full sample.
	LowError, MedianError, HighError float64
	ClassError                       []float64
}

// Adaptive makes draws in stages until the errors are within the aim.
//
// At each stage a response surface (straight and squared terms of each input's normal
// deviate) is fitted to the draws made. It gives the draws of the full sample that
// were not made, each with the leave-one-out residual of a neighbor by response, so that
// what the surface cannot follow stays in the scatter. The errors come from leaving out
// groups of the runs one after another (jackknife), and from how far the surface misses the
// runs. Where it leaves much over, two stages must agree. Draws without a response count in
// Failed and in no distribution.
func Adaptive(p Plan) Estimate {
	if p.Stages == nil {
		p.Stages = DefaultStages()
	}
	if p.Aim == (Aim{}) {
		p.Aim = DefaultAim()
	}
	if p.Scattered == 0 {
		p.Scattered = leastScattered
	}
	if p.Each == nil {
		p.Each = inTurn
	}
	r := runs{plan: p, z: deviates(p.Sequence, p.Axes, FullSample)}
	var e Estimate
	for _, n := range p.Stages {
		n = min(n, FullSample)
		made := len(r.ok)
		if n <= made {
			continue
		}
		response, ok := p.Run(made, n)
		r.response, r.ok = append(r.response, response...), append(r.ok, ok...)
		last := e
		e = r.estimate()
		e.Settled = n == FullSample || e.Settled && (e.plain || n >= p.Scattered && e.near(&last, p))
		if e.Settled {
			break
		}
	}
	return e
}

func inTurn(n int, do func(i int)) {
	for i := range n {
		do(i)
	}
}

// deviates are the standard normal deviates of the first n draws, a row for each.
func deviates(s *Sequence, axes []int, n int) [][]float64 {
	z := make([][]float64, n)
	for i := range z {
		z[i] = make([]float64, len(axes))
		for k, a := range axes {
			z[i][k] = Normal(s.At(i, a))
		}
	}
	return z
}

// runs are the draws made so far.
type runs struct {
	plan     Plan
	z        [][]float64
	response []float64
	ok       []bool
}

// groups is how many parts the runs are divided into for the jackknife.
const groups = 8

// estimate works out the distribution and its errors.
func (r *runs) estimate() Estimate {
	all := r.kept(-1)
	e := Estimate{Runs: len(r.ok), Failed: len(r.ok) - len(all)}
	if len(all) < 2*groups-4 {
		return e // too few to say anything
	}
	z, y := r.made()
	f := bestForm(z, y)
	terms := f.matrix(r.z)
	s := r.surface(all, f, terms)
	e.Distribution, e.Effects = r.filled(all, s, terms), s.effects(len(r.plan.Axes))
	slight := r.plan.Aim.Absolute / 10
	e.plain = s.miss() <= max(plainShare*stat.PopVariance(y, nil), slight*slight)
	e.Class = e.Chances(r.plan.Limits...)
	e.ClassError = make([]float64, len(e.Class))
	if len(r.ok) == FullSample || r.plan.Plain {
		e.Settled = true
		return e
	}
	e.errors(r, s, terms)
	e.Settled = e.within(r.plan.Aim) && r.seen(all)
	return e
}

// seen reports whether enough runs lie above zero for the errors to mean something: where
// most responses are zero, leaving out a group often leaves out none that matters.
func (r *runs) seen(kept []int) bool {
	above := 0
	for _, i := range kept {
		if r.response[i] > 0 {
			above++
		}
	}
	return above >= min(len(kept), 10) || len(r.ok) >= 128
}

// errors are those of leaving out groups (Tukey 1958), the form of the surface kept, and
// what that does not tell: how far the surface misses the runs that it stands on.
func (e *Estimate) errors(r *runs, s *surface, terms *mat.Dense) {
	limits := r.plan.Limits
	whole := points(e.Distribution, limits)
	var without [groups][]float64
	r.plan.Each(groups, func(g int) {
		kept := r.kept(g)
		without[g] = points(r.filled(kept, r.surface(kept, s.form, terms), terms), limits)
	})
	square := make([]float64, len(whole))
	for _, part := range without {
		for k, x := range part {
			square[k] += (x - whole[k]) * (x - whole[k]) * (groups - 1) / groups
		}
	}
	_, y := r.made()
	ran, again := points(NewDistribution(y), limits), points(s.again(), limits)
	for k := range square {
		square[k] = math.Hypot(math.Sqrt(square[k]), ran[k]-again[k])
	}
	e.LowError, e.MedianError, e.HighError, e.ClassError = square[0], square[1], square[2], square[3:]
}

// plainShare is the share of the variance that a surface may leave over to be believed at
// once. One that leaves more must be borne out by another stage, of leastScattered draws or
// those that the plan asks for: the best of many forms looks better than it is.
const (
	plainShare     = 0.05
	leastScattered = 64
)

// near reports whether two stages agree within the aim.
func (e *Estimate) near(last *Estimate, p Plan) bool {
	if last.Len() == 0 {
		return false
	}
	was := points(last.Distribution, p.Limits)
	for k, x := range points(e.Distribution, p.Limits) {
		most := p.Aim.Chance
		if k < 3 {
			most = p.Aim.most(e)
		}
		if math.Abs(x-was[k]) > most {
			return false
		}
	}
	return true
}

// most is the greatest error of a percentile.
func (a Aim) most(e *Estimate) float64 { return max(a.Relative*e.Median(), a.Absolute) }

// points are the 5, 50 and 95 % points and the chances.
func points(d Distribution, limits []float64) []float64 {
	low, high := d.Interval()
	return append([]float64{low, d.Median(), high}, d.Chances(limits...)...)
}

// within reports whether all errors are within the aim.
func (e *Estimate) within(a Aim) bool {
	ok := max(e.LowError, e.MedianError, e.HighError) <= a.most(e)
	for _, x := range e.ClassError {
		ok = ok && x <= a.Chance
	}
	return ok
}

// groupOf puts every eight draws into eight groups, turned by chance: of a sequence that
// fills evenly, every eighth point lies in one slice of the cube.
func groupOf(i int) int {
	return int((uint64(i) + mix(uint64(i/groups))) % groups)
}

// kept lists the draws with a response, without those of one group.
func (r *runs) kept(group int) []int {
	var out []int
	for i, ok := range r.ok {
		if ok && groupOf(i) != group {
			out = append(out, i)
		}
	}
	return out
}

// made are the draws that have a response.
func (r *runs) made() (z [][]float64, y []float64) {
	for _, i := range r.kept(-1) {
		z, y = append(z, r.z[i]), append(y, r.response[i])
	}
	return z, y
}

// surface is fitted to the draws kept; all has the terms of the full sample.
func (r *runs) surface(kept []int, f form, all *mat.Dense) *surface {
	_, columns := all.Dims()
	x, y := mat.NewDense(len(kept), columns, nil), make([]float64, len(kept))
	for k, i := range kept {
		x.SetRow(k, all.RawRowView(i))
		y[k] = r.response[i]
	}
	return fitSurface(x, y, f)
}

// filled is the full sample from the draws kept: they stand as they are, the others come
// from the surface.
func (r *runs) filled(kept []int, s *surface, all *mat.Dense) Distribution {
	sample := make([]float64, 0, FullSample)
	have := make([]bool, FullSample)
	for _, i := range kept {
		have[i] = true
		sample = append(sample, r.response[i])
	}
	for i, t := range s.values(all) {
		if !have[i] && (i >= len(r.ok) || r.ok[i]) {
			sample = append(sample, s.scattered(t, i))
		}
	}
	return NewDistribution(sample)
}
