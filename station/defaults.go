package station

import (
	"fmt"
	"math"

	"seatward/basis"
	"seatward/fluid"
	"seatward/pipe"
	"seatward/quantity"
)

// fallback is the value taken for a fact that the file does not state.
type fallback struct {
	name            string // %s stands for the pump or the run of pipe
	kind            quantity.Kind
	best, low, high float64 // SI
	reason, source  string
}

// byFluid holds fallbacks that depend on what is pumped; "" is for all the rest.
type byFluid map[fluid.Service]fallback

func (b byFluid) of(kind fluid.Service) fallback {
	if d, ok := b[kind]; ok {
		return d
	}
	return b[""]
}

const (
	rpm       = 2 * math.Pi / 60
	hour      = 3600
	perKWh    = 1 / 3.6e6
	practice  = basis.CommonPractice
	wylie     = "wylie-streeter-1993"
	tenStates = "ten-states sec. 42.33 (from memory)"
)

// defaults holds every number that is assumed for a missing fact and does not follow
// from others. Those of package pump (shut-off head, efficiencies, inertia) and of
// package pipe (roughness, modulus, dimensions) stand in the tables there; what is
// computed from other facts of the file stands where it is computed.
var defaults = struct {
	temperature, greatestTemperature, waterPressure, polytropic       fallback
	density, friction, solids, freeGas                                byFluid
	groundSolids, elevation, angle                                    fallback
	velocity, pumpHead                                                fallback
	staticShare, wellDepth, datum, lift, openSuction, openOutlet      fallback
	valveAtWell, valveAtMain                                          fallback
	speed                                                             map[quantity.System]fallback
	dutyShare, bestShare                                              fallback
	branchLength, branchLoss, mainLoss, noFittings, roughness         fallback
	rampTime, runningTime, startsPerHour, tariff, interest, lifeYears fallback
	atHeader, vesselAir, vesselExponent, vesselLoss, airDischarge     fallback
	reliefDischarge, reliefFull, reliefClosing                        fallback
}{
	temperature: fallback{
		"temperature of the liquid", quantity.Temperature, 288.15, 278.15, 298.15,
		"usual for sewage and water in the ground", practice,
	},
	greatestTemperature: fallback{
		"greatest temperature of the liquid", quantity.Temperature, 303.15, 298.15, 313.15,
		"summer, or hot water from a kitchen or laundry", practice,
	},
	waterPressure: fallback{
		"pressure at which water properties are taken", quantity.AbsolutePressure, 4e5, 4e5,
		4e5, "a usual station; density and viscosity hardly depend on it", practice,
	},
	polytropic: fallback{
		"polytropic exponent of free gas", quantity.Number, 1, 1, 1,
		"slow enough to stay at the water's temperature", wylie,
	},

	density: byFluid{
		fluid.Sludge: {"density of the liquid", quantity.Density, 1020, 1000, 1060, "thin sludge", practice},
	},
	friction: byFluid{
		fluid.Sludge: {
			"friction against that of water", quantity.Number, 1.5, 1, 3,
			"thin sludge; it depends on solids and velocity", practice,
		},
		"": {"friction against that of water", quantity.Number, 1, 1, 1.05, "flows as water does", practice},
	},
	solids: byFluid{
		fluid.RawSewage: {
			"largest solids", quantity.Diameter, 0.0762, 0.050, 0.080,
			"pumps for raw sewage pass a sphere of 3 in", tenStates,
		},
		fluid.Sludge: {
			"largest solids", quantity.Diameter, 0.0762, 0.050, 0.080,
			"pumps for raw sewage pass a sphere of 3 in", tenStates,
		},
		fluid.Effluent: {"largest solids", quantity.Diameter, 0.010, 0, 0.025, "settled or screened", practice},
		fluid.RawWater: {
			"largest solids", quantity.Diameter, 0.010, 0, 0.025, "passed an intake screen",
			practice,
		},
		fluid.DrinkingWater: {
			"largest solids", quantity.Diameter, 0, 0, 0, "drinking water carries no solids",
			practice,
		},
	},
	freeGas: byFluid{
		fluid.RawSewage: {
			"free gas by volume", quantity.Fraction, 0, 0, 5e-4, "none is given; sewage gives off some",
			practice,
		},
		fluid.Sludge: {
			"free gas by volume", quantity.Fraction, 0, 0, 5e-4, "none is given; sewage gives off some",
			practice,
		},
		"": {
			"free gas by volume", quantity.Fraction, 0, 0, 5e-5,
			"none is given; water under pressure holds little", practice,
		},
	},
	groundSolids: fallback{
		"largest solids", quantity.Diameter, 0.010, 0.003, 0.025,
		"a pipe this small takes sewage from a grinder pump", practice,
	},
	elevation: fallback{"elevation of the site", quantity.Length, 100, 0, 1000, "low ground", practice},
	angle: fallback{
		"angle of the flow above the horizontal", quantity.Angle, 0, 0, math.Pi / 2,
		"the position is not given", practice,
	},

	// Times the area of the pipe, m²; the reason is written where it is taken.
	velocity: fallback{
		"normal flow through the valve", quantity.Flow, 1.7, 0.8, dischargeMS, "a usual velocity in the pipe", practice,
	},
	pumpHead: fallback{
		"usual pump head", quantity.Head, 18, 6, 45,
		"neither a head nor levels are given; lift stations run from some 6 to 45 m", practice,
	},
	staticShare: fallback{
		"static head over pump head", quantity.Fraction, 0.65, 0.35, 0.95,
		"neither levels nor pipes are known; force mains run from nearly flat to nearly all lift", practice,
	},
	wellDepth: fallback{
		"depth over which the pumps work", quantity.Length, 1, 0.3, 2,
		"the other level is not given: pumps usually work over some 1 m", practice,
	},
	datum: fallback{
		"elevation of the suction", quantity.Length, 0, 0, 0,
		"no elevations are given: heights are counted from here", practice,
	},
	lift: fallback{
		"difference of elevation between outlet and suction", quantity.Length, 0, -2, 2,
		"no elevations are given", practice,
	},
	openSuction: fallback{"gauge pressure at the suction", quantity.Pressure, 0, 0, 0, "open to the air", practice},
	openOutlet:  fallback{"gauge pressure at the outlet", quantity.Pressure, 0, 0, 0, "open to the air", practice},

	// Above the low level of the wet well, and above the start of the main.
	valveAtWell: fallback{
		valveLevel, quantity.Length, 0, -2, 4,
		"not given: about the low level of the wet well, beside the pumps; a valve vault near the ground is the high end", practice,
	},
	valveAtMain: fallback{
		valveLevel, quantity.Length, 0, -1, 1, "not given: where the profile of the main begins",
		practice,
	},

	speed: map[quantity.System]fallback{
		quantity.US: {
			"speed of %s", quantity.RotationalSpeed, 1760 * rpm, 1160 * rpm, 3500 * rpm,
			"not given: four poles at 60 Hz; six and two poles are the range", practice,
		},
		quantity.SI: {
			"speed of %s", quantity.RotationalSpeed, 1465 * rpm, 970 * rpm, 2930 * rpm,
			"not given: four poles at 50 Hz; six and two poles are the range", practice,
		},
	},
	// Times the flow at the end of the curve.
	dutyShare: fallback{
		"duty flow of %s", quantity.Flow, 0.6, 0.4, 0.85,
		"not given: usual place on the curve, for estimates of power and inertia only", practice,
	},

	// Times the flow of the best efficiency given.
	bestShare: fallback{
		"duty flow of %s", quantity.Flow, 1, 0.8, 1.15,
		"not given: the flow of its best efficiency, for estimates of power and inertia only", practice,
	},

	branchLength: fallback{
		"length of the branch", quantity.Length, 6, 3, 15,
		"pipework is not given: from the pump's discharge to the header", practice,
	},
	branchLoss: fallback{
		"sum of local losses of the branch", quantity.Number, 1.5, 0.8, 3,
		"pipework is not given: discharge bend, elbow, isolation valve, tee", practice,
	},
	mainLoss: fallback{
		"sum of local losses of the main", quantity.Number, 3, 1, 10,
		"pipework is not given: bends and the outlet", practice,
	},
	noFittings: fallback{
		"sum of local losses of the %s", quantity.Number, 0, 0, 2, "no fittings are given",
		practice,
	},
	roughness: fallback{
		"roughness of the %s", quantity.Roughness, 1e-4, 1.5e-5, 3e-4,
		"no roughness is tabulated for this material", practice,
	},

	rampTime: fallback{
		"length of the stop ramp", quantity.Time, 10, 3, 60,
		"pumps are stopped by a ramp of which the length is not given", practice,
	},
	runningTime: fallback{
		"running time of one pump per year", quantity.Time, 2200 * hour, 700 * hour, 6000 * hour,
		"a quarter of the time; lift stations run from 2 to 16 hours a day", practice,
	},
	startsPerHour: fallback{
		"starts of one pump in an hour", quantity.Number, 4, 1, 10, "usual for level control",
		practice,
	},
	tariff: fallback{
		"price of electricity", quantity.Tariff, 0.14 * perKWh, 0.07 * perKWh, 0.30 * perKWh,
		"in your currency; tariffs differ widely", practice,
	},
	interest: fallback{"interest rate", quantity.Fraction, 0.04, 0.02, 0.08, "public works", practice},
	atHeader: fallback{"chainage of %s", quantity.Length, 0, 0, 0, "not given: at the header", practice},
	vesselAir: fallback{
		"air volume of %s", quantity.Volume, 1, 1. / 3, 3,
		"not given: a fiftieth of the main's volume, and 50 L at least", practice,
	},
	vesselExponent: fallback{
		"polytropic exponent of %s", quantity.Number, 1.2, 1, 1.4,
		"between slow and fast changes of the air", wylie,
	},
	vesselLoss: fallback{
		"loss coefficient of the connection of %s", quantity.Number, 1.5, 1, 3,
		"entry and exit of a plain connection", practice,
	},
	airDischarge: fallback{
		"discharge coefficient of %s", quantity.Number, 0.6, 0.4, 0.8,
		"a sharp opening; makers measure theirs", practice,
	},
	reliefDischarge: fallback{
		"discharge coefficient of %s", quantity.Number, 0.6, 0.4, 0.8,
		"of its bore, full open; makers measure theirs", practice,
	},
	reliefFull: fallback{
		"full-open pressure of %s", quantity.Pressure, 1.1, 1.05, 1.25,
		"not given: a tenth above the pressure at which it begins to open", practice,
	},
	reliefClosing: fallback{
		"closing time of %s", quantity.Time, 0, 0, 0,
		"not given: it follows the pressure at once, as if it had no dashpot", practice,
	},

	lifeYears: fallback{"years of the life-cycle cost", quantity.Number, 20, 10, 30, "usual life of a valve", practice},
}

