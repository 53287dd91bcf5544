package pump

import (
	"errors"
	"math"

	"seatward/internal/root"
)

// Drive says how a pump is driven: the speed ratio that the motor holds at the time, or
// that it holds none, and the pump runs down by itself.
type Drive func(timeS float64) (ratio float64, powered bool)

// Runs is a motor that holds the speed ratio throughout.
func Runs(ratio float64) Drive { return func(float64) (float64, bool) { return ratio, true } }

// Trips is a motor without power from the time.
func Trips(ratio, atS float64) Drive {
	return func(t float64) (float64, bool) { return ratio, t <= atS }
}

// Ramps is a drive that takes the speed evenly from one ratio to another, from the time
// on and over overS seconds.
func Ramps(from, to, atS, overS float64) Drive {
	return func(t float64) (float64, bool) {
		share := math.Min(1, math.Max(0, (t-atS)/math.Max(overS, 1e-9)))
		return from + (to-from)*share, true
	}
}

// Machine is a pump with its motor in time: speed follows from the torque of the liquid
// and the inertia of all that turns,
//
//	I dω/dt = −T,
//
// while no motor holds it. It is a plain value between steps.
type Machine struct {
	Quadrants   *Quadrants
	InertiaKgM2 float64 // of impeller, liquid in it, coupling, motor and flywheel
	Drive       Drive
	Ratchet     bool // does not turn back

	ratio, torque float64
	guess         float64 // from which the search of the ratio starts
	coasting      bool    // ran down by itself, and no motor has caught it yet
	reversedS     float64
	share         float64 // of a change of ratio that came through a substitution last
	found         coast   // in the step now
}

// ErrNoInertia means that a pump has no inertia to run down by.
var ErrNoInertia = errors.New("pump: a pump with a power failure needs an inertia above zero")

// Begin puts the machine at the speed that its drive holds at the start, in the flow.
func (m *Machine) Begin(flowM3S float64) error {
	if !(m.InertiaKgM2 > 0) {
		return ErrNoInertia
	}
	m.ratio, _ = m.Drive(0)
	m.guess, m.share, m.found = m.ratio, 0, coast{}
	m.torque = m.Quadrants.Torque(m.ratio, flowM3S)
	return nil
}

// Ratio is the speed over the rated one now.
func (m *Machine) Ratio() float64 { return m.ratio }

// ReversedS is the time at which the pump began to turn back; 0 if it did not.
func (m *Machine) ReversedS() float64 { return m.reversedS }

// Gain is the head added at the end of the step in the flow, m, with its slope, s/m².
func (m *Machine) Gain(timeS, stepS, flowM3S float64) (headM, slope float64) {
	ratio, _ := m.end(timeS, stepS, flowM3S)
	return m.Quadrants.Head(ratio, flowM3S)
}

// Commit ends the step in the flow.
func (m *Machine) Commit(timeS, stepS, flowM3S float64) {
	before := m.ratio
	_, powered := m.Drive(timeS)
	m.coasting = !powered || m.coasting && m.freeOf(timeS, stepS, flowM3S)
	m.ratio, m.torque = m.end(timeS, stepS, flowM3S)
	m.guess = 2*m.ratio - before // as it has been going
	m.found = coast{}
	if before >= 0 && m.ratio < 0 && m.reversedS == 0 {
		m.reversedS = timeS - stepS*m.ratio/(m.ratio-before)
	}
}

const (
	speedTries = 30
	sameRatio  = 1e-10
	mostShare  = 0.5
	slowChange = 0.05 // of the rated speed in a step: beyond it the trapezoidal rule would swing
)

// end is speed ratio and torque at the end of the step: by the trapezoidal rule, or, for
// a pump that runs down within few steps, by the implicit one, which does not swing.
// Repeated substitution contracts while the step is short beside the inertia time; else a
// bracket is searched.
func (m *Machine) end(timeS, stepS, flowM3S float64) (ratio, torque float64) {
	if held, powered := m.Drive(timeS); powered && !(m.coasting && m.freeOf(timeS, stepS, flowM3S)) {
		return held, m.Quadrants.Torque(held, flowM3S)
	}
	return m.free(stepS, flowM3S)
}

// freeOf is true while a pump that coasts is faster than its starting motor: the motor
// drives it, and does not brake it.
func (m *Machine) freeOf(timeS, stepS, flowM3S float64) bool {
	held, _ := m.Drive(timeS)
	ratio, _ := m.free(stepS, flowM3S)
	return ratio > held
}

// free is the end of a step without a motor. What was found last in the step is kept: the
// same flow is asked for again, by Commit at least.
func (m *Machine) free(stepS, flowM3S float64) (ratio, torque float64) {
	if m.found.stepS != stepS || m.found.flow != flowM3S {
		m.found = coast{stepS: stepS, flow: flowM3S}
		m.found.ratio, m.found.torque = m.seek(stepS, flowM3S)
	}
	return m.found.ratio, m.found.torque
}

// coast is the end of a step without a motor in a flow; none where the step is 0.
type coast struct{ stepS, flow, ratio, torque float64 }

// seek finds the end of the step by repeated substitution, with the share of a change
// that the substitution of the last time let through taken out beforehand.
func (m *Machine) seek(stepS, flowM3S float64) (ratio, torque float64) {
	k := 0.5 * stepS / (m.InertiaKgM2 * m.Quadrants.rated.SpeedRadS)
	from := m.ratio - k*m.torque
	if k*math.Abs(m.torque) > slowChange || k*m.Quadrants.rated.TorqueNM > slowChange {
		from, k = m.ratio, 2*k
	}
	step := func(ratio float64) float64 {
		torque = m.Quadrants.Torque(ratio, flowM3S)
		next := from - k*torque
		if m.Ratchet {
			next = math.Max(0, next)
		}
		return next
	}
	ratio = m.guess
	before, found := 0.0, 0.0
	for i := range speedTries {
		next := step(ratio)
		if i > 0 && ratio != before {
			m.share = math.Min(mostShare, math.Max(-mostShare, (next-found)/(ratio-before)))
		}
		if math.Abs(next-ratio) < sameRatio {
			m.guess = next
			return next, torque
		}
		before, found = ratio, next
		ratio += (next - ratio) / (1 - m.share)
	}
	ahead := func(ratio float64) float64 { return step(ratio) - ratio }
	ratio = root.Find(ahead, root.Point{X: -fastest, Y: ahead(-fastest)}, root.Point{X: fastest, Y: ahead(fastest)}, 0)
	step(ratio)
	return ratio, torque
}

// fastest bounds the speed ratio of a pump that runs away.
const fastest = 4.0
