package main

import (
	"fmt"

	. "github.com/mmcloughlin/avo/build"
	"github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
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

	// Two blocks a turn share the constants of each exponential; one may be left.
	room := GP64()
	LEAQ(operand.Mem{Base: n, Disp: 1 - 2*w.lanes}, room)
	turn := func(label string, blocks int) {
		change, sum := make([]reg.VecVirtual, blocks), make([]reg.VecVirtual, blocks)
		at := func(array, index reg.Register, k int) operand.Mem {
			return operand.Mem{Base: array, Index: index, Scale: word, Disp: k * w.lanes * word}
		}
		for k := range blocks {
			change[k], sum[k] = w.load(at(q1, i, k)), w.vector()
			VSUBPD(at(q0, i, k), change[k], change[k])
			VMULPD(change[k], atOnce, sum[k])
		}
		LEAQ(operand.Mem{Base: state, Index: i, Scale: word}, own)
		MOVQ(first, term)
		Label(label + "Term")
		decay, gain := w.constant(operand.Mem{Base: term}), w.constant(operand.Mem{Base: term, Disp: word})
		for k := range blocks {
			state := operand.Mem{Base: own, Disp: k * w.lanes * word}
			kept := w.vector()
			VMULPD(state, decay, kept)
			VADDPD(w.apply(VMULPD, change[k], gain), kept, kept)
			VMOVUPD(kept, state)
			VADDPD(kept, sum[k], sum[k])
		}
		ADDQ(stride, own)
		ADDQ(operand.U32(2*word), term)
		CMPQ(term, end)
		JLT(operand.LabelRef(label + "Term"))
		for k := range blocks {
			VMOVUPD(sum[k], at(loss, i, k))
		}
		ADDQ(operand.U32(uint32(blocks*w.lanes)), i)
	}
	Label(name + "Loop")
	CMPQ(i, room)
	JGE(operand.LabelRef(name + "One"))
	turn(name+"Pair", 2)
	JMP(operand.LabelRef(name + "Loop"))
	Label(name + "One")
	CMPQ(i, n)
	JGE(operand.LabelRef(name + "End"))
	turn(name+"One", 1)
	Label(name + "End")
	VZEROUPPER()
	RET()
}
