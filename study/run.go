package study

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"sync"

	"seatward/basis"
	"seatward/catalog"
	"seatward/judge"
	"seatward/station"
	"seatward/steady"
	"seatward/valve"
)

// ErrNoFlow means that no pump of the station delivers, whatever the valve.
var ErrNoFlow = errors.New("no pump delivers at any level: the static head is above the shut-off head")

// Run answers for the station. It returns the context's error when cancelled, and
// ErrNoFlow, wrapped, where no valve could be judged at all.
func Run(ctx context.Context, st *station.Station, opt Options) (*Study, error) {
	if err := opt.Rules.Has(st.RulePacks); err != nil {
		return nil, err
	}
	p, err := newPlant(st)
	if err != nil {
		return nil, err
	}
	bare, err := p.points(nil)
	if err != nil {
		return nil, err
	}
	if bare[0].Outcome != steady.Flowing {
		return nil, fmt.Errorf("%s: %w", st.Name, ErrNoFlow)
	}
	spread := flowSpread(st, bare[0].Branches[0].FlowM3S)
	items, notMade, err := candidates(st, opt)
	if err != nil {
		return nil, err
	}
	out := &Study{Station: st, Catalogs: opt.Catalogs, NotMade: notMade, Stops: judge.NewStops(st, p.forValve(bare, spread))}
	d := desk{p, out.Stops, spread, nil, opt}
	if !opt.Quick {
		if err := d.forRuns(); err != nil {
			return nil, err
		}
	}
	out.desk = d
	out.Assessments, err = d.assessAll(ctx, items)
	if err != nil {
		return nil, err
	}
	judge.Rank(out.Assessments)
	if err := out.finish(); err != nil {
		return nil, err
	}
	return out, nil
}

// desk is what every item of a study is judged with.
type desk struct {
	plant    *plant
	stops    judge.Stops
	spread   basis.Value
	variants []variant // nil where nothing is run through
	opt      Options
}

// forRuns makes ready what runs need, where enough is known for them.
func (d *desk) forRuns() error {
	if d.plant.st.Depth < station.Layout {
		return nil
	}
	if err := d.plant.forRuns(); err != nil {
		return err
	}
	var err error
	d.variants, err = d.plant.variants()
	return err
}

// assessAll judges the items on all processors. The order of the result is that of
// the items, so that the answer does not depend on which finished first.
func (d desk) assessAll(ctx context.Context, items []*catalog.Item) ([]judge.Assessment, error) {
	out, errs := make([]judge.Assessment, len(items)), make([]error, len(items))
	next, done := make(chan int), make(chan struct{}, len(items))
	var workers sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), max(len(items), 1)) {
		workers.Go(func() {
			for i := range next {
				out[i], errs[i] = d.assess(ctx, items[i])
				done <- struct{}{}
			}
		})
	}
	var cancelled error
	finished := 0
	for i := range items {
		select {
		case <-ctx.Done():
			cancelled = ctx.Err()
		case next <- i:
		}
		if cancelled != nil {
			break
		}
		for len(done) > 0 {
			<-done
			finished++
		}
		if d.opt.Progress != nil {
			d.opt.Progress(finished, len(items))
		}
	}
	close(next)
	workers.Wait()
	if d.opt.Progress != nil && cancelled == nil {
		d.opt.Progress(len(items), len(items))
	}
	return out, errors.Join(append(errs, cancelled)...)
}

// assess judges one item with the station solved round it.
func (d desk) assess(ctx context.Context, it *catalog.Item) (judge.Assessment, error) {
	p := d.plant
	in := judge.Input{Station: p.st, Item: it, Rules: d.opt.Rules, Stops: d.stops}
	position, err := valve.PositionNamed(p.st.Valve.Position)
	if err != nil {
		return judge.Assessment{}, err
	}
	mechanism, err := it.Build(valve.In(p.st.Fluid.Density.SI, position))
	if err != nil {
		in.BuildErr = err
		return judge.Assess(in), nil
	}
	in.Mech = mechanism
	points, err := p.points(mechanism)
	if err != nil {
		return judge.Assessment{}, fmt.Errorf("%s: %w", it.ID, err)
	}
	in.Points = p.forValve(points, d.spread)
	first := judge.Assess(in)
	if d.variants == nil || rejectedBesidesSlam(first) {
		return first, nil
	}
	if in.Run, err = p.coupled(ctx, it, mechanism, valve.In(p.st.Fluid.Density.SI, position), d.variants); err != nil {
		return judge.Assessment{}, fmt.Errorf("%s: %w", it.ID, err)
	}
	return judge.Assess(in), nil
}

// WouldRun is true for a valve of a quick study of which running its trips through may say
// more.
func (s *Study) WouldRun(a *judge.Assessment) bool {
	return s.Station.Depth >= station.Layout && !rejectedBesidesSlam(*a)
}

// rejectedBesidesSlam is true for a valve that no run could save.
func rejectedBesidesSlam(a judge.Assessment) bool {
	for _, f := range a.Findings {
		if f.Severity == judge.Rejects && f.ID != "slam-harmful" {
			return true
		}
	}
	return false
}

// finish fills in what goes with the answer: the operating points with the first
// valve in place, assumptions, cautions, references and the decisive fact.
func (s *Study) finish() error {
	s.Points, s.Assumed, s.DecisiveFact = nil, nil, ""
	var mechanism *valve.Mechanism
	id := "no valve"
	if len(s.Assessments) > 0 {
		first := s.Assessments[0].Item
		position, err := valve.PositionNamed(s.Station.Valve.Position)
		if err != nil {
			return err
		}
		if m, err := first.Build(valve.In(s.Station.Fluid.Density.SI, position)); err == nil {
			mechanism, id = m, first.ID
		}
	}
	points, err := s.desk.plant.points(mechanism)
	if err != nil {
		return err
	}
	for i := range points {
		s.Points = append(s.Points, s.desk.plant.point(&points[i], id))
	}
	station.Walk(s.Station, func(path string, v basis.Value) {
		if v.Origin == basis.Assumed {
			s.Assumed = append(s.Assumed, Assumed{path, v})
		}
	})
	s.Cautions = judge.Cautions(s.Station, s.Assessments, s.desk.opt.Rules)
	s.References = s.references()
	if len(s.Assessments) > 0 {
		s.DecisiveFact = s.Assessments[0].Slam.DecisiveInput
	}
	return nil
}

// references lists what the answer rests on: sources of the findings of the valves
// that can be used, then those of their numbers.
func (s *Study) references() []string {
	var out []string
	seen := map[string]bool{}
	add := func(cited string) {
		if cited != "" && !seen[cited] {
			seen[cited] = true
			out = append(out, cited)
		}
	}
	for i := range s.Assessments {
		for _, f := range s.Assessments[i].Findings {
			add(basis.Cite(f.Basis))
		}
	}
	var told []basis.Value
	for _, n := range s.Values() {
		if n.Value.Origin != basis.Catalog {
			told = append(told, n.Value)
		}
	}
	for _, ref := range basis.References(told...) {
		add(ref)
	}
	return out
}
