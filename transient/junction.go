package transient

// Junction joins pipes without loss, or ends one: H is common and flows add to nothing.
// With a single end it is a dead end.
type Junction struct{ OutflowM3S float64 }

// Solve finds the common head, H = (Σ C/B − outflow)/Σ 1/B.
func (b Junction) Solve(_ Step, ends []End) error {
	c, y := offer(ends)
	head := (c - b.OutflowM3S) / y
	meetAll(ends, head)
	if len(ends) == 1 {
		ends[0].Q = b.OutflowM3S // to the last digit
	}
	return nil
}

// Commit has nothing to do.
func (Junction) Commit(Step, []End) {}
