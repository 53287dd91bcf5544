package valve

import "math"

// leastBounce is the slowest rebound that is followed, in strokes per second. One slower
// than this rises by less than the gap at which the element is taken as seated.
const leastBounce = 0.02

// bounce throws the element back off its seat with the share of its speed that the blow
// leaves it; false when nothing worth following is left.
//
// The blow lasts no time, so the pipes cannot answer within it: the element's impulse
// M u − C V changes until the flow that the pipes give with it goes with the new speed.
func (e *Element) bounce(free, admittance float64) bool {
	u := -e.m.restitution * e.U
	if u < leastBounce*e.m.Stroke {
		return false
	}
	s := e.m.At(e.Xi)
	for range 50 {
		f := solveFlow(&s, e.m.DensityKgM3, admittance, free, e.p, false)
		miss := u - f.u
		if math.Abs(miss) < 1e-9*u {
			e.U, e.V, e.sense = f.u, f.v, 1
			return true
		}
		e.p += miss * s.Mass / (1 + s.Coupling*f.vImp)
	}
	return false
}
