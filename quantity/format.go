package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// System is a family of units for output.
type System uint8

// The two systems of output units.
const (
	SI System = iota
	US
)

// String gives the word that the command line and station files use.
func (s System) String() string {
	if s == US {
		return "US"
	}
	return "SI"
}

// SystemNamed is the system of the word, in capitals or not; otherwise where there is none.
func SystemNamed(word string, otherwise System) (System, error) {
	switch strings.ToUpper(word) {
	case "":
		return otherwise, nil
	case US.String():
		return US, nil
	case SI.String():
		return SI, nil
	}
	return otherwise, fmt.Errorf("units %q is not a choice; write US or SI", word)
}

// Unit is the unit in which the system prints the kind; "" for plain numbers.
func (s System) Unit(kind Kind) string {
	if s == US {
		return kinds[kind].us
	}
	return kinds[kind].si
}

// In converts an SI value to the system's unit for the kind.
func (s System) In(kind Kind, si float64) float64 {
	u, ok := kinds[kind].find(s.Unit(kind))
	if !ok {
		return si
	}
	return (si - u.offset) / u.factor
}

// Format prints the value with the unit and the kind's significant figures.
// A value that is not finite prints as "unknown".
func (s System) Format(kind Kind, si float64) string {
	if kind == Time && math.Abs(si) >= 2*hour {
		return Figures(si/hour, 3) + " h"
	}
	return join(s.Number(kind, si), s.Unit(kind))
}

// hundredthsBelow is the velocity from which three figures are less than hundredths.
const hundredthsBelow = 9.995

// Number prints the value in the system's unit, without the unit. Temperatures
// print to the whole degree, because a third figure would depend on the scale, and
// velocities to hundredths, because slam is not known more closely.
func (s System) Number(kind Kind, si float64) string {
	v := s.In(kind, si)
	if kind == Temperature && !math.IsNaN(v) && !math.IsInf(v, 0) {
		return strconv.FormatFloat(math.Round(v), 'f', 0, 64)
	}
	if kind == Velocity && math.Abs(v) < hundredthsBelow {
		return strconv.FormatFloat(math.Round(100*v)/100+0, 'f', 2, 64)
	}
	if kind == Head && math.Abs(v) < 1e-6 { // round-off
		v = 0
	}
	text := Figures(v, kinds[kind].digit)
	if kind == Diameter && strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".") // "6 in", not "6.000 in"
	}
	return text
}

// unknown is what a value that is not finite prints as.
const unknown = "unknown"

func join(number, unit string) string {
	switch {
	case unit == "" || number == unknown:
		return number
	case unit == "%" || unit == "°":
		return number + unit
	}
	return number + " " + unit
}

// Figures prints v to n significant figures in plain decimal notation, without
// padding a whole number beyond its figures: 1234 to 3 figures is "1230".
// Values beyond 1e9 or below 1e-6 use an exponent; non-finite ones print "unknown".
func Figures(v float64, n int) string {
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		return unknown
	case v == 0:
		return "0"
	}
	// What was read to Digits in SI is known to two less in another unit: 6.695 lb ft² is
	// printed as that, and not as 6.69499999999.
	if n < Digits-2 {
		v = toDigits(v, Digits-2)
	}
	a := math.Abs(v)
	if a >= 1e9 || a < 1e-6 {
		return strconv.FormatFloat(v, 'e', n-1, 64)
	}
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'e', n-1, 64), 64)
	decimals := n - 1 - int(math.Floor(math.Log10(math.Abs(rounded))))
	return strconv.FormatFloat(rounded, 'f', max(decimals, 0), 64)
}
