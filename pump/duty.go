package pump

import (
	"fmt"
	"math"

	"seatward/basis"
	"seatward/quantity"
)

// shutOff holds measured shut-off heads over rated head of three pumps, by
// specific speed (rpm, m3/s, m): WH at the dimensionless angle pi of the
// four-quadrant tables in Wylie and Streeter (1993), pump appendix, after Donsky
// (1961). The second is from memory, the third from memory and unsure.
var shutOff = [...]struct{ specificSpeed, ratio float64 }{{25, 1.288}, {147, 1.970}, {261, 2.750}}

// ShutOffRatio is the shut-off head over the head at best efficiency of a pump
// of the specific speed n (rpm, m3/s, m), from straight lines through three
// measured pumps (25: 1.288, 147: 1.970, 261: 2.750). Below 25 and above 261 the
// value of the nearest pump is held.
func ShutOffRatio(n float64) float64 {
	for i := 1; i < len(shutOff); i++ {
		a, b := shutOff[i-1], shutOff[i]
		if n <= b.specificSpeed {
			part := math.Max(0, (n-a.specificSpeed)/(b.specificSpeed-a.specificSpeed))
			return a.ratio + part*(b.ratio-a.ratio)
		}
	}
	return shutOff[len(shutOff)-1].ratio
}

// ShutOffFormula records ShutOffRatio.
var ShutOffFormula = basis.Formula{
	ID: "shut-off-ratio", Title: "Shut-off head over rated head, from specific speed",
	Expr:    "H_s/H_d = straight lines through (25, 1.288), (147, 1.970), (261, 2.750)",
	Symbols: []string{"n_s"}, Kind: quantity.Number,
	Ref: "wylie-streeter-1993 pump appendix", Range: "n_s 25 to 261 (rpm, m3/s, m); held outside",
}

// AssumedShutOffRatio is the default for the shut-off head over the duty head
// when only the duty point is known. With a specific speed (rpm, m3/s, m) it is
// ShutOffRatio with a rise between half and nearly twice as large; without one
// (specificSpeed not Known) it is 4/3, the single-point curve of network
// analysis (Rossman, 2000), from 1.1 to 1.8. The range is judged: a duty point
// need not be the point of best efficiency, and sewage pumps are steep.
func AssumedShutOffRatio(specificSpeed basis.Value) basis.Value {
	const name = "shut-off head over duty head"
	if !specificSpeed.Known() {
		return basis.NewAssumed(name, quantity.Number, 4.0/3, 1.1, 1.8,
			"only the duty point is known, and no speed: a parabola that ends at twice the duty flow",
			"Rossman L.A., EPA/600/R-00/057, 2000, single-point pump curve (from memory); range: common practice, no source")
	}
	v := ShutOffFormula.Eval1(name, ShutOffRatio, specificSpeed)
	v.Origin = basis.Assumed
	v.Reason = fmt.Sprintf("only the duty point is known: shut-off head by specific speed %.3g, the rise above the duty head taken between half and 1.75 times as much (judged)", specificSpeed.SI)
	return v.WithRange(1+0.5*(v.Low-1), 1+1.75*(v.High-1))
}

// AssumedEndRatio is the default for the flow at the end of the curve over the
// duty flow.
func AssumedEndRatio() basis.Value {
	return basis.NewAssumed("end of curve over duty flow", quantity.Number, 1.4, 1.2, 1.8,
		"only the duty point is known: data sheets commonly end at 1.2 to 1.6 times the flow of best efficiency", basis.CommonPractice)
}

// DutyShutOff is the head at shut-off of a parabola, m: the ratio times the duty head.
func DutyShutOff(dutyHeadM, ratio float64) float64 { return ratio * dutyHeadM }

// DutyCurveFormula records the parabola of FromDutyPoint by its shut-off head.
var DutyCurveFormula = basis.Formula{
	ID: "duty-parabola", Title: "Shut-off head of the parabola through the duty point",
	Expr: "H_s = r H_d, and H = H_s - (H_s - H_d) (Q/Q_d)²", Symbols: []string{"H_d", "r"},
	Kind: quantity.Head, Ref: basis.CommonPractice, Range: "0 to the assumed end of the curve",
}

// FromDutyPoint makes the curve
//
//	H = H_d (r - (r - 1) (Q/Q_d)^2)
//
// from the duty flow Q_d, m3/s, and head H_d, m, with the shut-off ratio r and the
// end of the curve at endRatio times Q_d, or where the head ends if that comes
// first. r must lie above 1 and not above 5, endRatio between 1 and 3. The curve's
// Origin says that it was assumed.
func FromDutyPoint(duty Point, shutOffRatio, endRatio float64) (Curve, Problems) {
	var p Problems
	if !(shutOffRatio > 1 && shutOffRatio <= 5) {
		p.add(BadRatio, -1, "shut-off head over duty head is %.4g: it must be above 1 and not above 5", shutOffRatio)
	}
	if !(endRatio >= 1 && endRatio <= 3) {
		p.add(BadRatio, -1, "end of curve over duty flow is %.4g: it must be 1 to 3", endRatio)
	}
	if !(duty.FlowM3S > minFlowM3S && duty.FlowM3S*3 <= maxFlowM3S) {
		p.add(OutOfScale, 0, "the duty flow is %.4g m3/s: it must be above zero and within the scale of pumps",
			duty.FlowM3S)
	}
	if !(duty.HeadM > 1e-6 && duty.HeadM*5 <= maxHeadM) {
		p.add(OutOfScale, 0, "the duty head is %.4g m: it must be above zero and within the scale of pumps", duty.HeadM)
	}
	if p != nil {
		return Curve{}, p
	}
	rise := shutOffRatio - 1
	end := math.Min(endRatio, math.Sqrt(shutOffRatio/rise))
	line := parabola{DutyShutOff(duty.HeadM, shutOffRatio), rise * duty.HeadM / (duty.FlowM3S * duty.FlowM3S)}
	last := Point{FlowM3S: end * duty.FlowM3S}
	last.HeadM, _ = line.at(last.FlowM3S)
	last.HeadM = math.Max(last.HeadM, 0)
	points := []Point{{0, line.a}, duty, last}
	if end-1 < minSpan {
		points = points[:2]
	}
	return Curve{origin: FromDuty, points: points, shape: line, ratio: 1}, nil
}
