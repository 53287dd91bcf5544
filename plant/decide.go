package plant

import (
	"fmt"
	"math"

	"seatward/basis"
	"seatward/catalog"
	"seatward/internal/draw"
	"seatward/internal/pool"
	"seatward/quantity"
)

// decisiveShare is the part of the variance from which one number may decide the class
// alone; judged, no source.
const decisiveShare = 0.3

// threshold solves for the value of the number that moves the slam most at which its class
// changes, all else at its best estimate. There is none where the class does not change
// inside its range, or changes back and forth.
func (s *sampler) threshold(x *Slam, l Limits) {
	if len(x.Inputs) == 0 || x.Inputs[0].Share < decisiveShare {
		return
	}
	limit, between := l.between(x.Sudden)
	if !between {
		return
	}
	fact := x.Inputs[0]
	for i := range s.axes {
		if s.axes[i].name != fact.Value.Name {
			continue
		}
		a := &s.axes[i]
		c := draw.Threshold(draw.Range{Low: a.value.Low, Best: a.value.SI, High: a.value.High, Log: a.log}, limit,
			func(values []float64) ([]float64, []bool) { return s.along(a, values) })
		if !c.Found || !c.OneWay || c.Value < a.value.Low || c.Value > a.value.High {
			return
		}
		at := fact.Value
		at.SI, at.Low, at.High = c.Value, c.Value, c.Value
		at.Name = "threshold of the " + a.name
		x.Threshold = &Threshold{
			Fact: fact.Value, Own: fact.Own, At: at, Above: c.Falling,
			Limit: basis.NewSimulated("limit of the class", quantity.Velocity, limit, "limits of slam"),
		}
		return
	}
}

// between is the limit of the classes that the interval spans: of two the one nearer to the
// median's side that decides more, the harmful one.
func (l Limits) between(v basis.Value) (limit float64, yes bool) {
	for _, x := range []float64{l.HarmfulMS, l.QuietMS} {
		if v.Low < x && v.High > x {
			return x, true
		}
	}
	return 0, false
}

// along are runs with one number at each of the values, side by side.
func (s *sampler) along(a *axis, values []float64) (sudden []float64, ok []bool) {
	sudden, ok = make([]float64, len(values)), make([]bool, len(values))
	pool.Each(len(values), func(i int) {
		o := s.at(a, values[i])
		sudden[i], ok[i] = o.sudden, o.ok
	})
	return sudden, ok
}

// at is one run with one number at a value, all else at its best estimate.
func (s *sampler) at(a *axis, value float64) outcome {
	if a.key != "" {
		return s.with(s.plant, map[string]float64{a.key: value})
	}
	st := a.set(apart(s.plant.st), value)
	q, err := New(st)
	if err != nil || q.forRuns() != nil {
		return outcome{}
	}
	return s.with(q, nil)
}

// measured puts a measured closing curve of the catalog in place of the computed closing:
// its reverse velocity at the deceleration of the event, spread as the runs are.
func (p *Plant) measured(a *Answer, limits Limits) {
	x := &a.Slam
	m, ok := a.Item.MeasuredClosing(p.st.Valve.Position)
	if !ok || !x.Deceleration.Known() {
		return
	}
	v, err := ReadMeasured(m, x.Deceleration)
	if err != nil {
		a.Worst.Notes = append(a.Worst.Notes,
			"The catalog's measured closing curve does not reach this deceleration; the computed closing stands.")
		return
	}
	ratio := 1.0
	if x.MedianMS > 0 {
		ratio = v.SI / x.MedianMS
	}
	low, high := v.SI-v.Low, v.High-v.SI // of the curve itself
	if m.YHalf == nil {
		v.Low, v.High = ratio*x.Reverse.Low, ratio*x.Reverse.High
	} else { // the valve is measured: what is left open is the curve's error and the station
		part := math.Sqrt(x.stationShare()) * ratio
		v.Low = math.Max(0, v.SI-math.Hypot(low, part*(x.MedianMS-x.Reverse.Low)))
		v.High = v.SI + math.Hypot(high, part*(x.Reverse.High-x.MedianMS))
		x.Chances = chancesOf(v, limits)
	}
	x.MedianMS, x.MedianSudden = v.SI, v.SI
	x.Middle[0], x.Middle[1] = ratio*x.Middle[0], ratio*x.Middle[1]
	x.Reverse, x.Sudden = v, v
	a.Worst.Notes = append(a.Worst.Notes,
		"The reverse velocity is read off the catalog's measured closing curve at the deceleration of this event: "+
			m.Source+".")
}

