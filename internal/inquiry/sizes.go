package inquiry

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"seatward/quantity"
)

// beside are the nominal sizes next to a diameter that is none, the nearer first: 160 mm is the
// outer diameter of a plastic pipe.
func (r *reader) beside(t token) []quantity.Size {
	d, err := quantity.Parse(quantity.Diameter, t.text)
	if err != nil {
		return nil
	}
	near := quantity.Sizes()
	slices.SortStableFunc(near, func(a, b quantity.Size) int {
		return cmp.Compare(math.Abs(a.NominalM()-d.SI), math.Abs(b.NominalM()-d.SI))
	})
	if math.Abs(near[0].NominalM()-d.SI) > 0.2*d.SI {
		return nil
	}
	return near[:2]
}

// writes is the system in which a size is written.
func (r *reader) writes(t token) quantity.System {
	if strings.HasPrefix(strings.ToUpper(t.text), "DN") || strings.HasSuffix(t.text, "mm") || t.size &&
		digit(t.text[0]) {
		return quantity.SI
	}
	return quantity.US
}
