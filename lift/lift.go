// Package lift tells what one person may lift by hand, by the revised equation of NIOSH,
// and says when a lift needs a plan. It never gives the load of a lifting point: that is
// the maker's to tell.
package lift

import (
	"math"

	"seatward/basis"
	"seatward/quantity"
)

// Task is one lift: where the hands are, and how far the load travels.
type Task struct {
	ReachM, FromM, ToM float64 // hands before the ankles; hands over the floor at the start and at the end
	TwistDeg           float64 // turn of the body out of its middle plane
	Coupling           float64 // 1 good handles, 0.95 fair, 0.90 poor: a ball or a cover without handles
}

// Usual is a lift out of an open valve at knee height onto a bench, arms half stretched:
// what is assumed where nothing is given.
var Usual = Task{ReachM: 0.40, FromM: 0.50, ToM: 0.80, Coupling: 0.90}

// Limits of the equation, m and degrees. Beyond them nothing may be lifted by hand.
const (
	constantKg          = 23.0
	leastReach          = 0.25
	mostReach, mostHigh = 0.63, 1.75
	leastWay, mostWay   = 0.25, 1.75
	mostTwist           = 135.0
)

// RecommendedKg is the recommended weight limit in kg of a lift that is done a few times
// a day at most:
//
//	RWL = 23 (25/H) (1 − 0.003 |V − 75|) (0.82 + 4.5/D) (1 − 0.0032 A) C
//
// H reach, V height of the hands, D way, all in cm, A twist in degrees, C coupling. It is
// taken at the start and at the end of the lift, and the lesser counts. A reach or way
// below 25 cm is taken as 25 cm, as the equation says; beyond its limits it is 0.
//
// Source: Waters, Putz-Anderson and Garg (1994), NIOSH 94-110, equation 1.1; frequency
// multiplier 1.
func RecommendedKg(t Task) float64 {
	way := math.Abs(t.ToM - t.FromM)
	if t.ReachM > mostReach || way > mostWay || math.Abs(t.TwistDeg) > mostTwist || math.Min(t.FromM, t.ToM) < 0 ||
		math.Max(t.FromM, t.ToM) > mostHigh {
		return 0
	}
	limit := func(heightM float64) float64 {
		return constantKg * leastReach / math.Max(t.ReachM, leastReach) * (1 - 0.3*math.Abs(heightM-0.75)) *
			(0.82 + 0.045/math.Max(way, leastWay)) * (1 - 0.0032*math.Abs(t.TwistDeg)) * t.Coupling
	}
	return math.Min(limit(t.FromM), limit(t.ToM))
}

// RecommendedFormula is RecommendedKg.
var RecommendedFormula = basis.Formula{
	ID: "lifting-limit", Title: "Recommended weight limit for one person",
	Expr:    "RWL = 23 (25/H) (1 − 0.003 |V − 75|) (0.82 + 4.5/D) (1 − 0.0032 A) C",
	Symbols: []string{"H", "V at the start", "V at the end", "A", "C"}, Kind: quantity.Mass,
	Ref:   "niosh-1994 equation 1.1",
	Range: "H to 63 cm, V to 175 cm, A to 135 deg; a few lifts a day, both hands, sound floor, room to stand",
}

// Limit is RecommendedKg with its record. What is 0 in the task is assumed.
func Limit(t Task) basis.Value {
	const why = "not given; a lift out of an open valve at knee height onto a bench"
	number := func(name string, kind quantity.Kind, told *float64, usual float64) basis.Value {
		if *told == 0 {
			*told = usual
			return basis.NewAssumed(name, kind, usual, usual, usual, why, basis.OwnChoice)
		}
		return basis.NewGiven(name, kind, *told, "command line")
	}
	reach := number("reach", quantity.Length, &t.ReachM, Usual.ReachM)
	from := number("height of the hands at the start", quantity.Length, &t.FromM, Usual.FromM)
	to := number("height of the hands at the end", quantity.Length, &t.ToM, Usual.ToM)
	twist := basis.NewAssumed("twist, degrees", quantity.Number, t.TwistDeg, t.TwistDeg, t.TwistDeg,
		"the load is lifted straight in front, a few times a day at most", basis.OwnChoice)
	coupling := number("coupling", quantity.Number, &t.Coupling, Usual.Coupling)
	return RecommendedFormula.Eval5("weight limit for one person",
		func(reach, from, to, twist, coupling float64) float64 {
			return RecommendedKg(Task{reach, from, to, twist, coupling})
		}, reach, from, to, twist, coupling)
}

// Verdict is what is said of one part to be lifted.
type Verdict struct {
	Part  string
	Mass  basis.Value
	Index float64 // mass over the limit; 0 where the mass is unknown, infinite where nothing may be lifted so
	Alone bool    // one person may lift it
}

// Judge holds the mass of a part to the limit.
func Judge(part string, mass, limit basis.Value) Verdict {
	v := Verdict{Part: part, Mass: mass}
	if mass.Known() {
		v.Index = mass.High / limit.SI
		v.Alone = mass.High <= limit.SI
	}
	return v
}
