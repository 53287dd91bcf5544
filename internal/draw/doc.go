// Package draw draws uncertain numbers: points that fill the unit cube evenly, values
// from ranges low-best-high, the distribution of what comes out, an estimate of that
// distribution from few runs, and the value of one input at which a limit is crossed.
//
// Nothing here uses the clock or an unseeded random number: the same seed gives the same
// answer.
package draw
