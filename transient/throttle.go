package transient

import "math"

// Throttle is a loss in line that a schedule moves: ΔH = k(t) Q|Q|. An infinite k is
// shut.
type Throttle struct {
	LossS2M5 func(timeS float64) float64 // k, s²/m⁵
}

// Flow solves k Q|Q| = Z (free − Q).
func (d Throttle) Flow(timeS, _ float64, _, to, z float64) (float64, error) {
	return math.Copysign(forward(d.LossS2M5(timeS), math.Abs(to), z), to), nil
}

// Commit has nothing to do.
func (Throttle) Commit(_, _ float64, _, _, _ float64) {}

// DropM is the head lost at the start.
func (d Throttle) DropM(q float64) float64 { return d.LossS2M5(0) * q * math.Abs(q) }

// forward is the positive root of k Q² + z Q − z free = 0, in the form that loses no
// digits for small k.
func forward(k, free, z float64) float64 {
	if math.IsInf(k, 1) {
		return 0
	}
	return 2 * z * free / (z + math.Sqrt(z*z+4*k*z*free))
}
