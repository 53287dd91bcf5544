package study

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"

	"seatward/basis"
	"seatward/catalog"
	"seatward/internal/pool"
	"seatward/judge"
	"seatward/plant"
	"seatward/station"
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
	p, err := plant.New(st)
	if err != nil {
		return nil, err
	}
	bare, err := p.Solve(nil)
	if err != nil {
		return nil, err
	}
	if !bare.Delivers() {
		return nil, fmt.Errorf("%s: %w", st.Name, ErrNoFlow)
	}
	out := &Study{Station: st, Catalogs: opt.Catalogs, ByHand: plant.ByHand(st, bare.ForValve()), desk: desk{p, opt}}
	if err := out.judgeSizes(ctx, opt.All); err != nil {
		return nil, err
	}
	if opt.Valve == "" && !out.Wide &&
		!slices.ContainsFunc(out.Assessments, func(a judge.Assessment) bool { return a.Verdict != judge.Unsuitable }) {
		if err := out.judgeSizes(ctx, true); err != nil {
			return nil, err
		}
	}
	return out, out.finish()
}

// judgeSizes judges what is made in the pipe's size, or in the sizes next to it too. What
// has been judged already stays.
func (s *Study) judgeSizes(ctx context.Context, wide bool) error {
	items, notMade, err := candidates(s.Station, s.desk.opt, wide)
	if err != nil {
		return err
	}
	known := s.Assessments
	items = slices.DeleteFunc(items, func(it *catalog.Item) bool {
		return slices.ContainsFunc(known, func(a judge.Assessment) bool { return a.Item == it })
	})
	more, err := s.desk.assessAll(ctx, items)
	s.Assessments, s.NotMade, s.Wide = append(known, more...), notMade, wide
	return err
}

// desk is what every item of a study is judged with.
type desk struct {
	plant *plant.Plant
	opt   Options
}

// assessAll judges the items on all processors. The order of the result is that of
// the items, so that the answer does not depend on which finished first.
func (d desk) assessAll(ctx context.Context, items []*catalog.Item) ([]judge.Assessment, error) {
	if d.opt.Row != nil && !d.opt.Quick {
		if _, err := d.assessEach(ctx, items, false, func(int) {}); err != nil {
			return nil, err
		}
	}
	return d.assessEach(ctx, items, !d.opt.Quick, func(finished int) {
		if d.opt.Progress != nil {
			d.opt.Progress(finished, len(items))
		}
	})
}

// assessEach is assessAll with the stops run or left to be run; told is called as often as
// a valve is finished.
func (d desk) assessEach(
	ctx context.Context, items []*catalog.Item, run bool, told func(finished int),
) ([]judge.Assessment, error) {
	out, errs := make([]judge.Assessment, len(items)), make([]error, len(items))
	var telling sync.Mutex
	finished := 0
	pool.Each(len(items), func(i int) {
		if errs[i] = ctx.Err(); errs[i] != nil {
			return
		}
		out[i], errs[i] = d.assess(ctx, items[i], run)
		telling.Lock()
		defer telling.Unlock()
		finished++
		told(finished)
		if d.opt.Row != nil && errs[i] == nil {
			d.opt.Row(&out[i])
		}
	})
	for _, err := range errs {
		if err != nil {
			return nil, cmp.Or(ctx.Err(), err)
		}
	}
	return out, nil
}

// assess judges one item with the station solved round it and, where it is run, with what
// all stops do with it.
func (d desk) assess(ctx context.Context, it *catalog.Item, run bool) (judge.Assessment, error) {
	p, st := d.plant, d.plant.Station()
	in := judge.Input{Station: st, Item: it, Rules: d.opt.Rules}
	setting := st.Setting()
	if in.Mech, in.BuildErr = it.Build(setting); in.BuildErr != nil {
		in.Mech = nil
		return judge.Assess(in), nil
	}
	points, err := p.Solve(in.Mech)
	if err != nil {
		return judge.Assessment{}, fmt.Errorf("%s: %w", it.ID, err)
	}
	in.Points = points.ForValve()
	if run {
		in.Answer, err = p.Ask(ctx, it, setting,
			plant.Ask{Limits: judge.SlamLimits(d.opt.Rules), Threshold: true, Sample: d.opt.Samples})
		if err != nil {
			return judge.Assessment{}, fmt.Errorf("%s: %w", it.ID, err)
		}
	}
	return judge.Assess(in), nil
}

// finish fills in what goes with the answer: the operating points with the first
// valve in place, assumptions, cautions, references and the decisive fact.
func (s *Study) finish() error {
	judge.Rank(s.Assessments)
	s.Assumed, s.DecisiveFact, s.Separation, s.Pending = nil, "", "", 0
	for i := range s.Assessments {
		if s.Assessments[i].Pending() {
			s.Pending++
		}
	}
	var mechanism *valve.Mechanism
	id := "no valve"
	if len(s.Assessments) > 0 {
		first := s.Assessments[0].Item
		if m, err := first.Build(s.Station.Setting()); err == nil {
			mechanism, id = m, first.ID
		}
	}
	points, err := s.desk.plant.Solve(mechanism)
	if err != nil {
		return err
	}
	s.Points = points.List(id)
	station.Walk(s.Station, func(path string, v basis.Value) {
		if v.Origin == basis.Assumed {
			s.Assumed = append(s.Assumed, Assumed{Path: path, Value: v})
		}
	})
	s.Cautions = judge.Cautions(s.Station, s.Assessments, s.desk.opt.Rules)
	s.References = s.references()
	if len(s.Assessments) > 0 {
		s.DecisiveFact, s.Separation = s.Assessments[0].Slam.DecisiveInput, s.Assessments[0].Separation
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

// OfProduct is true for a reference that is data of the products judged, not a publication.
func (s *Study) OfProduct(ref string) bool {
	return ref == judge.FromCatalog ||
		slices.ContainsFunc(s.Assessments, func(a judge.Assessment) bool { return a.Item.Family.Source() == ref })
}
