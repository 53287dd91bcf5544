package transient

import (
	"errors"
	"fmt"
	"math"
)

// Chain is elements in series that carry one flow: sources of head, fittings, the column
// of a pipe too short for waves, and at most one device that decides the flow.
type Chain struct {
	Sources     []Source
	Device      Device  // nil without
	LossS2M5    float64 // fittings: head k Q|Q|
	InertanceS2 float64 // L/(gA) of short pipes, s²/m²; rigid column

	flow float64 // at the end of the last step
	step float64 // by which it changed in that step
	drop float64 // head lost in the device then, m
	last trial
}

// trial is what the device was offered last.
type trial struct{ from, to, z float64 }

// errChain means that the elements of a chain found no common flow.
var errChain = errors.New("the elements in line find no common flow")

const (
	chainTries = 60
	chainShare = 1e-6  // of the flow, by which a solution may be off
	chainM3S   = 1e-13 // and at least so much
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
// offer − z Q. Sources are taken as straight lines that touch them, until the flow stays.
func (c *Chain) solve(s Step, offer, z float64) (float64, error) {
	q := c.flow + c.step // as it has been going
	low, high := math.Inf(-1), math.Inf(1)
	head, slope := c.gain(s, q)
	for range chainTries {
		whole := z - slope
		if !(whole > 0) {
			return 0, fmt.Errorf("the pump's head rises with the flow, near %.3g m³/s, more steeply than the pipe takes up: two flows are possible", q)
		}
		free := (offer + head - slope*q) / whole
		next := free
		if c.Device != nil {
			c.last = trial{c.flow + c.drop/whole, free, whole}
			var err error
			if next, err = c.Device.Flow(s.TimeS, s.StepS, c.last.from, c.last.to, whole); err != nil {
				return 0, err
			}
		}
		// What the straight line misses at the flow found is what a further round would mend.
		there, bent := c.gain(s, next)
		if math.Abs(there-head-slope*(next-q)) <= whole*(chainShare*math.Abs(next)+chainM3S) {
			return next, nil
		}
		// Straight lines may overshoot for ever round a bend in a curve: a bracket ends it.
		if next > q {
			low = math.Max(low, q)
		} else {
			high = math.Min(high, q)
		}
		q, head, slope = next, there, bent
		if q <= low || q >= high {
			q = within(low, high)
			head, slope = c.gain(s, q)
		}
		if high-low <= chainShare*math.Abs(q)+chainM3S {
			return q, nil
		}
	}
	return 0, errChain
}

// within is a flow between two, one of which may not be known yet.
func within(low, high float64) float64 {
	switch {
	case math.IsInf(low, -1):
		return high - math.Abs(high) - 1e-3
	case math.IsInf(high, 1):
		return low + math.Abs(low) + 1e-3
	}
	return low + (high-low)/2
}

// commit ends the step with the flow that solve found.
func (c *Chain) commit(s Step, q float64) {
	if c.Device != nil {
		c.Device.Commit(s.TimeS, s.StepS, c.last.from, c.last.to, c.last.z)
		c.drop = c.last.z * (c.last.to - q)
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
