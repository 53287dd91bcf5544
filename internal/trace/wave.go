package trace

import "math"

// Wave is the swing of the main after a slam.
type Wave struct {
	PeriodS   float64 `json:"period_s"`
	ErrorS    float64 `json:"period_error_s"` // standard error
	Swings    int     `json:"swings"`
	Kept      float64 `json:"kept_each_swing"` // height of a swing over that of the one before
	HighShare float64 `json:"high_share"`      // of the time, above the middle
	Rounded   bool    `json:"rounded"`         // it dwells in the middle, and not on plateaus
	MeanM     float64 `json:"mean_m"`
	Speed     *Range  `json:"wave_speed,omitempty"` // m/s; two standard errors
	Short     bool    `json:"short,omitempty"`      // too fast for the main: the pipe between valve and header rings
}

const (
	leastSwings = 2
	mostSwings  = 30
	dwells      = 0.15 // of the time near the middle: 0 of a square wave, 0.26 of a sine
	evenSwings  = 0.15 // scatter of the intervals, above which they are no period
)

// waveAfter counts the swings after a slam, before the time end: the times at which the head
// rises through its middle.
func waveAfter(s Source, w *Swing, r *Report, end int64) *Wave {
	to := rowAt(s, end)
	for _, op := range r.Operations {
		if op.AtNS > w.AtNS {
			to = min(to, rowAt(s, op.AtNS))
			break
		}
	}
	// The middle is that of the stretch of ten widths: five plateaus up and five down.
	stretch := rowAt(s, w.AtNS+int64(20*math.Max(w.WidthS, r.Grain.StepS)/nanosecond))
	mean, n := 0.0, 0
	for i := w.peak; i < min(to, stretch); i++ {
		if v, ok := s.At(i); ok {
			mean += v
			n++
		}
	}
	if n < 8 {
		return nil
	}
	mean /= float64(n)
	band := math.Max(4*r.Grain.NoiseM, 0.08*w.StepM())
	ups, heights, above, total, middles := rises(s, w, to, mean, band)
	if len(ups) < leastSwings+1 {
		return nil
	}
	if len(ups) > leastSwings+1 {
		ups = ups[1:] // the first swing begins with the closing, not with the wave
	}
	var sum, squares float64
	for i := 1; i < len(ups); i++ {
		d := ups[i] - ups[i-1]
		sum += d
		squares += d * d
	}
	k := float64(len(ups) - 1)
	period := sum / k
	if scatter := math.Sqrt(math.Max(0, squares/k-period*period)); scatter > evenSwings*period ||
		period < 4*r.Grain.StepS {
		return nil
	}
	x := &Wave{
		PeriodS: period, Swings: len(ups) - 1, MeanM: mean, HighShare: above / total,
		Rounded: middles/total > dwells,
	}
	x.ErrorS = period * TimingError(r.Grain.StepS, k, period)
	x.Kept = 1
	if last := len(heights) - 1; last > 0 && heights[0] > 0 && heights[last] > 0 {
		x.Kept = math.Pow(heights[last]/heights[0], 1/float64(last))
	}
	return x
}

// rises gives the times at which the head rises through the mean, in s from the slam, the
// height of each swing, and the time spent above the mean, in all, and near the mean.
func rises(s Source, w *Swing, to int, mean, band float64) (ups, heights []float64, above, total, middles float64) {
	under, top, lastUp := true, 0.0, 0.0
	previous, has := w.from, false
	cross := func(i, j int) float64 {
		a, _ := s.At(i)
		b, _ := s.At(j)
		t := 0.0
		if b != a {
			t = (mean - a) / (b - a)
		}
		return float64(s.Time(i)-w.AtNS)*nanosecond + t*seconds(s, i, j)
	}
	for i := w.from; i < to && len(ups) <= mostSwings; i++ {
		v, ok := s.At(i)
		if !ok {
			continue
		}
		t := float64(s.Time(i)-w.AtNS) * nanosecond
		if len(ups) > 1 && t-lastUp > 3*(ups[1]-ups[0]) {
			break
		}
		if has && len(ups) > 0 {
			dt := seconds(s, previous, i)
			total += dt
			if v > mean {
				above += dt
			}
			if math.Abs(v-mean) < 0.4*math.Max(band, top) {
				middles += dt
			}
		}
		switch {
		case under && v > mean+band:
			up := t
			for j := i; j > w.from; j-- { // back to where it passed the mean
				if a, ok := s.At(j - 1); ok && a <= mean {
					up = cross(j-1, j)
					break
				}
			}
			if len(ups) > 0 {
				heights = append(heights, top)
			}
			ups, under, top, lastUp = append(ups, up), false, 0, up
		case !under && v < mean-band:
			under = true
		}
		top = math.Max(top, math.Abs(v-mean))
		previous, has = i, true
	}
	return ups, heights, above, math.Max(total, 1e-12), middles
}

// lengthError is the relative error of a length that a file gives (assumed).
const lengthError = 0.01

// speed is the wave speed where the length is known.
func (x *Wave) speed(f Facts, g Grain) {
	if f.LengthM <= 0 {
		return
	}
	a := WaveFromPeriod(f.LengthM, x.PeriodS)
	rel := 2 * math.Hypot(TimingError(g.StepS, float64(x.Swings), x.PeriodS), lengthError)
	x.Speed = &Range{a * (1 - rel), a, a * (1 + rel)}
}

// Air is a pocket of trapped air that the swing is read as.
type Air struct {
	TimesMain float64 `json:"times_4l_a"` // period over 4 L/a
	Volume    *Range  `json:"volume,omitempty"`
}

const (
	longer = 1.5 // times 4 L/a, from which on a swing is no wave of the main
)

// pocket reads a slow, rounded swing with sharp highs as a column on trapped air.
func pocket(w *Wave, f Facts) *Air {
	p := 2 * f.plateauS()
	if !w.Rounded || p == 0 || w.PeriodS < longer*p {
		return nil
	}
	a := &Air{TimesMain: w.PeriodS / p}
	if f.BoreM > 0 {
		area := math.Pi / 4 * f.BoreM * f.BoreM
		abs := f.AirPressurePa + w.MeanM*f.DensityKgM3*f.GravityMS2
		v := func(n float64) float64 { return PocketVolume(f.DensityKgM3, f.LengthM, w.PeriodS, n, abs, area) }
		if abs > 0 {
			a.Volume = &Range{v(1), v(1.2), v(1.4)}
		}
	}
	return a
}
