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
	nodes    moc.Nodes // at work in a step
	greatest float64   // volume of the inner nodes in the last step
	openFrom float64   // volume above which gas is taken as a cavity
	far      []float64 // head from which the gas is not felt
	small    bool      // so little gas that it is felt near vapor alone
	felt     bool      // at some node, in the last step; else up is not kept
	first    int       // inner nodes at which gas was felt in the last step,
	last     int       // from first to last; none where last is less
	seenFrom int       // nodes that have had a cavity
	seenTo   int
	openLo   int // nodes between which a cavity has not shut yet
	openHi   int
	joined   []float64 // greatest head since the cavity first shut
	unused   []float64 // lowest heads, that nobody asks for
}

// smallGas is the amount of gas, in reach volumes times m, up to which it acts as vapor
// alone.
const smallGas = 2e-6

// openShare is the share of a reach's volume above which gas is taken as a vapor cavity.
const openShare = 1e-4

func newCavities(l *line, g *Gas) *cavities {
	n := len(l.h)
	reach := l.pipe.AreaM2() * l.pipe.LengthM / float64(n-1)
	c := &cavities{
		c3: g.amount(reach), floor: make([]float64, n), volume: make([]float64, n), volume1: make([]float64, n),
		far: make([]float64, n), up: make([]float64, n), up1: make([]float64, n), seen: make([]Cavity, n),
		most:   make([]float64, n),
		joined: make([]float64, n), unused: make([]float64, n), reachM3: reach, openFrom: openShare * reach,
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
	c.nodes = moc.Nodes{Floor: c.floor, Loss: l.inner.Loss}
	if c.nodes.Loss == nil {
		c.nodes.Loss = make([]float64, n)
	}
	if c.small {
		c.nodes.Far = c.far
	}
	c.first, c.last, c.seenFrom, c.seenTo, c.openLo, c.openHi = 1, 0, n, -1, n, -1
	return c
}

// nearVaporM is the head above vapor from which the gas of a node is too little to be
// felt: at 1e-7 by volume its flow is below a ten-millionth of the pipe's.
const nearVaporM = 3

// interior is a step with gas at the inner nodes (moc.Gas). Little gas is felt near vapor
// and beside a cavity alone; the other nodes move as whole liquid.
func (c *cavities) interior(l *line, stepS float64) {
	if c.small {
		l.whole()
	}
	from, to := c.reach(l)
	if from > to {
		c.felt, c.first, c.last, c.greatest = false, 1, 0, 0
		return
	}
	if !c.felt {
		copy(c.up, l.q)
	}
	if c.small {
		copy(c.up1, l.q1)
	}
	n := &c.nodes
	n.H1, n.Q1, n.Up1, n.Volume1 = l.h1, l.q1, c.up1, c.volume1
	n.H, n.Q, n.Up, n.Volume = l.h, l.q, c.up, c.volume
	gas := moc.Gas{B: l.inner.B, R: l.inner.R, Inverse: 1 / l.b, StepM2: stepS / l.b, AmountM4: c.c3}
	c.greatest, c.felt = gas.Step(n, from, to)
	c.felt = c.felt || !c.small
	c.first, c.last = from, to
}

// reach is the stretch of inner nodes that the step may bring near vapor: those that the
// plain step brings there, and those of the step before with their neighbors.
func (c *cavities) reach(l *line) (from, to int) {
	end := l.last() - 1
	if !c.small {
		return 1, end
	}
	from, to = 1, end
	from += moc.Above(l.h1[from:end+1], c.far[from:end+1])
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

// watch notes cavities that open, grow and shut. It looks at single nodes only where a cavity
// is open or was in the step before; that heads rise where one has shut is left to a kernel.
func (c *cavities) watch(l *line, timeS float64) {
	if c.seenFrom <= c.seenTo {
		part := c.joined[c.seenFrom : c.seenTo+1]
		moc.Extremes(c.unused[:len(part)], part, l.h[c.seenFrom:c.seenTo+1])
	}
	n := l.last()
	c.opened(0, 0, timeS)
	c.opened(n, n, timeS)
	if c.greatest > c.openFrom {
		c.opened(c.first, c.last, timeS)
	}
	from, to := c.openLo, c.openHi
	c.openLo, c.openHi = len(c.volume), -1
	for i := from; i <= to; i++ {
		s := &c.seen[i]
		switch {
		case c.most[i] == 0 || s.ShutsS != 0:
		case c.volume[i] > c.openFrom:
			c.openLo, c.openHi = min(c.openLo, i), i
		default:
			s.ShutsS, c.joined[i] = timeS, l.h[i]
		}
	}
}

// opened notes the open cavities at the nodes from first to last.
func (c *cavities) opened(first, last int, timeS float64) {
	for i := first; i <= last; i++ {
		v := c.volume[i]
		if v <= c.openFrom {
			continue
		}
		if c.most[i] == 0 {
			c.seen[i].OpensS = timeS
			c.seenFrom, c.seenTo = min(c.seenFrom, i), max(c.seenTo, i)
		}
		if c.seen[i].ShutsS == 0 {
			c.openLo, c.openHi = min(c.openLo, i), max(c.openHi, i)
		}
		c.most[i] = max(c.most[i], v)
	}
}
