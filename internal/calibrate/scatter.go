package calibrate

import (
	"math"
	"slices"
)

// rescale takes the standard deviation of the smoothed readings from what the run leaves over:
// the median of its size, times how many neighbors tell the same.
func (f *fitter) rescale(x []float64) error {
	if _, err := f.rebase(x); err != nil {
		return err
	}
	for i, s := range f.stops {
		own := smoothed(s.rest(s.base, x[f.own(i, timeAt)], f.sensorM()-zeroM*x[f.own(i, zeroAt)],
			driftM*x[f.own(i, driftAt)]), s.blur/s.stepS)
		rms := usualSize(own)
		s.leftM, s.astray = rms, 0
		for j, v := range own {
			if math.Abs(v) > strayShare*s.rangeM() && !s.rings(s.times[j]-x[f.own(i, timeAt)]*s.AtErrS) {
				s.astray += 1 / float64(len(own))
			}
		}
		noise := s.NoiseM * smoothShare(s.blur/s.stepS)
		doubt := math.Max(1, math.Min(modelDoubt, rms/noise))
		held := make([]float64, len(own))
		for j, v := range own {
			held[j] = math.Max(-farOff*rms, math.Min(farOff*rms, v))
		}
		s.scale = math.Max(rms, noise) * math.Sqrt(alike(held)) * doubt
	}
	return nil
}

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

// smoothShare is what smoothing leaves of the standard deviation of even noise.
func smoothShare(width float64) float64 {
	n := 64
	r := make([]float64, 2*n+1)
	r[n] = 1
	sum := 0.0
	for _, v := range smoothed(r, math.Min(width, 8)) {
		sum += v * v
	}
	return math.Sqrt(sum)
}

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

// rings is true shortly about a seating: there a slow logger and a run meet the front and the
// ringing of the branch at other phases.
func (s *fitted) rings(at float64) bool {
	for _, seating := range []float64{s.base.Closing.First.TimeS, s.base.Closing.Worst.TimeS} {
		if since := at - seating; since > -3*s.stepS && since < math.Max(5*s.stepS, ringsFor*ringTimes*s.base.BranchS) {
			return s.base.Closing.Closed
		}
	}
	return false
}

// ringsFor is for how many periods a branch is taken to ring (judged, no source).
const ringsFor = 6.0

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
