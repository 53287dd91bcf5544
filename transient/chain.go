package transient

import "math"

// Chain is elements in series that carry one flow: sources of head, fittings, the column
// of a pipe too short for waves, and at most one device that decides the flow.
type Chain struct {
	Sources     []Source
	Device      Device  // nil without
	LossS2M5    float64 // fittings: head k Q|Q|
	InertanceS2 float64 // L/(gA) of short pipes, s²/m²; rigid column

	flow   float64 // at the end of the last step
	step   float64 // by which it changed in that step
	drop   float64 // head lost in the device then, m
	last   trial
	first  point   // of the sources at the flow from which a step starts its search
	gained float64 // head that all but the device add at the flow found last, m
}

// point is what all but the device add at a flow, in the step to a time.
type point struct{ timeS, flow, head, slope float64 }

// trial is what the device was offered last.
type trial struct{ from, to, z float64 }

const (
	chainTries = 100
	chainShare = 1e-6  // of the flow, by which a solution may be off
	chainM3S   = 1e-13 // and at least so much
	// leastSlope is the share of the slopes that a line offered to the device falls by at
	// least, and leastZSM2 the least fall, s/m²: far below that of any pipe.
	leastSlope = 0.05
	leastZSM2  = 1e-3
)

// begin takes the steady flow.
func (c *Chain) begin(flowM3S float64) {
	c.flow = flowM3S
	if c.Device != nil {
		c.drop = c.Device.DropM(flowM3S)
	}
}

// gain is the head that all but the device add at the flow, and its slope.
func (c *Chain) gain(s Step, q float64) (head, slope float64) {
	for _, e := range c.Sources {
		h, d := e.Gain(s.TimeS, s.StepS, q)
		head, slope = head+h, slope+d
	}
	inertia := c.InertanceS2 / s.StepS
	head -= c.LossS2M5*q*math.Abs(q) + inertia*(q-c.flow)
	slope -= 2*c.LossS2M5*math.Abs(q) + inertia
	return head, slope
}

// solve finds the flow of the chain between a circuit that offers it the head
// offer − z Q. Sources are taken as straight lines through the point tried, until the flow
// stays: lines that touch, as long as the circuit with them takes less flow the more head
// it must give. Where the pump's head rises with the flow more steeply than the pipe takes
// up, a line that falls leads on in small steps, to the nearest flow that holds.
//
// Each try tells on which side the answer lies. Where the device jumps from one state to
// another within the step the bracket closes on the jump, and what the device did last
// stands.
func (c *Chain) solve(s Step, offer, z float64) (float64, error) {
	q := c.flow + c.step // as it has been going
	side := bracket{math.Inf(-1), math.Inf(1)}
	if f := &c.first; f.timeS != s.TimeS || f.flow != q {
		f.timeS, f.flow = s.TimeS, q
		f.head, f.slope = c.gain(s, q)
	}
	head, slope := c.first.head, c.first.slope
	next := q
	for range chainTries {
		whole := z - slope
		if least := leastSlope*(z+math.Abs(slope)) + leastZSM2; whole < least {
			whole = math.Max(z+math.Abs(slope), leastZSM2)
		}
		free := q + (offer-z*q+head)/whole
		next = free
		if c.Device != nil {
			c.last = trial{c.flow + c.drop/whole, free, whole}
			var err error
			if next, err = c.Device.Flow(s.TimeS, s.StepS, c.last.from, c.last.to, whole); err != nil {
				return 0, err
			}
		}
		// What the straight line misses at the flow found is what a further round would mend.
		there, bent := c.gain(s, next)
		c.gained = there
		least := chainShare*math.Abs(next) + chainM3S
		if math.Abs(there-head+(whole-z)*(next-q)) <= whole*least {
			return next, nil
		}
		to := side.narrow(q, next)
		if side.width() <= least {
			return next, nil
		}
		if to != next {
			there, bent = c.gain(s, to)
		}
		q, head, slope = to, there, bent
	}
	return next, nil
}

// commit ends the step with the flow that solve found, between ends of which the first has
// so much more head.
func (c *Chain) commit(s Step, q, moreM float64) {
	if c.Device != nil {
		c.Device.Commit(s.TimeS, s.StepS, c.last.from, c.last.to, c.last.z)
		c.drop = moreM + c.gained
	}
	for _, e := range c.Sources {
		e.Commit(s.TimeS, s.StepS, q)
	}
	c.flow, c.step = q, q-c.flow
}

// FlowM3S is the flow at the end of the last step.
func (c *Chain) FlowM3S() float64 { return c.flow }

// DropM is the head lost in the device at the end of the last step.
func (c *Chain) DropM() float64 { return c.drop }
