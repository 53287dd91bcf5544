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
	// byTwo is what stands two nodes after the block low, when high is the block above it.
	byTwo func(low, high reg.VecVirtual) reg.VecVirtual
}

var avx2 = width{
	name: "AVX2", lanes: 4, vector: YMM, and: VANDPD,
	byTwo: func(low, high reg.VecVirtual) reg.VecVirtual {
		v := YMM()
		VPERM2F128(operand.U8(0x21), high, low, v) // low[2:4], high[0:2]
		return v
	},
}

var avx512 = width{
	name: "AVX512", lanes: 8, vector: ZMM, and: VPANDQ, // VANDPD would need AVX-512DQ
	byTwo: func(low, high reg.VecVirtual) reg.VecVirtual {
		v := ZMM()
		VALIGNQ(operand.U8(2), low, high, v) // low[2:8], high[0:2]
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
