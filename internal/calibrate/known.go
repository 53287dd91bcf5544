package calibrate

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// ruggedFriction is how many times more the spread of friction may be off: its valley, with the zero of
// the sensor and the level of the well, is the flattest, and fits end far along it (judged; with 1, one
// in ten of the friction numbers of the test of hidden numbers lay outside).
const ruggedFriction = 2.0

// know sets how far each number is known after a fit.
func (f *fitter) know(x []float64, c *mat.SymDense) {
	f.sds, f.doubtM = make([]float64, f.numbers()), f.plant.FrictionDoubtM()
	for k := range f.sds {
		sd := rugged * math.Sqrt(c.At(k, k))
		if k < len(f.knobs) && !math.IsNaN(f.plant.Friction(&f.knobs[k], 0)) {
			sd *= ruggedFriction
		}
		if k < len(f.knobs) && f.knobs[k].Name == waveKnob {
			sd = math.Hypot(sd, f.stepOf(k))
		}
		f.sds[k] = math.Min(1, sd)
	}
}

// stepOf is the error of a wave speed by the grid, in turns: waves run in whole steps of it, and a wave
// speed is known to one step of the main's travel at the best.
func (f *fitter) stepOf(k int) float64 {
	run := f.stops[0].base
	step := 4 * (run.TimeS[1] - run.TimeS[0]) / run.CycleS / sure
	turn := math.Log(f.knobs[k].At(0.5) / f.knobs[k].At(-0.5))
	if turn <= 0 {
		return 0
	}
	return step / turn
}

// away is the deviate of a knob so many standard deviations off its place. A trace tells the head that
// the main loses: the friction number is as wide as makes that loss so many deviations more or less.
// Near a smooth wall that is far, for there the loss does not fall any more.
func (f *fitter) away(x []float64, k int, off float64) float64 {
	knob := &f.knobs[k]
	here := f.plant.Friction(knob, x[k])
	if math.IsNaN(here) {
		return x[k] + off*f.sds[k]
	}
	slope := (f.plant.Friction(knob, x[k]+turn) - f.plant.Friction(knob, x[k]-turn)) / (2 * turn)
	sign := math.Copysign(1, slope)
	lossM := sign * (here + sign*off*math.Hypot(f.sds[k]*slope, f.doubtM))
	low, high := math.Min(x[k], -math.Abs(off)), math.Max(x[k], math.Abs(off)) // as known before, or its place
	for range 50 {
		if mid := (low + high) / 2; sign*f.plant.Friction(knob, mid) < lossM {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}