// The words taken for what is not said, each with a warning that says so.
const (
	defaultFluid    = fluid.RawSewage // the harder service
	defaultPosition = "horizontal"    // the usual place in a valve vault
	defaultMaterial = "ductile iron"  // usual in stations
	smallMaterial   = "steel"         // where ductile iron is not made so small
	softMaterial    = "PVC"           // what a main of unsaid material may be
	defaultStop     = "direct"        // contactor off
	unsaid          = "none"          // rags, grit, oil, hydrogen sulfide; Fluid.Said tells
	wholeSolidsDN   = 80              // sewage in smaller pipe comes from a grinder pump
	mainSpeedMS     = 2.0             // velocity below which an assumed main is kept
	branchShare     = 0.5             // of the head left for pipes: what an assumed branch may lose at most
	leastMainM      = 20.0            // shortest main that is assumed
	mainLengthSpan  = 3.0             // factor either way: the size is assumed too
)

// classes are the usual classes of the trade, taken where none is given; the first
// that fits.
var classes = []struct {
	material string
	system   quantity.System
	upTo     int // DN
	class    string
}{
	{"ductile iron", quantity.SI, math.MaxInt, "K9"},
	{"ductile iron", quantity.US, 300, "PC350"}, // the least class that C151 has in these sizes
	{"ductile iron", quantity.US, math.MaxInt, "PC250"},
	{"steel", quantity.US, math.MaxInt, "STD"},
	{"steel", quantity.SI, math.MaxInt, "STD"},
	{"PVC", quantity.US, 80, "SCH40"}, // C900 begins at 4 in
	{"PVC", quantity.SI, 80, "SCH40"},
	{"PVC", quantity.US, math.MaxInt, "DR18"},
	{"PVC", quantity.SI, math.MaxInt, "DR18"},
	{"HDPE", quantity.US, math.MaxInt, "DR11"},
	{"HDPE", quantity.SI, math.MaxInt, "DR11"},
}

// defaultClass is the class assumed where none is given, or "".
func defaultClass(material string, size quantity.Size, sys quantity.System) string {
	for _, c := range classes {
		if c.material == material && c.system == sys && size.DN <= c.upTo {
			return c.class
		}
	}
	return ""
}

// usualMaterial is what pipe of the size is usually of, in a station.
func usualMaterial(size quantity.Size, sys quantity.System) string {
	if _, err := pipe.Lookup(defaultMaterial, defaultClass(defaultMaterial, size, sys), size); err != nil {
		return smallMaterial
	}
	return defaultMaterial
}

// assume makes the value of a fallback, for the pump or run named where it takes one.
func (r *resolver) assume(d fallback, of ...any) basis.Value {
	return r.assumeTimes(1, d, of...)
}

// assumeTimes is assume for a fallback that is a share of something.
func (r *resolver) assumeTimes(factor float64, d fallback, of ...any) basis.Value {
	name := d.name
	if len(of) > 0 {
		name = fmt.Sprintf(name, of...)
	}
	return r.fix(basis.NewAssumed(name, d.kind, factor*d.best, factor*d.low, factor*d.high, d.reason, d.source))
}
