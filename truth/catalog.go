package truth

import (
	"fmt"

	"seatward/basis"
	"seatward/catalog"
	"seatward/dimension"
	"seatward/quantity"
)

// flange reads one dimension of a standard's flange: mm, or the count of bolts.
func flange(in Inputs) (float64, error) {
	size, err := quantity.ParseSize(in.S("size"))
	if err != nil {
		return 0, err
	}
	standard := in.S("standard")
	f, ok := dimension.FlangeOf(standard, size)
	if !ok {
		return 0, fmt.Errorf("%s has no flange of %s", standard, size)
	}
	return map[string]float64{
		"outside": 1000 * f.OutsideM, "circle": 1000 * f.BoltCircleM, "bolts": float64(f.Bolts),
		"hole": 1000 * f.HoleM,
	}[in.S("read")], nil
}

// ofStandard evaluates a number that a standard fixes for a size, in the unit.
func ofStandard(
	fixed func(standard string, size quantity.Size) (basis.Value, bool), unit float64,
) func(Inputs) (float64, error) {
	return func(in Inputs) (float64, error) {
		size, err := quantity.ParseSize(in.S("size"))
		if err != nil {
			return 0, err
		}
		v, ok := fixed(in.S("standard"), size)
		if !ok {
			return 0, fmt.Errorf("%s fixes nothing for %s", in.S("standard"), size)
		}
		return v.SI / unit, nil
	}
}

var (
	_ = evaluator("standard-length", "dimension.LengthOf", ofStandard(dimension.LengthOf, 1e-3))
	_ = evaluator("flange", "dimension.FlangeOf", flange)
	_ = evaluator("standard-rating", "catalog.StandardRating", ofStandard(catalog.StandardRating, 6894.757293168361))
	_ = evaluator("sphere-mass", "catalog.SphereMass", func(in Inputs) (float64, error) {
		return catalog.SphereMass(in.F("rho"), in.F("D")), nil
	})
)
