package steady

import (
	"seatward/basis"
	"seatward/quantity"
)

// BalanceFormula is what Solve solves, for the record of what is read off a point.
var BalanceFormula = basis.Formula{
	ID: "header-balance", Title: "Operating point",
	Expr: "Σ Q_i(H) = Q, H = max over reaches (z_k - z_wet well + Σ h_f(Q) down to k)",
	Kind: quantity.Flow, Ref: basis.DerivedHere,
	Range: "Q_i: flow of branch i against the header head H, never backwards; solved to round-off",
}

// Case is what runs at which level.
type Case struct {
	Running []int // indices of branches, rising
	Level   Level
}

// Solve finds the operating point of the branches with the running indices at
// the level. The error is one of this package's (ErrRunning, ErrNotANumber, ...);
// that nothing flows is an Outcome, not an error.
func (s *System) Solve(running []int, level Level) (OperatingPoint, error) {
	out, err := s.SolveCases([]Case{{running, level}})
	if err != nil {
		return OperatingPoint{}, err
	}
	return out[0], nil
}

// SolveCases is Solve for several cases. The branches are looked at once for all of them.
func (s *System) SolveCases(cases []Case) ([]OperatingPoint, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	if len(cases) == 0 {
		return nil, nil
	}
	levels := make([]Level, len(cases))
	for i, c := range cases {
		if err := s.checkRunning(c.Running); err != nil {
			return nil, err
		}
		if err := c.Level.check(); err != nil {
			return nil, err
		}
		levels[i] = c.Level
	}
	view := s.look(levels)
	out := make([]OperatingPoint, len(cases))
	for i, c := range cases {
		var err error
		if out[i], err = view.solve(c.Running, c.Level); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// Cases lists every combination at every level: the combinations in the order of
// Combinations, for each the levels in their order.
func (s *System) Cases() ([]Case, error) {
	if len(s.Levels) == 0 {
		return nil, ErrNoLevel
	}
	combinations, err := s.Combinations()
	if err != nil {
		return nil, err
	}
	out := make([]Case, 0, len(combinations)*len(s.Levels))
	for _, c := range combinations {
		for _, l := range s.Levels {
			out = append(out, Case{c, l})
		}
	}
	return out, nil
}

// SolveAll finds the operating points of Cases.
func (s *System) SolveAll() ([]OperatingPoint, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	cases, err := s.Cases()
	if err != nil {
		return nil, err
	}
	return s.SolveCases(cases)
}

// view is a system with its branches looked at once, for any combination.
type view struct {
	*System
	fault  *fault
	lowest mainLine
	lines  map[int]*line // by index of the branch, made when first wanted
}

func (s *System) look(levels []Level) *view {
	v := &view{System: s, fault: new(fault), lines: map[int]*line{}}
	low := levels[0]
	for _, l := range levels[1:] {
		low.OutletM = min(low.OutletM, l.OutletM)
		low.WetWellM = max(low.WetWellM, l.WetWellM)
	}
	v.lowest = mainLine{s.Main, low, v.fault}
	return v
}

func (v *view) line(branch int) *line {
	l := v.lines[branch]
	if l == nil {
		l = newLine(&v.Branches[branch], &v.lowest)
		v.lines[branch] = l
	}
	return l
}

func (v *view) solve(running []int, level Level) (OperatingPoint, error) {
	b := balance{main: &mainLine{v.Main, level, v.fault}}
	unlimited := false
	for _, members := range v.alike(running) {
		p := party{v.line(members[0]), members}
		unlimited = unlimited || p.unlimited
		b.parties = append(b.parties, p)
	}
	if v.fault.err != nil {
		return OperatingPoint{}, v.fault.err
	}
	if unlimited {
		return OperatingPoint{Running: running, Level: level, Outcome: Unlimited, StaticHeadM: level.StaticHeadM()}, nil
	}
	s, others, unknown := b.solve()
	p := b.point(s, others, running)
	if unknown {
		p.flag(OthersUnknown, -1, 0, 0)
	}
	return p, v.fault.err
}

// solve finds the state reached from shut-off, and the others.
func (b *balance) solve() (reached state, others []state, unknown bool) {
	if len(b.parties) == 1 {
		if states := b.alone(); len(states) > 0 {
			return states[0], states[1:], false
		}
	}
	reached = b.fromRest()
	if b.closed(reached) && b.monotone() {
		return reached, nil, false
	}
	states, unknown := b.all()
	if len(states) > 0 && (!b.closed(reached) || states[0].totalM3S < reached.totalM3S) {
		reached = states[0]
	}
	for _, s := range states {
		if !s.same(reached) {
			others = append(others, s)
		}
	}
	return reached, others, unknown
}
