package valve

import "math"

// instant is the element's state inside a step.
type instant struct {
	xi, p, u, v float64
	friction    float64
}

// system is the pair of equations of a moving element,
//
//	dξ/dt = u = (p + C V)/M
//	dp/dt = ΣSΔp − F_close ∓ friction − drag + ½ M' u² − C' u V
//
// with V from the node. The impulse p = M u − C V stands in for u, so that the pull
// of accelerating water needs no derivative of V.
//
// A step begins where the one before has ended, and one that is made again, shorter,
// begins where it did: the right-hand side there is kept.
type system struct {
	e    *Element
	node Node

	ended slope // where it was asked last: after a step, at the end of it
	begun slope // at the beginning of the one being tried, with all derivatives
	tried State // of the element there
	ready int   // what of the two holds for the step to come
}

// What is ready for a step.
const (
	nothing  = iota
	ended    // the rates, as the step before has ended there
	beginAll // and the derivatives, as the step was tried before
)

// slope is the right-hand side with its derivatives.
type slope struct {
	at        instant
	xi, p     float64 // rates
	xiP, pP   float64 // derivatives by p
	xiT, pT   float64 // derivatives by time
	xiXi, pXi float64 // derivatives by ξ
}

func (y *system) rates(t, xi, p float64, out *slope) {
	y.e.m.at(xi, &y.tried)
	y.ratesOf(&y.tried, t, xi, p, out)
}

func (y *system) ratesOf(s *State, t, xi, p float64, out *slope) {
	e, m := y.e, y.e.m
	f := solveFlow(s, m.DensityKgM3, y.node.Admittance, y.node.Free+y.node.Slope*t, p, false)
	vT := f.vFree * y.node.Slope
	light := 1 / s.Mass
	uP, uT := (1+s.Coupling*f.vImp)*light, s.Coupling*vT*light

	var push, pushP, pushT float64
	terms := s.terms()
	for i := range terms {
		term := &terms[i]
		side := term.side(f.y[i])
		ks := m.DensityKgM3 * side.Loss * side.Area * math.Abs(f.y[i])
		push += 0.5 * ks * f.y[i]
		pushP += ks * (f.slip[i]*f.vImp - term.Swept*light)
		pushT += ks * f.slip[i] * vT
	}
	u, drag := f.u, s.Drag
	if u < 0 {
		drag += s.Cushion
	}
	byU := s.MassSlope*u - s.CouplingSlope*f.v - 2*drag*math.Abs(u)
	byV := -s.CouplingSlope * u
	out.at = instant{xi: xi, p: p, u: u, v: f.v, friction: s.Friction}
	out.xi = u
	out.p = push - s.Closing - e.sense*s.Friction - drag*u*math.Abs(u) + 0.5*s.MassSlope*u*u - s.CouplingSlope*u*f.v
	out.xiP, out.xiT = uP, uT
	out.pP, out.pT = pushP+byU*uP+byV*f.vImp, pushT+byU*uT+byV*vT
}

// begin is the right-hand side where the element is, with the derivatives by ξ, by
// difference.
func (y *system) begin(t float64) {
	xi, p := y.e.Xi, y.e.p
	switch y.ready {
	case beginAll:
		return
	case ended:
		y.begun = y.ended
	default:
		y.ratesOf(y.e.state(), t, xi, p, &y.begun)
	}
	here := &y.begun
	d := 1e-6 * max(xi, y.e.m.seat())
	if xi+d > y.e.m.Stroke {
		d = -d
	}
	var there slope
	y.rates(t, xi+d, p, &there)
	here.xiXi, here.pXi = (there.xi-here.xi)/d, (there.p-here.p)/d
	y.ready = beginAll
}

// step takes one Rosenbrock step of length h from the element's state and returns
// the new state and the error over the tolerance. The method is RODAS3: third
// order, L-stable and stiffly accurate (Sandu, Verwer, Blom, Spee, Potra and Dekker,
// Atmospheric Environment 31, 1997). The gap at the seat makes the equations stiff:
// the element must move as the water moves.
func (y *system) step(t, h float64) (instant, float64) {
	e := y.e
	y.begin(t)
	base := &y.begun

	// (1/(γh) − J) k = right-hand side, with γ = 1/2.
	a, b := 2/h-base.xiXi, -base.xiP
	c, d := -base.pXi, 2/h-base.pP
	det := a*d - b*c
	solve := func(r, q float64) (float64, float64) { return (r*d - b*q) / det, (a*q - c*r) / det }

	k1x, k1p := solve(base.xi+h/2*base.xiT, base.p+h/2*base.pT)
	k2x, k2p := solve(base.xi+4*k1x/h+h*1.5*base.xiT, base.p+4*k1p/h+h*1.5*base.pT)
	y.rates(t+h, e.Xi+2*k1x, e.p+2*k1p, &y.ended)
	f3 := &y.ended
	k3x, k3p := solve(f3.xi+(k1x-k2x)/h, f3.p+(k1p-k2p)/h)
	y.rates(t+h, e.Xi+2*k1x+k3x, e.p+2*k1p+k3p, &y.ended)
	f4 := &y.ended
	k4x, k4p := solve(f4.xi+(k1x-k2x-8.0/3*k3x)/h, f4.p+(k1p-k2p-8.0/3*k3p)/h)

	xi, p := e.Xi+2*k1x+k3x+k4x, e.p+2*k1p+k3p+k4p
	y.rates(t+h, xi, p, &y.ended)
	end := y.ended.at
	errX := k4x / (max(xi, 0) + 0.01*e.m.Stroke)
	// The error of p is judged against the element's own share M u of it.
	mass := 1 / base.xiP
	errP := k4p / (mass * (math.Abs(end.u) + 0.1*e.m.Stroke))
	return end, math.Max(math.Abs(errX), math.Abs(errP)) / e.tolerance
}

// locate shortens the step to the event that it ran past.
func (y *system) locate(t, h float64, past instant, event Event) (float64, instant) {
	early, late := 0.0, h
	before := y.e.margin(instant{xi: y.e.Xi, u: y.e.U}, event)
	after := y.e.margin(past, event)
	for range 40 {
		if math.Abs(after) < 1e-9*y.e.m.Stroke {
			break
		}
		try := early + (late-early)*min(max(before/(before-after), 0.02), 0.98)
		at, _ := y.step(t, try)
		if m := y.e.margin(at, event); m > 0 {
			early, before = try, m
		} else {
			late, after, past = try, m, at
		}
	}
	return late, past
}
