package transient

import (
	"math"

	"seatward/internal/moc"
)

// Gas is the discrete gas cavity model (Wylie 1984): a small amount of free gas stands
// at each node, expands as the head falls, and so becomes the vapor cavity when it comes
// near vapor pressure. A fraction of 1e-7 acts as vapor alone.
type Gas struct {
	VaporHeadM     float64 // vapor pressure less that of the air, as a head: some −10 m
	Fraction       float64 // of gas by volume at the reference; 0 means 1e-7
	ReferenceHeadM float64 // absolute head at which the fraction holds; 0 means 10.33 m
}

const (
	vaporFraction = 1e-7
	airHeadM      = 10.33
)

// amount is C3 of the model, volume times head above vapor, for a volume of pipe.
func (g *Gas) amount(volumeM3 float64) float64 {
	fraction, reference := g.Fraction, g.ReferenceHeadM
	if fraction == 0 {
		fraction = vaporFraction
	}
	if reference == 0 {
		reference = airHeadM
	}
	return fraction * volumeM3 * reference
}

// Cavity is gas of a node that grew to a vapor cavity.
type Cavity struct {
	Pipe          string
	ChainageM     float64
	OpensS        float64 // first time at vapor pressure
	ShutsS        float64 // when the columns first came together again; 0 if they did not
	MostM3        float64 // greatest volume
	JoinedHeadM   float64 // greatest head after they came together
	LiquidReachM3 float64 // volume of the reach, with which MostM3 compares
}

// cavities are the gas of the inner nodes of a line.
type cavities struct {
	c3       float64   // of one node
	floor    []float64 // head at vapor pressure: z + hv
	volume   []float64
	volume1  []float64
	up       []float64 // flow that arrives from the From side; line.q leaves
	up1      []float64
	seen     []Cavity
	most     []float64 // greatest volume above openFrom; 0 where there was none
	reachM3  float64
	openFrom float64   // volume above which gas counts as a cavity
	far      []float64 // head from which the gas is not felt
	small    bool      // so little gas that it is felt near vapor alone
	felt     bool      // at some node, in the last step; else up is not kept
	first    int       // inner nodes at which gas was felt in the last step,
	last     int       // from first to last; none where last is less
	seenFrom int       // nodes that have had a cavity
	seenTo   int
}

// smallGas is the amount of gas, in reach volumes times m, up to which it acts as vapor
// alone.
const smallGas = 2e-6

// openShare is the share of a reach's volume above which gas counts as a vapor cavity.
const openShare = 1e-4

func newCavities(l *line, g *Gas) *cavities {
	n := len(l.h)
	reach := l.pipe.AreaM2() * l.pipe.LengthM / float64(n-1)
	c := &cavities{
		c3: g.amount(reach), floor: make([]float64, n), volume: make([]float64, n), volume1: make([]float64, n),
		far: make([]float64, n), up: make([]float64, n), up1: make([]float64, n), seen: make([]Cavity, n), most: make([]float64, n), reachM3: reach, openFrom: openShare * reach,
	}
	for i := range n {
		c.floor[i] = l.z[i] + g.VaporHeadM
		c.far[i] = c.floor[i] + nearVaporM
		c.volume[i] = c.c3 / math.Max(l.h[i]-c.floor[i], 1e-6)
		c.up[i] = l.q[i]
	}
	copy(c.volume1, c.volume)
	c.small = c.c3 <= smallGas*reach
	c.felt = !c.small
	c.first, c.last, c.seenFrom, c.seenTo = 1, 0, n, -1
	return c
}

// nearVaporM is the head above vapor from which the gas of a node is too little to be
// felt: at 1e-7 by volume its flow is below a ten-millionth of the pipe's.
const nearVaporM = 3

// interior is a step with gas at the inner nodes (Wylie 1984, ψ = 1): with x the head
// above vapor,
//
//	(2Δt/B) x² + [∀ + Δt (2 floor − CP − CM)/B] x − C3 = 0.
//
// Of the two forms of its positive root the one is taken that loses no digits. Nodes far
// from vapor, and beside no cavity, move as whole liquid.
func (c *cavities) interior(l *line, stepS float64) {
	if c.small {
		moc.Interior(l.h1, l.q1, l.h, l.q, l.inner)
		if l.history != nil {
			l.history.correct(l)
		}
	}
	from, to := c.reach(l)
	if from > to {
		c.felt, c.first, c.last = false, 1, 0
		return
	}
	if !c.felt {
		copy(c.up, l.q)
	}
	if c.small {
		copy(c.up1, l.q1)
	}
	c.felt = c.step(l, stepS, from, to) || !c.small
	c.first, c.last = from, to
}

