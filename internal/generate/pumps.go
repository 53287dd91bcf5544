package generate

import (
	"fmt"
	"math"

	"seatward/quantity"
)

// curveForm is the form of a head curve: the shut-off head over the head at duty, the power
// of the flow, and the head by which it rises from shut-off first, as a share.
type curveForm struct{ shutOff, power, droop float64 }

// pumps draws the list of pumps for the duty.
func (d dice) pumps(s *Station, f frame, n int) {
	entries := 1
	if n > 1 && d.chance(25, "unequal pumps") {
		entries = int(d.between(2, float64(min(n, 3))+0.99, "entries"))
	}
	left := n
	for i := range entries {
		p := Pump{Name: fmt.Sprintf("P%d", i+1), Count: 1}
		if i == entries-1 {
			p.Count = left
		}
		left -= p.Count
		flow, head := f.flow, f.staticM+f.wellM+f.lossM
		if i > 0 {
			flow, head = flow*d.between(0.5, 1.3, "flow of another"), head*d.between(0.95, 1.15, "head of another")
		}
		d.pump(s, &p, flow, head)
		s.Pumps = append(s.Pumps, p)
	}
	last := &s.Pumps[entries-1]
	if last.Count > 1 && d.chance(35, "standby") {
		last.Standby = 1
	}
}

// pump draws one pump for its duty.
func (d dice) pump(s *Station, p *Pump, flow, head float64) {
	poles := of(d, "speed", 1450., 1760, 980, 2940, 1180, 730)
	p.Speed = Number{SI: d.round(quantity.RotationalSpeed, poles*rpm)}
	if d.chance(20, "variable speed") {
		p.LeastSpeed = Number{SI: d.round(quantity.RotationalSpeed, p.Speed.SI*d.between(0.7, 0.95, "least speed"))}
	}
	p.Submersible = of(d, "submersible", "no", "yes", "")
	form := of(d, "form of the curve", curveForm{1.35, 2, 0}, curveForm{1.2, 1.8, 0}, curveForm{1.7, 1.5, 0},
		curveForm{1.1, 2.2, 0}, curveForm{1.12, 2, 0.03})
	form.shutOff *= d.between(1, 1.06, "shut-off head")
	p.Curve = d.curve(form, flow, head)
	if form.droop > 0 {
		s.Make = "drooping curve"
	}
	if d.chance(8, "curve has a range") {
		p.CurveSpread = 0.05
	}
	if d.chance(50, "efficiency") {
		best := d.between(0.5, 0.82, "best efficiency")
		for _, x := range []float64{0.4, 0.8, 1, 1.2, 1.4} {
			p.Efficiency = append(p.Efficiency,
				Pair{d.round(quantity.Flow, x*flow), d.round(quantity.Fraction, best*(1-1.1*(x-1)*(x-1)))})
		}
	}
	if d.chance(50, "motor") {
		p.MotorW = Number{SI: d.round(quantity.Power, 1000*gravity*flow*head/0.7*d.between(1.1, 1.5, "reserve"))}
	}
	if d.chance(40, "inertia given") {
		p.InertiaKgM2 = d.inertia(p, frame{flow: flow, staticM: head})
	}
}

// curve gives points as on a data sheet, from shut-off to well past the duty.
func (d dice) curve(c curveForm, flow, head float64) []Pair {
	points := int(d.between(4, 9, "points of the curve"))
	shutOff := c.shutOff * head
	last := math.Pow((shutOff-0.3*head)/(shutOff-head), 1/c.power) // there 0.3 of the head is left
	last = min(last, d.between(1.5, 2.2, "end of the curve"))
	var out []Pair
	for i := range points {
		x := last * float64(i) / float64(points-1)
		h := shutOff - (shutOff-head)*math.Pow(x, c.power)
		if c.droop > 0 {
			h -= c.droop * head * math.Max(0, 1-2.5*x)
		}
		out = append(out, Pair{d.round(quantity.Flow, x*flow), d.round(quantity.Head, h)})
	}
	return out
}

// inertia is that of the usual pump set of the power and speed within a factor of two: the
// fit of Thorley (1991) for pump and motor (from memory).
func (d dice) inertia(p *Pump, f frame) Number {
	kw := gravity * f.flow * (f.staticM + f.wellM + f.lossM) / 0.7
	krpm := p.Speed.SI / rpm / 1000
	usual := 0.03768*math.Pow(kw/math.Pow(krpm, 3), 0.9556) + 0.0043*math.Pow(kw/krpm, 1.48)
	return d.number(quantity.Inertia, usual*d.scaled(0.6, 1.8, "inertia"), "inertia")
}

// shutOff is the greatest shut-off head, m.
func (s Station) shutOff() float64 {
	most := 0.0
	for _, p := range s.Pumps {
		most = math.Max(most, p.Curve[0].Y)
	}
	return most
}
