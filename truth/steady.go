package truth

import (
	"fmt"
	"math"
	"strconv"

	"seatward/pump"
	"seatward/steady"
)

// A pump's curve is a source by shape: neither package knows the other.
var (
	_ steady.Source = pump.Source{}
	_ steady.Ranged = pump.Source{}
)

// arc is a source h = a + b q - c q^2.
type arc struct{ a, b, c float64 }

func (s arc) Head(q float64) float64 { return s.a + s.b*q - s.c*q*q }

// quadratic loses k q |q|, linear k q.
type (
	quadratic float64
	linear    float64
)

func (k quadratic) Settle(q float64) float64 { return float64(k) * q * math.Abs(q) }
func (k linear) Settle(q float64) float64    { return float64(k) * q }

// runAll solves a system with every branch running, from a wet well at 0 m.
func runAll(outletM float64, main []steady.Reach, branches ...steady.Branch) (steady.OperatingPoint, error) {
	running := make([]int, len(branches))
	for i := range running {
		running[i] = i
	}
	s := steady.System{Branches: branches, Main: main}
	p, err := s.Solve(running, steady.Level{OutletM: outletM})
	if err == nil && p.Outcome != steady.Flowing && p.Outcome != steady.NoFlow {
		err = fmt.Errorf("the outcome is %v", p.Outcome)
	}
	return p, err
}

func through(e steady.Element) []steady.Reach {
	return []steady.Reach{{Elements: []steady.Element{e}}}
}

func branch(s arc, elements ...steady.Element) steady.Branch {
	return steady.Branch{Source: s, Elements: elements}
}

var (
	_ = evaluator("header-balance", "steady.System.Solve", func(in Inputs) (float64, error) {
		var branches []steady.Branch
		for range int(in.F("n")) {
			b := branch(arc{in.F("a"), 0, in.F("c")}, quadratic(in.F("branch")))
			b.Alike = "equal"
			branches = append(branches, b)
		}
		p, err := runAll(in.F("s"), through(quadratic(in.F("k"))), branches...)
		return p.FlowM3S, err
	})
	_ = evaluator("header-balance/no-main-loss", "steady.System.Solve", func(in Inputs) (float64, error) {
		var branches []steady.Branch
		for i := 1; i <= 3; i++ {
			n := strconv.Itoa(i)
			branches = append(branches, branch(arc{in.F("a" + n), 0, in.F("c" + n)}))
		}
		p, err := runAll(in.F("s"), through(quadratic(0)), branches...)
		return p.FlowM3S, err
	})
	_ = evaluator("header-balance/linear", "steady.System.Solve", func(in Inputs) (float64, error) {
		p, err := runAll(in.F("s"), through(linear(in.F("m"))),
			branch(arc{in.F("a1"), -in.F("b1"), 0}), branch(arc{in.F("a2"), -in.F("b2"), 0}))
		return p.HeaderHeadM, err
	})
	_ = evaluator("header-balance/two", "steady.System.Solve", func(in Inputs) (float64, error) {
		p, err := runAll(in.F("s"), through(quadratic(in.F("k"))),
			branch(arc{in.F("a1"), 0, in.F("c1")}), branch(arc{in.F("a2"), 0, in.F("c2")}))
		return p.FlowM3S, err
	})
	// State 1 is the one that is chosen, the others follow by rising flow.
	_ = evaluator("header-balance/droop", "steady.System.Solve", func(in Inputs) (float64, error) {
		p, err := runAll(in.F("s"), through(quadratic(in.F("k"))), branch(arc{in.F("a"), in.F("b"), in.F("c")}))
		if err != nil {
			return 0, err
		}
		flows := []float64{p.FlowM3S}
		for _, o := range p.Others {
			flows = append(flows, o.FlowM3S)
		}
		state := int(in.F("state"))
		if state < 1 || state > len(flows) {
			return 0, fmt.Errorf("state %d of %d", state, len(flows))
		}
		return flows[state-1], nil
	})
	_ = evaluator("header-balance/high-point", "steady.System.Solve", func(in Inputs) (float64, error) {
		p, err := runAll(in.F("outlet"), []steady.Reach{
			{Elements: []steady.Element{quadratic(in.F("k1"))}, EndM: in.F("hill")},
			{Elements: []steady.Element{quadratic(in.F("k2"))}},
		}, branch(arc{in.F("a"), 0, in.F("c")}))
		return p.FlowM3S, err
	})
	// The Hydraulic Institute's sample pump (its shut-off head of 205 ft is added
	// here) against a static head and a loss at a flow, in feet and gpm.
	_ = evaluator("header-balance/pump-curve", "pump.NewCurve, steady.System.Solve", func(in Inputs) (float64, error) {
		const foot = 0.3048
		gpm := in.F("unit")
		c, problems := pump.NewCurve([]pump.Point{
			{FlowM3S: 0, HeadM: 205 * foot},
			{FlowM3S: 500 * gpm, HeadM: 186 * foot},
			{FlowM3S: 900 * gpm, HeadM: 155 * foot},
			{
				FlowM3S: 1200 * gpm,
				HeadM:   100 * foot,
			},
		})
		if err := problems.Err(); err != nil {
			return 0, err
		}
		at := in.F("at") * gpm
		p, err := runAll(in.F("static")*foot, through(quadratic(in.F("loss")*foot/(at*at))),
			steady.Branch{Source: c.Source()})
		return p.FlowM3S / gpm, err
	})
)
