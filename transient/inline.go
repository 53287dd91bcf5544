package transient

import "fmt"

// Inline is a chain between two pipes: a check valve in a main, a booster pump, a short
// pipe as a rigid column. Flow counts from the first pipe to the second, in the order in
// which the model lists them.
type Inline struct{ *Chain }

func errEnds(want, got int) error {
	return fmt.Errorf("%d pipes meet here; it takes %d", got, want)
}

// Start takes the steady flow.
func (b *Inline) Start(ends []End) error {
	if len(ends) != 2 {
		return errEnds(2, len(ends))
	}
	b.begin(ends[0].Q)
	return nil
}

// Solve finds the flow between the two characteristics.
func (b *Inline) Solve(s Step, ends []End) error {
	from, to := &ends[0], &ends[1]
	q, err := b.solve(s, from.C-to.C, from.B+to.B)
	if err != nil {
		return err
	}
	from.Q, to.Q = q, -q
	from.H, to.H = from.C-from.B*q, to.C+to.B*q
	return nil
}

// Commit ends the step.
func (b *Inline) Commit(s Step, ends []End) { b.commit(s, ends[0].Q, ends[0].H-ends[1].H) }

func (b *Inline) oneFlow() {}
