package plant

import (
	"fmt"
	"slices"
	"strings"

	"seatward/basis"
	"seatward/pipe"
	"seatward/pump"
	"seatward/quantity"
	"seatward/steady"
	"seatward/valve"
)

// solved is an operating point with what it was solved for.
type solved struct {
	steady.OperatingPoint
	slow   bool // pumps at least speed
	normal bool // the point by which losses and energy are stated
}

// Points are the operating points of the station with one valve in every branch.
type Points struct {
	plant *Plant
	all   []solved
}

// Solve finds the operating points of every combination of pumps at both levels with the
// valve in place, at full speed and, where speed varies, at least speed; and the normal
// point: the first pump alone at the middle level. A nil mechanism is no valve at all.
func (p *Plant) Solve(m *valve.Mechanism) (Points, error) {
	out := Points{plant: p}
	speeds := []bool{false}
	if p.varies() {
		speeds = append(speeds, true)
	}
	for _, slow := range speeds {
		system := p.system(m, slow)
		cases, err := system.Cases()
		if err != nil {
			return out, err
		}
		if !slow {
			cases = append([]steady.Case{{Running: []int{0}, Level: p.middle()}}, cases...)
		}
		all, err := system.SolveCases(cases)
		if err != nil {
			return out, err
		}
		for _, op := range all {
			out.all = append(out.all, solved{OperatingPoint: op, slow: slow})
		}
	}
	out.all[0].normal = true
	return out, nil
}

// Delivers is true where a pump delivers at some point.
func (s Points) Delivers() bool {
	for i := range s.all {
		if s.all[i].Outcome == steady.Flowing {
			return true
		}
	}
	return false
}

// List gives the points as reports print them.
func (s Points) List(valveID string) []Point {
	out := make([]Point, 0, len(s.all))
	for i := range s.all {
		out = append(out, s.plant.point(&s.all[i], valveID))
	}
	return out
}

// OperatingPoint is a steady state of the station as one valve meets it.
type OperatingPoint struct {
	Name         string
	Level        WellLevel
	Flow         basis.Value // through this valve
	PumpsRunning int
	Normal       bool        // the point by which losses and energy are stated
	Stated       bool        // a flow that the user gives, without heads
	HeaderHead   basis.Value // above the wet well
	PumpHead     basis.Value
	StaticHead   basis.Value
	CurveEnd     basis.Value // where the pump runs beyond it; unknown where it does not
	ShaftPower   basis.Value // of one pump
	Motor        basis.Value // its rating; unknown where it is not given
}

// Point is one operating point of the station.
type Point struct {
	Name         string // "2 pumps, low level"
	Running      int    // pumps
	Pumps        string // which, in words
	Level        WellLevel
	Valve        string // ID of the valve in place
	Flow         basis.Value
	Head         basis.Value // of a running pump
	StaticHead   basis.Value
	Power        basis.Value // electrical, all running pumps; unknown without efficiency
	Efficiency   basis.Value // of a running pump; unknown without a curve
	MainVelocity basis.Value
	ValveFlow    []basis.Value // through each running pump's valve
	ValveLoss    []basis.Value
	Notes        []string
}

// well is the level of the wet well.
func (s *solved) well() WellLevel { return WellLevel(s.Level.Mark) }

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

// ForValve gives the points as one valve meets them: each flow that it may get, where
// branches differ.
func (s Points) ForValve() []OperatingPoint {
	p, spread := s.plant, s.plant.spread()
	var out []OperatingPoint
	for i := range s.all {
		s := &s.all[i]
		if s.Outcome != steady.Flowing {
			continue
		}
		for _, b := range distinct(s.Branches) {
			name := s.name()
			if len(distinct(s.Branches)) > 1 {
				name += ", " + p.st.Pumps[p.units[b.Branch].group].Name
			}
			q := basis.NewSimulated("flow through the valve, "+name, quantity.Flow, b.FlowM3S, p.because(s),
				p.rests(s)...)
			q = q.WithRange(b.FlowM3S*spread.Low, b.FlowM3S*spread.High)
			u := p.units[b.Branch]
			at := OperatingPoint{
				Name: name, Level: s.well(), Flow: q, PumpsRunning: len(s.Running), Normal: s.normal,
				Motor: p.st.Pumps[u.group].MotorRating,
				HeaderHead: basis.NewSimulated("head at the header, "+name, quantity.Head, s.HeaderHeadM, p.because(s),
					q),
				PumpHead:   basis.NewSimulated("pump head, "+name, quantity.Head, b.SourceHeadM, p.because(s), q),
				StaticHead: p.static(s),
				ShaftPower: basis.NewSimulated("shaft power, "+name, quantity.Power,
					u.at(s.slow).ShaftPower(b.FlowM3S, p.st.Fluid.Density.SI).SI, "read off the pump's curve at its flow", q),
			}
			if end, beyond := s.beyond(b.Branch); beyond {
				at.CurveEnd = basis.NewSimulated("end of the pump's curve", quantity.Flow, end, "last point of the curve")
			}
			out = append(out, at)
		}
	}
	return append(out, p.stated()...)
}

// beyond is the end of the curve of the branch's pump, m3/s, where it runs beyond that.
func (s *solved) beyond(branch int) (end float64, yes bool) {
	for _, f := range s.Flags {
		if f.Kind == steady.Runout && f.Branch == branch {
			return f.LimitSI, true
		}
	}
	return 0, false
}

