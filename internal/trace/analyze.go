package trace

import (
	"math"
	"slices"
)

// Options are what the reader may set.
type Options struct {
	LeastM float64 // the least step that is called one; 0: by the noise
	// Mean says that each reading is a mean over its interval; Extreme that it is the greatest
	// or the least of it.
	Mean, Extreme bool
	Operations    []Operation // starts and stops known from other channels
}

// Report is what was found in one trace of head, in m.
type Report struct {
	Grain      Grain       `json:"grain"`
	LowM       float64     `json:"low_m"`
	HighM      float64     `json:"high_m"`
	LeastM     float64     `json:"least_step_m"` // of what is called a step here
	Operations []Operation `json:"operations"`
	Slams      []Slam      `json:"slams"`
	Cavities   []Cavity    `json:"column_separations"`
	Flutter    []Flutter   `json:"flutter"`
	Clipped    []Clip      `json:"clipped"`
	Unresolved int         `json:"unresolved_rises"` // that came between two readings of a slow logger
	Unseen     Unseen      `json:"unseen"`
}

// Slam is a steep step of the head as a valve closes, with what follows it.
type Slam struct {
	Swing
	Later      bool       `json:"later"`       // after another one of the same stop
	Reflected  int        `json:"reflections"` // rises after it that its own wave makes
	LowerBound bool       `json:"lower_bound"`
	Why        string     `json:"why,omitempty"`
	Reverse    *Range     `json:"reverse_velocity,omitempty"` // m/s
	Wave       *Wave      `json:"wave,omitempty"`
	Air        *Air       `json:"trapped_air,omitempty"`
	Braking    *float64   `json:"deceleration,omitempty"` // m/s2, just before closing
	After      *SinceStop `json:"after_stop,omitempty"`
	Cause      string     `json:"cause"` // closing, or rejoining of a column
}

// SinceStop is the stop before a slam.
type SinceStop struct {
	AtNS int64   `json:"at_ns"`
	S    float64 `json:"seconds"`
	Pump int     `json:"pump,omitempty"`
}

// Range is a number with what it may be: two standard errors either way. Best alone stands where
// High is infinite.
type Range struct {
	Low  float64 `json:"low"`
	Best float64 `json:"best"`
	High float64 `json:"high"`
}

const (
	steepS      = 0.5  // a rise within it is steep, where 2 L/a is not known (common practice, no source)
	slowS       = 1.0  // a logger with a longer step shows no steep step, where 2 L/a is not known
	leastStepM  = 1.0  // about 0.01 m/s of reverse velocity at a = 1000 m/s
	quietWidths = 3.0  // a pulse apart from the one before: so many of its widths of quiet between
	quietBand   = 0.15 // of its height
	larger      = 2.2  // times the step before: no reflection of it, which a closed valve doubles at most
	gapSteps    = 20.0
	echoReads   = 20.0 // readings in 4 L/a, so that an echo is no chance
	mostEchoes  = 15.5
	echoOff     = 0.08 // of 4 L/a
	stopWithinS = 180.0
)

// Analyze finds what happened in a trace of head over the gauge, in m.
func Analyze(s Source, f Facts, o Options) *Report {
	f, s = f.filled(), unrepeated(s)
	r := &Report{Grain: GrainOf(s), Operations: o.Operations, LeastM: o.LeastM}
	r.LowM, r.HighM = levels(s)
	if r.Grain.Readings == 0 {
		r.LowM, r.HighM = 0, 0
	}
	if r.LeastM == 0 {
		r.LeastM = math.Max(leastStepM, math.Max(chance(r.Grain.Readings)*r.Grain.NoiseM, 3*r.Grain.Quantum))
	}
	r.Slams, r.Cavities, r.Flutter, r.Clipped = []Slam{}, []Cavity{}, []Flutter{}, []Clip{}
	if r.Operations == nil {
		r.Operations = []Operation{}
	}
	if r.Grain.StepS > 0 && r.Grain.Readings > 10 && r.HighM-r.LowM >= math.Min(r.LeastM, flutterLeastM) {
		r.find(s, f, o)
	}
	r.Unseen = unseen(r, f, o)
	return r
}

