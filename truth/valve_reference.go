package truth

import (
	"math"

	"seatward/valve"
)

// The reference swing check B of the closing runs of two independent codes: DN200, in the
// round constants of those runs. Its law is theirs, a straight line of force efficiency and a
// widening jet in the gap, not that of the product types: the runs hold the solver, the node
// and the motion of the element to a second program, whatever the law.
const (
	swingBore, swingRadius, swingArm = 0.2, 0.11, 0.125
	swingGravityArm, swingSeatRadius = 0.118, 0.1
	swingWeightN                     = 68.4825
	swingSeat, swingStroke           = 5 * degree, 65 * degree
	swingFriction                    = 0.2 // N m
	swingContraction                 = 0.7
	swingEfficiency                  = 1.420529 // at the stop, from K_o 1 and V_o 1.5 m/s
)

// referenceSwing is valve B with a torque and an inertia added to it.
func referenceSwing(s valve.Setting, torque func(angle float64) float64, inertia float64) (*valve.Mechanism, error) {
	area, r3 := math.Pi/4*swingBore*swingBore, swingRadius*swingRadius*swingRadius
	geometry := math.Pi * swingRadius * swingRadius * swingArm
	added := 16.0/45*s.DensityKgM3*r3*swingRadius*swingRadius + 8.0/3*s.DensityKgM3*r3*swingArm*swingArm
	pull := 8.0 / 3 * s.DensityKgM3 * r3 * swingArm
	gap := func(angle float64) float64 {
		return valve.GapLoss(area, valve.HingedGapArea(swingSeatRadius, swingArm, angle), swingContraction)
	}
	open := gap(swingStroke)
	f := valve.Frame{
		BoreM: swingBore, Stroke: swingStroke, Rotary: true, DensityKgM3: s.DensityKgM3, GravityMS2: s.GravityMS2,
		SubmergedN: swingWeightN, Efficiency: swingEfficiency,
	}
	return valve.NewMechanism(f, func(angle float64, out *valve.State) {
		eta := 1 + (swingEfficiency-1)*angle/swingStroke
		out.Terms[0] = valve.Both(1+max(0, gap(angle)-open), eta*geometry, geometry/area)
		out.Closing = swingWeightN*swingGravityArm*math.Sin(angle+swingSeat) + torque(angle)
		out.Friction, out.Mass = swingFriction, 0.15+added+inertia
		sin, cos := math.Sincos(angle + swingSeat)
		out.Coupling, out.CouplingSlope = pull*cos, -pull*sin
	})
}

// referenceSwings are valve B plain, with 5 kg on a lever of 0.2 m that is level at half
// opening, and with a spring of that torque.
var referenceSwings = map[string]func(valve.Setting) (*valve.Mechanism, error){
	"B": func(s valve.Setting) (*valve.Mechanism, error) {
		return referenceSwing(s, func(float64) float64 { return 0 }, 0)
	},
	"B+weight": func(s valve.Setting) (*valve.Mechanism, error) {
		return referenceSwing(s, func(angle float64) float64 { return 5 * 9.81 * 0.2 * math.Cos(angle-swingStroke/2) },
			5*0.2*0.2)
	},
}
