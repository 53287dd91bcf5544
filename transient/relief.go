package transient

import (
	"math"

	"seatward/internal/root"
)

// ReliefValve opens a way out of a node when the head passes its setting, in proportion
// to the excess, and shuts evenly when the head has fallen below.
type ReliefValve struct {
	SetM       float64 // head at which it begins to open
	FullM      float64 // head at which it is full open; > SetM
	OutsideM   float64 // head outside
	CdAM2      float64 // effective area full open
	CloseS     float64 // time to shut from full open; 0 follows the head at once
	GravityMS2 float64 // 0 means 9.80665

	open  float64 // 0 to 1
	trial float64
	Spilt float64 // volume let out, m³
	flow  float64
}

// Solve finds the head at which the valve's outflow is what the pipes bring.
func (r *ReliefValve) Solve(s Step, ends []End) error {
	g := r.GravityMS2
	if g == 0 {
		g = standardGravityMS2
	}
	c, y := offer(ends)
	excess := func(head float64) float64 {
		return c - y*head - r.opening(s, head)*r.CdAM2*math.Sqrt(2*g*math.Max(0, head-r.OutsideM))
	}
	head, _ := root.Around(excess, c/y, 1)
	r.trial = r.opening(s, head)
	if r.flow = 0; r.trial > 0 {
		r.flow = math.Max(0, c-y*head)
	}
	meetAll(ends, head)
	return nil
}

// opening is what the head asks for; on the way shut it takes its time.
func (r *ReliefValve) opening(s Step, head float64) float64 {
	want := math.Min(1, math.Max(0, (head-r.SetM)/(r.FullM-r.SetM)))
	if r.CloseS > 0 {
		want = math.Max(want, r.open-s.StepS/r.CloseS)
	}
	return want
}

// Commit moves the valve.
func (r *ReliefValve) Commit(s Step, _ []End) {
	r.open = r.trial
	r.Spilt += r.flow * s.StepS
}