// chance is the range, in standard deviations, that so many readings of even noise span: twice
// the expected greatest of n normal numbers, √(2 ln n); 6 at least.
func chance(n int) float64 { return math.Max(6, 2*math.Sqrt(2*math.Log(math.Max(2, float64(n))))) }

// find fills the report.
func (r *Report) find(s Source, f Facts, o Options) {
	if len(r.Operations) == 0 && !o.Mean {
		r.Operations = append(r.Operations, fromHead(s, r.Grain, r.LeastM)...)
	}
	r.Clipped = append(r.Clipped, clips(s, r.Grain, r.LowM, r.HighM, f)...)
	if o.Mean || o.Extreme {
		return // a mean or an extreme of an interval has no shape
	}
	limit := steepS
	if p := f.plateauS(); p > 0 {
		limit = p
	}
	gap := math.Max(gapSteps*r.Grain.StepS, 2)
	all := swings(s, r.LeastM, gap)
	var steep []Swing
	for _, w := range all {
		switch {
		case w.RiseS > math.Max(limit, 1.5*r.Grain.StepS), r.starts(s, &w):
		case r.Grain.StepS > slowS && !(f.plateauS() > 2*r.Grain.StepS):
			r.Unresolved++
		default:
			steep = append(steep, w)
		}
	}
	r.Cavities = append(r.Cavities, cavities(s, f, r.Grain)...)
	r.Flutter = append(r.Flutter, flutters(s, r)...)
	steep = slices.DeleteFunc(steep, func(w Swing) bool {
		return slices.ContainsFunc(r.Flutter, func(x Flutter) bool {
			return w.AtNS >= x.FromNS && w.AtNS <= x.ToNS && w.StepM() < flutterRoom*x.HeightM
		})
	})
	r.slams(s, f, steep)
}

// starts is true for the rise of a starting pump: to a level that stays, with no fall before.
func (r *Report) starts(s Source, w *Swing) bool {
	for _, op := range r.Operations {
		if d := float64(w.AtNS-op.AtNS) * nanosecond; math.Abs(d) < 10 {
			return op.Start
		}
	}
	before := rowAt(s, s.Time(w.from)-60e9)
	fell := false
	for i := before; i < w.from; i++ {
		if v, ok := s.At(i); ok && v > w.BeforeM+0.3*w.StepM() {
			fell = true
			break
		}
	}
	from := rowAt(s, w.AtNS+2e9)
	after, ok := middle(s, from, rowAt(s, w.AtNS+30e9))
	return ok && !fell && from < s.Len() && after-w.BeforeM >= 0.5*w.StepM()
}

// slams parts the steep rises into slams and the reflections that follow each.
func (r *Report) slams(s Source, f Facts, steep []Swing) {
	last := -1 // the slam whose waves are running
	var before *Swing
	for i := range steep {
		w := &steep[i]
		apart := last < 0 || quiet(s, before.to, w.from, quietBand*before.StepM()) >=
			quietWidths*math.Max(before.WidthS, 2*r.Grain.StepS) // no pulse is known to be narrower
		if last >= 0 && (!apart && w.StepM() < larger*before.StepM() || r.echo(w, f)) {
			r.Slams[last].Reflected++
			before = w
			continue
		}
		if w.StepM() < r.LeastM {
			continue
		}
		x := Slam{Swing: *w, Cause: "closing"}
		r.stopBefore(&x)
		x.Later = !apart
		if x.After != nil {
			x.Later = last >= 0 && r.Slams[last].After != nil && r.Slams[last].After.AtNS == x.After.AtNS
		}
		if slices.ContainsFunc(r.Cavities, func(c Cavity) bool {
			return w.AtNS >= c.FromNS && float64(w.AtNS-c.ToNS)*nanosecond < math.Max(2, c.LifeS)
		}) {
			x.Cause = "rejoining of the column"
		}
		r.Slams = append(r.Slams, x)
		last, before = len(r.Slams)-1, w
	}
	for i := range r.Slams {
		end := int64(math.MaxInt64)
		if i+1 < len(r.Slams) {
			end = s.Time(r.Slams[i+1].from)
		}
		r.Slams[i].measure(s, f, r, end)
	}
}

