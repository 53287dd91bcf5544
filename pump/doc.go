// Package pump describes a centrifugal pump and its motor: head, efficiency and
// power over flow at any speed, specific speed, and the inertia of what turns.
//
// A Curve is made from the points of a data sheet or, with visible assumptions,
// from a duty point alone. It answers for each reading where on the curve it was
// taken: a flow beyond the last point is a reported condition, never a number
// that looks like any other. What is wrong with given points is said in typed
// Problems, all at once.
//
// Every formula is a kernel on float64 in SI with a basis.Formula beside it.
// The pump is seen here in normal operation only: forward flow, forward turning.
package pump

import (
	"math"

	"seatward/quantity"
)

// Exact units of the United States customary system, in SI (NIST Special
// Publication 811, appendix B.8).
const (
	foot       = 0.3048                                             // m
	gpm        = 231 * 0.0254 * 0.0254 * 0.0254 / 60                // m3/s
	horsepower = 550 * foot * 0.45359237 * quantity.StandardGravity // W
	poundFoot2 = 0.45359237 * foot * foot                           // kg m2
	rpm        = 2 * math.Pi / 60                                   // rad/s
)