// stationShare is the part of the variance of the slam that comes from the station, not from the
// valve.
func (x *Slam) stationShare() float64 {
	own, all := 0.0, 0.0
	for _, in := range x.Inputs {
		all += in.Share
		if in.Own {
			own += in.Share
		}
	}
	if all <= 0 {
		return 1
	}
	return math.Max(0, math.Min(1, 1-own/all))
}

// chancesOf are the chances of a velocity with its 5 and 95 % points, each side half of a normal
// curve.
func chancesOf(v basis.Value, l Limits) Chances {
	below := func(limit float64) float64 {
		end := v.High
		if limit < v.SI {
			end = v.Low
		}
		if width := math.Abs(end-v.SI) / draw.Normal(0.95); width > 0 {
			return 0.5 * math.Erfc(-(limit-v.SI)/width/math.Sqrt2)
		}
		if v.SI < limit {
			return 1
		}
		return 0
	}
	quiet, kind := below(l.QuietMS), below(l.HarmfulMS)
	return Chances{quiet, math.Max(0, kind-quiet), 1 - kind}
}

// ReadMeasured reads the reverse velocity off a measured closing curve. Outside the
// measured decelerations there is no answer: a curve is not drawn out, but by the error of its
// ends.
func ReadMeasured(m catalog.Measured, deceleration basis.Value) (basis.Value, error) {
	x := deceleration.SI
	if last := len(m.X) - 1; m.XHalf != nil {
		switch {
		case x < m.X[0] && x >= m.X[0]-m.XHalf[0]:
			x = m.X[0]
		case x > m.X[last] && x <= m.X[last]+m.XHalf[last]:
			x = m.X[last]
		}
	}
	for i := 1; i < len(m.X); i++ {
		if x >= m.X[i-1] && x <= m.X[i] {
			y := m.Y[i-1] + (m.Y[i]-m.Y[i-1])*(x-m.X[i-1])/(m.X[i]-m.X[i-1])
			v := basis.NewCatalog("reverse velocity, measured", quantity.Velocity, y, m.Source)
			v.Inputs = []basis.Value{deceleration}
			if m.YHalf != nil {
				share := (x - m.X[i-1]) / (m.X[i] - m.X[i-1])
				at := func(h []float64) float64 { return h[i-1] + share*(h[i]-h[i-1]) }
				slope := (m.Y[i] - m.Y[i-1]) / (m.X[i] - m.X[i-1])
				half := math.Hypot(at(m.YHalf), slope*at(m.XHalf)) * draw.Normal(0.95) / draw.Normal(0.975)
				v = v.WithRange(math.Max(0, y-half), y+half)
			}
			return v, nil
		}
	}
	return basis.Value{}, fmt.Errorf("the deceleration of %s lies outside the measured curve, %s to %s",
		quantity.SI.Format(quantity.Acceleration, x), quantity.SI.Number(quantity.Acceleration,
			m.X[0]), quantity.SI.Format(quantity.Acceleration, m.X[len(m.X)-1]))
}

// Lucky is true where the run at best estimates lies outside the middle half of all cases:
// then the median comes first.
func (x *Slam) Lucky() bool {
	return x.Middle[1] > 0 && (x.Reverse.SI < x.Middle[0]-luckyMS || x.Reverse.SI > x.Middle[1]+luckyMS)
}

// luckyMS is a difference of reverse velocities that nobody feels, m/s.
const luckyMS = 0.01
