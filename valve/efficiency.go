package valve

import (
	"fmt"
	"math"
	"slices"

	"seatward/basis"
	"seatward/quantity"
)

// OpeningEfficiency is the force efficiency η at full opening, from the two data
// that can be had for any valve, its loss and the least velocity that holds it open:
//
//	η_o = F_close / (½ ρ K_o V_o² G)
//
// F_close closing in N (or torque in N m) at full opening, ρ densityKgM3, K_o loss,
// V_o velocityMS, G geometry in m² (or m³): the force per pressure drop of the element
// on its seat, where η is 1. Derived here. Expect 0.7 to 1.0 for axial elements and 0.55 to
// 1.2 for discs that swing.
func OpeningEfficiency(closing, densityKgM3, loss, velocityMS, geometry float64) float64 {
	return closing / (0.5 * densityKgM3 * loss * velocityMS * velocityMS * geometry)
}

// OpeningEfficiencyFormula is OpeningEfficiency.
var OpeningEfficiencyFormula = basis.Formula{
	ID:      "opening-efficiency",
	Title:   "Force efficiency at full opening",
	Expr:    "η_o = F_close / (½ ρ K_o V_o² G)",
	Symbols: []string{"F_close", "ρ", "K_o", "V_o", "G"},
	Kind:    quantity.Number,
	Ref:     basis.DerivedHere,
	Range:   "0.55 to 1.2 is expected; outside it the data do not fit together",
}

// expectedEfficiency is the range outside which K_o, V_o and the closing force are
// not believed to belong to one valve: what computed swing discs have in chambers of several
// widths. Axial discs lie inside it, at 0.7 to 1.
var expectedEfficiency = [2]float64{0.55, 1.2}

// gapBelieved is how many times the loss at full opening the gap alone may lose there
// by the gap's law, which is good to 40 %. Far above it the geometry is another valve's.
const gapBelieved = 4

// whole is an element whose one resistance, the gap, also drives it: the law
//
//	K(ξ) = K_o + gap(ξ) − gap(ξ_m),  S(ξ) = η(ξ) G,  η = 1 + (η_o − 1) ξ/ξ_m
//
// of every type that lifts and has no flow round the element away from its seat. G is what
// the element sweeps, so at the seat the work of the pressure is the work on the element.
type whole struct {
	stroke, area  float64
	loss, gapOpen float64 // K_o; gap loss at full opening
	geometry      float64 // G, m² or m³
	atStop        float64 // η_o
	gap           func(xi float64) float64
}

// term is the resistance at ξ.
func (w *whole) term(xi float64) Term {
	k := w.loss + max(0, w.gap(xi)-w.gapOpen)
	eta := 1 + (w.atStop-1)*xi/w.stroke
	return Both(k, eta*w.geometry, w.geometry/w.area)
}

// openingParams are the numbers that fix loss and efficiency at full opening.
var openingParams = []Param{
	{
		Key: "full_open_loss", Title: "loss coefficient at full opening", Kind: quantity.Number, Required: true,
		Positive: true,
		Doc:      "K on the velocity head of the bore.",
	},
	{
		Key: "full_open_velocity", Title: "least velocity that holds the element fully open", Kind: quantity.Velocity,
		Positive: true,
		Doc:      "In the test liquid and position that reference_density and reference_inclination tell. Needed unless opening_efficiency is given.",
	},
	{
		Key: "opening_efficiency", Title: "force efficiency at full opening", Kind: quantity.Number, Positive: true,
		Doc: "Hydraulic force at full opening over pressure drop times what the element sweeps. Follows from full_open_velocity where that is given.",
	},
	{
		Key: "reference_density", Title: "density of the liquid in which the full-open velocity was measured",
		Kind: quantity.Density, Positive: true,
		Doc:     "Cold water unless the data say otherwise.",
		Default: fixed(998.2, 998.2, 998.2, "tests are made in water of about 20 °C", basis.CommonPractice),
	},
	{
		Key: "reference_inclination", Title: "inclination of the flow in which the full-open velocity was measured",
		Kind: quantity.Angle, Least: -math.Pi / 2, Most: math.Pi / 2,
		Doc:     "0 horizontal, 90° flow up.",
		Default: fixed(0, 0, 0, "tests are made in a horizontal line", basis.CommonPractice),
	},
}

// swingOpening are the same numbers for elements that swing. A swing disc that states no
// full-open velocity has that of the computed one.
var swingOpening = func() []Param {
	list := with(openingParams)
	i := slices.IndexFunc(list, func(p Param) bool { return p.Key == "opening_efficiency" })
	list[i].Default = &Default{
		Of: func(v *Reader) (float64, float64, float64) {
			if v.Has("full_open_velocity") {
				return math.NaN(), 0, 0
			}
			return 1, expectedEfficiency[0], expectedEfficiency[1]
		},
		Reason: "that of the computed swing disc; chambers of other widths have 0.56 to 1.19",
		Source: "disc-computation",
	}
	return list
}()

// reference is the setting of the test behind full_open_velocity.
func reference(v *Reader, s Setting) Setting {
	return Setting{
		DensityKgM3: v.SI("reference_density"), InclinationRad: v.SI("reference_inclination"),
		GravityMS2: s.GravityMS2,
	}
}

// fitAtStop sets η_o from the values, as openingFit has it.
func (w *whole) fitAtStop(
	typeKey string, v *Reader, s Setting, closing func(Setting) float64,
) (notes []Note, err error) {
	if w.gapOpen > gapBelieved*w.loss {
		found := fmt.Sprintf("%.3g, where the gap of the open valve alone loses %.3g", w.loss, w.gapOpen)
		return nil, &ParamError{
			Type: typeKey, Key: "full_open_loss", Found: found,
			Expected: "a gap that fits the loss", Mend: "check bore, disc, seat and stroke",
		}
	}
	w.atStop, notes, err = openingFit(typeKey, v, s, w.geometry, closing)
	return notes, err
}

// openingFit is η_o: as given, or from the full-open velocity with the closing force that
// holds in the test. A note says that the number is outside its expected range.
func openingFit(
	typeKey string, v *Reader, s Setting, geometry float64, closing func(Setting) float64,
) (eta float64, notes []Note, err error) {
	fault := func(key, found, expected, mend string) (float64, []Note, error) {
		return 0, nil, &ParamError{Type: typeKey, Key: key, Found: found, Expected: expected, Mend: mend}
	}
	given, known := v.ofAny("opening_efficiency")
	switch {
	case known:
		eta = given
	case v.Has("full_open_velocity"):
		ref := reference(v, s)
		eta = OpeningEfficiency(closing(ref), ref.DensityKgM3, v.SI("full_open_loss"), v.SI("full_open_velocity"),
			geometry)
	default:
		return fault("full_open_velocity", "nothing", "the least velocity that holds the element fully open",
			"add it to the product data, or opening_efficiency instead")
	}
	if !(eta > 0) {
		return fault("full_open_velocity", "a valve that nothing closes from full opening in the test position",
			"a closing force",
			"check reference_inclination, masses, angles and springs")
	}
	if eta >= expectedEfficiency[0] && eta <= expectedEfficiency[1] {
		return eta, nil, nil
	}
	return eta, []Note{{
		Key: "opening_efficiency",
		Text: fmt.Sprintf("the force efficiency at full opening comes to %.2f; %.2f to %.1f is expected, so full-open loss, full-open velocity and closing force may not belong to one valve",
			eta, expectedEfficiency[0], expectedEfficiency[1]),
	}}, nil
}
