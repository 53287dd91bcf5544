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
	// before and after move the nodes of a block by one: before(low, high) is
	// what stands one node before the block high, when low is the block below it;
	// after(low, high) is what stands one node after the block low.
	before, after func(low, high reg.VecVirtual) reg.VecVirtual
}

var avx2 = width{
	name: "AVX2", lanes: 4, vector: YMM, and: VANDPD,
	before: func(low, high reg.VecVirtual) reg.VecVirtual {
		middle, v := YMM(), YMM()
		VPERM2F128(operand.U8(0x21), high, low, middle) // low[2:4], high[0:2]
		VSHUFPD(operand.U8(0b0101), high, middle, v)    // low[3], high[0], high[1], high[2]
		return v
	},
	after: func(low, high reg.VecVirtual) reg.VecVirtual {
		middle, v := YMM(), YMM()
		VPERM2F128(operand.U8(0x21), high, low, middle)
		VSHUFPD(operand.U8(0b0101), middle, low, v) // low[1], low[2], low[3], high[0]
		return v
	},
}

var avx512 = width{
	name: "AVX512", lanes: 8, vector: ZMM, and: VPANDQ,
	before: func(low, high reg.VecVirtual) reg.VecVirtual {
		v := ZMM()
		VALIGNQ(operand.U8(7), low, high, v)
		return v
	},
	after: func(low, high reg.VecVirtual) reg.VecVirtual {
		v := ZMM()
		VALIGNQ(operand.U8(1), low, high, v)
		return v
	},
}

// bytes is the length of a vector.
func (w width) bytes() int { return w.lanes * word }

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

// spread fills a vector with the named parameter.
func (w width) spread(parameter string) reg.VecVirtual {
	v := w.vector()
	addr, err := Param(parameter).Resolve()
	if err != nil {
		panic(err)
	}
	VBROADCASTSD(addr.Addr, v)
	return v
}
