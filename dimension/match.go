package dimension

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"seatward/quantity"
)

// Taped is a flange as a tape measures it; 0 stands for what was not measured.
type Taped struct {
	OutsideM, BoltCircleM, BoltM, HoleM float64
	Bolts                               int
	WithinM                             float64 // how well the tape was read
}

// Fit is how well a flange of the tables fits what was measured.
type Fit struct {
	Flange Flange
	Told   int      // dimensions that were measured
	Misses []string // those that do not fit, with by how much
	Less   bool     // all fits, but another flange of this size fits clearly better
	off    float64  // sum of the misfits over what is allowed
}

// Whole is true when everything that was measured fits.
func (f Fit) Whole() bool { return len(f.Misses) == 0 }

// How far a flange may differ from its standard, m: cast in the outside diameter, drilled in
// bolt circle and holes (common practice, no source).
const (
	CastingM = 0.004
	DrilledM = 0.0015
)

// Match finds the flanges that fit what was measured, the best first, and near misses
// behind them: those with one dimension off, or whose misfits are small.
func Match(t Taped) []Fit {
	var out []Fit
	for _, fl := range flanges {
		f := Fit{Flange: fl}
		hold := func(name string, measured, standard, allowed float64) {
			if measured <= 0 || standard <= 0 {
				return
			}
			f.Told++
			off := math.Abs(measured-standard) / (allowed + t.WithinM)
			f.off += off
			if off > 1 {
				f.Misses = append(f.Misses, fmt.Sprintf("%s off by %.1f mm", name, 1000*(measured-standard)))
			}
		}
		hold("outside diameter", t.OutsideM, fl.OutsideM, CastingM)
		hold("bolt circle", t.BoltCircleM, fl.BoltCircleM, DrilledM)
		hold("bolt", t.BoltM, fl.BoltM, DrilledM)
		hold("hole", t.HoleM, fl.HoleM, DrilledM)
		if t.Bolts > 0 {
			f.Told++
			if t.Bolts != fl.Bolts {
				f.off += 3
				f.Misses = append(f.Misses, fmt.Sprintf("%d bolts, not %d", fl.Bolts, t.Bolts))
			}
		}
		if f.Told > 0 && (len(f.Misses) == 0 || len(f.Misses) == 1 && f.Told > 1 && f.off < 8) {
			out = append(out, f)
		}
	}
	slices.SortStableFunc(out, func(a, b Fit) int {
		if len(a.Misses) != len(b.Misses) {
			return len(a.Misses) - len(b.Misses)
		}
		return cmp.Compare(a.off, b.off)
	})
	best := map[quantity.Size]float64{}
	for i, f := range out {
		if least, ok := best[f.Flange.Size]; !ok {
			best[f.Flange.Size] = f.off // they are in order
		} else if f.off > least+clearly {
			out[i].Less = true
		}
	}
	return out
}

// clearly is by how much one flange must fit better than another for the other to count
// less: the sum of the misfits over what is allowed.
const clearly = 0.8

// Drilling is how two flanges go together.
type Drilling uint8

// How they go together.
const (
	Mates   Drilling = iota // the same holes on the same circle
	Near                    // bolts would pass, the holes are off: for the makers to allow
	Clashes                 // they cannot be bolted
)

// Compare says whether two flanges can be bolted together, and what differs.
func Compare(a, b Flange) (Drilling, string) {
	off := math.Abs(a.BoltCircleM-b.BoltCircleM) / 2
	bolt := math.Max(a.BoltM, b.BoltM)
	slack := (math.Min(a.HoleM, b.HoleM) - bolt) / 2
	switch {
	case a.Bolts != b.Bolts:
		return Clashes, fmt.Sprintf("%d holes against %d", a.Bolts, b.Bolts)
	case off <= 0.0001 && math.Abs(a.BoltM-b.BoltM) <= 0.0001:
		return Mates, "the same drilling"
	case math.Min(a.HoleM, b.HoleM) < math.Min(a.BoltM, b.BoltM) || off > slack+0.001:
		return Clashes, fmt.Sprintf("bolt circles of %.1f and %.1f mm, bolts %s and %s", 1000*a.BoltCircleM,
			1000*b.BoltCircleM, a.Bolt, b.Bolt)
	}
	return Near, fmt.Sprintf("each hole is off by %.1f mm (bolt circles of %.1f and %.1f mm), bolts %s and %s: only if both makers allow it, never by reaming", 1000*off, 1000*a.BoltCircleM, 1000*b.BoltCircleM, a.Bolt, b.Bolt)
}
