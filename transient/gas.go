package transient

import (
	"errors"
	"math"
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
	reachM3  float64
	timeS    float64
	openFrom float64 // volume above which gas counts as a cavity
}

// openShare is the share of a reach's volume above which gas counts as a vapor cavity.
const openShare = 1e-4

func newCavities(l *line, g *Gas) *cavities {
	n := len(l.h)
	reach := l.pipe.AreaM2() * l.pipe.LengthM / float64(n-1)
	c := &cavities{
		c3: g.amount(reach), floor: make([]float64, n), volume: make([]float64, n), volume1: make([]float64, n),
		up: make([]float64, n), up1: make([]float64, n), seen: make([]Cavity, n), reachM3: reach, openFrom: openShare * reach,
	}
	for i := range n {
		c.floor[i] = l.z[i] + g.VaporHeadM
		c.volume[i] = c.c3 / math.Max(l.h[i]-c.floor[i], 1e-6)
		c.up[i] = l.q[i]
	}
	copy(c.volume1, c.volume)
	return c
}

// interior is a step with gas at every inner node (Wylie 1984, ψ = 1): with x the head
// above vapor,
//
//	(2Δt/B) x² + [∀ + Δt (2 floor − CP − CM)/B] x − C3 = 0.
//
// Of the two forms of its positive root the one is taken that loses no digits.
func (c *cavities) interior(l *line, stepS float64) {
	k := stepS / l.b
	r, b := l.inner.R, l.inner.B
	for i := 1; i < l.last(); i++ {
		qa, qb := l.q[i-1], c.up[i+1]
		cp := l.h[i-1] + qa*(b-r*math.Abs(qa))
		cm := l.h[i+1] - qb*(b-r*math.Abs(qb))
		if l.history != nil {
			cp -= l.history.loss[i-1]
			cm += l.history.loss[i+1]
		}
		x := positive(2*k, c.volume[i]+k*(2*c.floor[i]-cp-cm), -c.c3)
		head := c.floor[i] + x
		l.h1[i] = head
		c.up1[i], l.q1[i] = (cp-head)/l.b, (head-cm)/l.b
		c.volume1[i] = c.c3 / x
	}
}

// positive is the positive root of a x² + b x + c with a > 0 > c.
func positive(a, b, c float64) float64 {
	d := math.Sqrt(b*b - 4*a*c)
	if b > 0 {
		return -2 * c / (b + d)
	}
	return (d - b) / (2 * a)
}

func (c *cavities) turn() {
	c.volume, c.volume1 = c.volume1, c.volume
	c.up, c.up1 = c.up1, c.up
}

// watch notes cavities that open, grow and shut.
func (c *cavities) watch(l *line, timeS float64) {
	for i := range c.seen {
		s := &c.seen[i]
		switch v := c.volume[i]; {
		case v > c.openFrom:
			if s.MostM3 == 0 {
				s.OpensS = timeS
			}
			s.MostM3 = math.Max(s.MostM3, v)
		case s.MostM3 > 0:
			if s.ShutsS == 0 {
				s.ShutsS, s.JoinedHeadM = timeS, math.Inf(-1)
			}
			s.JoinedHeadM = math.Max(s.JoinedHeadM, l.h[i])
		}
	}
}

// pocket is the gas of half a reach at a pipe end.
type pocket struct {
	c3, floor, volume, next float64
	c, b                    float64 // of the pipe alone
	stepS                   float64
}

func newPockets(d *node, g *Gas, stepS float64) []pocket {
	out := make([]pocket, len(d.at))
	for i, e := range d.at {
		half := 0.5 * e.line.gas.reachM3
		p := &out[i]
		p.c3, p.floor, p.stepS = g.amount(half), d.ends[i].ElevationM+g.VaporHeadM, stepS
		p.volume = p.c3 / math.Max(d.ends[i].H-p.floor, 1e-6)
	}
	return out
}

// flow is what leaves the pocket into the node at the head, with its slope: the pipe's
// flow and what the gas gives way.
func (p *pocket) flow(headM float64) (q, slope float64) {
	x := headM - p.floor
	return (p.c-headM)/p.b + (p.c3/x-p.volume)/p.stepS, -1/p.b - p.c3/(x*x*p.stepS)
}

// close finds the volume after the step. Near vapor pressure the head is too close to the
// floor to tell it, but the flows do.
func (p *pocket) close(e *End) {
	p.next = p.c3 / (e.H - p.floor)
	if grown := p.volume + p.stepS*(e.Q-(p.c-e.H)/p.b); e.H-p.floor < nearFloorM && grown > 0 {
		p.next = grown
	}
}

// nearFloorM is the head above vapor below which volumes are told by flows.
const nearFloorM = 1e-3

// errPocket means that gas at a node and the boundary there found no common head.
var errPocket = errors.New("gas at the node and the boundary there have no common head")

const (
	pocketTries = 60
	pocketM     = 1e-9
)

// solve lets the boundary find its heads. Where gas stands at the ends, each end is
// offered as the straight line that touches its curve, until the head stays.
func (d *node) solve(s Step) error {
	if d.pockets == nil {
		return d.boundary.Solve(s, d.ends)
	}
	for i := range d.pockets {
		p := &d.pockets[i]
		p.c, p.b = d.ends[i].C, d.ends[i].B
	}
	for range pocketTries {
		for i := range d.pockets {
			p, e := &d.pockets[i], &d.ends[i]
			head := math.Max(e.H, p.floor+1e-9)
			q, slope := p.flow(head)
			e.B = -1 / slope
			e.C = head + e.B*q
			e.H = head
		}
		moved, err := d.try(s)
		if err != nil {
			return err
		}
		if moved < pocketM {
			for i := range d.pockets {
				p := &d.pockets[i]
				p.close(&d.ends[i])
			}
			return nil
		}
	}
	return errPocket
}

// try solves the boundary once and tells how far the heads moved. A head below vapor is
// drawn back above it, closer each time.
func (d *node) try(s Step) (moved float64, err error) {
	var before [8]float64
	held := before[:0]
	for i := range d.ends {
		held = append(held, d.ends[i].H)
	}
	if err := d.boundary.Solve(s, d.ends); err != nil {
		return 0, err
	}
	for i := range d.ends {
		e, p := &d.ends[i], &d.pockets[i]
		if e.H <= p.floor {
			e.H = p.floor + 0.1*(held[i]-p.floor)
		}
		moved = math.Max(moved, math.Abs(e.H-held[i])/(1+math.Abs(e.H)))
	}
	return moved, nil
}

// settle ends the step at an end and gives the flow from the pipe towards it: that into
// the node, but for what gas at the end gives way.
func (d *node) settle(i int) float64 {
	if d.pockets == nil {
		return d.ends[i].Q
	}
	p := &d.pockets[i]
	p.volume = p.next
	e := d.at[i]
	k := 0
	if e.atTo {
		k = e.line.last()
	}
	e.line.gas.volume1[k] = p.next
	return (p.c - d.ends[i].H) / p.b
}
