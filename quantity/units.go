package quantity

import (
	"math"
	"strings"
)

// unit is one way of writing a kind: SI = value*factor + offset.
type unit struct {
	factor float64
	offset float64
	names  []string // the first is the one printed and listed
}

type kindInfo struct {
	name  string
	base  string // SI unit, as machine output writes it
	si    string // unit printed in SI output
	us    string // unit printed in US output
	digit int    // significant figures when printed
	units []unit
}

// Conversion constants. The international inch, pound and gallon are exact by
// definition (NIST Special Publication 811, appendix B.8).
const (
	inch   = 0.0254
	foot   = 0.3048
	pound  = 0.45359237
	gal    = 231 * inch * inch * inch
	impGal = 4.54609e-3
	// StandardGravity is the conventional value adopted by the 3rd CGPM, 1901, m/s2.
	StandardGravity = 9.80665
	lbf             = pound * StandardGravity
	psi             = lbf / (inch * inch)
	hp              = 550 * foot * lbf
	minute          = 60.0
	hour            = 3600.0
	day             = 86400.0
	degree          = math.Pi / 180
	rpm             = 2 * math.Pi / 60
)

// kvPerCv is Kv/Cv = (gal/min in m3/h) * sqrt(1 bar / 1 psi) = 0.865.
var kvPerCv = gal * 60 * math.Sqrt(1e5/psi)

func u(factor float64, names ...string) unit { return unit{factor: factor, names: names} }

var lengths = []unit{
	u(1, "m", "meter", "meters", "metre", "metres", "mtr", "mtrs"),
	u(foot, "ft", "feet", "foot", "'", "lf", "lin ft", "linear feet", "linear foot", "lineal feet", "linear ft"),
	u(inch, "in", "inch", "inches", "\"", "in."),
	u(1e-3, "mm", "millimeters", "millimetres"), u(1e-2, "cm"),
	u(1e3, "km", "kilometers", "kilometres", "kilometer", "kilometre"),
	u(5280*foot, "mi", "mile", "miles"), u(3*foot, "yd"), u(1e-6, "um"), u(inch/1000, "mil", "mils"),
}

// heads are lengths of the flowing liquid, as curves and letters write them too.
var heads = []unit{
	u(1, append(lengths[0].names, "m TDH", "m head", "m of head", "mTDH", "mWC", "mH2O", "m H2O")...),
	u(foot, append(lengths[1].names[:4:4], "ft TDH", "ft head", "ft of head", "feet TDH", "feet of head", "' TDH",
		"ft H2O", "feet head")...),
	lengths[2], lengths[3],
}

var pressures = []unit{
	u(psi, "psi", "psig"), u(1e5, "bar", "barg"), u(1e3, "kPa"), u(1e6, "MPa"), u(1, "Pa"), u(100, "mbar"),
	u(1000*psi, "ksi"),
}

