// Package station turns a station file into a Station: an immutable description of
// one pumping station in which every number is a value that knows where it came
// from. What the file does not say is estimated, with a range and a reason; what it
// says twice differently is diagnosed, all in one go.
package station

import (
	"seatward/basis"
	"seatward/diag"
	"seatward/fluid"
	"seatward/pipe"
	"seatward/pump"
	"seatward/quantity"
	"seatward/valve"
)

// Depth says how much is known of a station.
type Depth uint8

// The three depths of intake.
const (
	FirstCall Depth = iota // duty point, size, position
	Layout                 // pump curve, pipe runs, static heads
	Full                   // profile, inertia, operation: the study
)

// String names the depth as reports print it.
func (d Depth) String() string { return [...]string{"first call", "layout", "study"}[d] }

// Station is one resolved pumping station. It is never changed; Vary makes another.
type Station struct {
	Name, Place string
	Units       quantity.System
	Depth       Depth
	Fluid       Fluid
	Site        Site
	Valve       ValvePlace
	Pumps       []Pump      // the strongest first, whatever the order of the file
	StaticLow   basis.Value // least static head: wet well high
	StaticHigh  basis.Value // greatest static head: wet well low
	WetWellHigh basis.Value // elevation of the highest level; unknown where only the static head is given
	Outlet      basis.Value // elevation of the outlet; unknown where no level of it makes the static head

	SuctionPressure basis.Value // gauge, at the wet well's level
	OutletPressure  basis.Value // gauge
	ValveElevation  basis.Value // of the check valves; from the wet well's high level where that is unknown

	Branch    Line // of one pump, without the check valve
	Main      Line
	Surge     Surge
	Operation Operation
	Events    []Event
	Flows     Flows
	RulePacks []string // IDs of the rule packs that bind
	Notes     []string
	Warnings  diag.List // facts that are odd but usable
	Hash      string    // names the station's content, for run records

	origin *origin // from which Vary resolves anew
}

// Fluid is what is pumped.
type Fluid struct {
	Kind            fluid.Service
	Temperature     basis.Value
	MaxTemperature  basis.Value
	Density         basis.Value
	Viscosity       basis.Value
	VaporPressure   basis.Value // absolute
	BulkModulus     basis.Value // of the mixture with free gas
	FreeGas         basis.Value // by volume, at the pressure at which water properties are taken
	FrictionFactor  basis.Value // multiplier on water friction
	Solids          basis.Value // largest sphere, diameter
	Rags, Grit, Oil string      // none, light|some|trace, heavy
	HydrogenSulfide string
	Said            map[string]bool // which of the service words the user gave: rags, grit, oil, hydrogen_sulfide
}

// Drinking is true for drinking water.
func (f Fluid) Drinking() bool { return f.Kind.Drinking() }

// Sewage is true for raw sewage and sludge.
func (f Fluid) Sewage() bool { return f.Kind.Sewage() }

// Site is where the station stands.
type Site struct{ Elevation, AirPressure basis.Value }

// ValvePlace is the place where the check valve goes.
type ValvePlace struct {
	Size           quantity.Size
	SizeAt         diag.Place // where the file says it
	SizeGiven      bool
	Position       valve.Position
	PositionGiven  bool
	Angle          basis.Value // of the flow against the horizontal: 0, +90 or -90 degrees
	StraightBefore basis.Value // unknown where not given
	StraightAfter  basis.Value
	Clearance      basis.Value
	Where          string
	LayingLength   basis.Value
	Existing       string
	Rating         basis.Value // called for; unknown where not given
}

// Pump is one pump, or Count equal ones.
type Pump struct {
	Name            string
	Index           int // place in the file's list of pumps, from 0
	Count, Standby  int
	Performance     pump.Performance // head, efficiency and power at full speed
	CurveGiven      bool
	CurveSpread     basis.Value // factor on all heads of the curve, 1 the best; unknown where its points have no range. See WithCurve
	ShutoffHead     basis.Value
	DutyFlow        basis.Value // best guess of normal flow of one pump alone, for the estimates
	DutyHead        basis.Value
	Speed           basis.Value
	LeastSpeed      basis.Value // equal to Speed for fixed speed
	MotorEfficiency basis.Value
	MotorRating     basis.Value // unknown where it is not given
	ShaftPower      basis.Value // at duty
	Efficiency      basis.Value // assumed best efficiency; unknown where a curve is given
	Inertia         basis.Value
	InertiaTime     basis.Value // T_a = I ω²/P at duty
	Submersible     bool
}

// Line is a line of pipe runs.
type Line struct {
	Runs    []Run
	Profile []ProfilePoint // of the pipe axis; empty where not given
	Ground  []ProfilePoint // of the ground over it, for drawings; empty where not given
}

// ProfilePoint is a point of the pipe axis or of the ground. LowM and HighM are the range
// of its elevation, m; equal to ElevationM where none is given.
type ProfilePoint struct{ ChainageM, ElevationM, LowM, HighM float64 }

// Run is one run of equal pipe.
type Run struct {
	Name           string
	Material       string
	Class          string
	Size           quantity.Size
	InnerDiameter  basis.Value
	Wall           basis.Value
	Length         basis.Value
	Roughness      basis.Value
	HazenWilliams  basis.Value // known only if the user chose that formula
	Loss           basis.Value // sum of local loss coefficients on the run's velocity head
	Fittings       []Fitting   // that make the sum; empty where the sum is given or assumed
	WaveSpeed      basis.Value
	Rating         basis.Value // pressure rating; unknown where no table or user gives it
	SurgeAllowance basis.Value // pressure allowed above the rating in surge; unknown where no rule
}

// Fitting is one kind of fitting of a run with its share of the run's Loss.
type Fitting struct {
	Name   string
	Count  float64
	K      pipe.Span // of one
	Times  float64   // K over the factor of complete turbulence; 0 where K is fixed
	Factor float64   // that factor, f_T
	Source string
	Status string // how the number came here: seen, common practice or from memory
}

// Setting is how a valve stands in the station: its liquid and its position.
func (st *Station) Setting() valve.Setting { return valve.In(st.Fluid.Density.SI, st.Valve.Position) }

// Surge is what holds the pressure near the pumps and how they stop.
type Surge struct {
	CommonHeader bool
	Stop         string
	RampTime     basis.Value
	Devices      []Device
}

// Operation holds what running costs depend on.
type Operation struct{ RunningTime, StartsPerHour, Tariff, Interest, Years basis.Value }

// Event is a stop or start to look at.
type Event struct {
	Name, Kind string
	RampTime   basis.Value
	Steps      []EventStep // of a schedule
}

// EventStep is one action of a schedule.
type EventStep struct {
	At       basis.Value
	Pump     int    // counted from 1 over all pumps in service in the order of the file; see UnitOf
	Does     string // trips, stops, starts
	RampTime basis.Value
}

// Flows are flows through one valve that the user stated; unknown where not given. Least
// and Greatest are operating points of their own beside those that are computed: the
// opening of the valve and the velocities in it are judged at them too, with or without a
// curve, because a throttled pump or one at least speed makes less than any computed point.
type Flows struct{ Least, Normal, Greatest basis.Value }
