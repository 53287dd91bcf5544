package transient

// Branch is a chain from a supply into one pipe: wet well, pump, check valve, fittings,
// and then the pipe.
type Branch struct {
	Supply   Supply
	Parallel int // at a Header: so many like branches in like flow; 0 means 1
	*Chain
}

// count is how many branches it stands for.
func (b *Branch) count() float64 { return float64(max(1, b.Parallel)) }

// Start takes the steady flow.
func (b *Branch) Start(ends []End) error {
	if len(ends) != 1 {
		return errEnds(1, len(ends))
	}
	b.begin(-ends[0].Q)
	return nil
}

// Solve finds the flow into the pipe, which offers −C − B Q to the chain.
func (b *Branch) Solve(s Step, ends []End) error {
	e := &ends[0]
	supply := b.Supply.HeadAt(s.TimeS, s.StepS, b.flow)
	q, err := b.solve(s, supply-e.C, e.B)
	if err != nil {
		return err
	}
	e.Q = -q
	e.H = e.C + e.B*q
	return nil
}

// Commit ends the step.
func (b *Branch) Commit(s Step, ends []End) {
	b.commit(s, -ends[0].Q, b.Supply.HeadAt(s.TimeS, s.StepS, b.flow)-ends[0].H)
}

func (b *Branch) oneFlow() {}
