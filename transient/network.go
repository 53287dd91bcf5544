package transient

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// Model describes a network and its start.
type Model struct {
	Pipes      []Pipe
	Nodes      map[string]Boundary
	StepS      float64 // 0 means that it is chosen
	MostAdjust float64 // greatest share by which a wave speed may be changed to fit the grid; 0 means 0.02
	MostReach  int     // most reaches in all; 0 means 20,000
	GravityMS2 float64 // 0 means 9.80665
	Gas        *Gas    // nil takes the liquid as whole, whatever the head
}

// Network is a model on its grid, ready to run once.
type Network struct {
	gravity float64
	stepS   float64
	lines   []*line
	nodes   []*node
	gas     *Gas
	timeS   float64
	steps   int
}

// node is a boundary with the pipe ends that meet there.
type node struct {
	name     string
	boundary Boundary
	ends     []End
	at       []endOf
	pockets  []pocket // gas at the ends; nil without
	loose    int      // steps that ended on one side of a jump
}

// endOf says which end of which line an End is.
type endOf struct {
	line *line
	atTo bool
}

// LeastStepS is the shortest step that a grid may have.
const LeastStepS = 1e-6

// New lays the model on a grid. The errors say which pipe or node cannot be.
func New(m Model) (*Network, error) {
	n := &Network{gravity: m.GravityMS2, gas: m.Gas}
	if n.gravity == 0 {
		n.gravity = standardGravityMS2
	}
	if err := m.check(); err != nil {
		return nil, err
	}
	g, err := m.grid()
	if err != nil {
		return nil, err
	}
	n.stepS = g.StepS
	byName := map[string]*node{}
	for i := range m.Pipes {
		p := &m.Pipes[i]
		l := newLine(p, g.Reaches[i], n.stepS, n.gravity)
		if m.Gas != nil {
			l.gas = newCavities(l, m.Gas)
		}
		n.lines = append(n.lines, l)
		for _, e := range []struct {
			name string
			atTo bool
		}{{p.From, false}, {p.To, true}} {
			at, known := byName[e.name]
			if !known {
				at = &node{name: e.name, boundary: m.Nodes[e.name]}
				byName[e.name] = at
				n.nodes = append(n.nodes, at)
			}
			at.at = append(at.at, endOf{l, e.atTo})
		}
	}
	return n, n.start()
}

// start gives the ends their steady heads and flows, and tells the boundaries.
func (n *Network) start() error {
	var errs []error
	for _, d := range n.nodes {
		d.ends = make([]End, len(d.at))
		for i, e := range d.at {
			k, sign := 0, -1.0
			if e.atTo {
				k, sign = e.line.last(), 1
			}
			w := e.line.weight(e.atTo)
			d.ends[i] = End{B: e.line.b / w, ElevationM: e.line.z[k], H: e.line.h[k], Q: sign * e.line.q[k] * w}
			d.ends[i].C = d.ends[i].H + d.ends[i].B*d.ends[i].Q
		}
		if n.gas != nil {
			d.pockets = newPockets(d, n.gas, n.stepS)
		}
		if s, ok := d.boundary.(Starter); ok {
			if err := s.Start(d.ends); err != nil {
				errs = append(errs, fmt.Errorf("transient: node %s: %w", d.name, err))
			}
		}
	}
	return errors.Join(errs...)
}

// check says what makes the model impossible.
func (m *Model) check() error {
	var errs []error
	if len(m.Pipes) == 0 {
		errs = append(errs, errors.New("transient: a network needs a pipe"))
	}
	used := map[string]bool{}
	for i := range m.Pipes {
		p := &m.Pipes[i]
		errs = append(errs, p.check())
		for _, name := range []string{p.From, p.To} {
			used[name] = true
			if m.Nodes[name] == nil {
				errs = append(errs, fmt.Errorf("transient: pipe %s meets node %q, at which nothing stands", p.Name,
					name))
			}
		}
	}
	for name := range m.Nodes {
		if !used[name] {
			errs = append(errs, fmt.Errorf("transient: no pipe meets node %q", name))
		}
	}
	slices.SortFunc(errs, func(a, b error) int { // maps have no order
		switch {
		case a == nil || b == nil:
			return 0
		case a.Error() < b.Error():
			return -1
		}
		return 1
	})
	return errors.Join(errs...)
}

// StepS is the step of the grid.
func (n *Network) StepS() float64 { return n.stepS }

// Adjusted tells by what share the wave speed of each pipe was changed to fit the grid.
func (n *Network) Adjusted() []float64 {
	out := make([]float64, len(n.lines))
	for i, l := range n.lines {
		out[i] = l.waveMS/l.pipe.WaveSpeedMS - 1
	}
	return out
}

// Advance takes one step. The error says at which node and when there is no answer.
func (n *Network) Advance() error {
	s := Step{TimeS: float64(n.steps+1) * n.stepS, StepS: n.stepS}
	for _, l := range n.lines {
		l.interior(n.stepS)
	}
	for _, d := range n.nodes {
		for i, e := range d.at {
			d.ends[i].C, d.ends[i].B = e.line.foot(e.atTo), e.line.b/e.line.weight(e.atTo)
		}
		if err := d.solve(s); err != nil {
			return fmt.Errorf("transient: node %s at %.6g s: %w", d.name, s.TimeS, err)
		}
		for i, e := range d.at {
			end := &d.ends[i]
			if math.IsNaN(end.H) || math.IsInf(end.H, 0) || math.IsNaN(end.Q) {
				return fmt.Errorf("transient: node %s at %.6g s: the head is %g: the model is unstable", d.name,
					s.TimeS, end.H)
			}
			e.line.put(e.atTo, end.H, d.settle(i))
		}
		d.boundary.Commit(s, d.ends)
	}
	for _, l := range n.lines {
		l.turn()
	}
	n.steps++
	n.timeS = s.TimeS
	return nil
}

// TimeS is the time reached.
func (n *Network) TimeS() float64 { return n.timeS }

// Steps is the number of steps taken.
func (n *Network) Steps() int { return n.steps }

// HeadAt gives a reading of the head, m, at the node of a pipe nearest to the share of
// its length; FlowAt of the flow there, m³/s.
func (n *Network) HeadAt(pipe string, share float64) (func() float64, error) {
	l, i, err := n.place(pipe, share)
	return func() float64 { return l.h[i] }, err
}

// FlowAt is the flow beside HeadAt.
func (n *Network) FlowAt(pipe string, share float64) (func() float64, error) {
	l, i, err := n.place(pipe, share)
	return func() float64 { return l.q[i] }, err
}

// Heads gives the heads at all nodes of a pipe: a reading of those now, to be taken anew
// after each step, and the least and greatest so far. They are the network's own.
func (n *Network) Heads(pipe string) (now func() []float64, least, most []float64, err error) {
	l, _, err := n.place(pipe, 0)
	if err != nil {
		return nil, nil, nil, err
	}
	return func() []float64 { return l.h }, l.lo, l.hi, nil
}

func (n *Network) place(pipe string, share float64) (*line, int, error) {
	for _, l := range n.lines {
		if l.pipe.Name == pipe {
			if !(share >= 0 && share <= 1) {
				return nil, 0, fmt.Errorf("transient: a place at %g of a pipe", share)
			}
			return l, int(math.Round(share * float64(l.last()))), nil
		}
	}
	return nil, 0, fmt.Errorf("transient: no pipe %q", pipe)
}
