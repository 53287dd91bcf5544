package main

import (
	"fmt"

	. "github.com/mmcloughlin/avo/build"
	"github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// extremes widens two arrays by a third. The instructions take the second number when
// the two do not compare, as the plain loop does with h < lo.
func extremes(w width) {
	TEXT("extremes"+w.name, NOSPLIT, "func(lo, hi, h *float64, n int)")
	Pragma("noescape")
	Doc(fmt.Sprintf("extremes%s is Extremes for at least %d nodes.", w.name, w.lanes))
	lo, hi, h := Load(Param("lo"), GP64()), Load(Param("hi"), GP64()), Load(Param("h"), GP64())
	i, last := GP64(), GP64()
	n := Load(Param("n"), GP64())
	LEAQ(operand.Mem{Base: n, Disp: -w.lanes}, last)
	XORQ(i, i)
	block := func(i reg.Register) {
		at := func(array reg.Register) operand.Mem { return operand.Mem{Base: array, Index: i, Scale: word} }
		v := w.load(at(h))
		low, high := w.vector(), w.vector()
		VMINPD(at(lo), v, low)
		VMAXPD(at(hi), v, high)
		VMOVUPD(low, at(lo))
		VMOVUPD(high, at(hi))
	}
	loop, end := "extremes"+w.name+"Loop", "extremes"+w.name+"End"
	Label(loop)
	CMPQ(i, last)
	JGE(operand.LabelRef(end))
	block(i)
	ADDQ(operand.U32(uint32(w.lanes)), i)
	JMP(operand.LabelRef(loop))
	Label(end)
	block(last)
	VZEROUPPER()
	RET()
}
