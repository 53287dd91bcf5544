package judge

import (
	"fmt"
	"slices"

	"seatward/basis"
	"seatward/plant"
	"seatward/station"
)

// pumps looks whether the pumps can run where the station puts them: all else rests on it.
func pumps(b *bench) []Finding {
	var out []Finding
	if p := b.farthest(func(p *plant.OperatingPoint) float64 {
		if !p.CurveEnd.Known() || !(p.CurveEnd.SI > 0) {
			return 0
		}
		return p.Flow.SI / p.CurveEnd.SI
	}); p != nil {
		f := Finding{
			Kind: PumpBeyondCurve, Severity: Confirm, Value: p.Flow, Limit: p.CurveEnd, Basis: basis.DerivedHere,
			Text: fmt.Sprintf("The pump runs at %s (%s), beyond the end of its curve at %s: flow, power and stops there are not known.",
				b.show(p.Flow), p.Name, b.show(p.CurveEnd)),
			Missing: "the pump's curve as far as it runs",
			Mend:    "the pump's curve to its end, or the static head and losses checked: a pump seldom runs there",
		}
		switch {
		case !b.curvesGiven():
			f.Text = fmt.Sprintf("By the curve assumed for it the pump runs at %s (%s), beyond the end at %s: its own curve decides.",
				b.show(p.Flow), p.Name, b.show(p.CurveEnd))
			f.Missing = "the pump's curve"
		case p.Normal:
			f.Severity, f.Missing = Condition, ""
		}
		out = append(out, f)
	}
	if p := b.farthest(func(p *plant.OperatingPoint) float64 {
		if !p.Motor.Known() || !p.ShaftPower.Known() || p.ShaftPower.SI <= p.Motor.SI {
			return 0
		}
		return p.ShaftPower.SI / p.Motor.SI
	}); p != nil {
		f := Finding{
			Kind: MotorOverload, Severity: Condition, Value: p.ShaftPower, Limit: p.Motor, Basis: basis.DerivedHere,
			Text: fmt.Sprintf("The pump takes %s at the shaft (%s), more than its motor's %s.", b.show(p.ShaftPower), p.Name,
				b.show(p.Motor)),
			Mend: "curve, efficiency and motor checked against the pump's data sheet",
		}
		if !b.efficiencyGiven() {
			f.Severity, f.Missing = Confirm, "the pump's efficiency"
			f.Text += " Its efficiency is an estimate."
		}
		out = append(out, f)
	}
	return out
}

// farthest is the operating point with the greatest share above zero, the normal one first where
// it has any; nil where none has.
func (b *bench) farthest(share func(*plant.OperatingPoint) float64) *plant.OperatingPoint {
	var out *plant.OperatingPoint
	most := 0.0
	for i := range b.Points {
		p := &b.Points[i]
		s := share(p)
		if s > 0 && p.Normal {
			return p
		}
		if s > most {
			out, most = p, s
		}
	}
	return out
}

// curvesGiven is true where the curve of every pump is the user's.
func (b *bench) curvesGiven() bool {
	return !slices.ContainsFunc(b.Station.Pumps, func(p station.Pump) bool { return !p.CurveGiven })
}

// efficiencyGiven is true where the efficiency of every pump is the user's.
func (b *bench) efficiencyGiven() bool {
	for i := range b.Station.Pumps {
		if b.Station.Pumps[i].Efficiency.Known() { // else it is read off points that were given
			return false
		}
	}
	return true
}
