// Package moc is the hot loop of the transient solver: one time step of the
// method of characteristics at the inner nodes of one pipe, and the record of
// the highest and lowest heads. It knows arrays of numbers and nothing of pipes,
// devices or units beyond those stated here.
//
// Every path (AVX-512, AVX2, plain Go) does the same operations in the same
// order and fuses none of them, so that a study gives the same bits on every
// machine.
//
// Source: Wylie and Streeter (1993), Fluid Transients in Systems, chapter 3,
// method of characteristics on a fixed grid at Courant number 1.
package moc

// Reach holds the constants of the reaches that a pipe is cut into, all alike.
// With a the wave speed (m/s), g gravity (m/s2) and A the bore's area (m2), the
// characteristic impedance is a/(g A).
type Reach struct {
	B        float64   // impedance a/(g A) less the linear friction of a reach, s/m2
	R        float64   // quadratic friction of a reach: loss of head over flow squared, s2/m5
	HalfInvB float64   // half of the inverse impedance, g A/(2 a), m2/s
	Loss     []float64 // of unsteady friction at each node, m, that C+ from it is less and C- more; nil for none
}

// Interior advances the inner nodes 1 to n-2 of a pipe of n nodes by one time
// step: heads h1 (m) and flows q1 (m3/s) from the heads h0 and flows q0 of the
// step before. From the node on either side runs a characteristic
//
//	C+ = H(i-1) + Q(i-1) (B - R |Q(i-1)|)
//	C- = H(i+1) - Q(i+1) (B - R |Q(i+1)|)
//
// and where they meet H = (C+ + C-)/2 and Q = (C+ - C-) HalfInvB. Friction is
// taken at the foot of each characteristic.
//
// The end nodes belong to the boundaries and are left alone. The four slices are
// of one length; were they not, the shortest would count. With fewer than three
// nodes there is nothing to do. The new slices must not overlap the old ones.
// Infinite and NaN values run through as in any float64 arithmetic; which NaN
// comes of a NaN is not promised.
//
// Source: Wylie and Streeter (1993), section 3-2, compatibility equations in
// finite-difference form, written for flow and head.
func Interior(h1, q1, h0, q0 []float64, c Reach) {
	n := min(len(h1), len(q1), len(h0), len(q0))
	if c.Loss != nil {
		n = min(n, len(c.Loss))
		chosen.remembering(h1[:n], q1[:n], h0[:n], q0[:n], c)
		return
	}
	chosen.interior(h1[:n], q1[:n], h0[:n], q0[:n], c)
}

// Extremes widens the lowest values lo and the highest values hi so that they
// hold h, node by node, in whatever unit the three have in common (heads: m).
// A NaN in h changes nothing, and a NaN in lo or hi stays. The slices are of one
// length; were they not, the shortest would count. They must not overlap.
func Extremes(lo, hi, h []float64) {
	n := min(len(lo), len(hi), len(h))
	chosen.extremes(lo[:n], hi[:n], h[:n])
}

// path is one way to run the loops. Its functions may rely on slices of one length.
type path struct {
	kind     string
	interior func(h1, q1, h0, q0 []float64, c Reach)
	extremes func(lo, hi, h []float64)
	above    func(h, floor []float64) int
	recall   func(f *Friction, q1, q0 []float64)
	gas      func(n *Nodes, from, end int) (most float64)
	vapor    func(n *Nodes, from, end int) (most float64, felt bool)

	remembering func(h1, q1, h0, q0 []float64, c Reach) // interior with a loss
}

// chosen is the fastest path that this machine can run.
var chosen = paths()[0]
