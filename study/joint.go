package study

import (
	"math"

	"seatward/basis"
	"seatward/quantity"
	"seatward/valve"
)

// together makes the runs at the ends of the station's ranges and, for the valve's own, two
// runs instead of two for each number: all of them moved to the side that closes later, and
// all to the other, each by the share of its range that makes the sum of all as great as
// that of independent errors, the root of the sum of squares. Which side closes later, and
// what each number counts for, is taken from its closing under an even deceleration. The
// command trip makes all the runs.
func (b *bandOf) together(m *valve.Mechanism, variants []variant) error {
	even, err := b.evenly()
	if err != nil {
		return err
	}
	ends := stationEnds(m, variants)
	for _, late := range []bool{false, true} {
		e := end{plant: b.plant}
		if e.mech, err = b.joint(even, late); err != nil {
			return err
		}
		ends = append(ends, e)
	}
	trips, err := b.runs(ends)
	if err != nil {
		return err
	}
	n := 2 * len(variants)
	if len(even.Doubts) > 0 {
		b.share(even, [2]*Trip{trips[n], trips[n+1]})
	}
	b.takeStation(variants, trips)
	return nil
}

// joint is the valve with all its numbers moved to one side; nil where none moves it there.
func (b *bandOf) joint(even evenBand, late bool) (*valve.Mechanism, error) {
	at, sum, squares := map[string]float64{}, 0.0, 0.0
	for _, d := range even.Doubts {
		x := d.moves(even.Best, late)
		sum, squares = sum+x, squares+x*x
	}
	if sum == 0 {
		return nil, nil
	}
	full, err := b.item.Family.Type.Complete(b.item.Params)
	if err != nil {
		return nil, err
	}
	share := math.Sqrt(squares) / sum
	for _, d := range even.Doubts {
		if d.moves(even.Best, late) == 0 {
			continue
		}
		v := full[d.Key]
		end := v.Low
		if (d.HighMS > d.LowMS) == late {
			end = v.High
		}
		at[d.Key] = v.SI + share*(end-v.SI)
	}
	return b.item.VariedAll(b.setting, at)
}

// evenDoubt is a number of the valve by its closing under an even deceleration.
type evenDoubt struct{ valve.Doubt }

// moves is how far the number moves the reverse velocity to one side of the best; 0 where
// that is next to nothing, so that its side would be by chance.
func (d evenDoubt) moves(best float64, late bool) float64 {
	x := best - math.Min(d.LowMS, d.HighMS)
	if late {
		x = math.Max(d.LowMS, d.HighMS) - best
	}
	if x < felt*best {
		return 0
	}
	return x
}

// evenBand is a closing under an even deceleration with what its numbers do to it.
type evenBand struct {
	Best   float64
	Doubts []evenDoubt
}

// leastEvenMS2 is the deceleration from which valves tell their differences.
const leastEvenMS2 = 2

// evenly closes the valve under the deceleration of the run.
func (b *bandOf) evenly() (evenBand, error) {
	point := func(name string, kind quantity.Kind, x float64) basis.Value {
		return basis.NewSimulated(name, kind, x, "of the run")
	}
	wave := b.plant.st.Branch.Runs[0].WaveSpeed.SI
	draws, err := b.item.Draw(b.setting, valve.FewDraws)
	if err != nil {
		return evenBand{}, err
	}
	band, err := draws.Close(valve.Duty{
		Start: point("velocity", quantity.Velocity, math.Max(b.best.StartMS, 0.1)), Pipes: valve.Deceleration{WaveMS: [2]float64{wave, wave}},
		Deceleration: point("deceleration", quantity.Acceleration, math.Max(b.best.Closing.DecelerationMS2, leastEvenMS2)),
	})
	if err != nil || band.Closing.Outcome == valve.AlwaysClosed {
		return evenBand{}, err
	}
	out := evenBand{Best: band.Best}
	for _, d := range band.Doubts() {
		out.Doubts = append(out.Doubts, evenDoubt{d})
	}
	return out, nil
}

// share gives each number its part of what the two runs moved.
func (b *bandOf) share(even evenBand, ends [2]*Trip) {
	best := b.best.Closing
	var squares [2]float64
	for _, d := range even.Doubts {
		for k, late := range []bool{false, true} {
			x := d.moves(even.Best, late)
			squares[k] += x * x
		}
	}
	down := math.Max(0, best.ReverseMS-ends[0].Closing.ReverseMS)
	up := math.Max(0, ends[1].Closing.ReverseMS-best.ReverseMS)
	for _, d := range even.Doubts {
		low, high := best.ReverseMS, best.ReverseMS
		if squares[0] > 0 {
			low -= down * d.moves(even.Best, false) / math.Sqrt(squares[0])
		}
		if squares[1] > 0 {
			high += up * d.moves(even.Best, true) / math.Sqrt(squares[1])
		}
		if d.HighMS < d.LowMS {
			low, high = high, low
		}
		b.found = append(b.found, valve.Doubt{Key: d.Key, Value: d.Value, LowMS: low, HighMS: high})
	}
	fall, rise := math.Max(0, best.RiseM-ends[0].Closing.RiseM), math.Max(0, ends[1].Closing.RiseM-best.RiseM)
	b.rise[0], b.rise[1] = b.rise[0]+fall*fall, b.rise[1]+rise*rise
}
