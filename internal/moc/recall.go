package moc

// Memory is one exponential of the memory over one step.
type Memory struct {
	Decay float64 // share of the state that is left
	Gain  float64 // m of head per m3/s of change
}

// Recall moves one exponential of unsteady friction on by a step, node by node: the state
// falls by decay and takes in the change of flow (m3/s), and the loss (m) gains it,
//
//	state = state decay + change gain,  loss = loss + state.
//
// The slices are of one length; were they not, the shortest would count. They must not
// overlap.
//
// Source: Trikha (1975), the recursive form of Zielke's (1968) convolution (from memory).
func Recall(state, loss, change []float64, m Memory) {
	n := min(len(state), len(loss), len(change))
	chosen.recall(state[:n], loss[:n], change[:n], m)
}

func plainRecall(state, loss, change []float64, m Memory) {
	loss, change = loss[:len(state)], change[:len(state)]
	for i, s := range state {
		s = float64(s*m.Decay) + float64(change[i]*m.Gain)
		state[i] = s
		loss[i] += s
	}
}
