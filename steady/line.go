package steady

import (
	"fmt"
	"math"

	"seatward/internal/root"
)

// hugeM bounds every head in a calculation, m, so that differences stay finite.
const hugeM = 1e150

// fault remembers the first thing that answered with what is not a number.
type fault struct{ err error }

func (f *fault) finite(v float64, what string, name string) float64 {
	if math.IsNaN(v) {
		if f.err == nil {
			f.err = fmt.Errorf("%w: %s %q", ErrNotANumber, what, name)
		}
		return 0
	}
	return math.Max(-hugeM, math.Min(hugeM, v))
}

// mainLine is the main between two levels.
type mainLine struct {
	reaches []Reach
	level   Level
	fault   *fault
}

// demand is what the main needs at a flow.
type demand struct {
	headM   float64 // at the header, above the wet well
	lossM   float64 // of all reaches
	control int     // the reach whose end sets the head
}

// need finds the head at the header, above the wet well: the greatest over the
// reaches' ends of the end's height and the losses down to it. Beyond the end
// that sets it the main runs partly open.
func (m *mainLine) need(q float64) demand {
	var few [4]float64 // a main has hardly more reaches
	return m.needOf(m.losses(few[:0], q))
}

// losses appends what is lost down to the end of each reach at a flow: it is the same at
// all levels.
func (m *mainLine) losses(to []float64, q float64) []float64 {
	loss := 0.0
	for _, r := range m.reaches {
		for _, e := range r.Elements {
			loss = m.fault.finite(loss+m.fault.finite(e.Settle(q), "reach", r.Name), "reach", r.Name)
		}
		to = append(to, loss)
	}
	return to
}

// needOf is the need at the flow with these losses.
func (m *mainLine) needOf(losses []float64) demand {
	d := demand{headM: math.Inf(-1)}
	for i, loss := range losses {
		d.lossM = loss
		if h := m.liftM(i) + loss; h >= d.headM {
			d.headM, d.control = h, i
		}
	}
	return d
}

// liftM is the height of the reach's end above the wet well, m.
func (m *mainLine) liftM(reach int) float64 {
	if reach == len(m.reaches)-1 {
		return m.level.StaticHeadM()
	}
	return m.reaches[reach].EndM - m.level.WetWellM
}

// knot is a point of a branch's net head curve.
type knot struct{ q, h float64 }

// stretch is a part of a branch's curve, from one knot to another, on which the
// net head only falls or only rises.
type stretch struct {
	from, to int
	rising   bool
}

// line is a branch as the solver sees it: its net head over flow, looked at once.
type line struct {
	branch    *Branch
	fault     *fault
	knots     []knot
	stretches []stretch
	unlimited bool // nothing was found that limits its flow

	atKnots map[int][][]float64 // by how many such branches run: losses of the main at the flow of each knot
}

// mainLosses are the losses of the main while so many branches like this one run at the
// flow of each knot, worked out once for all levels.
func (l *line) mainLosses(m *mainLine, count int) [][]float64 {
	if l.atKnots[count] == nil {
		all := make([][]float64, len(l.knots))
		for i, k := range l.knots {
			all[i] = m.losses(nil, float64(count)*k.q)
		}
		if l.atKnots == nil {
			l.atKnots = map[int][][]float64{}
		}
		l.atKnots[count] = all
	}
	return l.atKnots[count]
}

// net is the head that the branch gives at the header at the flow q, m above the
// wet well. At zero flow it is the head that opens the check valve: a device that
// needs a head to crack open takes it as soon as there is any flow.
func (l *line) net(q float64) float64 {
	if q == 0 && l.knots != nil {
		return l.knots[0].h
	}
	h := l.fault.finite(l.branch.Source.Head(q), "branch", l.branch.Name)
	for _, e := range l.branch.Elements {
		h -= l.fault.finite(e.Settle(q), "branch", l.branch.Name)
	}
	return l.fault.finite(h, "branch", l.branch.Name)
}

func (l *line) shutOffM() float64 { return l.knots[0].h }

// The number of knots in the range of the source, and beyond it.
const (
	knotsInRange = 32
	knotsBeyond  = 8
)

