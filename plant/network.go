package plant

import (
	"fmt"
	"math"
	"slices"

	"seatward/basis"
	"seatward/pipe"
	"seatward/pump"
	"seatward/quantity"
	"seatward/station"
	"seatward/steady"
	"seatward/transient"
	"seatward/valve"
)

// Change is a what-if: what is added to the station or done differently.
type Change struct {
	FlywheelKgM2 float64 // added inertia of each pump
	VesselM3     float64 // air of an air vessel at the header, at the steady head
	RampS        float64 // stops take this long by a speed ramp
}

// layout is a network made of the station for one event and one valve, ready to run.
type layout struct {
	net      *transient.Network
	machines []*pump.Machine // of the running or starting units
	valves   []*valve.InLine // theirs
	chains   []*transient.Chain
	pumps    []string // their names; "" where all pumps are alike
	names    []string // of their branches
	stops    []bool   // which of them the event stops
	watched  int      // index of the first unit that stops or starts
	branch   float64
	rigid    bool
	waveMS   float64 // of the branch
	boreM    float64
	devices  []*device  // that limit surge
	profile  []mainPart // where the pipes of the main lie
	headerM  float64    // steady head
	pockets  string     // what was simplified, in words

	main station.Line
	reel *reel // nil unless a film is asked for
}

// mainPart is where a pipe of the main begins along it.
type mainPart struct {
	name    string
	startM  float64
	station *station.Run
}

// The grid: how finely pipes are cut.
const (
	mostBranchReaches = 4    // of the branch
	usualMainReaches  = 500  // of the main at most, as long as the branch has one of its own
	rigidFrom         = 1000 // times the branch's travel time from which a main makes of it a rigid column
	rigidTripFrom     = 4000 // the same where other pumps hold the header: there the branch alone turns
	mostRampSteps     = 6000 // of a ramp, as long as the branch has a reach of its own
	fit               = 0.02 // share by which a wave speed may be changed
)

// network lays the station out with the valve in every branch.
func (p *Plant) network(m *valve.Mechanism, ev Event, opt Options, gas bool) (*layout, error) {
	flows, err := p.steadyFlows(m, ev)
	if err != nil {
		return nil, err
	}
	st := *p.st
	st.Branch, st.Main = p.gasFree(merged(st.Branch)), p.gasFree(merged(st.Main))
	b := builder{
		plant: p, st: &st, mech: m, event: ev, change: opt.Change, steady: opt.SteadyFriction,
		out: &layout{main: st.Main}, nodes: map[string]transient.Boundary{}, stands: map[string]*device{}, flows: flows,
	}
	for _, q := range flows {
		b.total += q
	}
	b.usual = math.Max(b.total, p.usualFlow)
	b.grid()
	b.stepS /= float64(max(opt.fine, 1))
	if err := b.main(); err != nil {
		return nil, err
	}
	if err := b.branches(); err != nil {
		return nil, err
	}
	model := transient.Model{
		Pipes: b.pipes, Nodes: b.nodes, StepS: b.stepS, MostAdjust: fit, MostReach: 100_000,
		GravityMS2: quantity.StandardGravity,
	}
	if gas {
		model.Gas = p.gas()
	}
	b.out.net, err = transient.New(model)
	if err != nil {
		return nil, err
	}
	return b.out, nil
}

// gas is the free gas of the liquid, and its vapor pressure under the air of the place. At
// a fraction of none the gas acts as vapor alone.
func (p *Plant) gas() *transient.Gas {
	f := p.st.Fluid
	head := func(pa float64) float64 { return pa / (f.Density.SI * quantity.StandardGravity) }
	air := head(p.st.Site.AirPressure.SI)
	return &transient.Gas{VaporHeadM: head(f.VaporPressure.SI) - air, ReferenceHeadM: air, Fraction: f.FreeGas.SI}
}

// merged joins neighboring runs that are the same pipe: it makes no difference whether a
// pipe is described in one run or in two.
func merged(line station.Line) station.Line {
	var out []station.Run
	for _, r := range line.Runs {
		if n := len(out); n > 0 && samePipe(&out[n-1], &r) {
			last := &out[n-1]
			last.Length.SI += r.Length.SI
			last.Loss.SI += r.Loss.SI
			continue
		}
		out = append(out, r)
	}
	line.Runs = out
	return line
}

// gasFree is the line with the wave speed of the liquid without free gas, where it was
// computed with it: in the run the gas stands at the nodes, and must not be felt twice.
//
//	1/a² = 1/a_mix² − ρ (1/K_mix − 1/K)
func (p *Plant) gasFree(line station.Line) station.Line {
	f := p.st.Fluid
	x, n := f.FreeGas.SI, len(f.BulkModulus.Inputs)
	if x == 0 || n == 0 {
		return line
	}
	pure := f.BulkModulus.Inputs[0].SI // of water; the gas is the second
	line.Runs = slices.Clone(line.Runs)
	for i := range line.Runs {
		v := &line.Runs[i].WaveSpeed
		if v.Origin == basis.Given {
			continue
		}
		if square := 1/(v.SI*v.SI) - f.Density.SI*(1/f.BulkModulus.SI-1/pure); square > 0 {
			v.SI = 1 / math.Sqrt(square)
		}
	}
	return line
}

