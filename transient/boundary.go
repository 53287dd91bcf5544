package transient

// Step is one step of time.
type Step struct {
	TimeS float64 // at its end
	StepS float64
}

// End is one pipe end as a node sees it: H = C − B Q, with Q in m³/s from the pipe into
// the node.
type End struct {
	C          float64 // m
	B          float64 // s/m²
	ElevationM float64
	H, Q       float64 // found by Solve
}

// meet sets the head and the flow that goes with it.
func (e *End) meet(headM float64) {
	e.H, e.Q = headM, (e.C-headM)/e.B
}

// offer joins the ends of a node: at the common head H the flows into it sum to c − y H.
func offer(ends []End) (c, y float64) {
	for i := range ends {
		c += ends[i].C / ends[i].B
		y += 1 / ends[i].B
	}
	return c, y
}

// meetAll gives every end the head.
func meetAll(ends []End, headM float64) {
	for i := range ends {
		ends[i].meet(headM)
	}
}

// Boundary is what pipes meet at a node.
type Boundary interface {
	// Solve finds H and Q of every end at the end of the step. It may be called several
	// times for one step, and changes nothing in the boundary. The error says why there
	// is no answer.
	Solve(s Step, ends []End) error
	// Commit ends the step with what Solve found last.
	Commit(s Step, ends []End)
}

// Starter is a boundary that takes its own state from the flow at the start.
type Starter interface {
	Start(ends []End) error
}

// Supply is a head from which a branch draws: a level.
type Supply interface {
	// HeadAt is the head, m, at the end of the step while the branch draws the flow.
	HeadAt(timeS, stepS, flowM3S float64) float64
}

// Source is an element in line that adds head: a pump.
type Source interface {
	// Gain is the head added at the end of the step if the flow is then flowM3S, m, and
	// its slope with the flow, s/m². It changes nothing.
	Gain(timeS, stepS, flowM3S float64) (headM, slope float64)
	// Commit ends the step with the flow.
	Commit(timeS, stepS, flowM3S float64)
}

// Device is an element in line that decides the flow by itself: a check valve, a
// control valve. The rest of the circuit offers it
//
//	Q = free − ΔH/Z
//
// where free, the flow without it, runs evenly from one value to another over the step.
type Device interface {
	// Flow is the flow through it at the end of the step, m³/s, for the free flows in
	// m³/s and Z in s/m². It changes nothing.
	Flow(timeS, stepS float64, from, to, zSM2 float64) (float64, error)
	// Commit ends the step that Flow would give.
	Commit(timeS, stepS float64, from, to, zSM2 float64)
	// DropM is the head lost in it under the steady flow, by which a run starts.
	DropM(flowM3S float64) float64
}
