package moc

// Memory is one exponential of the memory over one step.
type Memory struct {
	Decay float64 // share of the state that is left
	Gain  float64 // m of head per m3/s of change
}

// Friction is that which remembers, at the nodes of one pipe.
type Friction struct {
	Terms  []Memory
	AtOnce float64   // gain of what a step forgets, m of head per m3/s of change
	State  []float64 // of each exponential, m, node by node, one exponential after another
	Loss   []float64 // of the step's end, m
}

// Recall moves the friction on by a step from the flows q0 to the flows q1 (m3/s), node by
// node: the state of each exponential falls by its decay and takes in the change of flow,
// and the loss is the sum of the states, with what is forgotten at once,
//
//	state = state decay + (q1 − q0) gain,  loss = (q1 − q0) at once + Σ state.
//
// The flows and the loss are of one length, and must not overlap.
//
// Source: Trikha (1975), the recursive form of Zielke's (1968) convolution (from memory).
func (f *Friction) Recall(q1, q0 []float64) {
	n := len(f.Loss)
	_ = f.State[:n*len(f.Terms)] // the loops rely on it
	chosen.recall(f, q1[:n], q0[:n])
}

func plainRecall(f *Friction, q1, q0 []float64) { f.recallFrom(0, q1, q0) }

// recallFrom does the nodes from one on.
func (f *Friction) recallFrom(from int, q1, q0 []float64) {
	n := len(f.Loss)
	for i := from; i < n; i++ {
		change := q1[i] - q0[i]
		sum := float64(change * f.AtOnce)
		own := i
		for _, m := range f.Terms {
			s := float64(f.State[own]*m.Decay) + float64(change*m.Gain)
			f.State[own] = s
			sum += s
			own += n
		}
		f.Loss[i] = sum
	}
}
