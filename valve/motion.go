package valve

import (
	"errors"
	"fmt"
	"math"
)

// Mode is what the moving element does.
type Mode uint8

// The modes.
const (
	Seated Mode = iota // on the seat: no flow
	AtStop             // at full stroke
	Stuck              // between, held by friction
	Moving
)

// String names the mode in plain words.
func (m Mode) String() string {
	return [...]string{"seated", "at its stop", "stuck", "moving"}[m]
}

// Event is what happened to the element in a step.
type Event uint8

// The events.
const (
	None Event = iota // an ordinary step
	Released
	Seating
	Stop
	Sticking
	Bounce // off the seat
)

// String names the event in plain words.
func (e Event) String() string {
	return [...]string{"", "leaves its rest", "seats", "reaches its stop", "sticks", "bounces off its seat"}[e]
}

// ErrSteps means that the motion needed more steps than any real closing does.
var ErrSteps = errors.New("valve: motion not resolved within the step budget")

// Element is a moving element in time. It is a plain value: a copy is a trial
// that can be thrown away, as a solver needs that tries a step before it takes it.
type Element struct {
	Xi   float64 // opening, m or rad
	U    float64 // dξ/dt
	V    float64 // velocity in the bore, m/s
	Mode Mode

	// Speed and velocity with which it last struck its seat, before any bounce.
	StruckU, StruckV float64

	m         *Mechanism
	p         float64 // impulse M u − C V
	sense     float64 // +1 opening, −1 closing: the way friction opposes
	h         float64 // next step to try, s
	tolerance float64
	there     State // at the opening thereXi, where it was asked last
	thereXi   float64
	work      *system // for steps; copies of the element share it, since it holds nothing between two advances
}

// state is that of the mechanism where the element is. It is not worked out anew while the
// element stays.
func (e *Element) state() *State {
	if e.thereXi != e.Xi || e.there.Mass == 0 {
		e.m.at(e.Xi, &e.there)
		e.thereXi = e.Xi
	}
	return &e.there
}

// Tolerance is the relative error allowed in one step by default. It resolves the
// reverse velocity at seating to better than 0.1 %.
const Tolerance = 2e-4

// NewElement puts the element at rest at the opening ξ in the velocity V.
func NewElement(m *Mechanism, xi, velocityMS float64) Element {
	e := Element{m: m, V: velocityMS, tolerance: Tolerance, h: 1e-3, work: new(system)}
	switch {
	case xi <= m.seat():
		e.Xi, e.Mode = m.seat(), Seated
	case xi >= m.Stroke:
		e.Xi, e.Mode = m.Stroke, AtStop
	default:
		e.Xi, e.Mode = xi, Stuck
	}
	return e
}

// Watch is called at every step and event: the time since the start of the advance,
// the element and the event. It returns false to end the advance there.
type Watch func(t float64, e *Element, event Event) bool

const maxSteps = 50_000

// mostReleases is how often an element may leave its rest in one advance. One that does so
// more often has no energy: it trembles about a balance by less than a step resolves, and
// rests to the end of the advance.
const mostReleases = 100

// Advance moves the element through dt seconds of the node. Watch may be nil.
func (e *Element) Advance(dt float64, node Node, watch Watch) error {
	if !(dt >= 0) || math.IsInf(dt, 0) {
		return fmt.Errorf("valve: a step of %g s", dt)
	}
	t := 0.0
	sys := e.work
	sys.e, sys.node, sys.ready = e, node, nothing
	released := 0
	for range maxSteps {
		if t >= dt {
			return nil
		}
		if released > mostReleases && e.Mode != Moving {
			e.rest(e.state(), node, dt)
			return nil
		}
		var event Event
		if e.Mode == Moving {
			t, event = e.move(sys, t, dt)
		} else {
			t, event = e.hold(t, dt, node)
			sys.ready = nothing
			if event == Released {
				released++
			}
		}
		if watch != nil && !watch(t, e, event) {
			return nil
		}
	}
	return ErrSteps
}