func samePipe(a, b *station.Run) bool {
	same := func(x, y basis.Value) bool { return x.Known() == y.Known() && (!x.Known() || x.SI == y.SI) }
	return same(a.InnerDiameter, b.InnerDiameter) && same(a.WaveSpeed, b.WaveSpeed) && same(a.Roughness, b.Roughness) &&
		same(a.HazenWilliams, b.HazenWilliams) && same(a.Rating, b.Rating) && same(a.SurgeAllowance, b.SurgeAllowance)
}

// steadyFlows are the flows of the running units before the event; those that start have
// none.
func (p *Plant) steadyFlows(m *valve.Mechanism, ev Event) ([]float64, error) {
	if ev.Kind == Start {
		return make([]float64, len(ev.stopping)), nil
	}
	if len(ev.running) == 0 { // a schedule that begins at rest
		return make([]float64, len(ev.units())), nil
	}
	op, err := p.system(m, false).Solve(ev.running, ev.level)
	if err != nil {
		return nil, err
	}
	if op.Outcome != steady.Flowing {
		return nil, fmt.Errorf("%w before the event: the pumps do not open the valve at this level", errIdle)
	}
	units := ev.units()
	out := make([]float64, len(units))
	for i, b := range op.Branches {
		out[slices.Index(units, ev.running[i])] = b.FlowM3S
	}
	return out, nil
}

// builder makes a layout.
type builder struct {
	plant  *Plant
	st     *station.Station // with runs of one pipe joined
	mech   *valve.Mechanism
	event  Event
	change Change
	steady bool // friction is that of steady flow alone
	out    *layout
	nodes  map[string]transient.Boundary
	pipes  []transient.Pipe
	flows  []float64
	total  float64
	usual  float64 // flow at which friction is given where there is none at the start
	stepS  float64
	at     map[int]int // where the branch of each unit that has its own was laid
	head   float64     // steady, as the builder walks up from the outlet
	axis   []transient.Elevation
	stands map[string]*device // by their nodes

	outletM float64
}

// joined is a line of runs as one pipe of equal travel time, inertia and length.
func joined(line station.Line) (lengthM, travelS, areaM2 float64) {
	var inertia float64
	for _, r := range line.Runs {
		lengthM += r.Length.SI
		travelS += r.Length.SI / r.WaveSpeed.SI
		inertia += r.Length.SI / pipe.AreaM2(r.InnerDiameter.SI)
	}
	return lengthM, travelS, lengthM / inertia
}

// grid chooses the step: that of the branch cut into reaches, as long as the main does not
// become too many of them; and no longer than a wave takes through the longest run of the
// main, so that there is always one that carries waves.
func (b *builder) grid() {
	length, travel, area := joined(b.st.Branch)
	_, main, _ := joined(b.st.Main)
	parts := math.Floor(usualMainReaches * travel / main)
	if last := b.event.lastS(); last > 0 {
		parts = math.Min(parts, math.Floor(mostRampSteps*travel/last))
	}
	parts = math.Min(mostBranchReaches, math.Max(1, parts))
	b.stepS = travel / parts
	b.out.branch, b.out.waveMS, b.out.boreM = travel, length/travel, math.Sqrt(4/math.Pi*area)
	rigid := float64(rigidFrom)
	if b.event.Kind == OneTrips {
		rigid = rigidTripFrom
	}
	if main/travel > rigid && !b.held() {
		b.out.rigid = true
		b.stepS = main / usualMainReaches
	}
	longest := 0.0
	for _, r := range b.st.Main.Runs {
		longest = math.Max(longest, r.Length.SI/r.WaveSpeed.SI)
	}
	if longest < b.stepS {
		b.stepS = travel / math.Ceil(travel/longest*(1-1e-9))
	}
}

// unsteady is the friction that remembers, in a pipe of the diameter in the flow. Without
// it, what happens after the first closing is decided by the grid (A5.1).
func (b *builder) unsteady(diameterM, flow float64) *transient.Unsteady {
	if b.steady {
		return nil
	}
	f := b.st.Fluid
	nu := f.Viscosity.SI / f.Density.SI
	if flow == 0 {
		flow = b.usual
	}
	re := math.Abs(flow) / pipe.AreaM2(diameterM) * diameterM / nu
	return &transient.Unsteady{Weights: transient.Turbulent(re, 4*nu*b.stepS/(diameterM*diameterM)), ViscosityM2: nu}
}

// loss is the k of k Q|Q| of runs at the flow, or at the usual one where there is none.
func (b *builder) loss(line station.Line, flow float64) float64 {
	if flow == 0 {
		flow = b.usual
	}
	sum := 0.0
	for _, e := range elements(line, b.st.Fluid) {
		sum += e.Settle(flow)
	}
	return sum / (flow * flow)
}

