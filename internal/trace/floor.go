package trace

import "math"

// Cavity is a floor of the head at vapor pressure.
type Cavity struct {
	FromNS  int64   `json:"from_ns"`
	ToNS    int64   `json:"to_ns"`
	FloorM  float64 `json:"floor_m"`
	LifeS   float64 `json:"life_s"`
	RejoinM float64 `json:"rejoin_peak_m"` // the highest head after it
}

// Clip is a level at which a sensor is at the end of its range.
type Clip struct {
	LevelM   float64 `json:"level_m"`
	High     bool    `json:"high"`
	Runs     int     `json:"runs"`
	LongestS float64 `json:"longest_s"`
}

const (
	nearVapor   = 0.7 // m about the vapor head: sensors, weather and free gas
	flatFloor   = 0.5 // m of unevenness of a floor
	floorPoints = 4
	clipPoints  = 4
	clipRuns    = 2
)

// cavities finds floors at vapor pressure: flat, of several readings, and left by a rise.
func cavities(s Source, f Facts, g Grain) []Cavity {
	var out []Cavity
	vapor := f.vaporM()
	begin, n := -1, 0
	low, high := 0.0, 0.0
	end := func(i int) {
		if n >= floorPoints && begin >= 0 {
			c := Cavity{FromNS: s.Time(begin), ToNS: s.Time(i - 1), FloorM: (low + high) / 2}
			c.LifeS = seconds(s, begin, i-1)
			until := rowAt(s, c.ToNS+int64(math.Max(2, 2*c.LifeS)/nanosecond))
			c.RejoinM = math.Inf(-1)
			for k := i; k < until; k++ {
				if v, ok := s.At(k); ok {
					c.RejoinM = math.Max(c.RejoinM, v)
				}
			}
			if c.RejoinM > c.FloorM+leastStepM {
				out = append(out, c)
			}
		}
		begin, n = -1, 0
	}
	for i := range s.Len() {
		v, ok := s.At(i)
		if !ok {
			continue
		}
		if math.Abs(v-vapor) > nearVapor {
			end(i)
			continue
		}
		if begin < 0 {
			begin, low, high = i, v, v
		}
		if math.Max(high, v)-math.Min(low, v) > flatFloor+4*g.NoiseM {
			end(i)
			continue
		}
		low, high, n = math.Min(low, v), math.Max(high, v), n+1
	}
	end(s.Len())
	return out
}

// clips finds runs of equal readings at the end of the range, each entered by a jump.
func clips(s Source, g Grain, low, high float64, f Facts) []Clip {
	var out []Clip
	if math.Abs(low-f.vaporM()) > nearVapor { // a floor at vapor pressure is no end of a sensor
		if c := clip(s, g, low, false); c.Runs >= clipRuns {
			out = append(out, c)
		}
	}
	if c := clip(s, g, high, true); c.Runs >= clipRuns {
		out = append(out, c)
	}
	return out
}

// clip counts the runs of readings at a level that the trace jumps to and from.
func clip(s Source, g Grain, level float64, isHigh bool) Clip {
	c := Clip{LevelM: level, High: isHigh}
	near := math.Max(g.Quantum/2, 1e-6*math.Abs(level))
	jump := math.Max(20*g.Quantum, 10*g.NoiseM)
	n, first, last, entered := 0, -1, -1, false
	previous, has := 0.0, false
	for i := range s.Len() {
		v, ok := s.At(i)
		if !ok {
			continue
		}
		if math.Abs(v-level) <= near {
			if n == 0 {
				first, entered = i, has && math.Abs(previous-level) > jump
			}
			n, last = n+1, i
		} else {
			if n >= clipPoints && entered && math.Abs(v-level) > jump {
				c.Runs++
				c.LongestS = math.Max(c.LongestS, seconds(s, first, last))
			}
			n = 0
		}
		previous, has = v, true
	}
	return c
}
