package main

import (
	. "github.com/mmcloughlin/avo/build"
	"github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

// width is a set of vector instructions with the few operations in which the
// two sets differ. The rest is named alike.
type width struct {
	name   string
	lanes  int // float64 in a vector
	vector func() reg.VecVirtual
	and    func(ops ...operand.Op)
	xor    func(ops ...operand.Op)
	// byTwo is what stands two nodes after the block low, when high is the block above it.
	byTwo func(low, high reg.VecVirtual) reg.VecVirtual
	// compare gives a mask of the nodes at which a and b compare so, and choose takes a
	// where the mask holds and b elsewhere.
	compare  func(how operand.U8, a, b operand.Op) reg.Register
	choose   func(mask reg.Register, a, b reg.VecVirtual) reg.VecVirtual
	nowhere  func() reg.Register                   // a mask that holds nowhere
	or       func(into, mask reg.Register)         // where either holds
	testNone func(mask reg.Register)               // sets the zero flag where the mask holds nowhere
	bits     func(mask reg.Register) reg.GPVirtual // of a mask, one for a node
}

// The ways to compare; one that is not a number is neither greater nor equal.
const (
	notEqual   = operand.U8(0x04)
	notGreater = operand.U8(0x1a)
	greater    = operand.U8(0x1e)
)

var avx2 = width{
	name: "AVX2", lanes: 4, vector: YMM, and: VANDPD, xor: VXORPD,
	byTwo: func(low, high reg.VecVirtual) reg.VecVirtual {
		v := YMM()
		VPERM2F128(operand.U8(0x21), high, low, v) // low[2:4], high[0:2]
		return v
	},
	compare: func(how operand.U8, a, b operand.Op) reg.Register {
		v := YMM()
		VCMPPD(how, b, a, v)
		return v
	},
	choose: func(mask reg.Register, a, b reg.VecVirtual) reg.VecVirtual {
		v := YMM()
		VBLENDVPD(mask, a, b, v)
		return v
	},
	nowhere: func() reg.Register {
		v := YMM()
		VXORPD(v, v, v)
		return v
	},
	or:       func(into, mask reg.Register) { VORPD(mask, into, into) },
	testNone: func(mask reg.Register) { VTESTPD(mask, mask) },
	bits: func(mask reg.Register) reg.GPVirtual {
		v := GP64()
		VMOVMSKPD(mask, v.As32())
		return v
	},
}

// Without AVX-512DQ there are no VANDPD and VXORPD of this width.
var avx512 = width{
	name: "AVX512", lanes: 8, vector: ZMM, and: VPANDQ, xor: VPXORQ,
	byTwo: func(low, high reg.VecVirtual) reg.VecVirtual {
		v := ZMM()
		VALIGNQ(operand.U8(2), low, high, v) // low[2:8], high[0:2]
		return v
	},
	compare: func(how operand.U8, a, b operand.Op) reg.Register {
		v := K()
		VCMPPD(how, b, a, v)
		return v
	},
	choose: func(mask reg.Register, a, b reg.VecVirtual) reg.VecVirtual {
		v := ZMM()
		VBLENDMPD(a, b, mask, v)
		return v
	},
	nowhere: func() reg.Register {
		v := K()
		KXORW(v, v, v)
		return v
	},
	or:       func(into, mask reg.Register) { KORW(mask, into, into) },
	testNone: func(mask reg.Register) { KORTESTW(mask, mask) },
	bits: func(mask reg.Register) reg.GPVirtual {
		v := GP64()
		KMOVW(mask, v.As32())
		return v
	},
}

// load reads a vector from memory.
func (w width) load(from operand.Mem) reg.VecVirtual {
	v := w.vector()
	VMOVUPD(from, v)
	return v
}

// apply is a op b in a new register, for instructions that take b first.
func (w width) apply(op func(ops ...operand.Op), a, b operand.Op) reg.VecVirtual {
	v := w.vector()
	op(b, a, v)
	return v
}

// constant fills a vector with a number.
func (w width) constant(from operand.Mem) reg.VecVirtual {
	v := w.vector()
	VBROADCASTSD(from, v)
	return v
}

// spread fills a vector with the named parameter.
func (w width) spread(parameter string) reg.VecVirtual {
	addr, err := Param(parameter).Resolve()
	if err != nil {
		panic(err)
	}
	return w.constant(addr.Addr)
}

// greatest of the numbers of a vector, none of which is not a number.
func (w width) greatest(v reg.VecVirtual) reg.VecVirtual {
	low := v.(reg.Vec)
	if w.lanes == 8 {
		high := YMM()
		VEXTRACTF64X4(operand.U8(1), low.AsZ(), high)
		VMAXPD(high, low.AsY(), low.AsY())
	}
	high := XMM()
	VEXTRACTF128(operand.U8(1), low.AsY(), high)
	VMAXPD(high, low.AsX(), low.AsX())
	VPERMILPD(operand.U8(1), low.AsX(), high)
	VMAXSD(high, low.AsX(), high)
	return high
}
