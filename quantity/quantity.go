// Package quantity reads and prints physical quantities as people in the water
// trade write them ("450 gpm", "1 1/2 in", "DN150", "12 L/s") and keeps them in SI.
//
// A quantity is a float64 in SI with a Kind beside it. The kind says which units
// may be read and how the value is printed in SI or US customary units. Mixing
// kinds is refused at the door, when text is read; inside the program the unit
// stands in the name of the variable.
package quantity

import (
	"fmt"
	"sort"
	"strings"
)

// Kind says what a number measures. Kinds that share a dimension but are written
// in different units by custom (length and diameter, head and length) are kept
// apart, because they print differently.
type Kind uint8

// The kinds. The SI unit in which a value of the kind is kept stands beside it.
const (
	Number                Kind = iota // dimensionless
	Fraction                          // 0 to 1; read and printed as a percentage too
	Length                            // m
	Diameter                          // m, printed in mm or in
	Roughness                         // m, printed in mm or in
	Area                              // m2
	Volume                            // m3
	Flow                              // m3/s
	Head                              // m of the flowing liquid
	Pressure                          // Pa, gauge or difference
	AbsolutePressure                  // Pa above vacuum
	Velocity                          // m/s
	Acceleration                      // m/s2
	Density                           // kg/m3
	Temperature                       // K
	TemperatureDifference             // K
	Mass                              // kg
	Force                             // N
	Torque                            // N m
	Time                              // s
	Power                             // W
	Energy                            // J
	Inertia                           // kg m2
	RotationalSpeed                   // rad/s, printed in rpm
	Angle                             // rad, printed in degrees
	Viscosity                         // Pa s
	Modulus                           // Pa, printed in GPa or ksi
	FlowCoefficient                   // Kv: m3/h of water at 1 bar
	Tariff                            // money per J, printed per kWh
	AnnualCost                        // money per year
	Cost                              // money
	SpringRate                        // N/m
	Stiffness                         // N m/rad
	WeightPerLength                   // kg/m
	kindCount
)

// Quantity is a number that was read, with the unit its writer used.
type Quantity struct {
	SI   float64 // value in the kind's SI unit
	Kind Kind
	Unit string // the unit as written, "" for a plain number
}

// String names the kind in plain words, as messages use it.
func (k Kind) String() string {
	if int(k) < len(kinds) {
		return kinds[k].name
	}
	return fmt.Sprintf("kind %d", uint8(k))
}

// One is the name with its article: "a flow", "an inertia".
func (k Kind) One() string {
	name := k.String()
	if strings.ContainsRune("aeiou", rune(name[0])) {
		return "an " + name
	}
	return "a " + name
}

// Symbol is the SI unit in which values of the kind are kept, as printed in
// machine output ("m3/s"); empty for dimensionless kinds.
func (k Kind) Symbol() string { return kinds[k].base }

// Units lists the units that may be written for the kind, each once, in the
// order of the table: customary ones first.
func (k Kind) Units() []string {
	out := make([]string, 0, len(kinds[k].units))
	for _, u := range kinds[k].units {
		out = append(out, u.names[0])
	}
	return out
}

// Kinds returns every kind, in order.
func Kinds() []Kind {
	out := make([]Kind, kindCount)
	for i := range out {
		out[i] = Kind(i)
	}
	return out
}

// KindNamed finds a kind by the word that String prints.
func KindNamed(name string) (Kind, bool) {
	for i := range kinds {
		if kinds[i].name == name {
			return Kind(i), true
		}
	}
	return 0, false
}

// kindsWithUnit lists the kinds that know the unit, for hints in error messages.
func kindsWithUnit(unit string) []string {
	var out []string
	for i := range kinds {
		if _, ok := kinds[i].find(unit); ok {
			out = append(out, kinds[i].name)
		}
	}
	sort.Strings(out)
	return out
}

// fold makes spellings of a unit comparable: case is kept where it carries
// meaning (MGD, mm), superscripts and middle dots are written plainly.
var fold = strings.NewReplacer("²", "2", "³", "3", "^", "", "·", " ", "⋅", " ", "µ", "u", "μ", "u", "º", "°", "  ", " ")