var kinds = [kindCount]kindInfo{
	Number:   {"number", "", "", "", 3, []unit{u(1, "")}},
	Fraction: {"fraction", "", "%", "%", 3, []unit{u(0.01, "%", "percent"), u(1, "")}},
	Length:   {"length", "m", "m", "ft", 3, lengths},
	Diameter: {"diameter", "m", "mm", "in", 4, lengths},
	Roughness: {
		"roughness", "m", "mm", "in", 2, lengths,
	},
	Area: {
		"area", "m2", "m²", "ft²", 3,
		[]unit{
			u(1, "m²", "m2"), u(foot*foot, "ft²", "ft2", "sq ft"), u(inch*inch, "in²", "in2", "sq in"),
			u(1e-4, "cm²", "cm2"), u(1e-6, "mm²", "mm2"),
		},
	},
	Volume: {
		"volume", "m3", "m³", "gal", 3,
		[]unit{
			u(1, "m³", "m3"), u(gal, "gal", "gallon", "gallons"), u(1e-3, "L", "l", "liter", "liters"),
			u(foot*foot*foot, "ft³", "ft3", "cu ft"), u(impGal, "igal"),
		},
	},
	Flow: {"flow", "m3/s", "L/s", "gpm", 3, []unit{
		u(gal/minute, "gpm", "gal/min", "USgpm", "US gpm", "gallons per minute", "gals/min", "gal per min"),
		u(1e-3, "L/s", "l/s", "lps", "l/sec", "liters per second", "litres per second", "litre/s", "ltr/s"),
		u(1/hour, "m³/h", "m3/h", "m3/hr", "cmh", "cum/h", "cu m/h", "cubic meters per hour", "cubic metres per hour"),
		u(1e6*gal/day, "MGD", "mgd", "million gallons per day"),
		u(foot*foot*foot, "cfs", "ft3/s", "cubic feet per second"), u(1, "m³/s", "m3/s"),
		u(1e-3/minute, "L/min", "l/min", "lpm", "liters per minute", "litres per minute"),
		u(1e3/day, "ML/d", "ML/day", "MLD"), u(impGal/minute, "igpm"), u(gal/day, "gpd"), u(gal/hour, "gph"),
		u(1/day, "m³/d", "m3/d"),
	}},
	Head:     {"head", "m", "m", "ft", 3, heads},
	Pressure: {"pressure", "Pa", "kPa", "psi", 3, pressures},
	AbsolutePressure: {
		"absolute pressure", "Pa", "kPa abs", "psia", 3,
		[]unit{u(1e3, "kPa abs", "kPa(a)"), u(psi, "psia"), u(1e5, "bar abs", "bara", "bar(a)"), u(1, "Pa abs")},
	},
	Velocity: {
		"velocity", "m/s", "m/s", "ft/s", 3,
		[]unit{u(1, "m/s"), u(foot, "ft/s", "fps"), u(1e-3, "mm/s")},
	},
	Acceleration: {
		"acceleration", "m/s2", "m/s²", "ft/s²", 3,
		[]unit{u(1, "m/s²", "m/s2"), u(foot, "ft/s²", "ft/s2")},
	},
	Density: {
		"density", "kg/m3", "kg/m³", "lb/ft³", 4,
		[]unit{
			u(1, "kg/m³", "kg/m3"), u(pound/(foot*foot*foot), "lb/ft³", "lb/ft3"),
			u(1e3, "g/cm³", "g/cm3", "kg/L", "SG", "sg"),
		},
	},
	Temperature: {"temperature", "K", "°C", "°F", 3, []unit{
		{1, 273.15, []string{"°C", "degC", "C", "deg C"}},
		{5.0 / 9, 459.67 * 5 / 9, []string{"°F", "degF", "F", "deg F"}},
		u(1, "K"),
	}},
	TemperatureDifference: {
		"temperature difference", "K", "K", "°F diff", 3,
		[]unit{u(1, "K", "°C", "degC", "C"), u(5.0/9, "°F diff", "°F", "degF", "F")},
	},
	Mass: {
		"mass", "kg", "kg", "lb", 3,
		[]unit{u(1, "kg"), u(pound, "lb", "lbs", "lbm"), u(1e-3, "g"), u(1e3, "t")},
	},
	Force: {"force", "N", "N", "lbf", 3, []unit{u(1, "N"), u(lbf, "lbf"), u(1e3, "kN")}},
	Torque: {
		"torque", "N m", "N m", "lbf ft", 3,
		[]unit{
			u(1, "N m", "Nm"), u(lbf*foot, "lbf ft", "ft lbf", "ft-lbf"),
			u(lbf*inch, "lbf in", "in lbf", "in-lbf"),
		},
	},
	Time: {
		"time", "s", "s", "s", 3,
		[]unit{
			u(1, "s", "sec", "seconds"), u(minute, "min", "minutes"), u(hour, "h", "hr", "hours"),
			u(day, "d", "days"), u(365.25*day, "years", "year", "yr", "a"), u(1e-3, "ms"),
		},
	},
	Power: {
		"power", "W", "kW", "hp", 3,
		[]unit{u(1e3, "kW"), u(hp, "hp", "HP", "bhp"), u(1, "W"), u(1e6, "MW")},
	},
	Energy: {
		"energy", "J", "kWh", "kWh", 3,
		[]unit{u(3.6e6, "kWh"), u(1, "J"), u(1e6, "MJ"), u(3.6e9, "MWh")},
	},
	Inertia: {
		"inertia", "kg m2", "kg m²", "lb ft²", 3,
		[]unit{
			u(1, "kg m²", "kg m2", "kgm2", "kg.m2"),
			u(pound*foot*foot, "lb ft²", "lb ft2", "lb-ft2", "lbft2", "WR2"),
		},
	},
	RotationalSpeed: {
		"rotational speed", "rad/s", "rpm", "rpm", 4,
		[]unit{u(rpm, "rpm", "r/min", "1/min"), u(1, "rad/s"), u(2*math.Pi, "Hz rotation")},
	},
	Angle:     {"angle", "rad", "°", "°", 3, []unit{u(degree, "°", "deg", "degrees"), u(1, "rad")}},
	Viscosity: {"viscosity", "Pa s", "mPa s", "cP", 3, []unit{u(1e-3, "mPa s", "cP"), u(1, "Pa s")}},
	Modulus: {
		"modulus", "Pa", "GPa", "ksi", 3,
		[]unit{u(1e9, "GPa"), u(1000*psi, "ksi"), u(1e6, "MPa"), u(psi, "psi"), u(1, "Pa")},
	},
	FlowCoefficient: {
		"flow coefficient", "Kv", "Kv", "Cv", 3,
		[]unit{u(1, "Kv", "kv", "m3/h/bar^0.5"), u(kvPerCv, "Cv", "cv")},
	},
	Tariff: {
		"tariff", "1/J", "/kWh", "/kWh", 3,
		[]unit{u(1/3.6e6, "/kWh", "per kWh"), u(1/3.6e9, "/MWh", "per MWh")},
	},
	AnnualCost: {"annual cost", "1/yr", "/yr", "/yr", 3, []unit{u(1, "/yr", "per year", "/year")}},
	Cost:       {"cost", "", "", "", 3, []unit{u(1, "")}},
	SpringRate: {
		"spring rate", "N/m", "N/m", "lbf/in", 3,
		[]unit{u(1, "N/m"), u(1e3, "N/mm"), u(lbf/inch, "lbf/in", "lb/in")},
	},
	Stiffness: {
		"stiffness", "N m/rad", "N m/rad", "lbf ft/rad", 3,
		[]unit{u(1, "N m/rad", "Nm/rad"), u(lbf*foot, "lbf ft/rad")},
	},
	WeightPerLength: {
		"mass per length", "kg/m", "kg/m", "lb/ft", 3,
		[]unit{u(1, "kg/m"), u(pound/foot, "lb/ft")},
	},
}

// find looks a unit up by any of its spellings: as written, else without regard to capitals
// and to the point of an abbreviation.
func (k *kindInfo) find(text string) (unit, bool) {
	want := fold.Replace(text)
	for _, same := range []func(a, b string) bool{
		func(a, b string) bool { return a == b },
		func(a, b string) bool { return b != "" && strings.EqualFold(a, strings.TrimSuffix(b, ".")) },
	} {
		for _, u := range k.units {
			for _, n := range u.names {
				if same(fold.Replace(n), want) {
					return u, true
				}
			}
		}
	}
	return unit{}, false
}
