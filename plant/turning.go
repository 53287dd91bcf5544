package plant

import (
	"context"
	"math"
	"sync"

	"seatward/transient"
)

// turning is the flow of one event without any valve, from its beginning until it turns:
// what the station does to the water, whatever stands in its way. It gives the axis of a
// closing curve.
type turning struct {
	once    sync.Once
	timeS   []float64
	flowM3S []float64
}

// DecelerationMS2 is how fast the flow through a bore of the area falls in the event, m/s²,
// without the valve: the mean slope between the velocity fullMS, at which a valve of this
// make begins to close, and zero; from the start where the flow never reached it. NaN
// where the flow does not turn.
func (p *Plant) DecelerationMS2(ctx context.Context, ev Event, areaM2, fullMS float64) float64 {
	known, _ := p.turnings.LoadOrStore(ev.ID, new(turning))
	t := known.(*turning)
	t.once.Do(func() { p.turn(ctx, ev, t) })
	n := len(t.flowM3S)
	if n < 2 || t.flowM3S[n-1] > 0 {
		return math.NaN()
	}
	at := func(q float64) float64 { // when the flow passes q for the last time
		for k := n - 1; k > 0; k-- {
			if a, b := t.flowM3S[k-1], t.flowM3S[k]; a >= q && b <= q && a > b {
				return t.timeS[k-1] + (t.timeS[k]-t.timeS[k-1])*(a-q)/(a-b)
			}
		}
		return t.timeS[0]
	}
	from := fullMS * areaM2
	if !(from > 0) || from > t.flowM3S[0] {
		from = t.flowM3S[0]
	}
	if span := at(0) - at(from); span > 0 {
		return from / areaM2 / span
	}
	return math.NaN()
}

// turn lets the event happen without a valve until the flow turns.
func (p *Plant) turn(ctx context.Context, ev Event, t *turning) {
	if p.forRuns() != nil || !ev.Stops() {
		return
	}
	l, err := p.network(nil, ev, Options{}, true)
	if err != nil {
		return
	}
	chain := l.chains[l.watched]
	_, main, _ := joined(l.main)
	until := func() bool {
		t.timeS, t.flowM3S = append(t.timeS, l.net.TimeS()), append(t.flowM3S, chain.FlowM3S())
		return chain.FlowM3S() <= 0
	}
	t.timeS, t.flowM3S = append(t.timeS, 0), append(t.flowM3S, chain.FlowM3S())
	most := math.Min(longestRunS, ev.lastS()+patience+patienceTs*4*(l.branch+main))
	if _, err := l.net.Run(ctx, transient.Options{
		DurationS: most, Until: until, Bare: true,
		MostSteps: mostSteps,
	}); err != nil {
		t.timeS, t.flowM3S = nil, nil
	}
}
