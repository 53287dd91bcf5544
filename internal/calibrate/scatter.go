package calibrate

import (
	"math"
	"slices"

	"seatward/plant"
)

// rescale says by the run with the numbers x how far each reading can be held against it, and takes
// the standard deviation of the readings from what the run leaves over: the median of its size,
// times how many neighbors tell the same. Nothing is smoothed any more.
func (f *fitter) rescale(x []float64) error {
	if _, err := f.rebase(x); err != nil {
		return err
	}
	for i, s := range f.stops {
		s.blur, s.trust = 0, s.trusts(s.base, x[f.own(i, timeAt)])
		own := f.left(x, i, s.base)
		rms := usualSize(own)
		s.leftM, s.astray = rms, 0
		for _, v := range own {
			if math.Abs(v) > strayShare*s.rangeM() {
				s.astray += 1 / float64(len(own))
			}
		}
		doubt := math.Max(1, math.Min(modelDoubt, rms/s.NoiseM))
		held := make([]float64, len(own))
		for j, v := range own {
			held[j] = math.Max(-farOff*rms, math.Min(farOff*rms, v))
		}
		s.scale = math.Max(rms, s.NoiseM) * math.Sqrt(alike(held)) * doubt
	}
	return nil
}

// trusts is how far each reading can be held against a run: the logger's noise over it and what the
// run itself leaves open there. By a steep front, and while the branch rings, a reading may have met
// any head that the run has shortly before and after it; the fall before them is as sure as the
// noise, and tells the inertia.
func (s *fitted) trusts(run *plant.Traced, late float64) []float64 {
	n := len(run.TimeS)
	dt := (run.TimeS[n-1] - run.TimeS[0]) / float64(n-1)
	ring := math.Max(s.stepS, ringTimes*run.BranchS) / 2
	out := make([]float64, len(s.times))
	for j, t := range s.times {
		at, about := t-late*s.AtErrS-run.TimeS[0], jitterSteps*dt
		if run.Closing.Closed && at > run.Closing.First.TimeS-ring {
			about = math.Max(about, ring)
		}
		from := max(0, min(n-1, int(math.Floor((at-about)/dt))))
		to := max(0, min(n-1, int(math.Ceil((at+about)/dt))))
		heads := run.HeadM[from : to+1]
		any := (slices.Max(heads) - slices.Min(heads)) / math.Sqrt(12) // evenly spread between the two
		out[j] = s.NoiseM / math.Hypot(s.NoiseM, any)
	}
	return out
}

// jitterSteps is how many steps of a run its front may be early or late: it comes with a step, and
// the valve seats between two (judged; seen in runs whose numbers are turned a little).
const jitterSteps = 1.5

// usualSize is the standard deviation of what is left over, by the median of its sizes: spikes and
// late fronts do not count.
func usualSize(r []float64) float64 {
	sizes := make([]float64, len(r))
	for i, v := range r {
		sizes[i] = math.Abs(v)
	}
	slices.Sort(sizes)
	return 1.4826 * sizes[len(sizes)/2]
}

// modelDoubt is how many times more what is left over counts where it is more than the scatter of
// the logger: then it is no chance, but what the model does not know (judged, no source; the test
// of hidden numbers holds the intervals).
const modelDoubt = 2.0

// alike is how many residuals tell what one alone tells: one and twice the sum of the
// correlations of neighbors, as far as these stand out.
func alike(r []float64) float64 {
	var square float64
	for _, v := range r {
		square += v * v
	}
	if square == 0 {
		return 1
	}
	out := 1.0
	for lag := 1; lag < len(r)/5; lag++ {
		c := 0.0
		for i := lag; i < len(r); i++ {
			c += r[i] * r[i-lag]
		}
		if c /= square; c < 2/math.Sqrt(float64(len(r))) {
			break
		}
		out += 2 * c
	}
	return out
}

// poor is true where the run leaves over much more than the scatter of the readings.
func (f *fitter) poor() bool {
	return slices.ContainsFunc(f.stops, func(s *fitted) bool {
		return s.astray > mostAstray || s.leftM > math.Max(poorFit*s.NoiseM, poorShare*s.rangeM())
	})
}

const (
	poorFit   = 3.0  // times the logger's own scatter that a good fit may leave over,
	poorShare = 0.02 // or of the range of the head (judged, no source)

	strayShare = 0.04 // of the range, from which a reading is astray,
	mostAstray = 0.03 // and the share of those readings, from which the run is
)
