package main

import (
	"fmt"

	. "github.com/mmcloughlin/avo/build"
	"github.com/mmcloughlin/avo/operand"
)

// recall moves one exponential of the memory on by a step. It does whole vectors alone:
// unlike the other loops it must not do a node twice.
func recall(w width) {
	name := "recall" + w.name
	TEXT(name, NOSPLIT, "func(state, loss, change *float64, n int, decay, gain float64)")
	Pragma("noescape")
	Doc(fmt.Sprintf("%s is Recall for a multiple of %d nodes.", name, w.lanes))
	state, loss, change := Load(Param("state"), GP64()), Load(Param("loss"), GP64()), Load(Param("change"), GP64())
	decay, gain := w.spread("decay"), w.spread("gain")
	i := GP64()
	n := Load(Param("n"), GP64())
	XORQ(i, i)
	Label(name + "Loop")
	CMPQ(i, n)
	JGE(operand.LabelRef(name + "End"))
	own := operand.Mem{Base: state, Index: i, Scale: word}
	sum := operand.Mem{Base: loss, Index: i, Scale: word}
	kept, new := w.vector(), w.vector()
	VMULPD(own, decay, kept)
	VMULPD(operand.Mem{Base: change, Index: i, Scale: word}, gain, new)
	VADDPD(new, kept, kept)
	VMOVUPD(kept, own)
	VADDPD(sum, kept, kept)
	VMOVUPD(kept, sum)
	ADDQ(operand.U32(uint32(w.lanes)), i)
	JMP(operand.LabelRef(name + "Loop"))
	Label(name + "End")
	VZEROUPPER()
	RET()
}
