package pump

import (
	"fmt"
	"math"
)

// Rated is the point to which heads, torques, speeds and flows in four quadrants are
// referred: that of best efficiency.
type Rated struct {
	FlowM3S, HeadM, TorqueNM, SpeedRadS float64
}

// SpecificSpeed of the rated point, m³/s, m, rpm.
func (r Rated) SpecificSpeed() float64 { return SpecificSpeed(r.SpeedRadS, r.FlowM3S, r.HeadM) }

// The specific speeds, m³/s, m, rpm, between which the published quadrants are mixed.
const (
	radialSpeed = 25.0
	mixedSpeed  = 147.0
)

// Quadrants is a pump in all four quadrants: head and torque at any speed and flow,
// forward and back. Where the pump's own curve reaches (speed forward, flow from none to
// the end of the curve, by the affinity laws) it is that curve exactly; elsewhere it is
// the published pumps mixed by specific speed, to which the own curve fades.
type Quadrants struct {
	rated        Rated
	mix          float64 // 0 radial to 1 mixed flow
	own          *Performance
	densityKgM3  float64
	end          float64 // v/α at which the own curve ends
	endHead      float64 // what the tables hold there
	endTorque    float64
	head, torque [angles + 1]float64
	Outside      string // where the specific speed lies outside the published ones, in words; "" inside
}

// NewUniversal is a pump known by its rated point alone.
func NewUniversal(r Rated) (*Quadrants, error) {
	for _, x := range []float64{r.FlowM3S, r.HeadM, r.TorqueNM, r.SpeedRadS} {
		if !(x > 0) || math.IsInf(x, 0) {
			return nil, fmt.Errorf("pump: a rated point of %.4g m3/s, %.4g m, %.4g N m, %.4g rad/s; all must be above zero", r.FlowM3S, r.HeadM, r.TorqueNM, r.SpeedRadS)
		}
	}
	q := &Quadrants{rated: r}
	ns := r.SpecificSpeed()
	q.mix = math.Log(ns/radialSpeed) / math.Log(mixedSpeed/radialSpeed)
	switch {
	case q.mix < 0:
		q.Outside = fmt.Sprintf("the specific speed %.0f is below the %.0f of the published pumps; theirs is used", ns,
			radialSpeed)
		q.mix = 0
	case q.mix > 1:
		q.Outside = fmt.Sprintf("the specific speed %.0f is above the %.0f of the published pumps; theirs is used", ns,
			mixedSpeed)
		q.mix = 1
	}
	for i := range q.head {
		q.head[i] = radialHead[i] + q.mix*(mixedHead[i]-radialHead[i])
		q.torque[i] = radialTorque[i] + q.mix*(mixedTorque[i]-radialTorque[i])
	}
	return q, nil
}

// fade is the angle, rad, over which the difference between the own curve and the
// published pumps fades beyond the ends of the own curve; judged, no source.
const fade = 0.6

// NewQuadrants joins the performance, at speed ratio 1 and the rated speed, to the
// published pumps.
func NewQuadrants(p Performance, speedRadS, densityKgM3 float64) (*Quadrants, error) {
	flow, _ := p.BestPoint()
	head := p.Head(flow).SI
	power := p.ShaftPower(flow, densityKgM3).SI
	q, err := NewUniversal(Rated{flow, head, power / speedRadS, speedRadS})
	if err != nil {
		return nil, err
	}
	_, last := p.Range()
	q.own, q.densityKgM3, q.end = &p, densityKgM3, last/flow
	q.endHead, q.endTorque = q.ownHead(q.end)/(1+q.end*q.end), q.ownTorque(q.end)/(1+q.end*q.end)
	// The own curve spans x from π to π + atan(end).
	low, high := math.Pi, math.Pi+math.Atan(q.end)
	for _, table := range []struct {
		values *[angles + 1]float64
		own    func(v float64) float64
	}{{&q.head, q.ownHead}, {&q.torque, q.ownTorque}} {
		atLow := table.own(0) - interpolate(table.values, low)
		atHigh := table.own(q.end)/(1+q.end*q.end) - interpolate(table.values, high)
		for i := range table.values {
			x := float64(i) * 2 * math.Pi / angles
			switch {
			case x < low:
				table.values[i] += atLow * math.Max(0, 1-(low-x)/fade)
			case x > high:
				table.values[i] += atHigh * math.Max(0, 1-(x-high)/fade)
			}
		}
	}
	return q, nil
}

// ownHead is h = H/Hr of the own curve at full speed and the relative flow v.
func (q *Quadrants) ownHead(v float64) float64 {
	return q.own.Head(v*q.rated.FlowM3S).SI / q.rated.HeadM
}

// ownTorque is β at full speed.
func (q *Quadrants) ownTorque(v float64) float64 {
	return q.own.ShaftPower(v*q.rated.FlowM3S, q.densityKgM3).SI / q.rated.SpeedRadS / q.rated.TorqueNM
}

// Rated is the rated point.
func (q *Quadrants) Rated() Rated { return q.rated }

// Head is the pump's head at the speed ratio α and the flow, m, with its slope, s/m².
func (q *Quadrants) Head(alpha, flowM3S float64) (headM, slope float64) {
	v := flowM3S / q.rated.FlowM3S
	if q.onOwn(alpha, v) {
		r := flowM3S / alpha
		return alpha * alpha * q.own.Head(r).SI, alpha * q.own.Slope(r).SI
	}
	s := alpha*alpha + v*v
	if s == 0 {
		return 0, 0
	}
	w, dw := q.at(&q.head, math.Pi+math.Atan2(v, alpha))
	return q.rated.HeadM * s * w, q.rated.HeadM * (2*v*w + alpha*dw) / q.rated.FlowM3S
}

// Torque is the torque that the liquid takes from the shaft, N m.
func (q *Quadrants) Torque(alpha, flowM3S float64) float64 {
	v := flowM3S / q.rated.FlowM3S
	if q.onOwn(alpha, v) {
		return q.rated.TorqueNM * alpha * alpha * q.ownTorque(v/alpha)
	}
	w, _ := q.at(&q.torque, math.Pi+math.Atan2(v, alpha))
	return q.rated.TorqueNM * (alpha*alpha + v*v) * w
}

func (q *Quadrants) onOwn(alpha, v float64) bool {
	return q.own != nil && alpha > 0 && v >= 0 && v <= q.end*alpha
}

// at reads a table and its slope. Beside the own curve the table runs straight from the
// curve's end to the next angle of the table, so that nothing jumps.
func (q *Quadrants) at(table *[angles + 1]float64, x float64) (w, slope float64) {
	const step = 2 * math.Pi / angles
	i := min(angles-1, max(0, int(x/step)))
	x0, x1 := float64(i)*step, float64(i+1)*step
	w0, w1 := table[i], table[i+1]
	if q.own != nil {
		if high := math.Pi + math.Atan(q.end); high > x0 && high < x1 && x >= high {
			x0, w0 = high, q.ends(table)
		}
	}
	slope = (w1 - w0) / (x1 - x0)
	return w0 + slope*(x-x0), slope
}

// ends is the own value at the end of the curve, as the table holds it.
func (q *Quadrants) ends(table *[angles + 1]float64) float64 {
	if table == &q.head {
		return q.endHead
	}
	return q.endTorque
}

func interpolate(table *[angles + 1]float64, x float64) float64 {
	const step = 2 * math.Pi / angles
	i := min(angles-1, max(0, int(x/step)))
	return table[i] + (table[i+1]-table[i])*(x/step-float64(i))
}
