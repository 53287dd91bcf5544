package trace

import (
	"fmt"
	"math"
	"slices"
)

// Trap is something in the data that would lead to a wrong conclusion.
type Trap struct {
	ID       string   `json:"id"`
	Channels []string `json:"channels"`
	Text     string   `json:"text"`
	Act      string   `json:"act"` // what to do
}

// Named is a source with its name, in SI.
type Named struct {
	Source
	Name string
	Pump int
}

// even gives the readings of sources at the times of the first one, where all of them have one
// at that very time: nothing is filled in. At most mostEven rows are taken.
func even(all ...Source) (t []float64, v [][]float64) {
	v = make([][]float64, len(all))
	at := make([]int, len(all))
rows:
	for i := 0; i < all[0].Len() && len(t) < mostEven; i++ {
		now := all[0].Time(i)
		row := make([]float64, len(all))
		for k, s := range all {
			for at[k] < s.Len() && s.Time(at[k]) < now {
				at[k]++
			}
			if at[k] == s.Len() || s.Time(at[k]) != now {
				continue rows
			}
			x, ok := s.At(at[k])
			if !ok {
				continue rows
			}
			row[k] = x
		}
		t = append(t, float64(now)*nanosecond)
		for k := range row {
			v[k] = append(v[k], row[k])
		}
	}
	return t, v
}

const (
	mostEven     = 100_000
	leastEven    = 30
	exactBalance = 0.002 // of the scatter of the inflow: no measured flow closes a balance so well
)

// Balance tells an inflow that was computed from the outflow and the volume in the well: it
// closes the balance at some shift of the rows to within rounding, which no flow meter does.
// Where store is a level the area of the well is found from the data.
func Balance(inflow, outflow, store Named, isVolume bool) *Trap {
	t, v := even(inflow, outflow, store)
	if len(t) < leastEven {
		return nil
	}
	dt := t[1] - t[0]
	best := math.Inf(1)
	for _, so := range []int{0, 1} {
		for _, si := range []int{-1, 0, 1} {
			var dV, net, in []float64
			for i := 1; i+1 < len(t); i++ {
				if math.Abs(t[i+1]-t[i]-dt) > 1e-3*dt {
					continue
				}
				dV = append(dV, v[2][i+1]-v[2][i])
				in = append(in, v[0][i+si]*dt)
				net = append(net, v[0][i+si]*dt-v[1][i+so]*dt)
			}
			area := 1.0
			if !isVolume {
				if area = slopeThrough(dV, net); !(area > 0) {
					continue
				}
			}
			if s := spread(in); s > 0 && len(dV) >= leastEven-2 {
				rest := make([]float64, len(dV))
				for i := range dV {
					rest[i] = net[i] - area*dV[i]
				}
				best = math.Min(best, spread(rest)/s)
			}
		}
	}
	if best > exactBalance {
		return nil
	}
	return &Trap{
		"inflow-from-balance",
		[]string{inflow.Name, outflow.Name, store.Name},
		fmt.Sprintf("Inflow equals change of storage plus outflow to %.2g of its scatter over %d intervals: it was computed from the balance, not measured.", best, len(t)),
		"Do not use it to look for a leak or to check a pump: it contains both. Measure the inflow, or compare fill rates with the isolating valve open and shut.",
	}
}

// slopeThrough is the least-squares slope of y over x through nothing.
func slopeThrough(x, y []float64) float64 {
	var xy, xx float64
	for i := range x {
		xy += x[i] * y[i]
		xx += x[i] * x[i]
	}
	if xx == 0 {
		return 0
	}
	return xy / xx
}

func spread(v []float64) float64 {
	if len(v) == 0 {
		return 0
	}
	mean, s := 0.0, 0.0
	for _, x := range v {
		mean += x / float64(len(v))
	}
	for _, x := range v {
		s += (x - mean) * (x - mean)
	}
	return math.Sqrt(s / float64(len(v)))
}

// likeness is the correlation of two rows of readings; 0 where one does not change.
func likeness(x, y []float64) float64 {
	sx, sy := spread(x), spread(y)
	if sx == 0 || sy == 0 || len(x) != len(y) {
		return 0
	}
	var mx, my, c float64
	n := float64(len(x))
	for i := range x {
		mx, my = mx+x[i]/n, my+y[i]/n
	}
	for i := range x {
		c += (x[i] - mx) * (y[i] - my) / n
	}
	return c / (sx * sy)
}

// Efficiency tells a column called efficiency that is none: above 1, or a copy of the power.
func Efficiency(efficiency Named, powers []Named) *Trap {
	low, high := levels(efficiency)
	if high > 1.02 {
		return &Trap{
			"efficiency-above-one",
			[]string{efficiency.Name},
			fmt.Sprintf("The efficiency reaches %.3g: it holds another quantity or another unit.", high),
			"Say in the map what it measures (measures, unit).",
		}
	}
	if low < high {
		for _, p := range powers {
			if _, v := even(efficiency, p); len(v[0]) >= leastEven && likeness(v[0], v[1]) > 0.995 {
				return &Trap{
					"efficiency-is-power",
					[]string{efficiency.Name, p.Name},
					"The efficiency runs with the power reading for reading: it is a power under another name.",
					"Say in the map what it measures (measures, unit).",
				}
			}
		}
	}
	return nil
}

