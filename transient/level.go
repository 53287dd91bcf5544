package transient

// Level is a constant head: a reservoir, an outlet into open water. It is a Boundary and
// a Supply.
type Level struct{ HeadM float64 }

// Solve holds the head.
func (b Level) Solve(_ Step, ends []End) error {
	meetAll(ends, b.HeadM)
	return nil
}

// Commit has nothing to do.
func (Level) Commit(Step, []End) {}

// HeadAt is the level.
func (b Level) HeadAt(float64, float64, float64) float64 { return b.HeadM }
