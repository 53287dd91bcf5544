package steady

import (
	"cmp"
	"math"
	"slices"

	"seatward/internal/root"
)

// steps of the search for states on a stretch where the balance need not be monotone.
const searchSteps = 24

// alone finds every state of one party, by rising flow.
func (b *balance) alone() []state {
	p := b.parties[0]
	excess := func(q float64) float64 { return p.net(q) - b.main.need(p.count()*q).headM }
	losses := p.mainLosses(b.main, len(p.members))
	atKnot := func(i int) float64 { return p.knots[i].h - b.main.needOf(losses[i]).headM }
	var out []state
	before, found := p.knots[0].q, atKnot(0)
	if found <= 0 {
		out = append(out, b.settle([]float64{0}))
	}
	for i, k := range p.knots[1:] {
		e := atKnot(i + 1)
		if found > 0 && e <= 0 || found < 0 && e >= 0 {
			out = append(out, b.settle([]float64{root.Find(excess, root.Point{X: before, Y: found},
				root.Point{X: k.q, Y: e}, 0)}))
		}
		before, found = k.q, e
	}
	return out
}

// fromRest finds the state of several parties in which each has the flow that
// grows from shut-off. The main's need less the head falls with the head, so one
// bracket holds it.
func (b *balance) fromRest() state {
	flows := make([]float64, len(b.parties))
	at := func(h float64) float64 {
		for i, p := range b.parties {
			flows[i] = p.fromRest(h)
		}
		return b.main.need(b.total(flows)).headM - h
	}
	low, high := b.main.need(0).headM, math.Inf(-1)
	for _, p := range b.parties {
		high = math.Max(high, p.shutOffM())
	}
	if high <= low {
		return b.settle(flows)
	}
	h := root.Find(at, root.Point{X: low, Y: at(low)}, root.Point{X: high, Y: at(high)}, 0)
	at(h)
	s := b.settle(flows)
	if b.monotone() {
		s = b.polish(flows, make(choice, len(b.parties)))
	}
	if b.closed(s) {
		return s
	}
	if t := b.bridge(h); b.closed(t) {
		return t
	}
	return s
}

// monotone is true when the head of every party falls from shut-off to the end.
func (b *balance) monotone() bool {
	for _, p := range b.parties {
		if !p.monotone() {
			return false
		}
	}
	return true
}

// bridge looks for a state where the flows from rest jump at the head h: on the
// rise of a curve that droops there, or along a level one. The flow of the party
// that jumps most is the unknown, from its one side of the jump to the other.
func (b *balance) bridge(h float64) state {
	near := 1e-12 * b.scaleM(state{headM: h})
	leader, before, after := 0, 0.0, 0.0
	for i, p := range b.parties {
		x, y := p.fromRest(h+near), p.fromRest(h-near)
		if i == 0 || p.count()*(y-x) > b.parties[leader].count()*(after-before) {
			leader, before, after = i, x, y
		}
	}
	lead := b.parties[leader]
	flowsAt := func(q float64) []float64 {
		flows := make([]float64, len(b.parties))
		for i, p := range b.parties {
			flows[i] = p.fromRest(lead.net(q))
		}
		flows[leader] = q
		return flows
	}
	excess := func(q float64) float64 { return lead.net(q) - b.main.need(b.total(flowsAt(q))).headM }
	x, y := excess(before), excess(after)
	if x > 0 == (y > 0) {
		return b.settle(flowsAt(after))
	}
	return b.settle(flowsAt(root.Find(excess, root.Point{X: before, Y: x}, root.Point{X: after, Y: y}, 0)))
}

// choice is what each party does: -1 shut, else a stretch of its curve.
type choice []int

// all finds the states of several parties over every choice of stretches, by
// rising flow, and whether there were too many choices to look at.
func (b *balance) all() (out []state, tooMany bool) {
	const most = 4096
	total := 1
	for _, p := range b.parties {
		if total *= len(p.stretches) + 1; total > most {
			return nil, true
		}
	}
	for n := range total {
		c := make(choice, len(b.parties))
		for i, p := range b.parties {
			c[i] = n%(len(p.stretches)+1) - 1
			n /= len(p.stretches) + 1
		}
		out = append(out, b.states(c)...)
	}
	slices.SortStableFunc(out, func(x, y state) int { return cmp.Compare(x.totalM3S, y.totalM3S) })
	return unique(out), false
}

// unique drops states that are the end of one stretch and the start of the next.
func unique(states []state) (out []state) {
	for _, s := range states {
		twin := false
		for _, t := range out {
			twin = twin || s.same(t)
		}
		if !twin {
			out = append(out, s)
		}
	}
	return out
}

func (s state) same(t state) bool {
	for i := range s.flows {
		if math.Abs(s.flows[i]-t.flows[i]) > 1e-7*math.Max(s.totalM3S, t.totalM3S) {
			return false
		}
	}
	return true
}

// states finds the states of one choice. The flow of a leader, on the flattest
// stretch, is the unknown: it gives the head, the head the flows of the others.
func (b *balance) states(c choice) (out []state) {
	low, high, leader := b.heads(c)
	if leader < 0 {
		if s := b.settle(make([]float64, len(b.parties))); b.closed(s) {
			out = append(out, s)
		}
		return out
	}
	if low > high {
		return nil
	}
	lead := b.parties[leader]
	flowsAt := func(q float64) []float64 {
		h, flows := lead.net(q), make([]float64, len(b.parties))
		for i, p := range b.parties {
			switch {
			case i == leader:
				flows[i] = q
			case c[i] >= 0:
				flows[i] = p.on(p.stretches[c[i]], h)
			}
		}
		return flows
	}
	excess := func(q float64) float64 { return lead.net(q) - b.main.need(b.total(flowsAt(q))).headM }
	from, to := b.leaderSpan(lead, lead.stretches[c[leader]], low, high)
	before, found := from, excess(from)
	for i := 1; i <= searchSteps; i++ {
		q := from + (to-from)*float64(i)/searchSteps
		e := excess(q)
		if found >= 0 && e <= 0 || found <= 0 && e >= 0 {
			if s := b.polish(flowsAt(root.Find(excess, root.Point{X: before, Y: found}, root.Point{X: q, Y: e}, 0)),
				c); b.closed(s) {
				out = append(out, s)
			}
		}
		before, found = q, e
	}
	return out
}

// heads is the range of header heads that a choice allows, and the party that
// leads: the flowing one whose head changes least. It is -1 when none flows.
func (b *balance) heads(c choice) (low, high float64, leader int) {
	low, high, leader = b.main.need(0).headM, math.Inf(1), -1
	flattest := math.Inf(1)
	for i, p := range b.parties {
		if c[i] < 0 {
			low = math.Max(low, p.shutOffM())
			continue
		}
		s := p.stretches[c[i]]
		x, y := p.knots[s.from].h, p.knots[s.to].h
		low, high = math.Max(low, math.Min(x, y)), math.Min(high, math.Max(x, y))
		if d := math.Abs(x - y); d < flattest {
			flattest, leader = d, i
		}
	}
	return low, high, leader
}

// leaderSpan is the part of the leader's stretch with heads from low to high; all
// of a stretch that is level.
func (b *balance) leaderSpan(lead party, s stretch, low, high float64) (from, to float64) {
	if lead.knots[s.from].h == lead.knots[s.to].h {
		return lead.knots[s.from].q, lead.knots[s.to].q
	}
	if s.rising {
		low, high = high, low
	}
	return lead.on(s, high), lead.on(s, low)
}
