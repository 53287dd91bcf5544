// Package trace finds what happened in a trace of head or pressure: starts and stops, slam,
// waves, column separation, trapped air, flutter. It says what a logger at this rate could
// not have seen, and never takes silence for a proof. It knows no files and no stations, only
// readings at times and a few facts of the main.
package trace

import (
	"math"
	"slices"
)

// Source is a row of readings in order of time. Time is in ns; a reading may be missing.
type Source interface {
	Len() int
	Time(i int) int64
	At(i int) (float64, bool)
}

const nanosecond = 1e-9

// Scaled is a source whose readings are v·Scale + Offset of another's.
type Scaled struct {
	Source
	Scale, Offset float64
}

// At is the scaled reading.
func (s Scaled) At(i int) (float64, bool) {
	v, ok := s.Source.At(i)
	return v*s.Scale + s.Offset, ok
}

// Facts are what is known of the main; 0 is not known.
type Facts struct {
	LengthM                float64
	WaveMS, WaveLow        float64
	WaveHigh               float64
	BoreM                  float64
	DensityKgM3            float64
	Branch                 Branch
	GravityMS2             float64
	StaticM                float64 // head of the far end over the gauge
	AirPressurePa, VaporPa float64 // absolute
}

// filled puts the usual values in place of what is not known: fresh water at sea level.
func (f Facts) filled() Facts {
	if f.GravityMS2 == 0 {
		f.GravityMS2 = 9.80665
	}
	if f.DensityKgM3 == 0 {
		f.DensityKgM3 = 998
	}
	if f.AirPressurePa == 0 {
		f.AirPressurePa = 101_325
	}
	if f.VaporPa == 0 {
		f.VaporPa = 1700 // water at 15 °C, IAPWS
	}
	if f.WaveLow == 0 || f.WaveHigh == 0 {
		f.WaveLow, f.WaveHigh = f.WaveMS, f.WaveMS
	}
	return f
}

// vaporM is the gauge head at which water boils.
func (f Facts) vaporM() float64 {
	return (f.VaporPa - f.AirPressurePa) / (f.DensityKgM3 * f.GravityMS2)
}

// Branch is the pipe from the valve to the header, where it is another than the main. Zero where
// nothing is known of it.
type Branch struct {
	LengthM, BoreM            float64
	WaveMS, WaveLow, WaveHigh float64 // m/s
}

// echoS is the time in which the header answers a front at the valve, 2 L/a.
func (b Branch) echoS() float64 { return 2 * b.LengthM / b.WaveMS }

// fastestMS is more than sound runs in any water, 1555 m/s (IAPWS, at 74 °C), with the errors of
// a length and a count: what swings faster is not the main.
const fastestMS = 1600.0

// plateauS is 2 L/a; 0 where it is not known.
func (f Facts) plateauS() float64 {
	if f.WaveMS == 0 {
		return 0
	}
	return 2 * f.LengthM / f.WaveMS
}

// Grain is how finely a source is logged.
type Grain struct {
	StepS    float64 `json:"step_s"`    // usual step; 0 for fewer than three readings
	Regular  float64 `json:"regular"`   // share of the steps that keep to it within half
	Quantum  float64 `json:"quantum"`   // the least change between readings
	NoiseM   float64 `json:"noise"`     // standard deviation of what changes from reading to reading
	Readings int     `json:"readings"`  // that hold a value
	LongestS float64 `json:"longest_s"` // the longest silence
}

// looked is how many steps the grain is found from.
const looked = 40_000

// GrainOf finds how finely a source is logged.
func GrainOf(s Source) Grain {
	var g Grain
	n := s.Len()
	var steps, changes []float64
	stride := max(1, n/looked)
	var last int64
	for i := range n {
		if _, ok := s.At(i); !ok {
			continue
		}
		if t := s.Time(i); g.Readings > 0 {
			g.LongestS = math.Max(g.LongestS, float64(t-last)*nanosecond)
		}
		last = s.Time(i)
		g.Readings++
	}
	for i := 1; i < n; i += stride {
		a, ok1 := s.At(i - 1)
		b, ok2 := s.At(i)
		d := float64(s.Time(i)-s.Time(i-1)) * nanosecond
		if !ok1 || !ok2 || d <= 0 {
			continue
		}
		steps, changes = append(steps, d), append(changes, math.Abs(b-a))
	}
	if len(steps) < 2 {
		return g
	}
	slices.Sort(steps)
	slices.Sort(changes)
	g.StepS = steps[len(steps)/2]
	kept := 0
	for _, d := range steps {
		if 2*d > g.StepS && 2*d < 3*g.StepS {
			kept++
		}
	}
	g.Regular = float64(kept) / float64(len(steps))
	for _, c := range changes {
		if c > 0 {
			g.Quantum = c
			break
		}
	}
	// The median of the changes leaves out the few of events. 0.6745·√2: normal noise.
	g.NoiseM = changes[len(changes)/2] / (0.6745 * math.Sqrt2)
	return g
}

// levels gives the least and the greatest reading.
func levels(s Source) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for i := range s.Len() {
		if v, ok := s.At(i); ok {
			low, high = math.Min(low, v), math.Max(high, v)
		}
	}
	return low, high
}

// seconds is the time from row i to row j.
func seconds(s Source, i, j int) float64 { return float64(s.Time(j)-s.Time(i)) * nanosecond }

// rowAt is the first row at or after a time.
func rowAt(s Source, ns int64) int {
	lo, hi := 0, s.Len()
	for lo < hi {
		if mid := (lo + hi) / 2; s.Time(mid) < ns {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	return lo
}

// middle is the median of the readings from row i up to row j; false where there is none. Long
// stretches are looked at in a few hundred places.
func middle(s Source, i, j int) (float64, bool) {
	var v []float64
	for k := max(0, i); k < min(j, s.Len()); k += max(1, (j-i)/400) {
		if x, ok := s.At(k); ok {
			v = append(v, x)
		}
	}
	if len(v) == 0 {
		return 0, false
	}
	slices.Sort(v)
	return v[len(v)/2], true
}

// kept is a source without the readings that only repeat the one before, time and all, as some
// loggers write them.
type kept struct {
	Source
	rows []int32
}

func (k kept) Len() int                 { return len(k.rows) }
func (k kept) Time(i int) int64         { return k.Source.Time(int(k.rows[i])) }
func (k kept) At(i int) (float64, bool) { return k.Source.At(int(k.rows[i])) }

// unrepeated leaves out readings that are there twice.
func unrepeated(s Source) Source {
	twice := func(i int) bool {
		if s.Time(i) != s.Time(i-1) {
			return false
		}
		a, ok1 := s.At(i - 1)
		b, ok2 := s.At(i)
		return ok1 == ok2 && a == b
	}
	n := 0
	for i := 1; i < s.Len(); i++ {
		if twice(i) {
			n++
		}
	}
	if n == 0 {
		return s
	}
	k := kept{s, make([]int32, 0, s.Len()-n)}
	for i := range s.Len() {
		if i == 0 || !twice(i) {
			k.rows = append(k.rows, int32(i))
		}
	}
	return k
}
