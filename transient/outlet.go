package transient

import "math"

// Outlet lets one pipe run out through an opening that a schedule moves:
//
//	Q = τ(t) Cd A √(2g ΔH),  ΔH the head above the level outside,
//
// with the sign of ΔH (Wylie and Streeter 1993, eq. 3-39).
type Outlet struct {
	OutsideM   float64                     // head outside
	CdAM2      float64                     // effective area fully open
	Opening    func(timeS float64) float64 // τ, 0 closed to 1 open
	GravityMS2 float64                     // 0 means 9.80665
}

// Solve takes the root of Q² sgn + k B Q − k (C − outside) = 0, k = 2g (τ Cd A)².
func (b Outlet) Solve(s Step, ends []End) error {
	g := b.GravityMS2
	if g == 0 {
		g = standardGravityMS2
	}
	area := b.Opening(s.TimeS) * b.CdAM2
	k := 2 * g * area * area
	for i := range ends {
		e := &ends[i]
		over := e.C - b.OutsideM
		// |Q|² + kB|Q| − k|over| = 0, in the form that loses no digits.
		q := 0.0
		if k > 0 {
			q = math.Copysign(2*k*math.Abs(over)/(k*e.B+math.Sqrt(k*k*e.B*e.B+4*k*math.Abs(over))), over)
		}
		e.Q, e.H = q, e.C-e.B*q
	}
	return nil
}

// Commit has nothing to do.
func (Outlet) Commit(Step, []End) {}