// main lays the main from the outlet, or the high point at which it takes air, upstream.
func (b *builder) main() error {
	line, end := b.st.Main, b.event.level.OutletM
	if top, high := b.st.HighPoint(); high {
		line, _ = split(b.st.Main, top.ChainageM)
		end = top.ElevationM
		b.out.pockets = "The main is followed up to its high point, where it takes air; what runs on beyond drains freely."
	}
	b.outletM, b.head = end, end
	line, before, err := b.cut(line)
	if err != nil {
		return err
	}
	joints := map[string]*transient.Chain{"outlet": {}}
	node := "outlet"
	for i := len(line.Runs) - 1; i >= 0; i-- {
		p, short := b.run(line, i)
		at := joints[node]
		at.InertanceS2 += short.InertanceS2
		at.LossS2M5 += short.LossS2M5
		b.head += short.LossS2M5 * b.total * b.total
		if p.LengthM == 0 {
			continue // too short for a wave: a rigid column at the joint
		}
		b.head += p.LocalLoss * velocityHead(b.total, p.AreaM2())
		p.HeadM, p.To, p.From = b.head, node, p.Name+" start"
		node = p.From
		joints[node] = &transient.Chain{}
		b.pipes = append([]transient.Pipe{p}, b.pipes...)
		if d := before[i]; d != nil && i > 0 {
			if err := b.stand(d, b.head); err != nil {
				return err
			}
			b.stands[node] = d
		}
	}
	b.joints(joints, node)
	if d := before[0]; d != nil {
		if err := b.stand(d, b.head); err != nil {
			return err
		}
		b.nodes["header"] = d.boundary
	}
	return nil
}

// run is the part of a run that fills whole reaches, and what is left as a rigid column.
func (b *builder) run(line station.Line, i int) (transient.Pipe, transient.Chain) {
	r := line.Runs[i]
	area := pipe.AreaM2(r.InnerDiameter.SI)
	k := b.loss(station.Line{Runs: line.Runs[i : i+1]}, b.total)
	start := 0.0
	for _, before := range line.Runs[:i] {
		start += before.Length.SI
	}
	reach := b.stepS * r.WaveSpeed.SI
	n := math.Round(r.Length.SI / reach)
	length := r.Length.SI
	if n == 0 || math.Abs(length/(n*reach)-1) > fit {
		n = math.Floor(length / reach)
		length = n * reach
	}
	share := length / r.Length.SI
	name := fmt.Sprintf("main %d", i+1)
	if n > 0 {
		b.out.profile = append([]mainPart{{name, start, &line.Runs[i]}}, b.out.profile...)
	}
	return transient.Pipe{
		Name: name, LengthM: length, DiameterM: r.InnerDiameter.SI, WaveSpeedMS: r.WaveSpeed.SI,
		LocalLoss: share * k * 2 * quantity.StandardGravity * area * area, FlowM3S: b.total,
		Profile:  b.elevations(start),
		Unsteady: b.unsteady(r.InnerDiameter.SI, b.total),
	}, transient.Chain{
		InertanceS2: (1 - share) * r.Length.SI / (quantity.StandardGravity * area), LossS2M5: (1 - share) * k,
	}
}

// velocityHead is V²/2g, m.
func velocityHead(flow, area float64) float64 {
	v := flow / area
	return v * v / (2 * quantity.StandardGravity)
}

// joints puts what stands between the pipes of the main, at its outlet and at the header.
// What is left at the header moves to the first joint behind it.
func (b *builder) joints(chains map[string]*transient.Chain, first string) {
	if left := chains[first]; len(b.pipes) > 0 && left.InertanceS2 > 0 {
		free := slices.IndexFunc(b.pipes, func(p transient.Pipe) bool { return b.stands[p.To] == nil })
		next := chains[b.pipes[free].To]
		next.InertanceS2 += left.InertanceS2
		next.LossS2M5 += left.LossS2M5
		b.pipes[0].HeadM = b.head
	}
	for node, c := range chains {
		switch still := c.InertanceS2 == 0 && c.LossS2M5 == 0; {
		case node == first:
		case b.stands[node] != nil:
			b.nodes[node] = b.stands[node].boundary
		case node == "outlet" && still:
			b.nodes[node] = transient.Level{HeadM: b.outletM}
		case node == "outlet":
			b.nodes[node] = &transient.Branch{Supply: transient.Level{HeadM: b.outletM}, Chain: c}
		case still:
			b.nodes[node] = transient.Junction{}
		default:
			b.nodes[node] = &transient.Inline{Chain: c}
		}
	}
	for i := range b.pipes {
		if b.pipes[i].From == first {
			b.pipes[i].From = "header"
		}
	}
	b.out.headerM = b.head
	b.nodes["header"] = transient.Junction{}
}

// elevations are those of the main's axis from a chainage on, above the datum.
func (b *builder) elevations(startM float64) []transient.Elevation {
	if b.axis == nil {
		points, _ := b.st.Axis()
		for _, e := range points {
			b.axis = append(b.axis, transient.Elevation{ChainageM: e.ChainageM, ElevationM: e.ElevationM})
		}
	}
	out := make([]transient.Elevation, len(b.axis))
	for i, e := range b.axis {
		out[i] = transient.Elevation{ChainageM: e.ChainageM - startM, ElevationM: e.ElevationM}
	}
	return out
}
