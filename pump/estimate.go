package pump

import (
	"fmt"
	"math"

	"seatward/basis"
	"seatward/quantity"
)

// Set is what is known of a pump set when its inertia is wanted. ShaftPower and
// Speed are needed. The other values may be left zero, which means not known.
type Set struct {
	ShaftPower  basis.Value // at the duty point, W
	Speed       basis.Value // rated, rad/s
	MotorPower  basis.Value // rated, W
	Poles       int         // of the motor, 0 to infer from the speed
	Submersible bool        // motor and pump in one submersible body

	PumpInertia, MotorInertia, FlywheelInertia basis.Value // kg m2, where given
	TotalInertia                               basis.Value // kg m2 of all that turns, where given
}

// Inertia is the inertia of a pump set, part by part. The parts are not Known
// when the total was given.
type Inertia struct {
	Pump, Motor, Flywheel, Total basis.Value // kg m2
	Time                         basis.Value // T_a, s
}

// Judged widths of the bands: what the scatter of published inertias about the
// laws looks like, a factor of 1.4 either way, and how much lighter a
// submersible's short, slender rotor is. Common practice, no source.
const (
	scatter             = 1.4
	submersibleMotor    = 0.6
	submersibleMotorLow = 0.3
	submersiblePump     = 0.8
	submersiblePumpLow  = 0.5
)

// MissingError says which value of a Set is missing or not above zero.
type MissingError struct{ What string }

// Error says what is needed.
func (e *MissingError) Error() string { return "inertia cannot be estimated: " + e.What }

// EstimateInertia gives the inertia of the set and its inertia time, each with a
// range: given parts as they are, the others by Linton's laws with a band that
// spans Thorley's lighter pumps and the NEMA rotor, widened by the scatter, and
// lower for submersibles. The error is a *MissingError.
func EstimateInertia(s Set) (Inertia, error) {
	for _, need := range []struct {
		v    basis.Value
		what string
	}{{s.ShaftPower, "the shaft power"}, {s.Speed, "the speed"}} {
		if !need.v.Known() || !(need.v.Low > 0) || math.IsInf(need.v.High, 0) {
			return Inertia{}, &MissingError{need.what + " is not known or not above zero"}
		}
	}
	if s.TotalInertia.Known() {
		return s.timed(Inertia{Total: s.TotalInertia})
	}
	out := Inertia{Pump: s.pump(), Motor: s.motor(), Flywheel: s.FlywheelInertia}
	if !out.Flywheel.Known() {
		out.Flywheel = basis.NewAssumed("inertia of flywheel", quantity.Inertia, 0, 0, 0, "no flywheel is given",
			basis.CommonPractice)
	}
	out.Total = totalInertiaFormula.Eval3("inertia of pump set",
		func(pump, motor, flywheel float64) float64 { return pump + motor + flywheel }, out.Pump, out.Motor,
		out.Flywheel)
	return s.timed(out)
}

func (s Set) timed(i Inertia) (Inertia, error) {
	if !(i.Total.Low > 0) {
		return Inertia{}, &MissingError{"the given inertia is not above zero"}
	}
	i.Time = InertiaTimeFormula.Eval3("inertia time of pump set", InertiaTime, i.Total, s.Speed, s.ShaftPower)
	return i, nil
}

func (s Set) pump() basis.Value {
	if s.PumpInertia.Known() {
		return s.PumpInertia
	}
	best, light := s.laws(&PumpInertiaFormula, PumpInertia, LightPumpInertia, s.ShaftPower)
	best.Name = "inertia of pump"
	best.Reason = "not given: Linton's law; the band spans Thorley's law for lighter pumps and the scatter of both, a factor of 1.4 (judged)"
	low, high := math.Min(best.Low, light.Low)/scatter, math.Max(best.High, light.High)*scatter
	if s.Submersible {
		best.Reason += "; a submersible has no coupling and a short shaft: 0.8 of it, 0.5 at least (judged)"
		best.SI *= submersiblePump
		low *= submersiblePumpLow
	}
	return best.WithRange(low, high)
}

func (s Set) motor() basis.Value {
	if s.MotorInertia.Known() {
		return s.MotorInertia
	}
	power := s.MotorPower
	if !power.Known() {
		power = motorRating(s.ShaftPower)
	}
	poles := float64(s.Poles)
	if s.Poles <= 0 {
		poles = float64(polesAt(s.Speed.SI))
	}
	rotor := func(ratedW, _ float64) float64 { return RotorInertia(ratedW, poles) }
	best, nema := s.laws(&MotorInertiaFormula, MotorInertia, rotor, power)
	best.Name = "inertia of motor"
	best.Reason = fmt.Sprintf("not given: Linton's law; the band spans the NEMA rotor with %g poles and the scatter, a factor of 1.4 (judged)", poles)
	low, high := math.Min(best.Low, nema.Low)/scatter, math.Max(best.High, nema.High)*scatter
	if s.Submersible {
		best.Reason += "; a submersible's rotor is slender: 0.6 of it, 0.3 at least (judged)"
		best.SI *= submersibleMotor
		low *= submersibleMotorLow
	}
	return best.WithRange(low, high)
}

// laws evaluates the law that gives the best value and the law that bounds it.
// What comes of them is an assumption, because it stands for a datum of the maker.
func (s Set) laws(f *basis.Formula, best, other func(w, omega float64) float64, power basis.Value) (a, b basis.Value) {
	a = f.Eval2("", best, power, s.Speed)
	b = f.Eval2("", other, power, s.Speed)
	a.Origin = basis.Assumed
	return a, b
}

var motorRatingFormula = basis.Formula{
	ID: "motor-rating", Title: "Rated power of motor, estimate", Expr: "P_motor = m P_shaft",
	Symbols: []string{"P_shaft", "m"}, Kind: quantity.Power, Ref: basis.CommonPractice,
}

// motorRating assumes the rating of a motor whose nameplate is not known.
func motorRating(shaft basis.Value) basis.Value {
	margin := basis.NewAssumed("rated motor power over shaft power", quantity.Number, 1.2, 1.0, 1.5,
		"the motor's rating is not given: the next size above the power at the end of the curve", basis.CommonPractice)
	return motorRatingFormula.Eval2("rated motor power", func(shaft, margin float64) float64 { return shaft * margin },
		shaft, margin)
}

// polesAt is the number of poles, 2 to 16, whose synchronous speed at 50 or 60 Hz
// lies least above the speed, rad/s.
func polesAt(omega float64) int {
	best, slip := 2, math.Inf(1)
	for _, hertz := range []float64{50, 60} {
		for p := 2; p <= 16; p += 2 {
			s := 1 - omega/(4*math.Pi*hertz/float64(p))
			if s >= -1e-3 && s < slip {
				best, slip = p, s
			}
		}
	}
	return best
}
