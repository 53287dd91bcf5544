package trace

import (
	"cmp"
	"math"
	"slices"
)

// Operation is a start or a stop.
type Operation struct {
	AtNS  int64  `json:"at_ns"`
	Start bool   `json:"start"`
	Pump  int    `json:"pump,omitempty"`
	By    string `json:"by"` // what it is read from: state, power, current, flow or head
}

const (
	onShare  = 0.25 // of the usual running value
	offShare = 0.10
)

// Switches reads starts and stops from a state (0 or 1), a power, a current or a flow. A reading
// holds until the next one; the time of a change is that of the reading that shows it.
func Switches(s Source, by string, pump int) []Operation {
	running, ok := usual(s)
	if !ok || running <= 0 {
		return nil
	}
	var out []Operation
	on, known := false, false
	for i := range s.Len() {
		v, ok := s.At(i)
		if !ok {
			known = false // what happened in between is not known
			continue
		}
		is := on
		switch {
		case v > onShare*running:
			is = true
		case v < offShare*running:
			is = false
		case !known:
			continue
		}
		if known && is != on {
			out = append(out, Operation{AtNS: s.Time(i), Start: is, Pump: pump, By: by})
		}
		on, known = is, true
	}
	return out
}

// usual is the 95 % value of the readings above zero.
func usual(s Source) (float64, bool) {
	var v []float64
	for i := 0; i < s.Len(); i += max(1, s.Len()/looked) {
		if x, ok := s.At(i); ok && x > 0 {
			v = append(v, x)
		}
	}
	if len(v) == 0 {
		return 0, false
	}
	slices.Sort(v)
	return v[len(v)*95/100], true
}

// Sorted puts operations of several channels in order of time, each event once: where two
// channels of one pump show it within a few seconds the first one stands.
func Sorted(all []Operation, withinS float64) []Operation {
	slices.SortStableFunc(all, func(a, b Operation) int { return cmp.Compare(a.AtNS, b.AtNS) })
	var out []Operation
	for _, op := range all {
		if !slices.ContainsFunc(out[max(0, len(out)-8):], func(x Operation) bool {
			return x.Start == op.Start && (x.Pump == op.Pump || x.Pump == 0 || op.Pump == 0) && x.By != op.By &&
				float64(op.AtNS-x.AtNS)*nanosecond < withinS
		}) {
			out = append(out, op)
		}
	}
	return out
}

const (
	blockS     = 10.0
	blockReads = 20
	mostBlocks = 400_000
)

// fromHead reads stops and starts from the head alone: where its level before and after differ,
// and each stays for two blocks of ten seconds or twenty readings.
func fromHead(s Source, g Grain, leastM float64) []Operation {
	block := int64(math.Max(blockS, blockReads*g.StepS) / nanosecond)
	n := s.Len()
	if span := s.Time(n-1) - s.Time(0); span/block < 4 || span/block > mostBlocks {
		return nil
	}
	var levels []float64
	var rows []int
	for i := 0; i < n; {
		j := rowAt(s, s.Time(i)+block)
		if v, ok := middle(s, i, j); ok {
			levels, rows = append(levels, v), append(rows, i)
		}
		i = max(j, i+1)
	}
	var out []Operation
	for k := 2; k+1 < len(levels); k++ {
		before, after := levels[k-2], levels[k]
		if math.Abs(levels[k-1]-before) > leastM/2 && math.Abs(levels[k-1]-after) > leastM/2 && k+1 < len(levels) {
			after = levels[k+1] // the block between holds the transient
		}
		steady := math.Abs(after-levels[min(k+1, len(levels)-1)]) < leastM/2
		if d := after - before; math.Abs(d) >= leastM && steady &&
			math.Abs(levels[k-1]-after) < math.Abs(levels[k-1]-before)+math.Abs(d) {
			op := Operation{
				AtNS:  s.Time(leaves(s, rows[k-2], rows[k], before, math.Max(leastM/2, 5*g.NoiseM))),
				Start: d > 0, By: "head",
			}
			if len(out) == 0 || op.AtNS-out[len(out)-1].AtNS > 3*block || op.Start != out[len(out)-1].Start {
				out = append(out, op)
			}
		}
	}
	return out
}

// leaves is the row at which the head leaves a level for good.
func leaves(s Source, from, to int, level, band float64) int {
	at := from
	for i := from; i < to; i++ {
		if v, ok := s.At(i); ok && math.Abs(v-level) <= band {
			at = i
		} else if ok && i-at > 3 {
			return at
		}
	}
	return at
}
