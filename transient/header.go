package transient

import (
	"errors"
	"math"
)

// Header joins pipes and any number of branches in parallel whose own pipes are too short
// for waves: each branch is a chain from its supply, with its own pump and check valve.
type Header struct {
	Branches []*Branch
	FlowsM3S []float64 // of each branch at the start, into the header

	found []float64
}

// Start takes the steady flows.
func (b *Header) Start([]End) error {
	if len(b.FlowsM3S) != len(b.Branches) {
		return errors.New("each branch needs its flow at the start")
	}
	b.found = make([]float64, len(b.Branches))
	for i, br := range b.Branches {
		br.begin(b.FlowsM3S[i])
	}
	return nil
}

const headerTries = 100

// Solve finds the head at which flows add to nothing. The sum falls as the head rises, so
// its root is bracketed and drawn in by the rule of Illinois (Dowell and Jarratt 1971).
func (b *Header) Solve(s Step, ends []End) error {
	if len(b.Branches) == 1 {
		return b.single(s, ends)
	}
	excess := func(head float64) (float64, error) {
		sum := 0.0
		for i := range ends {
			ends[i].meet(head)
			sum += ends[i].Q
		}
		for i, br := range b.Branches {
			q, err := br.solve(s, br.Supply.HeadAt(s.TimeS, s.StepS, br.flow)-head, 0)
			if err != nil {
				return 0, err
			}
			b.found[i] = q
			sum += q * br.count()
		}
		return sum, nil
	}
	// The sum falls without end, at least as fast as one pipe takes up.
	low, high := ends[0].H-1, ends[0].H+1
	under, err := excess(low)
	for width := 2.0; err == nil && under < 0; width *= 2 {
		low -= width
		under, err = excess(low)
	}
	if err != nil {
		return err
	}
	over, err := excess(high)
	for width := 2.0; err == nil && over > 0; width *= 2 {
		high += width
		over, err = excess(high)
	}
	if err != nil {
		return err
	}
	return illinois(low, high, under, over, excess)
}

// single is the case of one branch, or of like ones: the pipes offer it the head of a
// junction into which its flow goes.
func (b *Header) single(s Step, ends []End) error {
	c, y := offer(ends)
	br := b.Branches[0]
	q, err := br.solve(s, br.Supply.HeadAt(s.TimeS, s.StepS, br.flow)-c/y, br.count()/y)
	if err != nil {
		return err
	}
	b.found[0] = q
	meetAll(ends, (c+q*br.count())/y)
	return nil
}

// sameHeadM is how closely the common head is found, m.
const sameHeadM = 1e-9

// illinois draws in the bracket until the head is known to round-off, by halves where the
// rule is slow: at the jump of a valve there is no flow at which the sum is nothing, and
// what stands at the bracket's last head is taken.
//
// It stands beside internal/root because it runs in every step: it ends where the sum is
// nothing and with ends and branches as they are at the last head, after 6 tries in a pump
// stop, where root.Around takes 11 to know the head itself to round-off.
func illinois(low, high, under, over float64, excess func(float64) (float64, error)) error {
	side, before := 0, math.Inf(1)
	for k := range headerTries {
		head := high
		if under != over {
			head = (low*over - high*under) / (over - under)
		}
		if k%3 == 2 {
			if high-low > before/8 {
				head = low + (high-low)/2
			}
			before = high - low
		}
		sum, err := excess(head)
		if err != nil {
			return err
		}
		if high-low <= sameHeadM || math.Abs(sum) < 1e-12 {
			return nil
		}
		switch {
		case sum > 0:
			low, under = head, sum
			if side > 0 {
				over /= 2
			}
			side = 1
		default:
			high, over = head, sum
			if side < 0 {
				under /= 2
			}
			side = -1
		}
	}
	return nil
}

// Commit ends the step.
func (b *Header) Commit(s Step, ends []End) {
	for i, br := range b.Branches {
		br.commit(s, b.found[i], br.Supply.HeadAt(s.TimeS, s.StepS, br.flow)-ends[0].H)
	}
}