// echo is true for a rise that comes a whole number of 4 L/a after a slam.
func (r *Report) echo(w *Swing, f Facts) bool {
	period := 2 * f.plateauS()
	if period < echoReads*r.Grain.StepS || period == 0 {
		return false
	}
	return slices.ContainsFunc(r.Slams[max(0, len(r.Slams)-3):], func(x Slam) bool {
		n := float64(w.AtNS-x.AtNS) * nanosecond / period
		return w.StepM() < larger*x.StepM() && n < mostEchoes && math.Abs(n-math.Round(n)) < echoOff
	})
}

// stopBefore finds the stop that a slam belongs to.
func (r *Report) stopBefore(x *Slam) {
	for i := len(r.Operations) - 1; i >= 0; i-- {
		op := &r.Operations[i]
		if op.AtNS > x.AtNS {
			continue
		}
		if d := float64(x.AtNS-op.AtNS) * nanosecond; !op.Start && d < stopWithinS {
			x.After = &SinceStop{op.AtNS, d, op.Pump}
		}
		return
	}
}

// measure computes what follows from the step and its wave.
func (x *Slam) measure(s Source, f Facts, r *Report, end int64) {
	x.Wave = waveAfter(s, &x.Swing, r, end)
	a := Range{f.WaveLow, f.WaveMS, f.WaveHigh}
	if x.Wave != nil {
		x.Wave.speed(f, r.Grain)
		if v := x.Wave.Speed; v != nil && v.Best > fastestMS {
			x.Wave.Speed, x.Wave.Short = nil, true
		}
		x.Air = pocket(x.Wave, f)
		if x.Wave.Speed != nil && x.Air == nil {
			a = *x.Wave.Speed
		}
	}
	clipped := slices.ContainsFunc(r.Clipped, func(c Clip) bool {
		return c.High &&
			x.PeakM >= c.LevelM-r.Grain.Quantum/2
	})
	switch {
	case clipped:
		x.LowerBound, x.Why = true, "the sensor is at the end of its range"
	case x.Readers <= 2:
		x.LowerBound, x.Why = true, "two readings or fewer stand in the upper half: the peak fell between them"
	case f.plateauS() > 0 && x.RiseS > f.plateauS():
		x.LowerBound, x.Why = true, "the closing took longer than 2 L/a"
	}
	if f.LengthM > 0 && f.StaticM > 0 {
		v := DecelerationFromHeads(f.StaticM, 0, x.BeforeM, f.LengthM, f.GravityMS2)
		x.Braking = &v
	}
	if a.Best <= 0 {
		return
	}
	a = x.inBranch(a, f)
	best := ReverseFromStep(x.StepM(), a.Best, f.GravityMS2)
	noise := 2 * math.Sqrt2 * math.Max(r.Grain.NoiseM, r.Grain.Quantum/math.Sqrt(12)) / x.StepM()
	noise = math.Hypot(noise, x.SlackM/x.StepM())
	x.Reverse = &Range{
		Low:  best * math.Max(0, 1-math.Hypot(noise, 1-a.Best/a.High)),
		Best: best, High: best * (1 + math.Hypot(noise, a.Best/a.Low-1)),
	}
}

// inBranch is the wave speed that a step at the valve stands for, of the velocity in the branch.
// Before the header answers it is that of the branch. A slower front, or a slower logger, sees
// what is left after the header answered, up to that of the main alone taking the flow of the
// branch, a A_b/A. Other branches that are open take some too, and the velocity is then higher:
// the trace does not tell how many are.
func (x *Slam) inBranch(main Range, f Facts) Range {
	b := f.Branch
	if b.WaveMS == 0 || f.BoreM == 0 || b.BoreM == 0 {
		return main
	}
	if x.RiseS <= b.echoS() {
		return Range{b.WaveLow, b.WaveMS, b.WaveHigh}
	}
	ratio := (b.BoreM / f.BoreM) * (b.BoreM / f.BoreM)
	low, high := math.Min(b.WaveLow, ratio*main.Low), math.Max(b.WaveHigh, ratio*main.High)
	return Range{low, math.Sqrt(b.WaveMS * ratio * main.Best), high}
}
