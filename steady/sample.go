package steady

import (
	"fmt"
	"math"
)

// MainSample is a point of the system curve: what the main needs at a flow.
type MainSample struct {
	FlowM3S float64
	HeadM   float64 // at the header, above the wet well
	LossM   float64 // of the reaches up to the control
	Control int     // reach whose end sets the head
}

// MainCurve reads the system curve at the flows, m3/s, for charts and tables.
func (s *System) MainCurve(level Level, flows []float64) ([]MainSample, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	if err := level.check(); err != nil {
		return nil, err
	}
	m := mainLine{s.Main, level, new(fault)}
	out := make([]MainSample, len(flows))
	for i, q := range flows {
		d := m.need(q)
		out[i] = MainSample{q, d.headM, d.headM - m.liftM(d.control), d.control}
	}
	return out, m.fault.err
}

// BranchSample is a point of a branch's curve.
type BranchSample struct {
	FlowM3S     float64
	SourceHeadM float64
	LossM       []float64 // of each element, in order
	NetM        float64   // head at the header, above the wet well
}

// BranchCurve reads a branch at the flows, m3/s, for charts and tables.
func (s *System) BranchCurve(branch int, flows []float64) ([]BranchSample, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	if branch < 0 || branch >= len(s.Branches) {
		return nil, fmt.Errorf("%w: branch %d of %d", ErrRunning, branch, len(s.Branches))
	}
	b, f := &s.Branches[branch], new(fault)
	out := make([]BranchSample, len(flows))
	for i, q := range flows {
		x := BranchSample{FlowM3S: q, SourceHeadM: f.finite(b.Source.Head(q), "branch", b.Name)}
		x.NetM = x.SourceHeadM
		for _, e := range b.Elements {
			loss := f.finite(e.Settle(q), "branch", b.Name)
			x.LossM = append(x.LossM, loss)
			x.NetM -= loss
		}
		out[i] = x
	}
	return out, f.err
}

// CombinedSample is a point of the curve of several branches in parallel.
type CombinedSample struct {
	FlowM3S, HeadM float64
	Cut            bool // a branch's flow is cut off: the main could not take so much of it at any head this low
}

// CombinedCurve reads the joint flow of the running branches against header
// heads, m above the wet well, as it grows from shut-off: the curve that the
// system curve cuts at the operating point.
func (s *System) CombinedCurve(running []int, level Level, heads []float64) ([]CombinedSample, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	if err := s.checkRunning(running); err != nil {
		return nil, err
	}
	if err := level.check(); err != nil {
		return nil, err
	}
	v := s.look([]Level{level})
	out := make([]CombinedSample, len(heads))
	for i, h := range heads {
		out[i].HeadM = h
		for _, members := range s.alike(running) {
			l := v.line(members[0])
			q := l.fromRest(h)
			out[i].FlowM3S += float64(len(members)) * q
			out[i].Cut = out[i].Cut || q == l.knots[len(l.knots)-1].q && l.net(q) > h
		}
	}
	return out, v.fault.err
}

// Share is a part of the head that the sources give, and of their power.
type Share struct {
	Branch  int // index in System.Branches, or -1 for the main
	Reach   int // index in System.Main, or -1
	Element int // index in the branch's or reach's Elements; -1 for the lift, -2 for head lost where the main runs partly open
	FlowM3S float64
	HeadM   float64
	Part    float64 // of the power that the sources give to the liquid
}

// Shares splits the power that the sources give to the liquid over the branch
// elements, the main's elements, the lift from level to level and the fall beyond
// a high point. The parts add up to 1. There are none when nothing flows, or when
// the sources give next to nothing and the flow runs downhill by itself.
func (p *OperatingPoint) Shares() []Share {
	given, spent := 0.0, 0.0
	for _, b := range p.Branches {
		given += b.FlowM3S * b.SourceHeadM
	}
	var out []Share
	add := func(branch, reach, element int, q, h float64) {
		out = append(out, Share{branch, reach, element, q, h, q * h})
		spent += math.Abs(q * h)
	}
	if p.FlowM3S == 0 {
		return nil
	}
	for _, b := range p.Branches {
		for i, h := range b.LossM {
			add(b.Branch, -1, i, b.FlowM3S, h)
		}
	}
	for r, reach := range p.Reaches {
		for i, h := range reach.LossM {
			add(-1, r, i, p.FlowM3S, h)
		}
	}
	last := len(p.Reaches) - 1
	add(-1, last, -1, p.FlowM3S, p.StaticHeadM)
	if p.Control != last {
		add(-1, last, -2, p.FlowM3S, p.Reaches[last].HeadM-p.StaticHeadM)
	}
	if !(given > 1e-9*spent) {
		return nil
	}
	for i := range out {
		out[i].Part /= given
	}
	return out
}
