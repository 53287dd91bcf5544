package trace

import "math"

// Flutter is a steady swing while nothing is switched.
type Flutter struct {
	FromNS  int64   `json:"from_ns"`
	ToNS    int64   `json:"to_ns"`
	Hz      float64 `json:"hz"`
	HeightM float64 `json:"height_m"` // from low to high
	Cycles  int     `json:"cycles"`
}

const (
	flutterLeastM = 0.1 // root mean square
	flutterReads  = 512
	flutterCycles = 12
	flutterEven   = 0.25 // scatter of the half cycles
	flutterRoomS  = 30.0 // after an operation it may be its wave
	flutterFades  = 0.2  // from the first half of a stretch to the second: a wave that fades
	flutterRoom   = 1.5  // times its height; a larger step is none of it
)

// flutters looks at stretches of readings for a swing of even period, away from operations.
// Stretches that follow each other with one frequency are one.
func flutters(s Source, r *Report) []Flutter {
	var out []Flutter
	for from := 0; from+flutterReads <= s.Len(); from += flutterReads {
		x, ok := flutter(s, from, from+flutterReads, r)
		if !ok {
			continue
		}
		if last := len(out) - 1; last >= 0 && math.Abs(out[last].Hz-x.Hz) < 0.1*x.Hz &&
			float64(x.FromNS-out[last].ToNS)*nanosecond < 3*r.Grain.StepS {
			out[last].ToNS, out[last].Cycles = x.ToNS, out[last].Cycles+x.Cycles
			out[last].HeightM = math.Max(out[last].HeightM, x.HeightM)
			continue
		}
		out = append(out, x)
	}
	return out
}

func flutter(s Source, from, to int, r *Report) (Flutter, bool) {
	a, b := s.Time(from), s.Time(to-1)
	room := int64(flutterRoomS / nanosecond)
	for _, op := range r.Operations {
		if op.AtNS > a-room && op.AtNS < b {
			return Flutter{}, false
		}
	}
	mean, n := 0.0, 0
	for i := from; i < to; i++ {
		if v, ok := s.At(i); ok {
			mean += v
			n++
		}
	}
	if n < flutterReads*9/10 {
		return Flutter{}, false
	}
	mean /= float64(n)
	var halves [2]float64
	for i := from; i < to; i++ {
		if v, ok := s.At(i); ok {
			halves[(i-from)*2/(to-from)] += (v - mean) * (v - mean)
		}
	}
	if math.Abs(math.Sqrt(halves[1])-math.Sqrt(halves[0])) > flutterFades*math.Sqrt(halves[0]) {
		return Flutter{}, false
	}
	square := halves[0] + halves[1]
	rms := math.Sqrt(square / float64(n))
	if rms < math.Max(flutterLeastM, 2*r.Grain.Quantum) {
		return Flutter{}, false
	}
	var ups []float64
	under := false
	for i := from; i < to; i++ {
		v, ok := s.At(i)
		switch {
		case !ok:
		case v < mean-rms/2:
			under = true
		case v > mean+rms/2 && under:
			ups, under = append(ups, seconds(s, from, i)), false
		}
	}
	if len(ups) <= flutterCycles {
		return Flutter{}, false
	}
	k := float64(len(ups) - 1)
	period := (ups[len(ups)-1] - ups[0]) / k
	scatter := 0.0
	for i := 1; i < len(ups); i++ {
		d := ups[i] - ups[i-1] - period
		scatter += d * d
	}
	if math.Sqrt(scatter/k) > flutterEven*period || period < 4*r.Grain.StepS {
		return Flutter{}, false
	}
	return Flutter{a, b, 1 / period, 2 * math.Sqrt2 * rms, int(k)}, true
}
