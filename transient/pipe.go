package transient

import (
	"errors"
	"fmt"
	"math"

	"seatward/internal/moc"
)

// Pipe is one pipe of one bore and wave speed between two nodes.
type Pipe struct {
	Name           string
	From, To       string  // nodes
	LengthM        float64 // > 0
	Parallel       int     // so many like pipes in like flow meet To, where From is met by each alone; 0 means 1
	DiameterM      float64 // inner, > 0
	WaveSpeedMS    float64 // > 0
	FrictionFactor float64 // Darcy's f, taken constant; 0 for none
	LocalLoss      float64 // K of its fittings, spread along it
	LinearLossS    float64 // laminar loss over the whole length, head per flow, s/m²; 128 ν L/(π g D⁴)
	Unsteady       *Unsteady
	Profile        []Elevation // rising chainage; straight lines between; empty means 0 throughout
	FlowM3S        float64     // before anything happens, from From to To
	HeadM          float64     // then, at From
}

// Elevation is a point of a pipe's profile.
type Elevation struct{ ChainageM, ElevationM float64 }

// AreaM2 is the area of the bore.
func (p *Pipe) AreaM2() float64 { return math.Pi / 4 * p.DiameterM * p.DiameterM }

// TravelS is the time of a wave from end to end.
func (p *Pipe) TravelS() float64 { return p.LengthM / p.WaveSpeedMS }

// check says what makes the pipe impossible.
func (p *Pipe) check() error {
	var errs []error
	must := func(ok bool, text string, v float64) {
		if !ok || math.IsNaN(v) || math.IsInf(v, 0) {
			errs = append(errs, fmt.Errorf("transient: pipe %s: %s is %g", p.Name, text, v))
		}
	}
	must(p.LengthM > 0, "the length", p.LengthM)
	must(p.DiameterM > 0, "the diameter", p.DiameterM)
	must(p.WaveSpeedMS > 0, "the wave speed", p.WaveSpeedMS)
	must(p.FrictionFactor >= 0, "the friction factor", p.FrictionFactor)
	must(p.LocalLoss >= 0, "the loss of the fittings", p.LocalLoss)
	must(p.LinearLossS >= 0, "the laminar loss", p.LinearLossS)
	must(true, "the flow at the start", p.FlowM3S)
	must(true, "the head at the start", p.HeadM)
	return errors.Join(errs...)
}

// elevationAt reads the profile; before its first and beyond its last point it stays
// level.
func (p *Pipe) elevationAt(x float64) float64 {
	n := len(p.Profile)
	switch {
	case n == 0:
		return 0
	case x <= p.Profile[0].ChainageM:
		return p.Profile[0].ElevationM
	case x >= p.Profile[n-1].ChainageM:
		return p.Profile[n-1].ElevationM
	}
	for i := 1; i < n; i++ {
		a, b := p.Profile[i-1], p.Profile[i]
		if x <= b.ChainageM {
			return a.ElevationM + (b.ElevationM-a.ElevationM)*(x-a.ChainageM)/(b.ChainageM-a.ChainageM)
		}
	}
	return p.Profile[n-1].ElevationM
}

// line is a pipe on its grid, at work.
type line struct {
	pipe    *Pipe
	waveMS  float64 // after adjustment
	b       float64 // a/(gA), s/m²
	inner   moc.Reach
	h, q    []float64     // now
	h1, q1  []float64     // after the step
	lo, hi  []float64     // least and greatest head so far
	z       []float64     // elevations
	gas     *cavities     // nil while the liquid is taken as whole
	bare    bool          // lo and hi are not kept
	history *moc.Friction // nil where friction does not remember
}

// newLine lays the pipe on a grid of reaches and starts it at its steady flow.
func newLine(p *Pipe, reaches int, stepS, gravity float64) *line {
	n := reaches + 1
	l := &line{pipe: p, waveMS: p.LengthM / (float64(reaches) * stepS)}
	area := p.AreaM2()
	l.b = l.waveMS / (gravity * area)
	share := 1 / float64(reaches)
	l.inner = moc.Reach{
		B:        l.b - p.LinearLossS*share,
		R:        (p.FrictionFactor*p.LengthM/p.DiameterM + p.LocalLoss) / (2 * gravity * area * area) * share,
		HalfInvB: 1 / (2 * l.b),
	}
	all := make([]float64, 7*n)
	for i, s := range []*[]float64{&l.h, &l.q, &l.h1, &l.q1, &l.lo, &l.hi, &l.z} {
		*s = all[i*n : (i+1)*n : (i+1)*n]
	}
	q := p.FlowM3S
	// Differences are taken as the steps take them, so that the start is their steady state.
	fall := q*l.b - q*(l.inner.B-l.inner.R*math.Abs(q))
	for i := range n {
		l.h[i], l.q[i] = p.HeadM-float64(i)*fall, q
		l.z[i] = p.elevationAt(p.LengthM * share * float64(i))
	}
	copy(l.lo, l.h)
	copy(l.hi, l.h)
	if p.Unsteady != nil {
		l.history = newFriction(l, p.Unsteady, stepS, gravity)
		l.inner.Loss = l.history.Loss
	}
	return l
}

// weight is how many like pipes the end stands for.
func (l *line) weight(atTo bool) float64 {
	if atTo && l.pipe.Parallel > 1 {
		return float64(l.pipe.Parallel)
	}
	return 1
}

// last is the index of the node at To.
func (l *line) last() int { return len(l.h) - 1 }

// foot is what arrives at an end along the characteristic: C of H = C − B Q, Q into the
// node at that end.
func (l *line) foot(atTo bool) float64 {
	i, sign := 1, -1.0
	if atTo {
		i, sign = l.last()-1, 1
	}
	q := l.q[i]
	if l.gas != nil && l.gas.felt && !atTo {
		q = l.gas.up[i]
	}
	c := l.h[i] + sign*q*(l.inner.B-l.inner.R*math.Abs(q))
	if l.history != nil {
		c -= sign * l.history.Loss[i]
	}
	return c
}

// interior advances the inner nodes by one step.
func (l *line) interior(stepS float64) {
	if l.gas != nil {
		l.gas.interior(l, stepS)
		return
	}
	l.whole()
}

// whole advances the inner nodes as whole liquid.
func (l *line) whole() {
	moc.Interior(l.h1, l.q1, l.h, l.q, l.inner)
}

// put sets what the node has found for an end; flow is into the node.
func (l *line) put(atTo bool, head, flow float64) {
	i, sign := 0, -1.0
	if atTo {
		i, sign = l.last(), 1
	}
	l.h1[i], l.q1[i] = head, sign*flow
	if l.gas != nil {
		l.gas.up1[i] = l.q1[i]
	}
}

// turn makes the step's result the present.
func (l *line) turn() {
	if l.history != nil {
		l.history.Recall(l.q1, l.q)
	}
	l.h, l.h1 = l.h1, l.h
	l.q, l.q1 = l.q1, l.q
	if l.gas != nil {
		l.gas.turn()
	}
	if !l.bare {
		moc.Extremes(l.lo, l.hi, l.h)
	}
}
