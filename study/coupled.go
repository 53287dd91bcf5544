package study

import (
	"context"
	"fmt"
	"math"

	"seatward/basis"
	"seatward/catalog"
	"seatward/judge"
	"seatward/valve"
)

// variant is the station with one fact, or one kind of fact, at the ends of its range.
type variant struct {
	name      string
	value     basis.Value
	low, high *plant
}

// felt is the share of a value below which its range is not followed by runs of its own.
const felt = 0.02

// variants puts the facts of the station that move a run at the ends of their ranges, each
// alone. They serve every valve.
func (p *plant) variants() ([]variant, error) {
	var out []variant
	for _, a := range p.stationAxes() {
		if a.value.High-a.value.Low < felt*math.Abs(a.value.SI) {
			continue
		}
		x := variant{name: a.name, value: a.value}
		for _, end := range []struct {
			u  float64
			to **plant
		}{{0, &x.low}, {1, &x.high}} {
			st := *p.st
			a.apply(&st, end.u)
			q, err := newPlant(&st)
			if err == nil {
				err = q.forRuns()
			}
			if err != nil {
				return nil, fmt.Errorf("with %s at an end of its range: %w", a.name, err)
			}
			*end.to = q
		}
		out = append(out, x)
	}
	return out, nil
}

// coupled runs every stop through with the item, then the worst one again with each
// number that has a range at its ends, alone.
func (p *plant) coupled(ctx context.Context, it *catalog.Item, m *valve.Mechanism, setting valve.Setting, variants []variant) (*judge.Run, error) {
	if err := p.forRuns(); err != nil {
		return nil, err
	}
	opt := runOptions{duration: p.runTime()}
	var worst *Trip
	events := p.stopEvents()
	trips, errs := make([]*Trip, len(events)), make([]error, len(events))
	sideBySide(len(events), func(i int) { trips[i], errs[i] = p.run(ctx, m, it.ID, events[i], opt) })
	for i, t := range trips {
		if errs[i] != nil {
			return &judge.Run{Fault: errs[i].Error()}, ctx.Err()
		}
		if !t.Closing.Closed {
			return &judge.Run{Fault: fmt.Sprintf("the valve does not shut within %.0f s of %s", t.TimeS, events[i].Title)}, nil
		}
		if worst == nil || t.Closing.ReverseMS > worst.Closing.ReverseMS {
			worst = t
		}
	}
	if worst == nil {
		return &judge.Run{Fault: "no stop was found"}, nil
	}
	opt.gas, opt.bare = worst.gas, true
	b := bandOf{plant: p, item: it, setting: setting, event: worst.Event, opt: opt, ctx: ctx, best: worst}
	if err := b.together(m, variants); err != nil {
		return nil, err
	}
	return b.result(), nil
}
