package valve

import (
	"math"

	"seatward/basis"
	"seatward/quantity"
)

// DiscLoss is what the gap at the rim of a swinging disc and the passage beside it lose, as
// a loss coefficient on the bore's velocity head:
//
//	G = (1/(C_d a_g))² + f/a_c²
//
// The jets leave the gap outward and lose their whole head; what has left must pass beside
// the disc and loses that head too while the disc still bars the way. C_d discharge of the
// gap, a_g gapShare its area over the bore's, a_c passageShare that of the passage, f barred
// from BarredShare. It meets the computed losses of a swing disc within 10 % in both
// directions, and grows without bound as the gap closes.
func DiscLoss(discharge, gapShare, barred, passageShare float64) float64 {
	jet, beside := discharge*gapShare, passageShare
	return 1/(jet*jet) + barred/(beside*beside)
}

// DiscLossFormula is DiscLoss.
var DiscLossFormula = basis.Formula{
	ID:      "disc-loss",
	Title:   "Loss coefficient of a swinging disc at part opening",
	Expr:    "G = (1/(C_d a_g))² + f/a_c²; of it the loss is K = K_o + G(θ) − G(θ_m)",
	Symbols: []string{"C_d", "a_g", "f", "a_c"},
	Kind:    quantity.Number,
	Ref:     "disc-computation",
	Range:   "swing disc 3° to its stop, within 10 % of the computation; 0.7 to 2.5 times that between bodies",
}

// The disc bars the passage beside it up to 20° across the pipe and lets go of it by 65°. The
// corners of that line are rounded over 4° to either side: a step of a closing that meets a
// corner is inexact.
const (
	barsUpTo   = 20 * math.Pi / 180
	barsNoMore = 65 * math.Pi / 180
	rounded    = 4 * math.Pi / 180
)

// BarredShare is f of DiscLoss by the angle φ acrossRad of the disc from the plane across
// the pipe: 1 up to 20°, then straight to 0 at 65°, the corners rounded.
func BarredShare(acrossRad float64) float64 {
	ramp := func(x float64) float64 {
		switch {
		case x <= -rounded:
			return 0
		case x >= rounded:
			return x
		}
		return (x + rounded) * (x + rounded) / (4 * rounded)
	}
	return 1 - (ramp(acrossRad-barsUpTo)-ramp(acrossRad-barsNoMore))/(barsNoMore-barsUpTo)
}

// expectedScatter is how far losses at part opening differ from body to body about the law
// of the swing disc: computed for chambers of 1.24 to 1.70 bores.
var expectedScatter = [2]float64{0.7, 2.5}

const notComputed = "the law of the computed swing disc on this type's own geometry; not computed for this type, so what swing bodies differ by stands in"

// partOpenLoss is the number by which types that were not computed differ from the law.
var partOpenLoss = Param{
	Key: "part_open_loss", Title: "loss at part opening over that of the law", Kind: quantity.Number, Positive: true,
	Doc:     "What is lost beyond the full-open loss. The loss measured at one angle fixes it.",
	Default: fixed(1, expectedScatter[0], expectedScatter[1], notComputed, "disc-computation"),
}

// partOpenForce is the number by which the torque at mid-stroke differs from the law.
var partOpenForce = Param{
	Key: "part_open_force", Title: "torque at half opening over that of the law", Kind: quantity.Number, Positive: true,
	Doc:     "Torque per pressure drop. It fades out toward seat and stop. A floating test or the torque on the held disc fixes it.",
	Default: fixed(1, 0.82, 1.17, "computed chambers differ by this much at mid-stroke", "disc-computation"),
}

// gapParams are the numbers of the gap at the rim.
var gapParams = []Param{
	{
		Key: "gap_discharge", Title: "discharge coefficient of the gap, forward flow", Kind: quantity.Number,
		Positive: true, Most: 1,
		Doc: "Jet over gap, with what the jet loses.", Least: 0.1,
		Default: fixed(0.58, 0.52, 0.64, "computed swing disc", "disc-computation"),
	},
	{
		Key: "gap_discharge_reverse", Title: "discharge coefficient of the gap, reverse flow", Kind: quantity.Number,
		Positive: true, Most: 1,
		Doc: "The same for water that runs back.", Least: 0.1,
		Default: fixed(0.72, 0.65, 0.79, "computed swing disc", "disc-computation"),
	},
}

