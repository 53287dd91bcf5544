package transient

import "math"

// IdealCheck is a check valve without mass: it lets no flow back and loses
// k Q² forward. It shuts the moment the flow turns and opens as soon as it is pushed.
type IdealCheck struct {
	LossS2M5 float64 // head k Q²
	Shut     bool    // as the last step left it
	ShutS    float64 // when it first shut; 0 before
}

// Flow is the forward flow, or none.
func (d *IdealCheck) Flow(_, _ float64, _, to, z float64) (float64, error) {
	if to <= 0 {
		return 0, nil
	}
	return forward(d.LossS2M5, to, z), nil
}

// Commit notes a shutting.
func (d *IdealCheck) Commit(timeS, _ float64, _, to, _ float64) {
	if shut := to <= 0; shut != d.Shut {
		d.Shut = shut
		if shut && d.ShutS == 0 {
			d.ShutS = timeS
		}
	}
}

// DropM is the head lost in steady flow.
func (d *IdealCheck) DropM(q float64) float64 { return d.LossS2M5 * q * q }

// forward is the positive root of k Q² + z Q − z free = 0, in the form that loses no
// digits for small k.
func forward(k, free, z float64) float64 {
	return 2 * z * free / (z + math.Sqrt(z*z+4*k*z*free))
}