// step moves the inner nodes from one to another, and says whether gas is felt at any.
//
// With y the bracket of the quadratic and d the root of its discriminant, the gas takes
// ∀ = C3/x = (d + y)/2, which spares a division where y does not take the digits.
func (c *cavities) step(l *line, stepS float64, from, to int) (near bool) {
	k := stepS / l.b
	r, b, inverse := l.inner.R, l.inner.B, 1/l.b
	eight, fourth := 8*k*c.c3, 1/(4*k)
	n := to - from + 1
	here := func(x []float64) []float64 { return x[from:][:n] }
	h, h1, q1, up1 := here(l.h), here(l.h1), here(l.q1), here(c.up1)
	floor, far, volume, volume1 := here(c.floor), here(c.far), here(c.volume), here(c.volume1)
	ha, qa := l.h[from-1:][:n], l.q[from-1:][:n]
	hb, qb, ub := l.h[from+1:][:n], l.q[from+1:][:n], c.up[from+1:][:n]
	for i := range n {
		whole := c.small && h[i] > far[i]
		if whole && h1[i] > far[i] && qb[i] == ub[i] {
			volume1[i] = 0
			continue
		}
		near = true
		gas := volume[i]
		if whole {
			gas = c.c3 / (h[i] - floor[i])
		}
		cp := ha[i] + qa[i]*(b-r*math.Abs(qa[i]))
		cm := hb[i] - ub[i]*(b-r*math.Abs(ub[i]))
		if l.history != nil {
			cp -= l.history.loss[from+i-1]
			cm += l.history.loss[from+i+1]
		}
		y := gas + k*(2*floor[i]-cp-cm)
		d := math.Sqrt(y*y + eight)
		x := (d - y) * fourth
		if y > 0 {
			x = 2 * c.c3 / (y + d)
			volume1[i] = (d + y) / 2
		} else {
			volume1[i] = c.c3 / x
		}
		head := floor[i] + x
		h1[i], up1[i], q1[i] = head, (cp-head)*inverse, (head-cm)*inverse
	}
	return near
}

// reach is the stretch of inner nodes that the step may bring near vapor: those that the
// plain step brings there, and those of the step before with their neighbors.
func (c *cavities) reach(l *line) (from, to int) {
	end := l.last() - 1
	if !c.small {
		return 1, end
	}
	from, to = 1, end
	for from <= end && l.h1[from] > c.far[from] {
		from++
	}
	for to >= from && l.h1[to] > c.far[to] {
		to--
	}
	if from > to {
		from, to = end+1, 0
	}
	if c.felt {
		from, to = min(from, c.first), max(to, c.last)
	}
	// A cavity at an end is felt by the node beside it.
	if c.felt && l.q[end+1] != c.up[end+1] {
		to = end
	}
	if from > to {
		return from, to
	}
	return max(1, from-1), min(end, to+1)
}

func (c *cavities) turn() {
	c.volume, c.volume1 = c.volume1, c.volume
	c.up, c.up1 = c.up1, c.up
}

// watch notes cavities that open, grow and shut.
func (c *cavities) watch(l *line, timeS float64) {
	n := l.last()
	for _, i := range []int{0, n} {
		if c.volume[i] > c.openFrom {
			c.seenFrom, c.seenTo = min(c.seenFrom, i), max(c.seenTo, i)
		}
	}
	if c.felt {
		c.seenFrom, c.seenTo = min(c.seenFrom, c.first), max(c.seenTo, c.last)
	}
	for i := c.seenFrom; i <= c.seenTo; i++ {
		switch v := c.volume[i]; {
		case v > c.openFrom:
			if v > c.most[i] {
				if c.most[i] == 0 {
					c.seen[i].OpensS = timeS
				}
				c.most[i] = v
			}
		case c.most[i] > 0:
			s := &c.seen[i]
			if s.ShutsS == 0 {
				s.ShutsS, s.JoinedHeadM = timeS, math.Inf(-1)
			}
			s.JoinedHeadM = max(s.JoinedHeadM, l.h[i])
		}
	}
}
