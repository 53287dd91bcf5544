// Package calibrate fits the model of a station to logged stops of its pumps: inertia, wave
// speed, friction, the numbers of the valve, free gas. It says how far each number is known by
// the readings and what cannot be held apart, and makes of the stops a measured closing curve.
package calibrate

import (
	"math"
	"slices"

	"seatward/internal/trace"
)

// Stop is one stop in a log, with the readings about it.
type Stop struct {
	File, Channel string
	When          string  // the stop, by the clock of the log
	Date          string  // year-month-day; "" where the log has no clock
	AtNS          int64   // the stop, as far as the log tells it
	AtErrS        float64 // standard deviation of it
	ClosingS      float64 // the steep front, s from AtNS; NaN where none is seen
	StepM         float64 // of it
	LowerBound    bool    // the logger has not seen all of the step
	Wave          *trace.Range

	TimeS, HeadM []float64 // readings, s from AtNS and head over the gauge
	StepS        float64   // usual step of the logger
	NoiseM       float64   // standard deviation of a reading, by itself and by its quantum
	LowM, HighM  float64   // ends of the sensor's range; infinite where none is seen
}

const (
	beforeS    = 20.0 // of readings before a stop
	behindS    = 180.0
	unknownS   = 60.0 // before a closing, in which its stop lies where nothing tells it
	headErrS   = 2.0  // of the time of a stop that is read from the head
	switchErrS = 1.0  // of one that another channel shows
	togetherS  = 1.0  // stops of several pumps so near are one
	leastReads = 40
)

// Stops are the stops of a trace of head: those that the log shows, and closings before which
// it shows none.
func Stops(s trace.Source, r *trace.Report) []Stop {
	var out []Stop
	used := map[int]bool{}
	stopped := false
	var last int64
	for i, op := range r.Operations {
		if op.Start || stopped && float64(op.AtNS-last)*1e-9 < togetherS {
			continue
		}
		stopped, last = true, op.AtNS
		x := Stop{AtNS: op.AtNS, AtErrS: switchErrS, ClosingS: math.NaN()}
		if op.By == "head" {
			x.AtErrS = headErrS
		}
		end := nextStart(r.Operations[i:], op.AtNS)
		for k := range r.Slams {
			if w := &r.Slams[k]; w.AtNS > op.AtNS-int64(1e9) && w.AtNS < end && !used[k] {
				if w.Cause == "closing" && math.IsNaN(x.ClosingS) {
					x.closing(w)
				}
				used[k] = true
			}
		}
		if x.read(s, r, end) {
			out = append(out, x)
		}
	}
	for k := range r.Slams {
		w := &r.Slams[k]
		if used[k] || w.Later || w.Cause != "closing" {
			continue
		}
		before := math.Min(unknownS, 0.9*float64(w.AtNS-s.Time(0))*1e-9)
		x := Stop{AtNS: w.AtNS - int64(before/2*1e9), AtErrS: before / 2}
		x.closing(w)
		if x.read(s, r, nextStart(r.Operations, w.AtNS)) {
			out = append(out, x)
		}
	}
	slices.SortStableFunc(out, func(a, b Stop) int {
		switch {
		case a.AtNS < b.AtNS:
			return -1
		case a.AtNS > b.AtNS:
			return 1
		}
		return 0
	})
	return out
}

// nextStart is the first start of a pump after a time.
func nextStart(ops []trace.Operation, after int64) int64 {
	for _, op := range ops {
		if op.Start && op.AtNS > after {
			return op.AtNS
		}
	}
	return math.MaxInt64
}

func (x *Stop) closing(w *trace.Slam) {
	x.ClosingS, x.StepM, x.LowerBound = float64(w.AtNS-x.AtNS)*1e-9, w.StepM(), w.LowerBound
	if w.Wave != nil && w.Air == nil {
		x.Wave = w.Wave.Speed
	}
}

// read takes the readings about the stop; false where they are too few.
func (x *Stop) read(s trace.Source, r *trace.Report, end int64) bool {
	from := x.AtNS - int64(beforeS*1e9)
	to := min(end-int64(1e9), x.AtNS+int64(behindS*1e9))
	if !math.IsNaN(x.ClosingS) {
		to = min(end-int64(1e9), x.AtNS+int64((x.ClosingS+behindS)*1e9))
	}
	for i := range s.Len() {
		t := s.Time(i)
		if t < from {
			continue
		}
		if t > to {
			break
		}
		if v, ok := s.At(i); ok {
			x.TimeS, x.HeadM = append(x.TimeS, float64(t-x.AtNS)*1e-9), append(x.HeadM, v)
		}
	}
	x.StepS = r.Grain.StepS
	x.NoiseM = math.Max(leastNoiseM, math.Max(r.Grain.NoiseM, r.Grain.Quantum/math.Sqrt(12)))
	x.LowM, x.HighM = math.Inf(-1), math.Inf(1)
	for _, c := range r.Clipped {
		if c.High {
			x.HighM = math.Min(x.HighM, c.LevelM-r.Grain.Quantum/2)
		} else {
			x.LowM = math.Max(x.LowM, c.LevelM+r.Grain.Quantum/2)
		}
	}
	return len(x.TimeS) >= leastReads && x.TimeS[0] < 0
}

// leastNoiseM is below what any gauge reads, m.
const leastNoiseM = 1e-3
