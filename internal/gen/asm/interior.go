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
	h1, q1, h0, q0                   reg.Register
	impedance, friction, half, halfB reg.VecVirtual
	amount                           reg.VecVirtual
}

func interior(w width) {
	TEXT("interior"+w.name, NOSPLIT, "func(h1, q1, h0, q0 *float64, n int, b, r, halfInvB float64)")
	Pragma("noescape")
	Doc(fmt.Sprintf("interior%s is Interior for at least %d nodes.", w.name, w.lanes+2))
	s := scheme{width: w}
	s.h1, s.q1 = Load(Param("h1"), GP64()), Load(Param("q1"), GP64())
	s.h0, s.q0 = Load(Param("h0"), GP64()), Load(Param("q0"), GP64())
	s.impedance, s.friction, s.halfB = w.spread("b"), w.spread("r"), w.spread("halfInvB")
	s.amount, s.half = w.vector(), w.vector()
	VBROADCASTSD(signBitOff, s.amount)
	VBROADCASTSD(half, s.half)

	// last is the first node of the last block that ends before the last node.
	i, last, room := GP64(), GP64(), GP64()
	n := Load(Param("n"), GP64())
	LEAQ(operand.Mem{Base: n, Disp: -1 - w.lanes}, last)
	MOVQ(operand.U32(1), i)
	s.alone(i)
	MOVQ(operand.U32(uint32(w.lanes)), i)

	// Two blocks in a turn need the first node of the block after them.
	loop, tail, end := w.name+"Loop", w.name+"Tail", w.name+"End"
	LEAQ(operand.Mem{Base: n, Disp: -3 * w.lanes}, room)
	CMPQ(i, room)
	JG(operand.LabelRef("interior" + tail))
	forth0, _ := s.feet(operand.Mem{Base: s.h0}, operand.Mem{Base: s.q0})
	forthA, backA := s.feet(s.at(s.h0, i, 0), s.at(s.q0, i, 0))
	Label("interior" + loop)
	fB, bB := s.feet(s.at(s.h0, i, 1), s.at(s.q0, i, 1))
	s.meet(w.before(forth0, forthA), w.after(backA, bB), i, 0)
	fC, bC := s.feet(s.at(s.h0, i, 2), s.at(s.q0, i, 2))
	s.meet(w.before(forthA, fB), w.after(bB, bC), i, 1)
	VMOVAPD(fB, forth0)
	VMOVAPD(fC, forthA)
	VMOVAPD(bC, backA)
	ADDQ(operand.U32(uint32(2*w.lanes)), i)
	CMPQ(i, room)
	JLE(operand.LabelRef("interior" + loop))

	Label("interior" + tail)
	CMPQ(i, last)
	JGE(operand.LabelRef("interior" + end))
	s.alone(i)
	ADDQ(operand.U32(uint32(w.lanes)), i)
	JMP(operand.LabelRef("interior" + tail))
	Label("interior" + end)
	s.alone(last)
	VZEROUPPER()
	RET()
}

// at is block k after node i of an array.
func (s scheme) at(array, i reg.Register, k int) operand.Mem {
	return operand.Mem{Base: array, Index: i, Scale: word, Disp: k * s.bytes()}
}

// feet is what the nodes of a block send forth (C+) and back (C-).
func (s scheme) feet(h, q operand.Mem) (forth, back reg.VecVirtual) {
	flow, head := s.load(q), s.load(h)
	drop := s.drop(flow)
	return s.apply(VADDPD, head, drop), s.apply(VSUBPD, head, drop)
}

// drop is Q (B - R |Q|).
func (s scheme) drop(flow reg.VecVirtual) reg.VecVirtual {
	v := s.apply(s.and, flow, s.amount)
	v = s.apply(VMULPD, s.friction, v)
	v = s.apply(VSUBPD, s.impedance, v)
	return s.apply(VMULPD, flow, v)
}

// meet stores head and flow of block k after node i.
func (s scheme) meet(cp, cm reg.VecVirtual, i reg.Register, k int) {
	VMOVUPD(s.apply(VMULPD, s.apply(VADDPD, cp, cm), s.half), s.at(s.h1, i, k))
	VMOVUPD(s.apply(VMULPD, s.apply(VSUBPD, cp, cm), s.halfB), s.at(s.q1, i, k))
}

// alone does the block from node i on without help from its neighbors.
func (s scheme) alone(i reg.Register) {
	before, after := s.at(s.h0, i, 0).Offset(-word), s.at(s.h0, i, 0).Offset(word)
	qb, qa := s.at(s.q0, i, 0).Offset(-word), s.at(s.q0, i, 0).Offset(word)
	cp := s.apply(VADDPD, s.load(before), s.drop(s.load(qb)))
	cm := s.apply(VSUBPD, s.load(after), s.drop(s.load(qa)))
	s.meet(cp, cm, i, 0)
}

// half is the mean of two; emitted once.
var half = ConstData("half", operand.F64(0.5))
