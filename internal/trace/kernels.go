package trace

import (
	"math"

	"seatward/basis"
	"seatward/quantity"
)

// CaughtFlat is the mean share of a flat pulse of width widthS that single readings each stepS
// catch at random phase: min(1, w/Ts). It is also the chance to catch any pulse at all.
func CaughtFlat(widthS, stepS float64) float64 { return math.Min(1, widthS/stepS) }

// CaughtFlatFormula is CaughtFlat.
var CaughtFlatFormula = basis.Formula{
	ID: "caught-flat", Title: "Share of a flat pulse that a logger catches", Expr: "s = min(1, w/Ts)",
	Symbols: []string{"w", "Ts"}, Kind: quantity.Fraction, Ref: basis.DerivedHere,
	Range: "single readings at random phase; the mean over many pulses",
}

// CaughtTriangle is CaughtFlat for a triangular pulse of base width widthS: 1 − Ts/2w for
// Ts ≤ w, w/2Ts above.
func CaughtTriangle(widthS, stepS float64) float64 {
	if stepS <= widthS {
		return 1 - stepS/(2*widthS)
	}
	return widthS / (2 * stepS)
}

// CaughtTriangleFormula is CaughtTriangle.
var CaughtTriangleFormula = basis.Formula{
	ID: "caught-triangle", Title: "Share of a triangular pulse that a logger catches",
	Expr: "s = 1 − Ts/(2 w) for Ts ≤ w, w/(2 Ts) above", Symbols: []string{"w", "Ts"}, Kind: quantity.Fraction,
	Ref: basis.DerivedHere, Range: "single readings at random phase; the mean over many pulses",
}

// CaughtSlam is the share for a pulse that rises in a straight line within riseS (10 to 90 %)
// and fades by e-folding, with halfS at half of its height: the readings catch the mean over
// the phase of the greatest of them, s = ∫ min(Ts, w(x)) dx/Ts over the heights x from 0 to 1,
// where w(x) = r (1 − x) + τ ln(1/x), r = riseS/0.8, τ = (halfS − r/2)/ln 2.
func CaughtSlam(riseS, halfS, stepS float64) float64 {
	r := riseS / 0.8
	tau := math.Max(0, halfS-r/2) / math.Ln2
	const n = 2000
	sum := 0.0
	for i := range n {
		x := (float64(i) + 0.5) / n
		sum += math.Min(stepS, r*(1-x)-tau*math.Log(x))
	}
	return sum / n / stepS
}

// CaughtSlamFormula is CaughtSlam.
var CaughtSlamFormula = basis.Formula{
	ID: "caught-slam", Title: "Share of a slam that a logger catches",
	Expr: "s = ∫ min(Ts, w(x)) dx/Ts, w(x) = r (1 − x) + τ ln(1/x)", Symbols: []string{"rise", "w½", "Ts"},
	Kind: quantity.Fraction, Ref: basis.DerivedHere,
	Range: "one pulse with straight rise and fading end; single readings at random phase",
}

// LeftInMean is what a spike of height headM and width widthS leaves in the mean over meanS.
func LeftInMean(headM, widthS, meanS float64) float64 { return headM * math.Min(1, widthS/meanS) }

// LeftInMeanFormula is LeftInMean.
var LeftInMeanFormula = basis.Formula{
	ID: "left-in-mean", Title: "What a mean keeps of a spike", Expr: "Δh = A w/T", Symbols: []string{"A", "w", "T"},
	Kind: quantity.Head, Ref: basis.DerivedHere, Range: "spike within one interval",
}

// AliasHz is the frequency that a swing of trueHz seems to have when it is read rateHz times a
// second: |f − k fs|, k the nearest whole number of f/fs.
func AliasHz(trueHz, rateHz float64) float64 {
	return math.Abs(trueHz - math.Round(trueHz/rateHz)*rateHz)
}

// AliasFormula is AliasHz.
var AliasFormula = basis.Formula{
	ID: "alias", Title: "Apparent frequency of a swing", Expr: "f_app = |f − k fs|", Symbols: []string{"f", "fs"},
	Kind: quantity.Number, Ref: basis.DerivedHere, Range: "single readings at an even rate",
}

// TimingError is the relative standard error of a period that is counted over swings: both
// ends are known to half a step, Ts/(√6 n T).
func TimingError(stepS, swings, periodS float64) float64 {
	return stepS / (math.Sqrt(6) * swings * periodS)
}

// TimingErrorFormula is TimingError.
var TimingErrorFormula = basis.Formula{
	ID: "timing-error", Title: "Relative error of a counted period", Expr: "u = Ts/(√6 n T)",
	Symbols: []string{"Ts", "n", "T"}, Kind: quantity.Fraction, Ref: basis.DerivedHere,
	Range: "steep fronts, even phase",
}

