package main

import (
	"fmt"

	. "github.com/mmcloughlin/avo/build"
	"github.com/mmcloughlin/avo/operand"
)

// recall moves the memory on by a step, all exponentials of a block of nodes in turn. It
// does whole vectors alone: unlike other loops it must not do a node twice.
func recall(w width) {
	name := "recall" + w.name
	TEXT(name, NOSPLIT, "func(state, loss, q1, q0 *float64, terms *float64, n, stride, count int, atOnce float64)")
	Pragma("noescape")
	Doc(fmt.Sprintf("%s is Recall for a multiple of %d nodes, of which each exponential has a stride.", name, w.lanes))
	state, loss := Load(Param("state"), GP64()), Load(Param("loss"), GP64())
	q1, q0 := Load(Param("q1"), GP64()), Load(Param("q0"), GP64())
	atOnce := w.spread("atOnce")
	n, stride := Load(Param("n"), GP64()), Load(Param("stride"), GP64())
	SHLQ(operand.U8(3), stride)
	first, end := Load(Param("terms"), GP64()), Load(Param("count"), GP64())
	SHLQ(operand.U8(4), end)
	ADDQ(first, end)
	i, own, term := GP64(), GP64(), GP64()
	XORQ(i, i)

	Label(name + "Loop")
	CMPQ(i, n)
	JGE(operand.LabelRef(name + "End"))
	change := w.load(operand.Mem{Base: q1, Index: i, Scale: word})
	VSUBPD(operand.Mem{Base: q0, Index: i, Scale: word}, change, change)
	sum, kept, taken := w.vector(), w.vector(), w.vector()
	VMULPD(change, atOnce, sum)
	LEAQ(operand.Mem{Base: state, Index: i, Scale: word}, own)
	MOVQ(first, term)
	Label(name + "Term")
	CMPQ(term, end)
	JGE(operand.LabelRef(name + "Sum"))
	VBROADCASTSD(operand.Mem{Base: term}, kept)
	VBROADCASTSD(operand.Mem{Base: term, Disp: word}, taken)
	VMULPD(operand.Mem{Base: own}, kept, kept)
	VMULPD(taken, change, taken)
	VADDPD(taken, kept, kept)
	VMOVUPD(kept, operand.Mem{Base: own})
	VADDPD(kept, sum, sum)
	ADDQ(stride, own)
	ADDQ(operand.U32(2*word), term)
	JMP(operand.LabelRef(name + "Term"))
	Label(name + "Sum")
	VMOVUPD(sum, operand.Mem{Base: loss, Index: i, Scale: word})
	ADDQ(operand.U32(uint32(w.lanes)), i)
	JMP(operand.LabelRef(name + "Loop"))
	Label(name + "End")
	VZEROUPPER()
	RET()
}