// chamberParam is the width of the body beside the disc, in bores: best, low, high.
func chamberParam(best, low, high float64, reason, source string) Param {
	return Param{
		Key: "chamber_diameter", Title: "inner diameter of the body at the disc", Kind: quantity.Diameter,
		Positive: true,
		Doc:      "Of a round chamber round the swinging disc, or of a round one of equal area. It sets the passage beside the disc.",
		Default:  scaled("bore", best, low, high, reason, source),
	}
}

// swinging is the law of a disc or of plates that swing about an axis:
//
//	K = K_o + x [G(θ) − G(θ_m)],  S = η G_s
//
// with G by DiscLoss, x what a type that was not computed may differ by, and η the torque
// per pressure drop over that of the seated element: 1 on the seat, η_o at the stop.
type swinging struct {
	stroke, area, geometry float64
	loss, lossBack         float64 // at the stop
	gap                    float64 // a_g = gap sin(θ/2)
	jet, jetBack           float64 // (C_d gap)⁻²
	across                 float64 // angle of the seat from the plane across the pipe
	chamber, disc          float64 // squares of their diameters in bores
	projected              bool    // the disc stays in the stream: the passage is what it leaves
	open, openBack         float64 // G at the stop
	partLoss, partForce    float64
	atStop, fit            float64 // η_o; what it adds to the curve of η at the stop, as a share
	outside                bool    // hinged beside the bore: η, added inertia and pull are those of the computed disc
}

// newSwinging sets what all of them share. gapArea is that at the angle π, m².
func newSwinging(typeKey string, v *Reader, gapArea, geometry, across float64) (*swinging, error) {
	bore := v.SI("bore")
	w := &swinging{
		stroke: v.SI("stroke_angle"), area: math.Pi / 4 * bore * bore, geometry: geometry, across: across,
		loss: v.SI("full_open_loss"), lossBack: v.SI("full_open_loss"), partLoss: 1, partForce: v.SI("part_open_force"),
		chamber: math.Pow(v.SI("chamber_diameter")/bore, 2), disc: math.Pow(v.SI("disc_diameter")/bore, 2),
	}
	if w.chamber <= w.disc {
		return nil, &ParamError{
			Type: typeKey, Key: "chamber_diameter",
			Found:    quantity.SI.Format(quantity.Diameter, v.SI("chamber_diameter")),
			Expected: "more than disc_diameter, " + quantity.SI.Format(quantity.Diameter, v.SI("disc_diameter")),
			Mend:     "check both diameters",
		}
	}
	w.gap = gapArea / w.area
	w.jet, w.jetBack = DiscLoss(v.SI("gap_discharge"), w.gap, 0, 1), DiscLoss(v.SI("gap_discharge_reverse"), w.gap, 0,
		1)
	return w, nil
}

// settle ends the setting up with η at the stop, when what differs by type is set.
func (w *swinging) settle(atStop float64) {
	w.open, w.openBack = w.lost(w.stroke)
	w.atStop, w.fit = atStop, atStop-1
	if w.outside {
		w.fit = atStop/discAt(w.stroke).efficiency - 1
	}
}

// lost is G in forward and reverse flow.
func (w *swinging) lost(angle float64) (forward, back float64) {
	half := math.Sin(angle / 2)
	passage := w.chamber - w.disc
	barred := BarredShare(angle + w.across)
	if w.projected && barred > 0 {
		passage = w.chamber - w.disc*math.Cos(angle+w.across)
	}
	beside := barred / (passage * passage)
	return w.jet/(half*half) + beside, w.jetBack/(half*half) + beside
}

// term is the resistance at the angle. The efficiencies are those of the computed disc there,
// 1 for a type whose own run straight from 1 to η_o.
func (w *swinging) term(angle, efficiency, efficiencyBack float64) Term {
	forward, back := w.lost(angle)
	share := angle / w.stroke
	area := (1 + w.fit*share) * (1 + (w.partForce-1)*4*share*(1-share)) * w.geometry
	return Term{
		Forward: Side{Loss: w.loss + w.partLoss*max(0, forward-w.open), Area: efficiency * area},
		Reverse: Side{Loss: w.lossBack + w.partLoss*max(0, back-w.openBack), Area: efficiencyBack * area},
		Swept:   w.geometry / w.area,
	}
}
