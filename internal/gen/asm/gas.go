package main

import (
	"fmt"

	. "github.com/mmcloughlin/avo/build"
	"github.com/mmcloughlin/avo/operand"
	"github.com/mmcloughlin/avo/reg"
)

const gasFunc = "func(h1, q1, up1, volume1, h, q, up, volume, floor, loss%s, c *float64, n int) (most float64%s)"

// gasField is where the constants stand in the array of a gas step.
var gasField = map[string]int{
	"b": 0, "r": 1, "inverse": 2, "k": 3, "twoK": 4, "fourth": 5, "eight": 6, "two": 7,
	"amount": 8,
}

// gas moves nodes with free gas. Where vapor is true the gas is felt near vapor alone, and
// blocks in which it is felt nowhere are left as they are but for their volume. The
// pointers are those of the first node to move.
func gas(w width, vapor bool) {
	name, far, near := "gas"+w.name, "", ""
	if vapor {
		name, far, near = "vapor"+w.name, ", far", ", felt int"
	}
	TEXT(name, NOSPLIT, fmt.Sprintf(gasFunc, far, near))
	Pragma("noescape")
	Doc(fmt.Sprintf("%s is Gas for a multiple of %d nodes.", name, w.lanes))
	at := map[string]func(moved int) operand.Mem{}
	names := []string{"h1", "q1", "up1", "volume1", "h", "q", "up", "volume", "floor", "loss"}
	if vapor {
		names = append(names, "far")
	}
	i := GP64()
	constants := Load(Param("c"), GP64())
	field := func(name string) reg.VecVirtual {
		v := w.vector()
		VBROADCASTSD(operand.Mem{Base: constants, Disp: word * gasField[name]}, v)
		return v
	}
	b, r, k := field("b"), field("r"), field("k") // the others are read where they are used: AVX2 has 16 registers
	amountOff, most := w.vector(), w.vector()
	VBROADCASTSD(signBitOff, amountOff)
	w.xor(most, most, most)
	for _, x := range names {
		base := Load(Param(x), GP64())
		at[x] = func(moved int) operand.Mem {
			return operand.Mem{Base: base, Index: i, Scale: word, Disp: word * moved}
		}
	}
	var notWhole, felt reg.Register
	if vapor {
		felt = w.nowhere()
	}
	n := Load(Param("n"), GP64())
	XORQ(i, i)

	Label(name + "Loop")
	CMPQ(i, n)
	JGE(operand.LabelRef(name + "End"))
	ub := w.load(at["up"](1))
	var here reg.Register
	if vapor {
		notWhole = w.compare(notGreater, w.load(at["h"](0)), at["far"](0))
		here = w.compare(notEqual, ub, at["q"](1))
		w.or(here, w.compare(notGreater, w.load(at["h1"](0)), at["far"](0)))
		w.or(here, notWhole)
		w.or(felt, here)
		w.testNone(here)
		JZ(operand.LabelRef(name + "Whole"))
	}
	// C = Q (B − R |Q|), from either side.
	drop := func(q reg.VecVirtual) reg.VecVirtual {
		v := w.vector()
		w.and(amountOff, q, v)
		VMULPD(v, r, v)
		VSUBPD(v, b, v)
		VMULPD(v, q, v)
		return v
	}
	cp := drop(w.load(at["q"](-1)))
	VADDPD(at["h"](-1), cp, cp)
	VSUBPD(at["loss"](-1), cp, cp)
	cm := w.apply(VSUBPD, w.load(at["h"](1)), drop(ub))
	VADDPD(at["loss"](1), cm, cm)

	floor := w.load(at["floor"](0))
	y := w.apply(VADDPD, floor, floor)
	VSUBPD(cp, y, y)
	VSUBPD(cm, y, y)
	VMULPD(k, y, y)
	if vapor {
		above := w.apply(VSUBPD, w.load(at["h"](0)), floor)
		VDIVPD(above, field("amount"), above)
		VADDPD(w.choose(notWhole, w.load(at["volume"](0)), above), y, y)
	} else {
		VADDPD(at["volume"](0), y, y)
	}
	d := w.apply(VMULPD, y, y)
	VADDPD(field("eight"), d, d)
	VSQRTPD(d, d)
	sum := w.vector()
	w.and(amountOff, y, sum)
	VADDPD(d, sum, sum)
	ratio := w.apply(VDIVPD, field("two"), sum)
	half := w.apply(VMULPD, sum, w.constant(half))
	zero := w.vector()
	w.xor(zero, zero, zero)
	positive := w.compare(greater, y, zero)
	x := w.choose(positive, ratio, w.apply(VMULPD, sum, field("fourth")))
	volume := w.choose(positive, half, w.apply(VMULPD, ratio, field("twoK")))
	head := w.apply(VADDPD, floor, x)
	inverse := field("inverse")
	up := w.apply(VMULPD, w.apply(VSUBPD, cp, head), inverse)
	q := w.apply(VMULPD, w.apply(VSUBPD, head, cm), inverse)
	if vapor {
		volume = w.choose(here, volume, zero)
		head = w.choose(here, head, w.load(at["h1"](0)))
		up = w.choose(here, up, w.load(at["up1"](0)))
		q = w.choose(here, q, w.load(at["q1"](0)))
	}
	VMAXPD(most, volume, most) // the second operand of Intel where the two do not compare
	VMOVUPD(volume, at["volume1"](0))
	VMOVUPD(head, at["h1"](0))
	VMOVUPD(up, at["up1"](0))
	VMOVUPD(q, at["q1"](0))
	next := operand.LabelRef(name + "Next")
	if vapor {
		JMP(next)
		Label(name + "Whole")
		nothing := w.vector()
		w.xor(nothing, nothing, nothing)
		VMOVUPD(nothing, at["volume1"](0))
		Label(name + "Next")
	}
	ADDQ(operand.U32(uint32(w.lanes)), i)
	JMP(operand.LabelRef(name + "Loop"))

	Label(name + "End")
	if vapor {
		bits := w.bits(felt)
		Store(bits, Return("felt"))
	}
	greatest := w.greatest(most)
	VZEROUPPER()
	Store(greatest, Return("most"))
	RET()
}
