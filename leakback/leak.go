package leakback

import (
	"math"

	"seatward/basis"
	"seatward/quantity"
)

// Formulas of a leak.
var (
	OrificeLeakFormula = basis.Formula{
		ID: "leak-orifice", Title: "Leak through a hole", Expr: "Q = C_d (π d²/4) √(2 g H)",
		Symbols: []string{"d", "H", "C_d"}, Kind: quantity.Flow, Ref: basis.DerivedHere,
		Range: "sharp-edged hole, turbulent flow",
	}
	LeakHoleFormula = basis.Formula{
		ID: "leak-hole", Title: "Round hole that would leak as much", Expr: "d = √(4 Q / (π C_d √(2 g H)))",
		Symbols: []string{"Q", "H", "C_d"}, Kind: quantity.Diameter, Ref: basis.DerivedHere,
		Range: "sharp-edged hole, turbulent flow",
	}
	StartsPerDayFormula = basis.Formula{
		ID: "leak-starts", Title: "Starts per day", Expr: "n = 86400 / (V/(q_in + q_leak) + V/(Q − q_in))",
		Symbols: []string{"V", "q_in", "q_leak", "Q"}, Kind: quantity.Number, Ref: basis.DerivedHere,
		Range: "one pump, even inflow; the leak runs while the pump is off",
	}
	ReturnedFormula = basis.Formula{
		ID: "leak-returned", Title: "Water pumped again per day",
		Expr:    "V_day = 86400 q_leak (V/(q_in + q_leak)) / (V/(q_in + q_leak) + V/(Q − q_in))",
		Symbols: []string{"V", "q_in", "q_leak", "Q"}, Kind: quantity.Volume, Ref: basis.DerivedHere,
		Range: "one pump, even inflow; the leak runs while the pump is off",
	}
	LeakCostFormula = basis.Formula{
		ID: "leak-cost", Title: "Energy cost of the leak", Expr: "C = 365.25 ρ g H V_day p / η",
		Symbols: []string{"ρ", "H", "V_day", "η", "p"}, Kind: quantity.AnnualCost, Ref: basis.DerivedHere,
		Range: "energy alone, no wear",
	}
	DrainedVolumeFormula = basis.Formula{
		ID: "drained-volume", Title: "Volume that can drain back", Expr: "V = (π D²/4) L",
		Symbols: []string{"D", "L"}, Kind: quantity.Volume, Ref: basis.DerivedHere,
		Range: "the length that rises from the station; it empties only as fast as air gets in",
	}
)

const (
	dayS       = 86400.0
	daysInYear = 365.25
)

// DischargeCoefficient is what a hole of unknown edge is taken to have.
func DischargeCoefficient() basis.Value {
	return basis.NewAssumed("discharge coefficient of the hole", quantity.Number, 0.6, 0.5, 0.8,
		"a sharp edge; dirt and rounded edges differ", basis.CommonPractice)
}

// OrificeLeak is the flow, m3/s, through a hole of the diameter, m, under the head, m.
func OrificeLeak(diameterM, headM, coefficient float64) float64 {
	return coefficient * math.Pi / 4 * diameterM * diameterM * math.Sqrt(2*quantity.StandardGravity*headM)
}

// LeakHole is the diameter, m, of the hole that leaks the flow, m3/s, under the head, m; 0 for
// no flow. The head must be above zero.
func LeakHole(flowM3S, headM, coefficient float64) float64 {
	return math.Sqrt(4 * math.Max(0, flowM3S) / (math.Pi * coefficient * math.Sqrt(2*quantity.StandardGravity*headM)))
}

// StartsPerDay are the starts per day of one pump that empties the volume, m3, between its
// levels, from inflow, leak and pump flow, m3/s; the pump flow must be above the inflow, and
// inflow and leak together above zero.
func StartsPerDay(bandM3, inflowM3S, leakM3S, pumpM3S float64) float64 {
	return dayS / (bandM3/(inflowM3S+leakM3S) + bandM3/(pumpM3S-inflowM3S))
}

// Returned is the volume, m3, that comes back and is pumped again per day.
func Returned(bandM3, inflowM3S, leakM3S, pumpM3S float64) float64 {
	return leakM3S * bandM3 / (inflowM3S + leakM3S) * StartsPerDay(bandM3, inflowM3S, leakM3S, pumpM3S)
}

// LeakCost is the cost of energy per year, in money, of pumping the volume per day, m3, once
// more, against the head, m, at the overall efficiency and the price, money per J.
func LeakCost(densityKgM3, headM, perDayM3, efficiency, tariff float64) float64 {
	return daysInYear * densityKgM3 * quantity.StandardGravity * headM * perDayM3 * tariff / efficiency
}

// DrainedVolume is the volume of a length of pipe, m3.
func DrainedVolume(diameterM, lengthM float64) float64 {
	return math.Pi / 4 * diameterM * diameterM * lengthM
}
