package transient

import "math"

// pocket is the gas of half a reach at a pipe end. With x the head above vapor its volume
// is c3/x, and what the end gives the node at the head H is the flow of the pipe and what
// the gas gives way,
//
//	Q = (c − H)/b + (c3/x − volume)/Δt,
//
// which falls as the head rises.
type pocket struct {
	c3, floor, volume, stepS float64
	c, b                     float64 // of the pipe alone
	low, high                float64 // heads between which that of the step lies, as far as is known
	held                     float64 // head at which the line touches
	next, pipe               float64 // volume after the step, and flow of the pipe towards the node
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

// touch offers the end as the straight line that touches the curve at the head.
func (p *pocket) touch(e *End, headM float64) {
	x := headM - p.floor
	q := (p.c-headM)/p.b + (p.c3/x-p.volume)/p.stepS
	e.B = 1 / (1/p.b + p.c3/(x*x*p.stepS))
	e.C, e.H = headM+e.B*q, headM
	p.held = headM
}

// hold finds what the end does when it gives the node the flow: x is the positive root of
//
//	x² Δt/b + y x − c3 = 0,  y = volume + Δt (Q − (c − floor)/b),
//
// in the form that loses no digits, as at the inner nodes.
func (p *pocket) hold(flow float64) (headM float64) {
	k := p.stepS / p.b
	y := p.volume + p.stepS*flow - k*(p.c-p.floor)
	d := math.Sqrt(y*y + 4*k*p.c3)
	x := (d - y) / (2 * k)
	p.next = (d + y) / 2
	if y > 0 {
		x = 2 * p.c3 / (y + d)
	} else {
		p.next = p.c3 / x
	}
	headM = p.floor + x
	p.pipe = (p.c - p.floor - x) / p.b
	return headM
}

// close ends the step at the head and flow of the end. Near vapor pressure the head is too
// close to the floor to tell the volume, but the flows do; else the gas tells it, and the
// pipe brings the rest, so that no volume is lost.
func (p *pocket) close(e *End) {
	p.pipe = (p.c - e.H) / p.b
	if p.next = p.volume + p.stepS*(e.Q-p.pipe); e.H-p.floor < nearFloorM && p.next > 0 {
		return
	}
	p.next = p.c3 / (e.H - p.floor)
	p.pipe = e.Q - (p.next-p.volume)/p.stepS
}

const (
	pocketTries = 100
	// looseMS is the velocity, m/s, above which a step is reported in which a valve stands just
	// between shut and open, and every try takes the other side.
	looseMS     = 0.01
	nearFloorM  = 1e-3  // head above vapor below which volumes are worked out from flows
	pocketM     = 1e-9  // heads closer than this are the same
	pocketShare = 1e-6  // of the flow: far less than the gas by volume matters
	pocketM3S   = 1e-12 // and at least so much
)

// oneFlow is a boundary through which one flow runs: into the first end, out of the second.
type oneFlow interface{ oneFlow() }

// solve lets the boundary find its heads. Where gas stands at the ends, each end is
// offered as the straight line that touches its curve, until what is found lies on it. The
// boundary takes more flow as the head rises, so each try tells on which side of the touch
// the answer lies. Where a valve just between shut and open leaves no answer the bracket
// closes on the jump, and the step ends with what the valve did last: nothing is lost but
// the instant at which it shut within the step.
func (d *node) solve(s Step) error {
	if d.pockets == nil {
		return d.boundary.Solve(s, d.ends)
	}
	for i := range d.pockets {
		p := &d.pockets[i]
		p.c, p.b = d.ends[i].C, d.ends[i].B
	}
	if _, ok := d.boundary.(oneFlow); ok {
		return d.solveFlow(s)
	}
	return d.solveHead(s)
}

// solveFlow seeks the flow that the ends have in common; their heads follow from it.
func (d *node) solveFlow(s Step) error {
	flow, side := d.ends[0].Q, bracket{math.Inf(-1), math.Inf(1)}
	for range pocketTries {
		for i, sign := 0, 1.0; i < len(d.ends); i, sign = i+1, -sign {
			d.pockets[i].touch(&d.ends[i], d.pockets[i].hold(sign*flow))
		}
		if err := d.boundary.Solve(s, d.ends); err != nil {
			return err
		}
		found := d.ends[0].Q
		least := pocketShare*math.Abs(found) + pocketM3S
		fits := true
		for i := range d.ends {
			e := &d.ends[i]
			line := e.H
			e.H = d.pockets[i].hold(e.Q)
			off := math.Abs(e.H - line)
			fits = fits && (off <= pocketM*(1+math.Abs(e.H)) || off <= e.B*least)
		}
		if fits {
			return nil
		}
		next := side.narrow(flow, found)
		if side.width() <= least {
			break
		}
		flow = next
	}
	d.left(math.Abs(d.ends[0].Q - flow))
	return nil
}

// left counts a step in which so much flow was left open at the first end.
func (d *node) left(flow float64) {
	line := d.at[0].line
	if flow > looseMS*line.pipe.AreaM2()*line.weight(d.at[0].atTo) {
		d.loose++
	}
}

// solveHead seeks the heads of ends that share one, or are each by themselves.
func (d *node) solveHead(s Step) error {
	floor := math.Inf(-1)
	for i := range d.pockets {
		floor = math.Max(floor, d.pockets[i].floor)
	}
	for i := range d.pockets {
		p := &d.pockets[i]
		p.low, p.high = floor, math.Inf(1)
		p.held = math.Max(d.ends[i].H, floor+1e-13)
	}
	for range pocketTries {
		for i := range d.pockets {
			d.pockets[i].touch(&d.ends[i], d.pockets[i].held)
		}
		if err := d.boundary.Solve(s, d.ends); err != nil {
			return err
		}
		fits, done := true, true
		for i := range d.ends {
			e, p := &d.ends[i], &d.pockets[i]
			fits = fits && p.fits(e)
			p.narrow(e.H, floor)
			done = done && p.high-p.low <= 1e-12*(1+math.Abs(p.held))
		}
		if fits || done {
			if !fits {
				for i := range d.ends {
					d.ends[i].H = d.pockets[i].held
				}
			}
			break
		}
	}
	for i := range d.ends {
		d.pockets[i].close(&d.ends[i])
	}
	return nil
}

// fits is true when the head and flow found at the end lie on its curve.
func (p *pocket) fits(e *End) bool {
	x := e.H - p.floor
	if x <= 0 {
		return false
	}
	q := (p.c-e.H)/p.b + (p.c3/x-p.volume)/p.stepS
	return math.Abs(e.H-p.held) <= pocketM*(1+math.Abs(e.H)) || math.Abs(q-e.Q) <= pocketShare*math.Abs(e.Q)+pocketM3S
}

// narrow takes the head found with the line into the bracket, and chooses where the line
// touches next: there, or inside the bracket by the logarithm of the head above vapor.
func (p *pocket) narrow(found, floor float64) {
	if found > p.held {
		p.low = p.held
	} else {
		p.high = p.held
	}
	switch {
	case found > p.low && found < p.high:
		p.held = found
	case p.low == floor:
		p.held = floor + 0.1*(p.high-floor)
	case !math.IsInf(p.high, 1):
		p.held = floor + math.Sqrt((p.low-floor)*(p.high-floor))
	}
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
	return p.pipe / weight
}
