package transient

import (
	"errors"
	"math"
)

// pocket is the gas of half a reach at a pipe end.
type pocket struct {
	c3, floor, volume, next float64
	c, b                    float64 // of the pipe alone
	held                    float64 // head at which the line touches
	stepS                   float64
}

func newPockets(d *node, g *Gas, stepS float64) []pocket {
	out := make([]pocket, len(d.at))
	for i, e := range d.at {
		half := 0.5 * e.line.gas.reachM3 * e.line.weight(e.atTo)
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
	pocketTries = 120
	// pocketPatience is the number of tries after which steps are halved.
	pocketPatience = 30
	// looseMS is the velocity, m/s, up to which a flow may be left open where a valve stands
	// just between shut and open and every try takes the other side.
	looseMS     = 0.01
	pocketM     = 1e-9  // heads closer than this are the same
	pocketShare = 1e-6  // of the flow: far less than the gas by volume matters
	pocketM3S   = 1e-12 // and at least so much
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
	for k := range pocketTries {
		for i := range d.pockets {
			p, e := &d.pockets[i], &d.ends[i]
			head := math.Max(e.H, p.floor+1e-13)
			q, slope := p.flow(head)
			e.B = -1 / slope
			e.C = head + e.B*q
			e.H = head
		}
		fits, err := d.try(s, k >= pocketPatience)
		if err != nil {
			return err
		}
		if fits {
			for i := range d.pockets {
				p := &d.pockets[i]
				p.close(&d.ends[i])
			}
			return nil
		}
	}
	if !d.closeEnough() {
		return errPocket
	}
	d.loose++
	return nil
}

// closeEnough is true when no flow is left open by more than looseMS.
func (d *node) closeEnough() bool {
	for i := range d.ends {
		e, p := &d.ends[i], &d.pockets[i]
		if e.H <= p.floor {
			return false
		}
		line := d.at[i].line
		q, _ := p.flow(e.H)
		if !(math.Abs(q-e.Q) <= looseMS*line.pipe.AreaM2()*line.weight(d.at[i].atTo)) {
			return false
		}
		p.close(e)
	}
	return true
}

// try solves the boundary once and tells whether the lines still touch their curves at the
// heads found. A head below vapor is drawn back above it, closer each time.
func (d *node) try(s Step, halve bool) (fits bool, err error) {
	for i := range d.ends {
		d.pockets[i].held = d.ends[i].H
	}
	if err := d.boundary.Solve(s, d.ends); err != nil {
		return false, err
	}
	fits = true
	for i := range d.ends {
		e, p := &d.ends[i], &d.pockets[i]
		same := math.Abs(e.H-p.held) <= pocketM*(1+math.Abs(e.H))
		if e.H <= p.floor {
			e.H = p.floor + 0.1*(p.held-p.floor)
		} else if q, _ := p.flow(e.H); math.Abs(q-e.Q) <= pocketShare*math.Abs(e.Q)+pocketM3S {
			same = true
		}
		if fits = fits && same; halve && !same {
			e.H += (p.held - e.H) / 2 // lines that take turns are led to their middle
		}
	}
	return fits, nil
}

// settle ends the step at an end and gives the flow from the pipe towards it: that into
// the node, but for what gas at the end gives way.
func (d *node) settle(i int) float64 {
	e := d.at[i]
	weight := e.line.weight(e.atTo)
	if d.pockets == nil {
		return d.ends[i].Q / weight
	}
	p := &d.pockets[i]
	p.volume = p.next
	k := 0
	if e.atTo {
		k = e.line.last()
	}
	e.line.gas.volume1[k] = p.next / weight
	return (p.c - d.ends[i].H) / p.b / weight
}
