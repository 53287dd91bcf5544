package study

import (
	"context"
	"math"

	"seatward/catalog"
	"seatward/internal/pool"
	"seatward/judge"
	"seatward/plant"
	"seatward/station"
)

// Remedy is a what-if beside the stops as they are, with all stops that were asked for.
type Remedy struct {
	Name   string
	What   string           // what is changed, in a sentence
	Edits  []station.Change // that take it into the station file; none for another valve
	Valve  string           // the other valve; "" for a change of the station
	Answer *plant.Answer    // at best estimates; nil where it could not be run
	Fault  string           // why; "" where it was
	Cures  bool             // its own runs are better in slam, and no worse in vapor
}

// LeastPressureM is the least pressure head of the main in all events, m.
func (r *Remedy) LeastPressureM() float64 {
	least := math.Inf(1)
	for _, s := range r.Answer.Stops {
		if s.Fault == "" {
			least = math.Min(least, s.LeastPressureM())
		}
	}
	return least
}

// MostM is the greatest head at the valve in all events, m above the datum.
func (r *Remedy) MostM() float64 {
	most := math.Inf(-1)
	for _, s := range r.Answer.Stops {
		if s.Fault == "" {
			most = math.Max(most, s.MostM())
		}
	}
	return most
}

// Separates is true where the column separates in some event.
func (r *Remedy) Separates() bool { return judge.Separation(r.Answer) != nil }

// curesBy is the share by which a remedy must lower the reverse velocity; judged, no source.
const curesBy = 0.1

// better is true where the remedy's own runs are better than those as it is: a milder slam,
// no column separation that was not there, and none left where it is what had to be cured.
func (r *Remedy) better(now *Remedy) bool {
	if r.Answer == nil || r.Answer.Worst == nil || now.Answer.Worst == nil || r.Separates() {
		return false
	}
	before, after := now.Answer.Worst, r.Answer.Worst
	milder := after.SlamMS() < (1-curesBy)*before.SlamMS() && after.Rest != plant.NeverRests
	if now.Separates() {
		return after.SlamMS() <= before.SlamMS()*(1+1e-9) && after.Rest != plant.NeverRests
	}
	return milder
}

// events are those that were asked for.
func (s *TripStudy) events() []plant.Event {
	out := make([]plant.Event, len(s.Answer.Stops))
	for i, x := range s.Answer.Stops {
		out[i] = x.Event
	}
	return out
}

// remedies runs the stops again with what might cure them, one thing at a time: what the
// user gave, or else a usual size of it.
func (s *TripStudy) remedies(ctx context.Context, p *plant.Plant, opt TripOptions) ([]Remedy, error) {
	it := s.Item
	type try struct {
		plant *plant.Plant
		item  *catalog.Item
	}
	out, tries := []Remedy{{Name: "as it is", What: it.ID}}, []try{{p, it}}
	for _, c := range s.cures(p, opt) {
		r, in := Remedy{Name: c.name, What: c.what, Edits: c.edits}, p
		if changed, err := s.Station.With(c.edits); err != nil {
			r.Fault = err.Error()
		} else if in, err = plant.New(changed); err != nil {
			r.Fault = err.Error()
		}
		out, tries = append(out, r), append(tries, try{in, it})
	}
	for _, o := range otherValves(opt.Catalogs, it) {
		if o.item.Allows(s.Station.Valve.Position) {
			out = append(out, Remedy{Name: o.name, What: o.item.ID, Valve: o.item.ID})
			tries = append(tries, try{p, o.item})
		}
	}
	setting, events := s.Station.Setting(), s.events()
	pool.Each(len(out), func(i int) {
		if out[i].Fault != "" {
			return
		}
		a, err := tries[i].plant.Ask(ctx, tries[i].item, setting,
			plant.Ask{Events: tries[i].plant.Same(events), Change: opt.With, Least: true})
		switch {
		case err != nil:
			out[i].Fault = err.Error()
		default:
			out[i].Answer, out[i].Fault = a, a.Fault
		}
	})
	for i := 1; i < len(out); i++ {
		out[i].Cures = out[i].better(&out[0])
	}
	return out, ctx.Err()
}

// Cures runs every stop with the valve, and again with each remedy, at best estimates.
func Cures(ctx context.Context, st *station.Station, opt TripOptions) (*TripStudy, error) {
	p, err := plant.New(st)
	if err != nil {
		return nil, err
	}
	it, m, setting, err := theValve(st, opt)
	if err != nil {
		return nil, err
	}
	out := &TripStudy{Station: st, Item: it, Mech: m, Datum: Datum, with: opt.With}
	out.Answer, err = p.Ask(ctx, it, setting,
		plant.Ask{Limits: judge.SlamLimits(opt.Rules), Change: opt.With, Record: true, Least: true})
	if err != nil {
		return nil, err
	}
	out.Remedies, err = out.remedies(ctx, p, opt)
	return out, err
}

// otherValve is another product in place of the one that is looked at.
type otherValve struct {
	name string
	item *catalog.Item
}

// otherValves are the next smaller size of the family, and assisted or short-stroke
// families in the same size.
func otherValves(all []*catalog.Catalog, it *catalog.Item) []otherValve {
	var out []otherValve
	var smaller *catalog.Item
	for _, o := range it.Family.Items {
		if o.Variant == it.Variant && o.Size.DN < it.Size.DN && (smaller == nil || o.Size.DN > smaller.Size.DN) {
			smaller = o
		}
	}
	if smaller != nil {
		out = append(out, otherValve{"smaller valve", smaller})
	}
	for _, c := range all {
		for _, f := range c.Families {
			if f == it.Family || !f.Type.Traits.Quick {
				continue
			}
			for _, o := range f.Items {
				if o.Size == it.Size {
					out = append(out, otherValve{f.Title, o})
					break
				}
			}
		}
	}
	return out
}
