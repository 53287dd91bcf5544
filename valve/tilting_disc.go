package valve

import (
	"math"
	"slices"

	"seatward/basis"
	"seatward/quantity"
)

// The loss coefficient of a butterfly disc by its angle from fully open, in degrees
// (Weisbach; 15, 25 to 35, 45 to 55, 65 and 70 from memory).
var (
	butterflyAngles = []float64{5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70}
	butterflyLosses = []float64{0.24, 0.52, 0.90, 1.54, 2.51, 3.91, 6.22, 10.8, 18.7, 32.6, 58.8, 118, 256, 751}
	butterflyCurve  = func() curve {
		logs := make([]float64, len(butterflyLosses))
		for i, k := range butterflyLosses {
			logs[i] = math.Log(k)
		}
		return tabulated(butterflyAngles, logs)
	}()
)

// ButterflyLoss is the loss coefficient of a butterfly disc turned by the angle
// angleRad from fully open, from 0 to just below π/2: Weisbach's table, its logarithm
// interpolated. Below 5° it is the table's first value. Above 70° the gap opens in
// proportion to the angle, so K falls with the square: K = K₇₀ (20°/(90° − α))².
func ButterflyLoss(angleRad float64) float64 {
	last := len(butterflyAngles) - 1
	deg := angleRad * 180 / math.Pi
	if deg > butterflyAngles[last] {
		r := (90 - butterflyAngles[last]) / max(90-deg, 1e-9)
		return butterflyLosses[last] * r * r
	}
	return math.Exp(butterflyCurve.at(deg))
}

// ButterflyLossFormula is ButterflyLoss.
var ButterflyLossFormula = basis.Formula{
	ID:      "butterfly-loss",
	Title:   "Loss coefficient of a tilting disc by its angle",
	Expr:    "K(α), Weisbach's table; above 70°: K₇₀ (20°/(90° − α))²",
	Symbols: []string{"α"},
	Kind:    quantity.Number,
	Ref:     "Weisbach J., Die Experimental-Hydraulik, 1855, as handbooks quote it",
	Range:   "α 0 to 90°, from fully open",
}

var tiltingParams = []Param{{
	Key: "open_angle", Title: "angle between the disc at its stop and the flow", Kind: quantity.Angle, Least: 0, Most: math.Pi / 4,
	Doc: "What is left of the disc's slant when it is open.", Default: fixed(0.17, 0.09, 0.26, "discs stop some 10° short of the flow's direction", basis.CommonPractice),
}}

// without leaves out the named parameters.
func without(list []Param, keys ...string) []Param {
	return slices.DeleteFunc(slices.Clone(list), func(p Param) bool { return slices.Contains(keys, p.Key) })
}

var tiltingSeat = fixed(0.175, 0.087, 0.26, "resting angles of 5° to 15°", basis.CommonPractice)

var _ = register(Type{
	Key:   "tilting-disc",
	Title: "Tilting disc",
	Description: "A disc turns about a pivot a little off its own middle, so that one side swings with the flow and the other against it. " +
		"Little water is swept and the arm is short: it closes quickly, and stands in the flow when open.",
	Params:     with(without(hingedParams(tiltingSeat, steel, steelWhy), "contraction", "seat_diameter"), tiltingParams, openingParams, common(bodyFactor)),
	Positions:  []Position{Horizontal, FlowUp},
	SweptBores: [2]float64{0.05, 0.3},
	Example: map[string]string{
		"bore": "200 mm", "disc_diameter": "205 mm", "hinge_to_center": "30 mm", "disc_mass": "7 kg", "stroke_angle": "50 deg",
		"full_open_loss": "0.9", "full_open_velocity": "1.6 m/s",
	},
	build: func(v Values, s Setting) (Frame, Law, error) {
		h := newHinged(v, s)
		open, stroke := v["open_angle"], h.stroke
		// The butterfly's whole turn is laid over the disc's own stroke.
		h.gap = func(angle float64) float64 {
			return ButterflyLoss(open + (1-angle/stroke)*(math.Pi/2-open))
		}
		h.gapOpen = h.gap(stroke)
		return h.fit("tilting-disc", v, s)
	},
})