// stated are the least and the greatest flow through one valve that the user gives: points
// of their own, whatever the curves say.
func (p *Plant) stated() []OperatingPoint {
	var out []OperatingPoint
	for _, x := range []struct {
		name string
		flow basis.Value
	}{{"least flow given", p.st.Flows.Least}, {"greatest flow given", p.st.Flows.Greatest}} {
		if x.flow.Known() {
			out = append(out, OperatingPoint{Name: x.name, Flow: x.flow, PumpsRunning: 1, Stated: true})
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

func (p *Plant) because(s *solved) string {
	return "operating point " + s.name() + ": " + steady.BalanceFormula.Expr
}

// static is the static head of the point.
func (p *Plant) static(s *solved) basis.Value {
	switch s.well() {
	case WellHigh:
		return p.st.StaticLow
	case WellLow:
		return p.st.StaticHigh
	}
	return basis.NewSimulated("static head, middle level", quantity.Head, s.StaticHeadM, "half way between the levels",
		p.st.StaticLow, p.st.StaticHigh)
}

// rests lists the values that an operating point rests on.
func (p *Plant) rests(s *solved) []basis.Value {
	key := fmt.Sprint(s.Level.Mark, s.Running)
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
	in = slices.Clip(basis.Unique(in))
	p.rested.Store(key, in)
	return in
}

// point makes the printed form of an operating point.
func (p *Plant) point(s *solved, valveID string) Point {
	out := Point{
		Name: s.name(), Running: len(s.Running), Level: s.well(), Valve: valveID, StaticHead: p.static(s),
		Flow: basis.NewSimulated("flow, "+s.name(), quantity.Flow, s.FlowM3S, p.because(s), p.rests(s)...),
	}
	var names []string
	var shaft, watts float64
	for _, b := range s.Branches {
		u := p.units[b.Branch]
		g := p.st.Pumps[u.group]
		names = append(names, g.Name)
		out.ValveFlow = append(out.ValveFlow,
			basis.NewSimulated("flow through one valve, "+s.name(), quantity.Flow, b.FlowM3S, p.because(s)))
		out.ValveLoss = append(out.ValveLoss,
			basis.NewSimulated("head lost in one valve, "+s.name(), quantity.Head, b.LossM[0], p.because(s)))
		power := u.at(s.slow).ShaftPower(b.FlowM3S, p.st.Fluid.Density.SI).SI
		shaft += power
		watts += pump.InputPower(power, g.MotorEfficiency.SI, 1)
	}
	out.Pumps = strings.Join(dedupe(names), " + ")
	if len(s.Branches) > 0 {
		lead := s.Branches[0]
		out.Head = basis.NewSimulated("pump head, "+s.name(), quantity.Head, lead.SourceHeadM, p.because(s), out.Flow)
		efficiency := p.units[lead.Branch].at(s.slow).Efficiency(lead.FlowM3S).SI
		out.Efficiency = basis.NewSimulated("pump efficiency, "+s.name(), quantity.Fraction, efficiency,
			"read off the pump's curve at its flow", out.Flow)
	}
	if s.FlowM3S > 0 {
		out.Power = basis.NewSimulated("electrical power, "+s.name(), quantity.Power, watts,
			"shaft power over the motor's efficiency, all running pumps", out.Flow)
	}
	out.MainVelocity = p.mainVelocity(s, out.Flow)
	for _, f := range s.Flags {
		if n := p.flagWords(f); !slices.Contains(out.Notes, n) {
			out.Notes = append(out.Notes, n)
		}
	}
	if s.Outcome != steady.Flowing {
		out.Notes = append(out.Notes, s.Outcome.String())
	}
	return out
}

// flagWords say a flag as people read it: the pump by its name, in the units of the station.
func (p *Plant) flagWords(f steady.Flag) string {
	name := "a pump"
	if f.Branch >= 0 && f.Branch < len(p.units) {
		name = p.st.Pumps[p.units[f.Branch].group].Name
	}
	flow := func(si float64) string { return p.st.Units.Format(quantity.Flow, si) }
	head := func(si float64) string { return p.st.Units.Format(quantity.Head, si) }
	switch f.Kind {
	case steady.PushedShut:
		return fmt.Sprintf("%s delivers nothing: the head at the header is %s, its shut-off head %s", name, head(f.SI),
			head(f.LimitSI))
	case steady.Runout:
		return fmt.Sprintf("%s runs at %s, beyond the end of its curve at %s: what it does there is not known", name,
			flow(f.SI), flow(f.LimitSI))
	case steady.BelowRange:
		return fmt.Sprintf("%s runs at %s, below the start of its curve at %s", name, flow(f.SI), flow(f.LimitSI))
	case steady.AboveShutOff:
		return fmt.Sprintf("%s runs against %s, above its shut-off head of %s: started against that head it does not open its valve",
			name, head(f.SI), head(f.LimitSI))
	case steady.HighPoint:
		return fmt.Sprintf("a high point %s above the %s sets the head, not the outlet at %s: the main beyond it runs partly full",
			head(f.SI), p.st.Source(), head(f.LimitSI))
	case steady.Unstable:
		return fmt.Sprintf("a small change of the flow of %s grows", flow(f.SI))
	case steady.NotOpened:
		return fmt.Sprintf("%s does not open its valve: %s at shut-off against %s behind the valve, which needs more than that to open",
			name, head(f.LimitSI), head(f.SI))
	case steady.OtherStates:
		return "the pumps may also settle at another flow"
	}
	return "the pumps may also settle at another flow: the curves turn too often to look for it"
}

func (p *Plant) mainVelocity(s *solved, flow basis.Value) basis.Value {
	last := p.st.Main.Runs[len(p.st.Main.Runs)-1].InnerDiameter
	return pipe.VelocityMSFormula.Eval2("velocity in the main, "+s.name(), pipe.VelocityMS, flow, last)
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