// WaveFromPeriod is the wave speed of a main between a closed valve and a tank, 4 L/T.
func WaveFromPeriod(lengthM, periodS float64) float64 { return 4 * lengthM / periodS }

// WaveFromPeriodFormula is WaveFromPeriod.
var WaveFromPeriodFormula = basis.Formula{
	ID: "wave-from-period", Title: "Wave speed from a measured period", Expr: "a = 4 L/T",
	Symbols: []string{"L", "T"}, Kind: quantity.Velocity, Ref: "wylie-streeter-1993",
	Range: "valve closed, a tank or open end at the far end; no cavity, no air pocket",
}

// ReverseFromStep is the reverse velocity that a head step at closing stands for, g ΔH/a.
func ReverseFromStep(stepM, waveMS, gravityMS2 float64) float64 { return gravityMS2 * stepM / waveMS }

// ReverseFromStepFormula is ReverseFromStep.
var ReverseFromStepFormula = basis.Formula{
	ID: "reverse-from-step", Title: "Reverse velocity from a measured step", Expr: "V_R = g ΔH/a",
	Symbols: []string{"ΔH", "a", "g"}, Kind: quantity.Velocity, Ref: "joukowsky-1898",
	Range: "a lower bound where the logger is slow or closing takes longer than 2 L/a",
}

// DecelerationFromHeads is the deceleration of a rigid column from the heads at both ends,
// g (H_s + h_f − H_v)/L.
func DecelerationFromHeads(staticM, frictionM, valveM, lengthM, gravityMS2 float64) float64 {
	return gravityMS2 * (staticM + frictionM - valveM) / lengthM
}

// DecelerationFromHeadsFormula is DecelerationFromHeads.
var DecelerationFromHeadsFormula = basis.Formula{
	ID: "deceleration-from-heads", Title: "Deceleration from a trace", Expr: "α = g (H_s + h_f − H_v)/L",
	Symbols: []string{"H_s", "h_f", "H_v", "L", "g"}, Kind: quantity.Acceleration, Ref: basis.DerivedHere,
	Range: "rigid column; friction head fades as the flow stops",
}

// CavityLife is the time, s, until a column of the length, m, that left at the velocity, m/s, is
// back against the head, m: 2 V L/(g H). The head is that of the far end above vapor.
func CavityLife(velocityMS, lengthM, headM float64) float64 {
	return 2 * velocityMS * lengthM / (quantity.StandardGravity * headM)
}

// CavityLifeFormula is CavityLife.
var CavityLifeFormula = basis.Formula{
	ID: "cavity-life", Title: "Life of a large cavity at the pump end", Expr: "T = 2 V L / (g H)",
	Symbols: []string{"V", "L", "H"}, Kind: quantity.Time, Ref: basis.DerivedHere,
	Range: "rigid column without friction, which shortens it",
}

// PocketPeriod is the period of a column on an air pocket, 2π √(ρ L V/(n p A)).
func PocketPeriod(densityKgM3, lengthM, volumeM3, polytropic, absolutePa, areaM2 float64) float64 {
	return 2 * math.Pi * math.Sqrt(densityKgM3*lengthM*volumeM3/(polytropic*absolutePa*areaM2))
}

// PocketPeriodFormula is PocketPeriod.
var PocketPeriodFormula = basis.Formula{
	ID: "pocket-period", Title: "Period of a column on trapped air", Expr: "T = 2π √(ρ L V/(n p A))",
	Symbols: []string{"ρ", "L", "V", "n", "p", "A"}, Kind: quantity.Time, Ref: basis.DerivedHere,
	Range: "rigid column, small swings; far longer than 4 L/a",
}

// PocketVolume is PocketPeriod turned to the volume, n p A T²/(4π² ρ L).
func PocketVolume(densityKgM3, lengthM, periodS, polytropic, absolutePa, areaM2 float64) float64 {
	return polytropic * absolutePa * areaM2 * periodS * periodS / (4 * math.Pi * math.Pi * densityKgM3 * lengthM)
}

// PocketVolumeFormula is PocketVolume.
var PocketVolumeFormula = basis.Formula{
	ID: "pocket-volume", Title: "Trapped air from a measured period", Expr: "V = n p A T²/(4π² ρ L)",
	Symbols: []string{"ρ", "L", "T", "n", "p", "A"}, Kind: quantity.Volume, Ref: basis.DerivedHere,
	Range: "n 1.0 to 1.4: −17 to +17 %",
}
