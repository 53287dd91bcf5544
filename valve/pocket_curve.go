package valve

import "math"

// What the water does to a ball in an inclined pocket, by the share s of its travel.
// No measured curve of this type is public. These numbers are computed, not measured:
// large-eddy lattice-Boltzmann flow (27 velocities, cumulant collision, curved walls,
// nominal Re 5e4) round a fixed ball in a generic body. The body, in bores: seat as
// wide as the bore, tilted 25°; ball 1.25; guide 45° upward along the flow; travel
// 1.225; pocket 1.35 with a flat closed end. The method met the drag of a sphere in a
// tube within 7 % after extrapolation in grid. At s = 0.1 the jet has two states, so
// the force there is only a range; beyond s = 0.5 the force has the right sign only.
//
// loss: K. along: force along the guide on ½ρV²A of the bore, opening positive.
// sigma: standard deviation of along. pull: force along the guide per 1.5 ρ Vol dV/dt.
// exposed: share of the stream's velocity that the ball meets. added: added-mass
// coefficient of the moving ball.
var pocketForward = []struct{ s, loss, along, sigma, pull, exposed, added float64 }{
	{0.05, 63.6, 37.3, 5.05, 1.29, 0.446, 2.73},
	{0.1, 13, 5, 2.5, 1.08, 0.424, 2.43},
	{0.2, 3.42, 1.38, 0.2, 0.851, 0.38, 2.16},
	{0.35, 1.35, 0.823, 0.199, 0.652, 0.316, 2.03},
	{0.5, 0.828, 0.143, 0.0435, 0.504, 0.253, 2.06},
	{0.75, 0.424, -0.343, 0.252, 0.292, 0.15, 2.48},
	{1, 0.461, -0.621, 0.15, 0.112, 0.064, 3.29},
}

// pocketReverse is the same in reverse flow; along is the force toward the seat.
var pocketReverse = []struct{ s, loss, along, sigma float64 }{
	{0.1, 15.4, 19.7, 1.98},
	{0.35, 1.07, 2.17, 0.308},
	{1, 0.448, 0.0682, 0.0291},
}

// pocketGapBelow is the share of the travel below which the gap at the seat governs.
const pocketGapBelow = 0.05

// pocketFlow are the curves of one body: logarithm of the loss, force per pressure
// drop on the bore's area (η), in both directions, and the rest.
type pocketFlow struct {
	logLoss, efficiency           curve
	logReverseRatio, reverseForce curve // K reverse over forward; η reverse
	pull, exposed, added          curve
}

// newPocketFlow makes the curves. seated is η on the seat. opening and closing shift
// the force by so many standard deviations in forward and reverse flow.
func newPocketFlow(seated, opening, closing float64) (f pocketFlow, err error) {
	var s, logLoss, eta, pull, exposed, added []float64
	for _, p := range pocketForward {
		s = append(s, p.s)
		logLoss = append(logLoss, math.Log(p.loss))
		eta = append(eta, (p.along+opening*p.sigma)/p.loss)
		pull, exposed, added = append(pull, p.pull), append(exposed, p.exposed/pocketForward[0].exposed), append(added, p.added)
	}
	var logAt curve
	fit := func(c *curve, x, y []float64) {
		if err == nil {
			*c, err = newCurve(x, y)
		}
	}
	fit(&logAt, s, logLoss)
	reverseS, ratio, reverseEta := []float64{0}, []float64{0}, []float64{seated}
	for _, p := range pocketReverse {
		reverseS = append(reverseS, p.s)
		ratio = append(ratio, math.Log(p.loss)-logAt.at(p.s))
		reverseEta = append(reverseEta, max(0, p.along+closing*p.sigma)/p.loss)
	}
	f.logLoss = logAt
	fit(&f.efficiency, append([]float64{0}, s...), append([]float64{seated}, eta...))
	fit(&f.logReverseRatio, reverseS, ratio)
	fit(&f.reverseForce, reverseS, reverseEta)
	fit(&f.pull, s, pull)
	fit(&f.exposed, s, exposed)
	fit(&f.added, s, added)
	return f, err
}
