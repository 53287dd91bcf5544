package trace

import "math"

// Unseen is what a logger of this kind could not have seen.
type Unseen struct {
	StepS float64 `json:"step_s"`
	Means bool    `json:"means"` // each value is a mean, or may be one
	// Caught is the mean share of the peak that single readings at this step keep.
	Caught []Caught `json:"caught"`
	// NeededS is the step that keeps 95 % of the peak of the usual slam pulse.
	NeededS       float64 `json:"needed_step_s"`
	PlateauReads  float64 `json:"readings_in_2l_a,omitempty"`
	MainPeriodS   float64 `json:"main_period_s,omitempty"`    // 4 L/a
	SeemingS      float64 `json:"seeming_period_s,omitempty"` // as which this logger would show it
	SpikeInMeanM  float64 `json:"spike_in_mean_m,omitempty"`  // what a mean keeps of 40 m for 0.2 s
	Verdict       Verdict `json:"verdict"`
	StopsWithout  int     `json:"stops_without_slam"`
	StopsRecorded int     `json:"stops"`
}

// Caught is the share for one kind of pulse.
type Caught struct {
	Pulse string  `json:"pulse"`
	Share float64 `json:"share"`
}

// Verdict is what the trace says about slam.
type Verdict string

// The verdicts. None is given only by a logger that is fast enough, of stops that it recorded.
const (
	Seen   Verdict = "slam seen"
	None   Verdict = "no slam in the recorded stops"
	Cannot Verdict = "cannot say"
)

// The usual slam pulse: the median of 1,433 check-valve slams on a laboratory bench, measured
// at 500 Hz (Cornell University ram-pump bench, 2019). A long main gives longer pulses.
const (
	pulseRiseS = 0.005
	pulseHalfS = 0.008
	sureShare  = 0.9
)

func unseen(r *Report, f Facts, o Options) Unseen {
	step := r.Grain.StepS
	u := Unseen{StepS: step, Means: o.Mean, NeededS: neededStep(), Caught: []Caught{}, Verdict: Cannot}
	if step <= 0 {
		return u
	}
	for i := range r.Operations {
		if r.Operations[i].Start {
			continue
		}
		u.StopsRecorded++
		if !r.slamAfter(&r.Operations[i]) {
			u.StopsWithout++
		}
	}
	if o.Mean {
		u.SpikeInMeanM = LeftInMean(40, 0.2, step)
		return u
	}
	u.Caught = append(u.Caught, Caught{"a slam of 8 ms at half height", CaughtSlam(pulseRiseS, pulseHalfS, step)},
		Caught{"a pulse of 0.1 s", CaughtTriangle(0.1, step)}, Caught{"a pulse of 1 s", CaughtTriangle(1, step)})
	share := u.Caught[0].Share
	if p := f.plateauS(); p > 0 {
		u.PlateauReads, u.MainPeriodS = p/step, 2*p
		if hz := AliasHz(1/(2*p), 1/step); 4*step > 2*p && hz > 0 {
			u.SeemingS = 1 / hz
		}
		share = CaughtFlat(p, step)
		if p < 2*step {
			share = math.Min(share, u.Caught[0].Share)
		}
		u.Caught = append(u.Caught, Caught{"a step that lasts 2 L/a", CaughtFlat(p, step)})
	}
	switch {
	case len(r.Slams) > 0:
		u.Verdict = Seen
	case u.StopsRecorded > 0 && share >= sureShare && !o.Extreme && len(r.Clipped) == 0 && r.Unresolved == 0:
		u.Verdict = None
	}
	return u
}

func (r *Report) slamAfter(op *Operation) bool {
	for i := range r.Slams {
		if a := r.Slams[i].After; a != nil && a.AtNS == op.AtNS {
			return true
		}
	}
	return false
}

// neededStep is the step at which 95 % of the usual pulse is kept.
func neededStep() float64 {
	low, high := 1e-5, 1.0
	for range 40 {
		if mid := math.Sqrt(low * high); CaughtSlam(pulseRiseS, pulseHalfS, mid) > 0.95 {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}
