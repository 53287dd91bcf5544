package valve

import (
	"math"
	"slices"

	"seatward/basis"
)

// Doubt is one number that is known only within a range, and what that does to the
// reverse velocity.
type Doubt struct {
	Key    string      // of the parameter, or "deceleration" or "velocity"
	Value  basis.Value // with its range and record
	LowMS  float64     // reverse velocity with the number at the low end of its range
	HighMS float64     // and at the high end
}

// Swing is how far the doubt moves the reverse velocity, m/s.
func (d Doubt) Swing() float64 { return math.Abs(d.HighMS - d.LowMS) }

// Band is a closing with what is not known about it.
type Band struct {
	Low, Best, High float64 // reverse velocity, m/s
	Closing         Closing // the best estimate
	Doubts          []Doubt // the one that moves the result most first
}

// Duty is a deceleration whose numbers have records and ranges.
type Duty struct {
	Start        basis.Value // velocity in the bore before the stop, m/s
	Deceleration basis.Value // m/s²
	Pipes        Deceleration
}

// at is the duty with one of its numbers replaced.
func (d Duty) at(startMS, rateMS2 float64) Deceleration {
	out := d.Pipes
	out.StartMS, out.RateMS2 = startMS, rateMS2
	return out
}

// ClosingBand closes the valve with the best numbers, then with each number that has
// a range at its low and at its high end, alone. The deviations up, and those down,
// are joined as independent ones are, by the root of the sum of their squares. A run
// in which the valve does not close counts with the reverse velocity it reached. Ends of
// ranges are closed in wider steps, and what these do to the best estimate is taken off.
//
// Calibrate, where it is not nil, gives each mechanism its measured curves.
//
// The errors are those of Build, Close and calibrate.
func (t *Type) ClosingBand(p Params, s Setting, d Duty, calibrate func(*Mechanism) (*Mechanism, error)) (Band, error) {
	full, err := t.Complete(p)
	if err != nil {
		return Band{}, err
	}
	values := full.values()
	closing := func(v Values, trip Deceleration) (Closing, error) {
		m, err := t.assemble(v, s)
		if err != nil {
			return Closing{}, err
		}
		if calibrate != nil {
			if m, err = calibrate(m); err != nil {
				return Closing{}, err
			}
		}
		return m.Close(trip)
	}
	best, err := closing(values, d.at(d.Start.SI, d.Deceleration.SI))
	if err != nil {
		return Band{}, err
	}
	b := Band{Best: best.ReverseVelocityMS, Closing: best}
	off := 0.0 // of the wider steps, at the best estimate
	if d.Pipes.Tolerance == 0 {
		d.Pipes.Tolerance = endTolerance
		wide, err := closing(values, d.at(d.Start.SI, d.Deceleration.SI))
		if err != nil {
			return Band{}, err
		}
		off = wide.ReverseVelocityMS - b.Best
	}
	ends := func(key string, v basis.Value, run func(x float64) (Closing, error)) error {
		if !v.Ranged() {
			return nil
		}
		found := [2]float64{b.Best, b.Best}
		for i, x := range []float64{v.Low, v.High} {
			if spec := t.Param(key); x == v.SI || spec != nil && spec.After {
				continue // the range ends at the best estimate, or bears on nothing that is asked here
			}
			c, err := run(x)
			if err != nil {
				return err
			}
			found[i] = max(0, c.ReverseVelocityMS-off)
		}
		b.Doubts = append(b.Doubts, Doubt{Key: key, Value: v, LowMS: found[0], HighMS: found[1]})
		return nil
	}
	for i := range t.Params {
		key := t.Params[i].Key
		err := ends(key, full[key], func(x float64) (Closing, error) {
			varied := t.vary(full, key, x)
			return closing(varied, d.at(d.Start.SI, d.Deceleration.SI))
		})
		if err != nil {
			return Band{}, err
		}
	}
	err = ends("velocity", d.Start, func(x float64) (Closing, error) { return closing(values, d.at(x, d.Deceleration.SI)) })
	if err != nil {
		return Band{}, err
	}
	err = ends("deceleration", d.Deceleration, func(x float64) (Closing, error) { return closing(values, d.at(d.Start.SI, x)) })
	if err != nil {
		return Band{}, err
	}
	b.join()
	return b, nil
}

// endTolerance is the relative error allowed in one step of a closing at an end of a range.
// It resolves the reverse velocity to better than 2 %, in the mean to 0.25 %.
const endTolerance = 30 * Tolerance

// vary is the complete values with one number changed. Defaults are not drawn from
// the change: each range stands for itself.
func (t *Type) vary(full Params, key string, x float64) Values {
	v := full.values()
	v[key] = x
	return v
}

// NewBand joins the doubts about a closing, however it was found, into a band.
func NewBand(best Closing, doubts []Doubt) Band {
	b := Band{Best: best.ReverseVelocityMS, Closing: best, Doubts: doubts}
	b.join()
	return b
}

// VariedAll builds the moving element with several numbers replaced.
func (t *Type) VariedAll(p Params, s Setting, at map[string]float64) (*Mechanism, error) {
	full, err := t.Complete(p)
	if err != nil {
		return nil, err
	}
	v := full.values()
	for key, x := range at {
		v[key] = x
	}
	return t.assemble(v, s)
}

// join orders the doubts and sums them into the band.
func (b *Band) join() {
	var up, down float64
	for _, d := range b.Doubts {
		above := max(d.LowMS, d.HighMS, b.Best) - b.Best
		below := b.Best - min(d.LowMS, d.HighMS, b.Best)
		up, down = up+above*above, down+below*below
	}
	b.Low, b.High = max(0, b.Best-math.Sqrt(down)), b.Best+math.Sqrt(up)
	slices.SortStableFunc(b.Doubts, func(x, y Doubt) int {
		switch {
		case x.Swing() > y.Swing():
			return -1
		case x.Swing() < y.Swing():
			return 1
		}
		return 0
	})
}

// CurvePoint is one point of a closing curve.
type CurvePoint struct {
	DecelerationMS2 float64
	Closing         Closing // best estimate
	BoundMS         float64 // reverse velocity without the pull of accelerating water, the conservative bound
}

// ClosingCurve is the reverse velocity against deceleration of one valve, for flow that
// falls from startMS between long pipes.
func (m *Mechanism) ClosingCurve(startMS float64, ratesMS2 []float64) ([]CurvePoint, error) {
	out := make([]CurvePoint, 0, len(ratesMS2))
	for _, rate := range ratesMS2 {
		d := Deceleration{StartMS: startMS, RateMS2: rate}
		best, err := m.Close(d)
		if err != nil {
			return nil, err
		}
		bound, err := m.WithoutAcceleration().Close(d)
		if err != nil {
			return nil, err
		}
		out = append(out, CurvePoint{DecelerationMS2: rate, Closing: best, BoundMS: bound.ReverseVelocityMS})
	}
	return out, nil
}
