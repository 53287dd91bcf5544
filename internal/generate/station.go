// Package generate makes station files for tests: drawn at random from a seed, changed
// in ways that must not change the answer, and the ordinary layouts of the survey. It
// writes files only. It serves tests and the soak, and nothing that is shipped uses it.
//
// Everything is drawn through rapid, so that a failing property shrinks to a plain
// station: each draw turns to the first choice of its list and to the low end of its
// range.
package generate

import (
	"slices"

	"seatward/quantity"
)

// Station is what was drawn: the facts of a station file, in SI. Elevations are in m above
// one datum. A zero Number, an empty word and a nil list are not written.
type Station struct {
	Seed     uint64 // that Seeded was given; 0 for others
	Units    quantity.System
	Depth    string // that the file is meant to have: "first call", "layout" or "study"
	Make     string // what is unusual about it, in a few words; empty for an ordinary one
	Fluid    Fluid
	SiteM    Number // elevation above sea level
	Valve    Valve
	Duty     Duty
	Pumps    []Pump
	Levels   Levels
	Branch   []Run
	Main     []Run
	Profile  []Point
	Vessel   bool   // air vessel at the station
	Stop     string // how pumps are stopped: direct, soft stop, speed ramp
	RampS    Number
	Events   []Event
	HoursSec Number // running time per year, s
	Tariff   Number // price per J
}

// Number is a value with its range. Spread is the range to either side as a share of the
// value; 0 where none is written. Between writes "low..high" in place of "best ± share".
type Number struct {
	SI      float64
	Spread  float64
	Between bool
}

// Fluid is what is pumped.
type Fluid struct {
	Kind, Rags, Grit, Oil, Sulfide                      string
	TemperatureK, DensityKgM3, Friction, SolidsM, FreeG Number // friction is a multiplier, free gas a share of the volume
}

// Valve is the place of the check valve.
type Valve struct {
	DN                      int
	Position, Place         string
	StraightM, ClearanceM   Number
	StraightAfterM, LayingM Number
}

// Duty is what is known of a station without curves.
type Duty struct {
	FlowM3S, HeadM, ShutOffM, LeastM3S Number
	StaticLowM, StaticHighM            float64 // both 0 where levels are given
	InService                          int
}

// Pump is one entry of the list of pumps.
type Pump struct {
	Name                string
	Count, Standby      int
	Curve, Efficiency   []Pair // [m³/s, m] and [m³/s, share]
	Speed, LeastSpeed   Number // rad/s
	MotorW, InertiaKgM2 Number
	Submersible         string // yes, no, or not said
	CurveSpread         float64
}

// Pair is a point of a curve.
type Pair struct{ X, Y float64 }

// Levels are those that make the static head.
type Levels struct {
	Given                  bool
	HighM, LowM, OutletM   float64
	ValveM                 *float64
	SuctionPa, DischargePa *float64 // gauge pressures of a booster
}

// Run is a run of equal pipe.
type Run struct {
	Material, Class, Lining               string
	DN                                    int
	LengthM, RoughnessM, WaveMS, Williams Number // Williams is the coefficient of Hazen and Williams
	Fittings                              []Fitting
	LossK                                 *float64
}

// Fitting is a kind of fitting with its number; half a fitting stands in either half of a
// run that was cut.
type Fitting struct {
	Name  string
	Count float64
}

// Point is a point of the profile.
type Point struct{ ChainageM, ElevationM float64 }

// Event is an event of the file.
type Event struct {
	Name, Kind string
	RampS      Number
	Steps      []Step
}

// Step is one action of a schedule; pumps are counted from 1 in the order of the file.
type Step struct {
	AtS   float64
	Pump  int
	Does  string
	RampS Number
}

// Running is the number of pumps that may run together.
func (s Station) Running() int {
	n := 0
	for _, p := range s.Pumps {
		n += p.Count - p.Standby
	}
	return max(n, s.Duty.InService, 1)
}

// clone is a copy that shares nothing that a change may write to.
func (s Station) clone() Station {
	s.Pumps, s.Branch, s.Main = slices.Clone(s.Pumps), slices.Clone(s.Branch), slices.Clone(s.Main)
	s.Profile, s.Events = slices.Clone(s.Profile), slices.Clone(s.Events)
	for i := range s.Pumps {
		s.Pumps[i].Curve = slices.Clone(s.Pumps[i].Curve)
		s.Pumps[i].Efficiency = slices.Clone(s.Pumps[i].Efficiency)
	}
	for i := range s.Events {
		s.Events[i].Steps = slices.Clone(s.Events[i].Steps)
	}
	for _, x := range []**float64{&s.Levels.ValveM, &s.Levels.SuctionPa, &s.Levels.DischargePa} {
		if *x != nil {
			copied := **x
			*x = &copied
		}
	}
	return s
}
