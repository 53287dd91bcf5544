package valve

import (
	"math"

	"seatward/quantity"
)

// Moment is something that happened to a moving element in a run.
type Moment struct {
	TimeS      float64
	Event      Event
	Xi         float64 // opening, m or rad
	Speed      float64 // of the element, m/s or rad/s, just before
	VelocityMS float64 // in the bore
}

// Motion is what a moving element did in a run, from its beginning to its end.
type Motion struct {
	Moments         []Moment
	More            int     // moments beyond those kept
	ReversedS       float64 // when the water last turned back before the first seating; 0 if it did not
	DecelerationMS2 float64 // of the velocity in the bore over the step in which it turned
	seatings
}

// mostMoments bounds the list of a valve that chatters.
const (
	mostMoments  = 200
	usualMoments = 16
)

// InLine is a moving element between pipes that a solver steps in time: it is solved
// together with the flow. The solver offers it, over a step, the flow
//
//	Q = free − ΔH/Z,  V = Q/A,
//
// with the free flow running evenly from one value to another: the Node of Admittance
// 1/(ρ g Z A). Flow may be asked many times for one step, Commit ends it.
type InLine struct {
	Motion  Motion
	m       *Mechanism
	e       Element
	g       float64
	swing   swing
	rebound float64 // time of the bounce that it is still on; 0 when it is not
	try     attempt
}

// attempt is a step tried, kept so that the same one is not worked out twice.
type attempt struct {
	timeS, stepS, from, to, z float64
	e                         Element
	err                       error
	reverse                   float64 // greatest reverse velocity in the step
	swing                     swing
	moments                   [12]turn
	count, more               int
	watch                     Watch
}

// turn is a moment of an attempt, with the slam where it is a blow.
type turn struct {
	Moment
	slam Slam
}

// lineTolerance is the relative error allowed in one step of an element inside a run. The
// grid of the pipes is coarser than that: halving it moves a reverse velocity more.
const lineTolerance = 5 * Tolerance

// NewInLine puts the mechanism into a line at the opening ξ in the velocity; Settle gives
// the opening at which a steady one holds it.
func NewInLine(m *Mechanism, xi, velocityMS float64) *InLine {
	l := &InLine{m: m, e: NewElement(m, xi, velocityMS), g: m.GravityMS2}
	l.e.tolerance = lineTolerance
	if l.g == 0 {
		l.g = quantity.StandardGravity
	}
	l.try.watch = l.noteStep
	l.Motion.Moments, l.Motion.Slams = make([]Moment, 0, usualMoments), make([]Slam, 0, usualMoments)
	l.try.stepS = -1
	return l
}

// Mechanism is what moves.
func (l *InLine) Mechanism() *Mechanism { return l.m }

// Element is its state at the end of the last step.
func (l *InLine) Element() Element { return l.e }

// Share is the opening over the stroke now.
func (l *InLine) Share() float64 {
	if l.e.Mode == Seated {
		return 0
	}
	return l.e.Xi / l.m.Stroke
}

// DropM is the head lost in the steady flow, m.
func (l *InLine) DropM(flowM3S float64) float64 {
	if flowM3S <= 0 {
		return 0
	}
	return l.m.LossHeadM(flowM3S / l.m.AreaM2())
}

// Flow is the flow at the end of the step, m³/s; ErrSteps when the motion could not be
// resolved.
func (l *InLine) Flow(timeS, stepS, from, to, zSM2 float64) (float64, error) {
	l.attempt(timeS, stepS, from, to, zSM2)
	return l.try.e.V * l.m.AreaM2(), l.try.err
}

func (l *InLine) attempt(timeS, stepS, from, to, z float64) {
	t := &l.try
	if t.timeS == timeS && t.stepS == stepS && t.from == from && t.to == to && t.z == z {
		return
	}
	area := l.m.AreaM2()
	t.timeS, t.stepS, t.from, t.to, t.z = timeS, stepS, from, to, z
	t.e, t.reverse, t.swing, t.count, t.more = l.e, 0, l.swing, 0, 0
	node := Node{
		Free: from / area, Slope: (to - from) / (area * stepS),
		Admittance: 1 / (l.m.DensityKgM3 * l.g * z * area),
	}
	t.err = t.e.Advance(stepS, node, t.watch)
}

// noteStep is called at every step of the element's motion in the attempt.
func (l *InLine) noteStep(at float64, e *Element, event Event) bool {
	t := &l.try
	x := turn{Moment: Moment{TimeS: t.timeS - t.stepS + at, Event: event, Xi: e.Xi, Speed: e.U, VelocityMS: e.V}}
	w := &t.swing
	if event == Bounce {
		x.Speed, x.VelocityMS = e.StruckU, e.StruckV
	}
	t.reverse = math.Max(t.reverse, -x.VelocityMS)
	switch {
	case event == Bounce || event == Seating:
		x.slam = w.blow(x.TimeS, x.Speed, x.VelocityMS)
	case event == Released && x.Xi <= l.m.seat():
		*w = swing{}
	case e.Mode != Seated:
		w.reverse = math.Max(w.reverse, -e.V)
		switch {
		case e.Xi >= l.m.CushionXi:
			w.cushionS = 0
		case w.cushionS == 0:
			w.cushionS = x.TimeS
		}
	}
	switch {
	case event == None:
	case t.count == len(t.moments):
		t.more++
	default:
		t.moments[t.count] = x
		t.count++
	}
	return true
}

// Commit ends the step that Flow would give.
func (l *InLine) Commit(timeS, stepS, from, to, zSM2 float64) {
	l.attempt(timeS, stepS, from, to, zSM2)
	t, m := &l.try, &l.Motion
	before := l.e
	l.e = t.e
	if m.Seatings == 0 && before.V > 0 && (t.e.V < 0 || t.reverse > 0) {
		l.turned(before.V)
	}
	for i := range t.moments[:t.count] {
		l.keep(&t.moments[i])
	}
	m.More += t.more
	l.swing = t.swing
	if l.rebound > 0 && l.e.Xi > reopenShare*l.m.Stroke {
		m.leave(l.rebound)
		l.rebound = 0
	}
	m.UnseatedReverseMS = l.swing.reverse
	t.stepS = -1 // the state has moved on
}

// turned notes when the water turned and how fast it was slowing.
func (l *InLine) turned(beforeMS float64) {
	t, m := &l.try, &l.Motion
	after := t.e.V
	if after >= 0 { // it turned and seated within the step
		after = -t.reverse
	}
	share := beforeMS / (beforeMS - after)
	m.ReversedS = t.timeS - t.stepS + t.stepS*share
	m.DecelerationMS2 = (beforeMS - after) / t.stepS
}

// keep files a moment and what it means.
func (l *InLine) keep(x *turn) {
	m := &l.Motion
	switch {
	case x.Event == Released && x.Xi <= l.m.seat():
		m.leave(x.TimeS)
		l.rebound = 0
	case x.Event != Seating && x.Event != Bounce:
	case l.rebound > 0:
		m.again(x.slam)
	default:
		m.seat(x.slam)
	}
	switch x.Event {
	case Bounce:
		m.Bounces++
		l.rebound = x.TimeS
	case Seating:
		l.rebound = 0
	}
	if len(m.Moments) < mostMoments {
		m.Moments = append(m.Moments, x.Moment)
	} else {
		m.More++
	}
}
