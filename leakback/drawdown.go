package leakback

import (
	"seatward/basis"
	"seatward/quantity"
)

// DrawdownFormula records DrawdownFlow.
var DrawdownFormula = basis.Formula{
	ID: "drawdown-flow", Title: "Pump flow from a drawdown test", Expr: "Q = A d / t + q_in",
	Symbols: []string{"A", "d", "t", "q_in"}, Kind: quantity.Flow, Ref: basis.DerivedHere,
	Range: "inflow as in the fill just before or after; a leak through another valve comes back and is not in it",
}

// DrawdownFlow is the flow of a pump, m3/s, that lowers the well of the area, m2, by the drop,
// m, in the time, s, beside the inflow, m3/s.
func DrawdownFlow(areaM2, dropM, seconds, inflowM3S float64) float64 {
	return areaM2*dropM/seconds + inflowM3S
}