// hold keeps a resting element until the node moves it or the time is over.
func (e *Element) hold(t, end float64, node Node) (float64, Event) {
	s := e.state()
	if e.sets(s, node, t) == 0 {
		if e.sets(s, node, end) == 0 {
			e.rest(s, node, end)
			return end, None
		}
		// By halves, not by internal/root, though that takes fewer looks: a release found 1e-11
		// apart moves the slam of balls that bounce, and with it printed intervals.
		early, late := t, end
		for range 60 {
			mid := early + (late-early)/2
			if e.sets(s, node, mid) == 0 {
				early = mid
			} else {
				late = mid
			}
		}
		t = late
	}
	e.sense = e.sets(s, node, t)
	e.rest(s, node, t)
	e.p = -s.Coupling * e.V
	e.Mode = Moving
	return t, Released
}

// rest sets the velocity through the resting element at the time t.
func (e *Element) rest(s *State, node Node, t float64) {
	e.U = 0
	if e.Mode == Seated {
		e.V = 0
		return
	}
	f := solveFlow(s, e.m.DensityKgM3, node.Admittance, node.Free+node.Slope*t, 0, true)
	e.V = f.v
}

// sets says which way the forces move the resting element at the time t: −1
// closing, +1 opening, 0 not at all.
func (e *Element) sets(s *State, node Node, t float64) float64 {
	free := node.Free + node.Slope*t
	var net float64
	if e.Mode == Seated {
		net = e.seatedPush(s, free, node.Admittance) - s.Closing
	} else {
		f := solveFlow(s, e.m.DensityKgM3, node.Admittance, free, 0, true)
		net = f.push(s, e.m.DensityKgM3) - s.Closing + s.Coupling*f.vFree*node.Slope
	}
	switch {
	case net > s.Friction && e.Mode != AtStop:
		return 1
	case net < -s.Friction && e.Mode != Seated:
		return -1
	}
	return 0
}

// seatedPush is the force of the pressure across the closed element: all that the
// pipes can put up. Where no valve can change the flow it is without bound.
func (e *Element) seatedPush(s *State, free, admittance float64) float64 {
	if admittance == 0 {
		if free == 0 {
			return 0
		}
		return math.Copysign(math.MaxFloat64, free)
	}
	return s.gapArea(free) * free / admittance
}

// move takes one step of a moving element, cut at an event.
func (e *Element) move(sys *system, t, end float64) (float64, Event) {
	left := end - t
	for {
		h := min(e.h, left)
		next, err := sys.step(t, h)
		if !(err <= 1) && h > 1e-12 {
			e.h = 0.2 * h
			if err < 91 {
				e.h = 0.9 * h / math.Cbrt(err)
			}
			continue
		}
		if h == e.h || err > 0.3 {
			e.h = h * min(5, max(0.2, 0.9/math.Cbrt(max(err, 1e-4))))
		}
		event := e.crossed(next)
		if event != None {
			h, next = sys.locate(t, h, next, event)
		}
		if h >= left {
			t = end
		} else {
			t += h
		}
		e.take(next)
		if event != None {
			sys.ready = nothing
			return t, e.settle(event, sys.node.Free+sys.node.Slope*t, sys.node.Admittance)
		}
		sys.ready, e.there, e.thereXi = ended, sys.tried, next.xi
		return t, None
	}
}

// crossed says which event the step to next has run past.
func (e *Element) crossed(next instant) Event {
	switch {
	case next.xi < e.m.seat():
		return Seating
	case next.xi > e.m.Stroke:
		return Stop
	case next.friction > 0 && next.u*e.sense < 0:
		return Sticking
	}
	return None
}

// margin is how far the instant is before the event; negative past it.
func (e *Element) margin(at instant, event Event) float64 {
	switch event {
	case Seating:
		return at.xi - e.m.seat()
	case Stop:
		return e.m.Stroke - at.xi
	default:
		return at.u * e.sense
	}
}

func (e *Element) take(at instant) {
	e.Xi, e.p, e.U, e.V = at.xi, at.p, at.u, at.v
}

// settle puts the element into the mode that the event calls for, free being the
// velocity that the pipes would give if the valve lost nothing.
func (e *Element) settle(event Event, free, admittance float64) Event {
	switch event {
	case Seating:
		e.Xi, e.StruckU, e.StruckV = e.m.seat(), e.U, e.V
		if e.bounce(free, admittance) {
			return Bounce
		}
		e.Mode = Seated
	case Stop:
		e.Xi, e.U, e.Mode = e.m.Stroke, 0, AtStop
	case Sticking:
		e.U, e.Mode = 0, Stuck
	}
	return event
}
