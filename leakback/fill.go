// Package leakback reads what comes back through a check valve off the level of the wet
// well: the leak from fills with the isolating valve open and shut, the least leak that such
// a test could see, the main that drains back, the pump that runs backward behind a valve
// stuck open, and the flow of a pump from a drawdown test. Everything is SI and pure.
package leakback

import (
	"math"

	"seatward/basis"
	"seatward/quantity"
)

// Formulas of fills.
var (
	LevelNoiseFormula = basis.Formula{
		ID: "level-noise", Title: "Standard error of one level reading", Expr: "s = step / √12",
		Symbols: []string{"step"}, Kind: quantity.Length, Ref: basis.DerivedHere,
		Range: "error spread evenly over one step of the reading",
	}
	FillErrorFormula = basis.Formula{
		ID: "fill-error", Title: "Standard error of a fill rate, least squares",
		Expr:    "s_Q = A s √(12 / (N (N² − 1))) / Δt",
		Symbols: []string{"A", "s", "N", "Δt"}, Kind: quantity.Flow, Ref: basis.DerivedHere,
		Range: "N evenly spaced readings with independent errors; two readings: A s √2 / Δt",
	}
	PairErrorFormula = basis.Formula{
		ID: "pair-error", Title: "Least leak that the pair of fills can show", Expr: "Q_least = 3 √(s_open² + s_shut²)",
		Symbols: []string{"s_open", "s_shut"}, Kind: quantity.Flow, Ref: basis.DerivedHere,
		Range: "three standard errors; a change of inflow between the fills is not in it",
	}
	LeakFlowFormula = basis.Formula{
		ID: "leak-fill", Title: "Leak-back from paired fills", Expr: "Q = A (r_open/t_open − r_shut/t_shut)",
		Symbols: []string{"A", "r_open", "t_open", "r_shut", "t_shut"}, Kind: quantity.Flow, Ref: basis.DerivedHere,
		Range: "no pump runs, the same inflow in both fills",
	}
	FillFlowFormula = basis.Formula{
		ID: "fill-flow", Title: "Flow into the wet well", Expr: "Q = A r / t",
		Symbols: []string{"A", "r", "t"}, Kind: quantity.Flow, Ref: basis.DerivedHere, Range: "no pump runs",
	}
)

// LevelNoise is the standard error of a reading in whole steps, m: step/√12.
func LevelNoise(stepM float64) float64 { return stepM / math.Sqrt(12) }

// FillError is the standard error of the flow A dh/dt, m3/s, that a least-squares line
// through n levels gives, from the area, m2, the error of one level, m, and the time from one
// reading to the next, s:
//
//	s_Q = A s √(12/(n (n² − 1)))/Δt
func FillError(areaM2, noiseM, n, everyS float64) float64 {
	return areaM2 * noiseM * math.Sqrt(12/(n*(n*n-1))) / everyS
}

// PairError is three standard errors of the difference of two fills, m3/s.
func PairError(openM3S, shutM3S float64) float64 { return 3 * math.Hypot(openM3S, shutM3S) }

// LeakFlow is the leak, m3/s, from the rise, m, in the time, s, with the isolating valve open
// and with it shut, and the area of the wet well, m2. Below zero it says that the inflow fell.
func LeakFlow(areaM2, openM, openS, shutM, shutS float64) float64 {
	return areaM2 * (openM/openS - shutM/shutS)
}

// FillFlow is the flow into the well, m3/s, from area, m2, rise, m, and time, s.
func FillFlow(areaM2, riseM, seconds float64) float64 { return areaM2 * riseM / seconds }

// RiseFormula records Rise.
var RiseFormula = basis.Formula{
	ID: "well-rise", Title: "Rise of a wet well", Expr: "r = V / A", Symbols: []string{"V", "A"}, Kind: quantity.Length,
	Ref: basis.DerivedHere, Range: "upright walls, without the inflow",
}

// Rise is the rise of a well, m, by a volume, m3, over its area, m2.
func Rise(volumeM3, areaM2 float64) float64 { return volumeM3 / areaM2 }

// Fill is one spell in which no pump ran and the isolating valve stayed as it was.
type Fill struct {
	Open   bool    // the isolating valve
	FromS  float64 // time of the first reading
	RiseM  float64 // of the line through the readings, over its length
	LastsS float64
	N      int     // readings
	NoiseM float64 // standard error of one reading
	levels []Reading
}

// RateMS is the rate of rise, m/s.
func (f *Fill) RateMS() float64 { return f.RiseM / f.LastsS }

// EveryS is the time between two readings, s.
func (f *Fill) EveryS() float64 { return f.LastsS / float64(f.N-1) }

// middle is the time halfway.
func (f *Fill) middle() float64 { return f.FromS + f.LastsS/2 }

// minHalves are the readings that a fill needs before its halves are set against each other.
const minHalves = 8

// Measured is a fill known by its rise and its length alone: two readings of the step.
func Measured(open bool, riseM, lastsS, stepM float64) Fill {
	return Fill{Open: open, RiseM: riseM, LastsS: lastsS, N: 2, NoiseM: LevelNoise(stepM)}
}

// fitted is the fill of a run of readings, all of one state. The noise is the larger of what
// the step says and what the readings show about their line: waves are noise too.
func fitted(run []Reading, stepM float64) Fill {
	rate, residual := line(run)
	n := len(run)
	f := Fill{
		Open: run[0].Open, FromS: run[0].TimeS, LastsS: run[n-1].TimeS - run[0].TimeS, N: n,
		NoiseM: math.Max(LevelNoise(stepM), residual), levels: run,
	}
	f.RiseM = rate * f.LastsS
	if n >= minHalves {
		f.NoiseM = math.Max(LevelNoise(stepM), math.Min(residual, broken(run)))
	}
	return f
}

// breaks are the places at which a fill is tried to bend.
const breaks = 16

// broken is the standard deviation, m, about two lines that meet anywhere in the run, at the
// best of some places: a main that empties bends the level, and a bend is no noise.
func broken(run []Reading) float64 {
	best := math.Inf(1)
	for i := 1; i < breaks; i++ {
		at := len(run) * i / breaks
		if at < minReadings || len(run)-at < minReadings {
			continue
		}
		_, a := line(run[:at])
		_, b := line(run[at:])
		best = math.Min(best, math.Sqrt((a*a*float64(at-2)+b*b*float64(len(run)-at-2))/float64(len(run)-4)))
	}
	return best
}

// line is the slope of the least-squares line, m/s, and the standard deviation about it, m;
// 0 for two readings.
func line(run []Reading) (slope, residual float64) {
	n := float64(len(run))
	var t, h float64
	for _, r := range run {
		t, h = t+r.TimeS/n, h+r.LevelM/n
	}
	var tt, th float64
	for _, r := range run {
		tt, th = tt+(r.TimeS-t)*(r.TimeS-t), th+(r.TimeS-t)*(r.LevelM-h)
	}
	if tt == 0 {
		return 0, 0
	}
	slope = th / tt
	if n <= 2 {
		return slope, 0
	}
	var sum float64
	for _, r := range run {
		d := r.LevelM - h - slope*(r.TimeS-t)
		sum += d * d
	}
	return slope, math.Sqrt(sum / (n - 2))
}
