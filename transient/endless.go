package transient

// Endless goes on for ever: no wave comes back from it. It stands for a pipe so long that
// what happens at its far end does not matter.
type Endless struct{ from []float64 }

// Start keeps what comes from far away: the steady flow.
func (b *Endless) Start(ends []End) error {
	b.from = make([]float64, len(ends))
	for i := range ends {
		b.from[i] = ends[i].H - ends[i].B*ends[i].Q
	}
	return nil
}

// Solve meets the wave that arrives with the steady flow of a like pipe beyond.
func (b *Endless) Solve(_ Step, ends []End) error {
	for i := range ends {
		ends[i].meet((ends[i].C + b.from[i]) / 2)
	}
	return nil
}

// Commit has nothing to do.
func (*Endless) Commit(Step, []End) {}
