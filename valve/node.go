package valve

import "math"

// Node is what the pipes say at the valve during a short time:
//
//	V = Free + Slope t − Admittance Δp
//
// Free is the velocity that the pipes would give if the valve lost nothing. For
// pipes of wave speeds a1 and a2 on the two sides, Admittance = 1/[ρ(a1+a2)]; 0
// is a flow that no valve can change. It joins the two characteristics of the
// method of characteristics (Wylie and Streeter 1993): with H1 = CP − B1 Q and
// H2 = CM + B2 Q, Free = (CP − CM)/[A(B1+B2)].
type Node struct {
	Free       float64 // m/s, at the start
	Slope      float64 // m/s²
	Admittance float64 // m/s per Pa
}

// PipeAdmittance is 1/[ρ(a1+a2)] in m/s per Pa, for the density ρ in kg/m³ and the
// wave speeds in m/s of the pipes on the two sides of the valve.
func PipeAdmittance(densityKgM3, waveSpeed1MS, waveSpeed2MS float64) float64 {
	return 1 / (densityKgM3 * (waveSpeed1MS + waveSpeed2MS))
}

// flow is the velocity through the valve and how it moves with what drives it.
type flow struct {
	v, u         float64    // bore velocity, element speed
	y            [3]float64 // relative velocities
	vFree, vImp  float64    // ∂V/∂Free, ∂V/∂p
	slip, offset [3]float64 // y = slip·V − offset
}

// solveFlow finds V for the element's impulse p = M u − C V, by which the pull of
// accelerating water needs no derivative of V. The equation
//
//	V + Y·½ρ Σ K_i y_i|y_i| = free,   y_i = V (1 − γ_i C/M) − γ_i p/M
//
// rises with V, so its root is single. One resistance is solved in closed form,
// written so that no digits are lost for small K; several by Newton steps kept
// inside a bracket. held fixes u = 0 instead.
func solveFlow(s *State, density, admittance, free, p float64, held bool) flow {
	var f flow
	big, n := 0, 0
	terms, light := s.terms(), 1/s.Mass
	for i := range terms {
		t := &terms[i]
		f.slip[i], f.offset[i] = 1, 0
		if !held {
			f.slip[i] -= t.Swept * s.Coupling * light
			f.offset[i] = t.Swept * p * light
		}
		if k := t.Forward.Loss + t.Reverse.Loss; k > 0 {
			n++
			if k > s.Terms[big].Forward.Loss+s.Terms[big].Reverse.Loss {
				big = i
			}
		}
	}
	half := 0.5 * density * admittance
	switch {
	case half == 0 || n == 0:
		f.v = free
	default:
		f.v = f.single(s, big, half, free)
		if n > 1 {
			f.v = f.several(s, half, free)
		}
	}
	f.finish(s, half, p, held)
	return f
}

// single solves the node for the term i alone.
func (f *flow) single(s *State, i int, half, free float64) float64 {
	a, b := f.slip[i], f.offset[i]
	c := a*free - b
	k := a * half * s.Terms[i].side(c).Loss
	root := 1 + 4*k*math.Abs(c)
	if a == 0 || root < 0 { // an element that runs ahead of the water, in a step tried too wide
		return free
	}
	return (2*c/(1+math.Sqrt(root)) + b) / a
}

// several solves the node for all terms, starting from f.v. The Newton steps stand here, not
// in internal/root, because they run several times in every step of a stop: the slope comes
// with the sum at no cost, and from the root of the greatest term few are needed.
func (f *flow) several(s *State, half, free float64) float64 {
	// The sum rises with V, so its root lies between the velocities at which single terms
	// vanish. An element that runs ahead of the water (slip below 0) can move it outside.
	low, high := free, free
	for i := range s.Terms {
		if s.Terms[i].Forward.Loss+s.Terms[i].Reverse.Loss > 0 && f.slip[i] > 0 {
			rest := f.offset[i] / f.slip[i]
			low, high = min(low, rest), max(high, rest)
		}
	}
	for step := high - low + 1e-6; f.ahead() && step < 1e6; step *= 2 {
		under, _ := f.excess(s, half, free, low)
		over, _ := f.excess(s, half, free, high)
		if under <= 0 && over >= 0 {
			break
		}
		low, high = low-step, high+step
	}
	v := min(max(f.v, low), high)
	for range 100 {
		g, slope := f.excess(s, half, free, v)
		if g > 0 {
			high = v
		} else {
			low = v
		}
		// The last step is smaller than the digits of V: asked after the bracket, it would
		// be sent half a bracket away, to begin anew.
		step := g / slope
		if math.Abs(step) <= 1e-15+1e-14*math.Abs(v) {
			return v - step
		}
		if v -= step; v <= low || v >= high {
			v = low + (high-low)/2
		}
	}
	return v
}

// ahead is true when the element runs ahead of the water in some term.
func (f *flow) ahead() bool { return f.slip[0] <= 0 || f.slip[1] <= 0 || f.slip[2] <= 0 }

// excess is V + Y Δp − free at the velocity, and its slope.
func (f *flow) excess(s *State, half, free, v float64) (g, slope float64) {
	g, slope = v-free, 1
	for i := range s.Terms {
		y := f.slip[i]*v - f.offset[i]
		k := half * s.Terms[i].side(y).Loss
		g += k * y * math.Abs(y)
		slope += 2 * k * math.Abs(y) * f.slip[i]
	}
	return g, slope
}

// finish fills in what follows from V.
func (f *flow) finish(s *State, half, p float64, held bool) {
	slope, byImpulse := 1.0, 0.0
	terms, light := s.terms(), 1/s.Mass
	for i := range terms {
		f.y[i] = f.slip[i]*f.v - f.offset[i]
		k := 2 * half * terms[i].side(f.y[i]).Loss * math.Abs(f.y[i])
		slope += k * f.slip[i]
		byImpulse += k * terms[i].Swept * light
	}
	f.vFree = 1 / slope
	if held {
		return
	}
	f.vImp = byImpulse / slope
	f.u = (p + s.Coupling*f.v) * light
}

// push is the hydraulic force on the element in this flow.
func (f *flow) push(s *State, density float64) float64 {
	var force float64
	for i := range s.terms() {
		side := s.Terms[i].side(f.y[i])
		force += 0.5 * density * side.Loss * side.Area * f.y[i] * math.Abs(f.y[i])
	}
	return force
}
