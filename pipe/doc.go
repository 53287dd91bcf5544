// Package pipe holds what hydraulics needs to know about pipes: friction and
// head loss, the true dimensions behind a nominal size and class, elastic data
// and roughness of the materials, the speed of pressure waves, and the loss
// coefficients of fittings (but not of check valves).
//
// The kernels work on float64 in SI; each stands beside the basis.Formula that
// records it. Tables are data files with a source and a status for every row.
// Errors about an argument outside a formula's range wrap ErrRange; a name or
// size that no table has gives a *LookupError, which lists what there is.
package pipe

import "errors"

// ErrRange is wrapped by every error about an argument outside the range of a
// formula.
var ErrRange = errors.New("outside the range of the formula")