const (
	waterWeight = 9790.0 // N/m3, water at 15 °C
	mostLevelM  = 50.0   // of a wet well (common practice, no source)
)

// WaterPower tells units that cannot be: more power in the water than at the motor.
func WaterPower(flow, head, power Named) *Trap {
	_, v := even(flow, head, power)
	var ratio []float64
	for i := range v[0] {
		if v[2][i] > 0 && v[0][i] > 0 && v[1][i] > 0 {
			ratio = append(ratio, waterWeight*v[0][i]*v[1][i]/v[2][i])
		}
	}
	if len(ratio) < leastEven {
		return nil
	}
	slices.Sort(ratio)
	if m := ratio[len(ratio)/2]; m > 1 {
		return &Trap{
			"power-impossible",
			[]string{flow.Name, head.Name, power.Name},
			fmt.Sprintf("The water would take %.2g times the power of the motor: a unit of flow, head or power is wrong.", m),
			"Check the three units at the instruments, and give them in the map.",
		}
	}
	return nil
}

// TooDeep tells a level that no wet well has: millimeters or percent under another name.
func TooDeep(level Named) *Trap {
	if _, high := levels(level); high > mostLevelM && !math.IsInf(high, 0) {
		return &Trap{
			"level-unit",
			[]string{level.Name},
			fmt.Sprintf("The level reaches %.4g m: its unit is wrong.", high),
			"Give its unit in the map; it may be mm, cm or %.",
		}
	}
	return nil
}

// AveragedState tells a state that is neither 0 nor 1: it was averaged, and so was all that was
// logged with it.
func AveragedState(state Named) *Trap {
	between, n := 0, 0
	for i := range state.Len() {
		if v, ok := state.At(i); ok {
			if n++; v > 0.001 && v < 0.999 {
				between++
			}
		}
	}
	if between < 3 || 1000*between < n {
		return nil
	}
	return &Trap{
		"state-averaged",
		[]string{state.Name},
		fmt.Sprintf("%d of %d readings of a state lie between 0 and 1: the log holds means.", between, n),
		"Say sample: mean in the map. Means show no start, no stop and no slam.",
	}
}

// Swapped tells power or current channels that follow the state of another pump.
func Swapped(states, powers []Named) *Trap {
	for _, a := range powers {
		for _, s := range states {
			if a.Pump == 0 || s.Pump == 0 || s.Pump == a.Pump {
				continue
			}
			own := slices.IndexFunc(states, func(x Named) bool { return x.Pump == a.Pump })
			if own < 0 {
				continue
			}
			_, v := even(a, states[own], s)
			if len(v[0]) < leastEven {
				continue
			}
			if mine, other := likeness(v[0], v[1]), likeness(v[0], v[2]); other > 0.9 && mine < 0.5 {
				return &Trap{
					"channels-swapped",
					[]string{a.Name, states[own].Name, s.Name},
					fmt.Sprintf("%q follows %q, not %q: two channels are swapped.", a.Name, s.Name, states[own].Name),
					"Start one pump alone and see which channels answer, then correct the map.",
				}
			}
		}
	}
	return nil
}

// BelowSuction tells a discharge head below the suction head while the pump runs.
func BelowSuction(suction, discharge Named) *Trap {
	_, v := even(suction, discharge)
	below := 0
	for i := range v[0] {
		if v[1][i] < v[0][i] {
			below++
		}
	}
	if len(v[0]) < leastEven || 10*below < 8*len(v[0]) {
		return nil
	}
	return &Trap{
		"channels-swapped",
		[]string{suction.Name, discharge.Name},
		fmt.Sprintf("The discharge lies below the suction in %d of %d readings: the two are swapped.", below,
			len(v[0])),
		"Check the cables, and correct the map.",
	}
}

const (
	leastShifts = 3
	mostShiftS  = 600.0
)

// Switching is what one channel shows of starts and stops, and its usual step.
type Switching struct {
	Name       string
	Operations []Operation
	StepS      float64
}

// Shifted tells two channels whose starts and stops come at a constant time apart.
func Shifted(first, second Switching) *Trap {
	var apart []float64
	a, b, stepS := first.Operations, second.Operations, second.StepS
	for _, x := range a {
		near := math.Inf(1)
		for _, y := range b {
			if d := float64(y.AtNS-x.AtNS) * nanosecond; x.Start == y.Start && math.Abs(d) < math.Abs(near) {
				near = d
			}
		}
		if math.Abs(near) <= mostShiftS {
			apart = append(apart, near)
		}
	}
	if len(apart) < leastShifts || 2*len(apart) < len(a) {
		return nil
	}
	slices.Sort(apart)
	mid := apart[len(apart)/2]
	off := make([]float64, len(apart))
	for i, d := range apart {
		off[i] = math.Abs(d - mid)
	}
	slices.Sort(off)
	if math.Abs(mid) < 3*stepS || math.Abs(mid) < 1 || off[len(off)/2] > 0.3*math.Abs(mid) {
		return nil
	}
	return &Trap{
		"time-shift",
		[]string{first.Name, second.Name},
		fmt.Sprintf("%q comes %.3g s %s %q at %d switchings: the clocks differ, or one value is filtered.",
			second.Name, math.Abs(mid),
			map[bool]string{true: "after", false: "before"}[mid > 0], first.Name, len(apart)),
		"Set both clocks by one time signal; until then read no delay between these two channels.",
	}
}
