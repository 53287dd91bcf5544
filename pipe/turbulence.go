package pipe

import (
	"fmt"
	"sync"

	"seatward/quantity"
)

// steelRoughnessM is the 0.0018 in of clean commercial steel on which handbooks
// base the factor of complete turbulence.
const steelRoughnessM = 0.0018 * inchM

var printedFactors = sync.OnceValues(func() (map[int]float64, error) {
	records, err := readData("ft.csv")
	if err != nil {
		return nil, err
	}
	out := map[int]float64{}
	for _, r := range records {
		out[r.whole("dn")] = r.number("ft")
		if r.err != nil {
			return nil, r.err
		}
	}
	return out, nil
})

// TurbulentFactor returns f_T, the friction factor of complete turbulence in
// clean steel pipe of the nominal size, by which handbooks scale the loss
// coefficients of fittings. Sizes that the handbook prints, to 24 in, have its
// rounded value (Technical Paper 410, from memory); others have that of
// RoughPipeFactor for 0.0018 in in standard-wall pipe. A size that ASME B36.10
// does not have gives a *LookupError.
func TurbulentFactor(size quantity.Size) (float64, error) {
	printed, err := printedFactors()
	if err != nil {
		return 0, err
	}
	if f, ok := printed[size.DN]; ok {
		return f, nil
	}
	d, err := Lookup(steel, "STD", size)
	if err != nil {
		return 0, fmt.Errorf("factor of complete turbulence: %w", err)
	}
	return RoughPipeFactor(steelRoughnessM / d.IDM())
}
