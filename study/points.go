package study

import (
	"fmt"
	"slices"
	"strings"

	"seatward/basis"
	"seatward/judge"
	"seatward/pipe"
	"seatward/pump"
	"seatward/quantity"
	"seatward/steady"
	"seatward/valve"
)

// levelMiddle is the level of normal operation, half way between the two.
const levelMiddle = "middle level"

// solved is an operating point with what it was solved for.
type solved struct {
	steady.OperatingPoint
	slow   bool // pumps at least speed
	normal bool // the point by which losses and energy are told
}

// points solves every combination at both levels with the valve in place, at full
// speed and, where speed varies, at least speed; and the normal point: the first
// pump alone at the middle level.
func (p *plant) points(m *valve.Mechanism) ([]solved, error) {
	var out []solved
	speeds := []bool{false}
	if p.varies() {
		speeds = append(speeds, true)
	}
	for _, slow := range speeds {
		system := p.system(m, slow)
		cases, err := system.Cases()
		if err != nil {
			return nil, err
		}
		if !slow {
			cases = append([]steady.Case{{Running: []int{0}, Level: p.middle()}}, cases...)
		}
		all, err := system.SolveCases(cases)
		if err != nil {
			return nil, err
		}
		for _, op := range all {
			out = append(out, solved{OperatingPoint: op, slow: slow})
		}
	}
	out[0].normal = true
	return out, nil
}

func (p *plant) middle() steady.Level {
	high, low := p.levels[0], p.levels[1]
	return steady.Level{Name: levelMiddle, WetWellM: (high.WetWellM + low.WetWellM) / 2, OutletM: high.OutletM}
}

// name says which point it is: "2 pumps, low level", "1 slow pump, high level".
func (s *solved) name() string {
	kind := "pump"
	if s.slow {
		kind = "slow pump" // at least speed
	}
	if len(s.Running) > 1 {
		kind += "s"
	}
	return fmt.Sprintf("%d %s, %s", len(s.Running), kind, s.Level.Name)
}

// forValve gives the points as one valve meets them: the flow of the branch with
// the least and the one with the greatest flow, where branches differ.
func (p *plant) forValve(all []solved, spread basis.Value) []judge.OperatingPoint {
	var out []judge.OperatingPoint
	for i := range all {
		s := &all[i]
		if s.Outcome != steady.Flowing {
			continue
		}
		for _, b := range distinct(s.Branches) {
			name := s.name()
			if len(distinct(s.Branches)) > 1 {
				name += ", " + p.st.Pumps[p.units[b.Branch].group].Name
			}
			q := basis.NewSimulated("flow through the valve, "+name, quantity.Flow, b.FlowM3S, p.because(s), p.rests(s)...)
			q = q.WithRange(b.FlowM3S*spread.Low, b.FlowM3S*spread.High)
			out = append(out, judge.OperatingPoint{
				Name: name, Flow: q, PumpsRunning: len(s.Running), Normal: s.normal,
				HeaderHead: basis.NewSimulated("head at the header, "+name, quantity.Head, s.HeaderHeadM, p.because(s), q),
				PumpHead:   basis.NewSimulated("pump head, "+name, quantity.Head, b.SourceHeadM, p.because(s), q),
				StaticHead: p.static(s),
			})
		}
	}
	return out
}

// distinct drops branches with the same flow.
func distinct(branches []steady.BranchPoint) []steady.BranchPoint {
	var out []steady.BranchPoint
	for _, b := range branches {
		if !b.PushedShut && (len(out) == 0 || out[len(out)-1].FlowM3S != b.FlowM3S) {
			out = append(out, b)
		}
	}
	return out
}

func (p *plant) because(s *solved) string {
	return "operating point " + s.name() + ": " + steady.BalanceFormula.Expr
}

// static is the static head of the point.
func (p *plant) static(s *solved) basis.Value {
	switch s.Level.Name {
	case levelHigh:
		return p.st.StaticLow
	case levelLow:
		return p.st.StaticHigh
	}
	return basis.NewSimulated("static head, middle level", quantity.Head, s.StaticHeadM, "half way between the levels", p.st.StaticLow, p.st.StaticHigh)
}

