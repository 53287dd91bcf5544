// Command asm writes the amd64 assembly of package internal/moc and its Go
// declarations. Run it by go generate in internal/moc.
package main

import (
	. "github.com/mmcloughlin/avo/build"
	"github.com/mmcloughlin/avo/operand"
)

func main() {
	for _, w := range []width{avx2, avx512} {
		interior(w, false)
		interior(w, true)
		extremes(w)
		recall(w)
		gas(w, false)
		gas(w, true)
		above(w)
	}
	Generate()
}

// word is the length of a float64, bytes.
const word = 8

// The constants of the loops: the mask that leaves the amount of a float64, and
// the factor of a mean of two.
var (
	signBitOff = ConstData("signBitOff", operand.U64(1<<63-1))
	half       = ConstData("half", operand.F64(0.5))
)
