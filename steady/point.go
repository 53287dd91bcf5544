package steady

import (
	"math"
)

// Outcome says what became of a combination.
type Outcome uint8

// The outcomes.
const (
	Flowing   Outcome = iota // at least one branch delivers
	NoFlow                   // the static head, or a high point, is above what the branches give at shut-off
	Unlimited                // nothing in the system limits the flow: source and losses are not those of a station
	Unsettled                // a device jumps, and no flow balances to round-off; see ResidualM
)

// String says the outcome in plain words.
func (o Outcome) String() string {
	return [...]string{"flowing", "no flow", "flow without limit", "no balance"}[o]
}

// FlagKind says what is to be noted beside an operating point.
type FlagKind uint8

// The kinds of flag. What SI and LimitSI of the Flag hold stands beside each.
const (
	PushedShut    FlagKind = iota // a running branch cannot open its check valve: header head and its head at shut-off, m
	Runout                        // a branch flows beyond the end of its source's range: flow and end, m3/s
	BelowRange                    // a branch flows less than the start of its source's range: flow and start, m3/s
	AboveShutOff                  // a branch runs above its head at shut-off: started last, it could not open: header head and shut-off head, m
	HighPoint                     // a high point sets the head, and the main runs partly open beyond it: its height and the static head, m
	Unstable                      // a small change of flow grows: flow, m3/s
	OtherStates                   // other balanced states exist, see Others: their number
	NotOpened                     // the pump does not open the valve: header head and the pump's own head at shut-off, m, between which the valve needs more
	OthersUnknown                 // the curves turn so often that other states were not looked for
)

// Flag is one thing to be noted beside an operating point.
type Flag struct {
	Kind        FlagKind
	Branch      int // index in System.Branches, or -1
	SI, LimitSI float64
}

// BranchPoint is what one running branch does.
type BranchPoint struct {
	Branch      int // index in System.Branches
	FlowM3S     float64
	SourceHeadM float64   // at its flow
	ShutOffM    float64   // net head that opens the check valve, above the wet well
	LossM       []float64 // of each element, in order
	PushedShut  bool      // the check valve stays closed, flow zero
}

// ReachPoint is what one reach of the main does.
type ReachPoint struct {
	LossM []float64 // of each element, in order
	LiftM float64   // its end above the wet well
	HeadM float64   // head line at its end above the wet well, running full
}

// OtherState is a balanced state that is not the one reached from shut-off.
type OtherState struct {
	FlowM3S     float64   // of the main
	HeaderHeadM float64   // above the wet well
	BranchM3S   []float64 // flow of each running branch, in the order of Running
	Stable      bool      // a small change of flow dies out
}

// OperatingPoint is the answer for one combination of running branches at one
// level. Heads are above the wet-well level.
type OperatingPoint struct {
	Running     []int // indices in System.Branches
	Level       Level
	Outcome     Outcome
	FlowM3S     float64 // of the main
	HeaderHeadM float64
	StaticHeadM float64       // level to level
	Branches    []BranchPoint // in the order of Running
	Reaches     []ReachPoint
	MainLossM   float64 // losses of the reaches up to the Control
	Control     int     // reach whose end sets the head: the last, or a high point
	ResidualM   float64 // greatest head that is left unbalanced
	Others      []OtherState
	Flags       []Flag
}

// Has is true when the point carries a flag of the kind.
func (p *OperatingPoint) Has(kind FlagKind) bool {
	for _, f := range p.Flags {
		if f.Kind == kind {
			return true
		}
	}
	return false
}

func (p *OperatingPoint) flag(kind FlagKind, branch int, si, limit float64) {
	p.Flags = append(p.Flags, Flag{kind, branch, si, limit})
}

// point writes down a state as an operating point.
func (b *balance) point(s state, others []state, running []int) OperatingPoint {
	p := OperatingPoint{
		Running: running, Level: b.main.level, FlowM3S: s.totalM3S, HeaderHeadM: s.headM,
		StaticHeadM: b.main.level.StaticHeadM(), ResidualM: s.residualM,
	}
	switch {
	case s.totalM3S == 0:
		p.Outcome = NoFlow
	case !b.closed(s):
		p.Outcome = Unsettled
	}
	for _, i := range running {
		at := b.partyOf(i)
		p.addBranch(b.parties[at], i, s.flows[at])
	}
	p.addMain(b.main)
	if !s.stable {
		p.flag(Unstable, -1, s.totalM3S, 0)
	}
	for _, o := range others {
		p.Others = append(p.Others, b.other(o, running))
	}
	if len(others) > 0 {
		p.flag(OtherStates, -1, float64(len(others)), 0)
	}
	return p
}

func (b *balance) partyOf(branch int) int {
	for at, party := range b.parties {
		for _, m := range party.members {
			if m == branch {
				return at
			}
		}
	}
	return 0
}

func (b *balance) other(s state, running []int) OtherState {
	o := OtherState{FlowM3S: s.totalM3S, HeaderHeadM: s.headM, Stable: s.stable}
	for _, i := range running {
		o.BranchM3S = append(o.BranchM3S, s.flows[b.partyOf(i)])
	}
	return o
}

func (p *OperatingPoint) addBranch(l party, branch int, q float64) {
	out := BranchPoint{
		Branch: branch, FlowM3S: q, ShutOffM: l.shutOffM(), PushedShut: q == 0,
		SourceHeadM: l.fault.finite(l.branch.Source.Head(q), "branch", l.branch.Name),
	}
	for _, e := range l.branch.Elements {
		loss := 0.0
		if q != 0 {
			loss = l.fault.finite(e.Settle(q), "branch", l.branch.Name)
		}
		out.LossM = append(out.LossM, loss)
	}
	p.Branches = append(p.Branches, out)
	low, high := 0.0, math.Inf(1)
	if r, ok := l.branch.Source.(Ranged); ok {
		low, high = r.Range()
	}
	switch {
	case out.PushedShut:
		p.flag(PushedShut, branch, p.HeaderHeadM, out.ShutOffM)
		if out.SourceHeadM > p.HeaderHeadM {
			p.flag(NotOpened, branch, p.HeaderHeadM, out.SourceHeadM)
		}
	case q > high*(1+1e-9):
		p.flag(Runout, branch, q, high)
	case q < low*(1-1e-9):
		p.flag(BelowRange, branch, q, low)
	}
	if q > 0 && p.HeaderHeadM > out.ShutOffM {
		p.flag(AboveShutOff, branch, p.HeaderHeadM, out.ShutOffM)
	}
}

func (p *OperatingPoint) addMain(m *mainLine) {
	loss := 0.0
	p.Control = m.need(p.FlowM3S).control
	for i, r := range m.reaches {
		out := ReachPoint{LiftM: m.liftM(i)}
		for _, e := range r.Elements {
			one := m.fault.finite(e.Settle(p.FlowM3S), "reach", r.Name)
			out.LossM = append(out.LossM, one)
			loss += one
		}
		out.HeadM = p.HeaderHeadM - loss
		p.Reaches = append(p.Reaches, out)
		if i == p.Control {
			p.MainLossM = loss
		}
	}
	if p.Control < len(m.reaches)-1 {
		p.flag(HighPoint, -1, m.liftM(p.Control), p.StaticHeadM)
	}
}
