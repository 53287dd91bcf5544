package main

import (
	"fmt"

	. "github.com/mmcloughlin/avo/build"
	"github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// scheme holds the registers of one Interior function.
type scheme struct {
	width
	h1, q1, h0, q0              reg.Register
	loss                        reg.Register // nil where friction has no memory
	impedance, friction, amount reg.VecVirtual
	half, halfInvB              reg.VecVirtual
}

// interior works out each drop once, as the plain loop does: what the block of
// inner nodes from i on takes from its left neighbors begins at node i-1, and what
// it takes from its right neighbors is that moved by two nodes. Where remembers is true a
// further loss of each node is known.
func interior(w width, remembers bool) {
	name, loss, what := "interior"+w.name, "", "Interior"
	if remembers {
		name, loss, what = "remembering"+w.name, ", loss", "Interior with a loss"
	}
	TEXT(name, NOSPLIT, fmt.Sprintf("func(h1, q1, h0, q0%s *float64, n int, b, r, halfInvB float64)", loss))
	Pragma("noescape")
	Doc(fmt.Sprintf("%s is %s for at least %d nodes.", name, what, w.lanes+2))
	s := scheme{width: w}
	if remembers {
		s.loss = Load(Param("loss"), GP64())
	}
	s.h1, s.q1 = Load(Param("h1"), GP64()), Load(Param("q1"), GP64())
	s.h0, s.q0 = Load(Param("h0"), GP64()), Load(Param("q0"), GP64())
	s.impedance, s.friction, s.halfInvB = w.spread("b"), w.spread("r"), w.spread("halfInvB")
	s.amount, s.half = w.vector(), w.vector()
	VBROADCASTSD(signBitOff, s.amount)
	VBROADCASTSD(half, s.half)

	// last is the first node of the last block that ends before the last node;
	// room is the highest i at which a turn of two blocks reads within the arrays.
	i, last, room := GP64(), GP64(), GP64()
	n := Load(Param("n"), GP64())
	LEAQ(operand.Mem{Base: n, Disp: -1 - w.lanes}, last)
	LEAQ(operand.Mem{Base: n, Disp: 1 - 3*w.lanes}, room)
	MOVQ(operand.U32(1), i)
	CMPQ(i, room)
	JG(operand.LabelRef(name + "Tail"))
	left := s.drop(s.load(s.at(s.q0, i, 0, -1)))
	Label(name + "Loop")
	middle := s.drop(s.load(s.at(s.q0, i, 1, -1)))
	s.meet(i, 0, left, w.byTwo(left, middle))
	s.dropTo(left, s.load(s.at(s.q0, i, 2, -1)))
	s.meet(i, 1, middle, w.byTwo(middle, left))
	ADDQ(operand.U32(uint32(2*w.lanes)), i)
	CMPQ(i, room)
	JLE(operand.LabelRef(name + "Loop"))

	// The blocks that are left read their neighbors anew. The last one may do
	// again what is done: the new arrays are not read.
	Label(name + "Tail")
	CMPQ(i, last)
	JGE(operand.LabelRef(name + "End"))
	s.alone(i)
	ADDQ(operand.U32(uint32(w.lanes)), i)
	JMP(operand.LabelRef(name + "Tail"))
	Label(name + "End")
	s.alone(last)
	VZEROUPPER()
	RET()
}

// at is block k after node i of an array, moved by some nodes.
func (s scheme) at(array, i reg.Register, k, moved int) operand.Mem {
	return operand.Mem{Base: array, Index: i, Scale: word, Disp: (k*s.lanes + moved) * word}
}

// drop is Q (B - R |Q|).
func (s scheme) drop(flow reg.VecVirtual) reg.VecVirtual {
	v := s.vector()
	s.dropTo(v, flow)
	return v
}

// dropTo puts the drop into a register that may have been used before.
func (s scheme) dropTo(v, flow reg.VecVirtual) {
	s.and(s.amount, flow, v)
	VMULPD(v, s.friction, v)
	VSUBPD(v, s.impedance, v)
	VMULPD(v, flow, v)
}

// meet stores head and flow of block k after node i, from the drops of its
// neighbors on the left and on the right.
func (s scheme) meet(i reg.Register, k int, left, right reg.VecVirtual) {
	cp := s.apply(VADDPD, left, s.at(s.h0, i, k, -1))
	cm := s.apply(VSUBPD, s.load(s.at(s.h0, i, k, 1)), right)
	if s.loss != nil {
		VSUBPD(s.at(s.loss, i, k, -1), cp, cp)
		VADDPD(s.at(s.loss, i, k, 1), cm, cm)
	}
	VMOVUPD(s.apply(VMULPD, s.apply(VADDPD, cp, cm), s.half), s.at(s.h1, i, k, 0))
	VMOVUPD(s.apply(VMULPD, s.apply(VSUBPD, cp, cm), s.halfInvB), s.at(s.q1, i, k, 0))
}

// alone does the block from node i on without help from its neighbors.
func (s scheme) alone(i reg.Register) {
	s.meet(i, 0, s.drop(s.load(s.at(s.q0, i, 0, -1))), s.drop(s.load(s.at(s.q0, i, 0, 1))))
}