// rests lists the values that an operating point rests on.
func (p *plant) rests(s *solved) []basis.Value {
	key := fmt.Sprint(s.Level.Name, s.Running)
	if known, ok := p.rested.Load(key); ok {
		return known.([]basis.Value)
	}
	in := []basis.Value{p.static(s)}
	for _, i := range s.Running {
		g := p.st.Pumps[p.units[i].group]
		in = append(in, g.ShutoffHead, g.DutyFlow, g.DutyHead)
	}
	for _, line := range [][]basis.Value{lineValues(p.st.Branch), lineValues(p.st.Main)} {
		in = append(in, line...)
	}
	in = slices.Clip(unique(in))
	p.rested.Store(key, in)
	return in
}

func unique(in []basis.Value) []basis.Value {
	seen := map[string]bool{}
	out := in[:0]
	for _, v := range in {
		if v.Known() && !seen[v.Name] {
			seen[v.Name] = true
			out = append(out, v)
		}
	}
	return out
}

// point makes the printed form of an operating point.
func (p *plant) point(s *solved, valveID string) Point {
	out := Point{
		Name: s.name(), Running: len(s.Running), Level: s.Level.Name, Valve: valveID, StaticHead: p.static(s),
		Flow: basis.NewSimulated("flow, "+s.name(), quantity.Flow, s.FlowM3S, p.because(s), p.rests(s)...),
	}
	var names []string
	var shaft, watts float64
	for _, b := range s.Branches {
		u := p.units[b.Branch]
		g := p.st.Pumps[u.group]
		names = append(names, g.Name)
		out.ValveFlow = append(out.ValveFlow, basis.NewSimulated("flow through one valve, "+s.name(), quantity.Flow, b.FlowM3S, p.because(s)))
		out.ValveLoss = append(out.ValveLoss, basis.NewSimulated("head lost in one valve, "+s.name(), quantity.Head, b.LossM[0], p.because(s)))
		power := u.at(s.slow).ShaftPower(b.FlowM3S, p.st.Fluid.Density.SI).SI
		shaft += power
		watts += pump.InputPower(power, g.MotorEfficiency.SI, 1)
	}
	out.Pumps = strings.Join(dedupe(names), " + ")
	if len(s.Branches) > 0 {
		lead := s.Branches[0]
		out.Head = basis.NewSimulated("pump head, "+s.name(), quantity.Head, lead.SourceHeadM, p.because(s), out.Flow)
		efficiency := p.units[lead.Branch].at(s.slow).Efficiency(lead.FlowM3S).SI
		out.Efficiency = basis.NewSimulated("pump efficiency, "+s.name(), quantity.Fraction, efficiency, "read off the pump's curve at its flow", out.Flow)
	}
	if s.FlowM3S > 0 {
		out.Power = basis.NewSimulated("electrical power, "+s.name(), quantity.Power, watts, "shaft power over the motor's efficiency, all running pumps", out.Flow)
	}
	out.MainVelocity = p.mainVelocity(s, out.Flow)
	for _, f := range s.Flags {
		out.Notes = append(out.Notes, f.String())
	}
	if s.Outcome != steady.Flowing {
		out.Notes = append(out.Notes, s.Outcome.String())
	}
	return out
}

func (p *plant) mainVelocity(s *solved, flow basis.Value) basis.Value {
	last := p.st.Main.Runs[len(p.st.Main.Runs)-1].InnerDiameter
	return pipe.VelocityMSFormula.Eval("velocity in the main, "+s.name(), func(x []float64) float64 { return pipe.VelocityMS(x[0], x[1]) }, flow, last)
}

func dedupe(names []string) []string {
	var out []string
	for _, n := range names {
		if len(out) == 0 || out[len(out)-1] != n {
			out = append(out, n)
		}
	}
	return out
}

func (pt *Point) json() PointJSON {
	j := PointJSON{
		PumpsRunning: pt.Running, Pumps: pt.Pumps, Level: pt.Level, Valve: pt.Valve, FlowM3S: pt.Flow.SI, HeadM: pt.Head.SI,
		StaticHeadM: pt.StaticHead.SI, MainVelocity: pt.MainVelocity.SI, Efficiency: known(pt.Efficiency), Notes: pt.Notes,
		ValveFlow: []float64{}, ValveLoss: []float64{},
	}
	if w := known(pt.Power); w != nil {
		kw := *w / 1000
		j.PowerKW = &kw
	}
	for i := range pt.ValveFlow {
		j.ValveFlow = append(j.ValveFlow, pt.ValveFlow[i].SI)
		j.ValveLoss = append(j.ValveLoss, pt.ValveLoss[i].SI)
	}
	return j
}
