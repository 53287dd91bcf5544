package main

import (
	"fmt"

	. "github.com/mmcloughlin/avo/build"
	"github.com/mmcloughlin/avo/operand"
)

// above counts by whole vectors, up to the first that does not lie above throughout.
func above(w width) {
	name := "above" + w.name
	TEXT(name, NOSPLIT, "func(h, floor *float64, n int) int")
	Pragma("noescape")
	Doc(fmt.Sprintf("%s is Above for a multiple of %d nodes; it stops at the vector in which one is not above.", name,
		w.lanes))
	h, floor, n := Load(Param("h"), GP64()), Load(Param("floor"), GP64()), Load(Param("n"), GP64())
	i := GP64()
	XORQ(i, i)
	Label(name + "Loop")
	CMPQ(i, n)
	JGE(operand.LabelRef(name + "End"))
	v := w.load(operand.Mem{Base: h, Index: i, Scale: word})
	w.testNone(w.compare(notGreater, v, operand.Mem{Base: floor, Index: i, Scale: word}))
	JNZ(operand.LabelRef(name + "End"))
	ADDQ(operand.U32(uint32(w.lanes)), i)
	JMP(operand.LabelRef(name + "Loop"))
	Label(name + "End")
	VZEROUPPER()
	Store(i, ReturnIndex(0))
	RET()
}
