package valve

import (
	"cmp"
	"math"
	"slices"

	"seatward/basis"
	"seatward/internal/draw"
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

// How many draws do for what.
const (
	FewDraws   = 32  // a second line beside a run
	CurveDraws = 128 // a curve that is looked at
)

// drawTolerance is the relative error allowed in one step of the closing of a draw. It
// resolves the reverse velocity to better than 2 %, in the mean to 0.25 %.
const drawTolerance = 20 * Tolerance

// drawSeed is the same for all valves, so that what differs between them is not the draw.
const drawSeed = 1

// The first axes of the draws are those of the duty; the valve's own numbers follow.
const (
	startAxis = iota
	decelerationAxis
	dutyAxes
)

// Draws is one valve many times over, each time with all its uncertain numbers drawn at
// once from their ranges (package internal/draw).
type Draws struct {
	best     *Mechanism
	drawn    []*Mechanism // nil where the numbers drawn make no valve
	sequence *draw.Sequence
	keys     []string // of the numbers drawn
	values   []basis.Value
	axes     []int
}

// Draw builds the valve n times, and once with its best numbers. Each number is drawn for
// itself: a default does not follow the number that it was taken from. A draw stops at the
// limits that the type sets to a number.
//
// Calibrate, where it is not nil, gives each mechanism its measured curves. The errors are
// those of Build and calibrate for the best numbers.
func (t *Type) Draw(p Params, s Setting, n int, calibrate func(*Mechanism) (*Mechanism, error)) (*Draws, error) {
	full, err := t.Complete(p)
	if err != nil {
		return nil, err
	}
	build := func(v Values) (*Mechanism, error) {
		m, err := t.assemble(t.reader(v), s)
		if err == nil && calibrate != nil {
			m, err = calibrate(m)
		}
		return m, err
	}
	d := &Draws{drawn: make([]*Mechanism, n)}
	if d.best, err = build(full.values()); err != nil {
		return nil, err
	}
	if d.sequence, err = draw.NewSequence(dutyAxes+len(t.Params), drawSeed); err != nil {
		return nil, err
	}
	for i := range t.Params {
		// What bears only on what follows the first blow is not asked here.
		if v := full[t.Params[i].Key]; v.Ranged() && !t.Params[i].After {
			d.keys, d.values, d.axes = append(d.keys, t.Params[i].Key), append(d.values, v), append(d.axes, dutyAxes+i)
		}
	}
	for i := range d.drawn {
		v := full.values()
		for k, key := range d.keys {
			v[key] = t.Param(key).At(d.values[k], d.sequence.At(i, d.axes[k]))
		}
		if m, err := build(v); err == nil {
			d.drawn[i] = m
		}
	}
	return d, nil
}

// At is the value at a share u of its range; it stops at the limits that the type sets.
func (p *Param) At(v basis.Value, u float64) float64 {
	x := draw.Range{Low: v.Low, Best: v.SI, High: v.High, Log: p.Positive}.At(u)
	if p.Least != p.Most {
		x = min(max(x, p.Least), p.Most)
	}
	return x
}

// Band is a closing with what is not known about it.
type Band struct {
	Low, Median, High float64 // 5, 50 and 95 % points of the reverse velocity over the draws, m/s
	Best              float64 // reverse velocity with the best numbers, m/s
	Closing           Closing // with the best numbers
	Draws, Failed     int     // draws made, and those of them that could not be built or closed

	from     *Draws
	duty     Duty
	reverse  []float64
	finished []bool
}

// Close closes every draw under the duty. A draw in which the valve does not close has the
// reverse velocity that it reached. The error is that of Close with the best numbers.
func (d *Draws) Close(duty Duty) (Band, error) {
	best, err := d.best.Close(duty.at(duty.Start.SI, duty.Deceleration.SI))
	if err != nil {
		return Band{}, err
	}
	b := Band{
		Best: best.ReverseVelocityMS, Closing: best, Draws: len(d.drawn),
		from: d, duty: duty, reverse: make([]float64, len(d.drawn)), finished: make([]bool, len(d.drawn)),
	}
	if duty.Pipes.Tolerance == 0 {
		duty.Pipes.Tolerance = drawTolerance
	}
	var sample []float64
	for i, m := range d.drawn {
		if m != nil {
			c, err := m.Close(duty.at(duty.draw(duty.Start, d.sequence.At(i, startAxis)),
				duty.draw(duty.Deceleration, d.sequence.At(i, decelerationAxis))))
			b.reverse[i], b.finished[i] = c.ReverseVelocityMS, err == nil
		}
		if !b.finished[i] {
			b.Failed++
			continue
		}
		sample = append(sample, b.reverse[i])
	}
	reverse := draw.NewDistribution(sample)
	b.Low, b.High = reverse.Interval()
	b.Median = reverse.Median()
	return b, nil
}

// draw is a number of the duty at a share u of its range.
func (Duty) draw(v basis.Value, u float64) float64 {
	return draw.Range{Low: v.Low, Best: v.SI, High: v.High, Log: true}.At(u)
}

// Doubts tells what each number does alone, by a response surface through the draws: the
// one that moves the reverse velocity most first.
func (b *Band) Doubts() []Doubt {
	if b.from == nil {
		return nil
	}
	keys, values, axes := slices.Clone(b.from.keys), slices.Clone(b.from.values), slices.Clone(b.from.axes)
	for _, own := range []struct {
		key   string
		value basis.Value
		axis  int
	}{{"velocity", b.duty.Start, startAxis}, {"deceleration", b.duty.Deceleration, decelerationAxis}} {
		if own.value.Ranged() {
			keys, values, axes = append(keys, own.key), append(values, own.value), append(axes, own.axis)
		}
	}
	var out []Doubt
	for k, e := range draw.Effects(b.from.sequence, axes, b.reverse, b.finished) {
		out = append(out, Doubt{Key: keys[k], Value: values[k], LowMS: e.Low, HighMS: e.High})
	}
	sortDoubts(out)
	return out
}

// WithoutPull is the reverse velocity under the duty with the best numbers and without the
// pull of slowing water on the element; safe for the first closing only.
func (d *Draws) WithoutPull(duty Duty) (float64, error) {
	c, err := d.best.WithoutAcceleration().Close(duty.at(duty.Start.SI, duty.Deceleration.SI))
	return c.ReverseVelocityMS, err
}

// VariedAll builds the moving element with several numbers replaced.
func (t *Type) VariedAll(p Params, s Setting, at map[string]float64) (*Mechanism, error) {
	full, err := t.Complete(p)
	if err != nil {
		return nil, err
	}
	v := full.values()
	for key, x := range at {
		if t.Param(key) == nil {
			return nil, t.unknown(key, "vary a number that the type has")
		}
		v[key] = x
	}
	return t.assemble(t.reader(v), s)
}

func sortDoubts(doubts []Doubt) {
	slices.SortStableFunc(doubts, func(x, y Doubt) int { return cmp.Compare(y.Swing(), x.Swing()) })
}