// newLine looks at the branch from zero flow to one at which the main would need
// more than the branch gives, whatever else runs.
func newLine(b *Branch, lowest *mainLine) *line {
	l := &line{branch: b, fault: lowest.fault}
	inRange, end := l.span(lowest)
	zero, near := l.net(0), l.net(end*1e-9)
	if math.Abs(zero-near) > 1e-6*math.Max(1, math.Abs(zero)) {
		zero = near
	}
	knots := []knot{{0, zero}}
	for i := 1; i <= knotsInRange; i++ {
		q := inRange * float64(i) / knotsInRange
		knots = append(knots, knot{q, l.net(q)})
	}
	if end > inRange {
		for i := 1; i <= knotsBeyond; i++ {
			q := inRange + (end-inRange)*float64(i)/knotsBeyond
			knots = append(knots, knot{q, l.net(q)})
		}
	}
	l.knots = knots
	l.findStretches()
	return l
}

// span is the flow to which the source is known, and the flow at which to end.
// A source without a range is tried at flows that double from 1e-8 m3/s.
func (l *line) span(lowest *mainLine) (inRange, end float64) {
	short := func(q float64) bool { return l.net(q) < lowest.need(q).headM }
	if r, ok := l.branch.Source.(Ranged); ok {
		if _, high := r.Range(); high > 0 && high <= 1e6 {
			for end = high; !short(end); end *= 2 {
				if end > 1e12*high {
					l.unlimited = true
					break
				}
			}
			return high, end
		}
	}
	inRange = 1e-8
	for q := inRange; q < 1e8; q *= 2 {
		if !short(q) {
			inRange = 2 * q
		}
	}
	l.unlimited = !short(inRange)
	return inRange, inRange
}

// findStretches cuts the curve where it turns. A turn counts when it is more than
// the round-off of an element that is solved by iteration.
func (l *line) findStretches() {
	scale := 0.0
	for _, k := range l.knots {
		scale = math.Max(scale, k.h)
	}
	threshold := 1e-9 * math.Max(scale, math.Abs(l.knots[0].h))
	start, turn, rising := 0, 0, false
	for i, k := range l.knots {
		last := l.knots[turn].h
		switch {
		case rising && k.h >= last, !rising && k.h <= last:
			turn = i
		case math.Abs(k.h-last) > threshold:
			l.sharpen(turn, rising)
			if turn > start {
				l.stretches = append(l.stretches, stretch{start, turn, rising})
			}
			start, turn, rising = turn, i, !rising
		}
	}
	l.stretches = append(l.stretches, stretch{start, len(l.knots) - 1, rising})
}

// sharpen moves a knot at which the curve turns to the very turn.
func (l *line) sharpen(i int, top bool) {
	if i == 0 {
		return
	}
	sign := -1.0
	if top {
		sign = 1
	}
	q := extreme(l.net, l.knots[i-1].q, l.knots[i+1].q, sign)
	if h := l.net(q); sign*h > sign*l.knots[i].h {
		l.knots[i] = knot{q, h}
	}
}

// monotone is true when the head falls from shut-off to the end.
func (l *line) monotone() bool { return len(l.stretches) == 1 && !l.stretches[0].rising }

// fromRest is the flow of the branch against the head h at the header, when it
// grows from shut-off: zero where the check valve cannot open, else the first flow
// at which the branch's head has fallen to h.
func (l *line) fromRest(h float64) float64 {
	if h >= l.shutOffM() {
		return 0
	}
	for i := 1; i < len(l.knots); i++ {
		if l.knots[i].h <= h {
			return l.between(i, h)
		}
	}
	return l.knots[len(l.knots)-1].q
}

// on is the flow at which the branch gives the head h on the stretch, or its
// nearer end where it does not.
func (l *line) on(s stretch, h float64) float64 {
	from, to := l.knots[s.from], l.knots[s.to]
	if s.rising && h <= from.h || !s.rising && h >= from.h {
		return from.q
	}
	if s.rising && h >= to.h || !s.rising && h <= to.h {
		return to.q
	}
	for i := s.from + 1; i < s.to; i++ {
		if k := l.knots[i].h; s.rising && k >= h || !s.rising && k <= h {
			return l.between(i, h)
		}
	}
	return l.between(s.to, h)
}

// between is the flow with the head h between the knots i-1 and i.
func (l *line) between(i int, h float64) float64 {
	a, b := l.knots[i-1], l.knots[i]
	return root.Find(func(q float64) float64 { return l.net(q) - h }, root.Point{X: a.q, Y: a.h - h},
		root.Point{X: b.q, Y: b.h - h}, 0)
}

// slope is the change of the branch's head with flow at the flow q, s/m2.
func (l *line) slope(q float64) float64 {
	step := 1e-6 * math.Max(q, 1e-3*l.knots[len(l.knots)-1].q)
	low := math.Max(q-step, 0)
	return (l.net(q+step) - l.net(low)) / (q + step - low)
}
