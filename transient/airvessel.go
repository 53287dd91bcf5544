package transient

import (
	"errors"
	"math"

	"seatward/internal/root"
)

// AirVessel is a closed vessel of air over water at a node: H_abs ∀ⁿ stays constant, and
// water loses head on its way in and out (Wylie and Streeter 1993, ch. 6).
type AirVessel struct {
	VolumeM3    float64 // of air at the start
	Exponent    float64 // polytropic n, 1 to 1.4; 0 means 1.2
	InS2M5      float64 // loss k Q² of water going in
	OutS2M5     float64 // and out
	ElevationM  float64 // of the water's surface, taken as level
	AirHeadM    float64 // of the outside air, absolute; 0 means 10.33 m
	constant    float64
	flow, trial float64 // into the vessel
	greatest    float64
}

const vesselExponent = 1.2

// Start charges the vessel to the steady head.
func (v *AirVessel) Start(ends []End) error {
	if !(v.VolumeM3 > 0) {
		return errors.New("an air vessel needs a volume of air")
	}
	if v.Exponent == 0 {
		v.Exponent = vesselExponent
	}
	if v.AirHeadM == 0 {
		v.AirHeadM = airHeadM
	}
	absolute := ends[0].H - v.ElevationM + v.AirHeadM
	if !(absolute > 0) {
		return errors.New("the head at the air vessel is below vacuum")
	}
	v.constant = absolute * math.Pow(v.VolumeM3, v.Exponent)
	v.greatest = v.VolumeM3
	return nil
}

// Solve finds the flow into the vessel: the junction's head falls with it in a straight
// line, the air's head and the loss rise with it.
func (v *AirVessel) Solve(s Step, ends []End) error {
	c, y := offer(ends)
	excess := func(q float64) float64 { // falls with q
		air := v.VolumeM3 - 0.5*s.StepS*(v.flow+q)
		if air <= 0 {
			return math.Inf(-1)
		}
		k := v.InS2M5
		if q < 0 {
			k = v.OutS2M5
		}
		return (c-q)/y - (v.constant/math.Pow(air, v.Exponent) - v.AirHeadM + v.ElevationM) - k*q*math.Abs(q)
	}
	q, ok := root.Around(excess, v.flow, 1e-3+math.Abs(v.flow))
	if !ok {
		return errors.New("the air vessel finds no flow")
	}
	v.trial = q
	meetAll(ends, (c-q)/y)
	return nil
}

// Commit moves the air.
func (v *AirVessel) Commit(s Step, _ []End) {
	v.VolumeM3 -= 0.5 * s.StepS * (v.flow + v.trial)
	v.flow = v.trial
	v.greatest = math.Max(v.greatest, v.VolumeM3)
}

// GreatestM3 is the greatest volume of air so far.
func (v *AirVessel) GreatestM3() float64 { return v.greatest }
