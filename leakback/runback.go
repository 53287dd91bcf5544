package leakback

import (
	"math"

	"seatward/basis"
	"seatward/pump"
	"seatward/quantity"
)

// RestartHeatFormula records RestartHeat.
var RestartHeatFormula = basis.Formula{
	ID: "restart-heat", Title: "Rotor heat of a start against a reverse spin, over that of a start from rest",
	Expr: "q = (1 − α)²", Symbols: []string{"α"}, Kind: quantity.Number, Ref: basis.DerivedHere,
	Range: "induction motor started direct on line, inertia alone, rated speed taken as synchronous",
}

// RestartHeat is the heat in the rotor of an induction motor that starts at the speed ratio
// α, over that of a start from rest: the loss is the kinetic energy of the slip, and the slip
// is 1 − α.
func RestartHeat(alpha float64) float64 { return (1 - alpha) * (1 - alpha) }

// State is a pump in its quadrants, over the rated point.
type State struct {
	Speed float64 // over the rated speed, below zero backward
	Flow  float64 // over the rated flow, below zero backward
	Head  float64 // over the rated head
}

// Line is what the pump works against, over its rated head: the static head, and the
// friction at the rated flow, that of the valve stuck open included.
type Line struct{ Static, Friction float64 }

// Runaway is the steady state of a pump that spins free behind a valve stuck open: the angle
// in the turbine quadrant at which the torque is zero, and the size at which the pump's head
// is what static head less friction leaves. All of it is zero without a static head.
func Runaway(q *pump.Quadrants, l Line) State {
	if !(l.Static > 0) {
		return State{}
	}
	low, high := 0.0, math.Pi/2
	for range 60 {
		mid := (low + high) / 2
		if torque(q, -math.Cos(mid), -math.Sin(mid)) < 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return settled(q, l, -math.Cos(low), -math.Sin(low))
}

// Held is the steady state of a pump whose shaft is held behind a valve stuck open.
func Held(q *pump.Quadrants, l Line) State {
	if !(l.Static > 0) {
		return State{}
	}
	return settled(q, l, 0, -1)
}

// settled scales a state to the head that the line leaves.
func settled(q *pump.Quadrants, l Line, speed, flow float64) State {
	h := head(q, speed, flow)
	size := math.Sqrt(l.Static / (h + l.Friction*flow*flow))
	return State{Speed: speed * size, Flow: flow * size, Head: h * size * size}
}

func head(q *pump.Quadrants, speed, flow float64) float64 {
	h, _ := q.Head(speed, flow*q.Rated().FlowM3S)
	return h / q.Rated().HeadM
}

func torque(q *pump.Quadrants, speed, flow float64) float64 {
	return q.Torque(speed, flow*q.Rated().FlowM3S) / q.Rated().TorqueNM
}

// Spin is the inertia of pump and water: the rotor's inertia time I ω₀/T₀, s, and the water's
// L V₀/(g H₀), s, both at the rated point.
type Spin struct{ RotorS, WaterS float64 }

// Course is a power failure of a pump behind a valve stuck open, as a rigid column.
type Course struct {
	ReversedS  float64 // time at which the flow reverses
	SlopeS     float64 // dv/dt then, 1/s
	SpeedAtRev float64 // speed ratio then
	StandsS    float64 // time at which the shaft stands before it spins back
	FlowStands float64 // flow then
	Fastest    State   // the greatest reverse speed
	FastestS   float64 // its time
	End        State   // when the time was up
}

const (
	courseStepS = 0.002
	courseEndS  = 40.0
)

// StuckOpen runs the power failure for 40 s by midpoint steps.
func StuckOpen(q *pump.Quadrants, l Line, s Spin) Course {
	var c Course
	a, v := 1.0, 1.0
	rates := func(a, v float64) (da, dv float64) {
		return -torque(q, a, v) / s.RotorS, (head(q, a, v) - l.Static - l.Friction*v*math.Abs(v)) / s.WaterS
	}
	for t := 0.0; t < courseEndS; t += courseStepS {
		da, dv := rates(a, v)
		da, dv = rates(a+da*courseStepS/2, v+dv*courseStepS/2)
		nextA, nextV := a+da*courseStepS, v+dv*courseStepS
		if c.ReversedS == 0 && v > 0 && nextV <= 0 {
			c.ReversedS, c.SlopeS, c.SpeedAtRev = t+courseStepS*v/(v-nextV), dv, a
		}
		if c.StandsS == 0 && a > 0 && nextA <= 0 {
			c.StandsS, c.FlowStands = t+courseStepS*a/(a-nextA), v
		}
		if nextA < c.Fastest.Speed {
			c.Fastest, c.FastestS = State{nextA, nextV, head(q, nextA, nextV)}, t+courseStepS
		}
		a, v = nextA, nextV
	}
	c.End = State{a, v, head(q, a, v)}
	return c
}
