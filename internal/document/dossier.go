package document

import (
	"context"
	"fmt"
	"slices"

	"seatward/basis"
	"seatward/catalog"
	"seatward/internal/chart"
	"seatward/internal/clause"
	"seatward/judge"
	"seatward/lift"
	"seatward/plant"
	"seatward/quantity"
	"seatward/rules"
	"seatward/standards"
	"seatward/study"
)

// Request says what papers are made from.
type Request struct {
	Study    *study.Study // of the whole catalog, or of the valves that the papers are about
	Rules    *rules.Book
	Profile  *ProfileFile // nil for an empty one
	Logo     *Picture
	Wording  *Wording // nil for that of the program
	Paper    Paper
	Program  string          // name and version
	Clause   *clause.Section // a specification to be answered; nil for the section that Seatward writes
	Picks    []catalog.Pick  // options that were chosen, by title or ID; the rest is completed
	Compared []string        // IDs of the valves of a comparison; the best ones where empty
	Link     string          // that opens the study, for a square code; "" where it has none
	Command  string          // by which the station file is judged again
}

// Dossier is a request with what documents read from it: one valve in one station.
type Dossier struct {
	Request
	Assessment    *judge.Assessment
	Configuration *catalog.Configuration
	Lifts         []lift.Verdict
	LiftLimit     basis.Value
	Advice        []rules.Advice
	Standards     []standards.Said
	Valve         *chart.Valve
	Loss          *chart.Loss
	Closing       *chart.Closing // nil where there is no closing curve
	Trip          *study.TripStudy
	Points        []plant.Point // with this valve in place; empty where it cannot be built
	all           []standards.Standard
}

// NewDossier gathers what the papers of one valve are made from. Trip and closing curve are
// left out where none of the kinds needs them. The errors are those of a valve that was not judged,
// of its configuration and of the run.
func NewDossier(ctx context.Context, r Request, id string, withTrip bool) (*Dossier, error) {
	s := &Dossier{Request: r}
	if s.Profile == nil {
		s.Profile = &ProfileFile{}
	}
	if s.Wording == nil {
		s.Wording = NewWording()
	}
	var err error
	for _, one := range append([]string{id}, r.Compared...) { // a quick study has left them
		if s.Study, err = s.Study.RunThrough(ctx, one); err != nil {
			return nil, err
		}
	}
	r = s.Request
	i := slices.IndexFunc(r.Study.Assessments, func(a judge.Assessment) bool { return a.Item.ID == id })
	if i < 0 {
		return nil, fmt.Errorf("the study does not judge the valve %s", id)
	}
	s.Assessment = &r.Study.Assessments[i]
	if s.Points, err = s.Study.PointsWith(s.Assessment.Item); err != nil {
		return nil, err
	}
	if err := s.configure(); err != nil {
		return nil, err
	}
	if err := s.curves(withTrip); err != nil {
		return nil, err
	}
	if withTrip && len(s.Study.Points) > 0 {
		trip, err := study.RunTrip(ctx, r.Study.Station,
			study.TripOptions{Catalogs: r.Study.Catalogs, Rules: r.Rules, Valve: id, Remedies: true})
		if err != nil {
			return nil, err
		}
		s.Trip = trip
	}
	return s, nil
}

// PickError is a choice of options that a valve does not have, or that do not go together.
type PickError struct {
	Valve string
	Err   error
}

func (e *PickError) Error() string { return "the options of " + e.Valve + ": " + e.Err.Error() }

func (e *PickError) Unwrap() error { return e.Err }

// units are those in which the papers print.
func (s *Dossier) units() quantity.System { return s.Study.Station.Units }

// configure completes the valve to a legal configuration for the station.
func (s *Dossier) configure() error {
	st, it := s.Study.Station, s.Assessment.Item
	picks, err := it.Family.NamedAll(s.Picks)
	if err != nil {
		return &PickError{it.ID, err}
	}
	// What does not go with the place, the study has said and the paper says again.
	made, err := study.Configure(st, it, picks)
	if err != nil && len(picks) > 0 {
		return &PickError{it.ID, err}
	}
	if err != nil {
		return fmt.Errorf("%s has no legal configuration: %w", it.ID, err)
	}
	s.Configuration = made.Configuration
	s.LiftLimit = lift.Limit(lift.Task{})
	s.Lifts = made.Lifts(s.LiftLimit)
	known := map[string]any{"service": string(st.Fluid.Kind), "oil": st.Fluid.Oil, "grit": st.Fluid.Grit}
	if t := st.Fluid.MaxTemperature; t.Known() {
		known["temperature"] = t.SI - 273.15
	}
	for _, w := range []string{"oil", "grit"} {
		if !st.Fluid.Said[w] {
			delete(known, w)
		}
	}
	s.Advice = s.Rules.Advise(known)
	all, list := standards.Base()
	if list.Err() != nil {
		return list
	}
	s.all = all
	s.Standards = standards.Judge(all, it, s.place())
	return nil
}

func (s *Dossier) place() standards.Place {
	return standards.Place{Position: s.Study.Station.Valve.Position.String(), Service: s.Study.Station.Fluid.Kind}
}

// curves are loss and, for kinds that tell pump stops, closing of the valve in its place.
func (s *Dossier) curves(closing bool) error {
	st, it := s.Study.Station, s.Assessment.Item
	only := *s.Study // the curves mark the operating points of this valve
	only.Assessments = []judge.Assessment{*s.Assessment}
	v := &chart.Valve{Item: it, Position: st.Valve.Position, Setting: st.Setting(), Study: &only}
	var err error
	if v.Mechanism, err = it.Build(v.Setting); err != nil {
		return nil // it cannot stand here: the verdict says so, and there are no curves
	}
	s.Valve = v
	s.Loss = chart.NewLoss(v, nil, s.units())
	if !closing {
		return nil
	}
	ask := chart.Stop{
		Run: chart.RunOf(v), QuietMS: s.Rules.Limit("slam-quiet").Value.SI,
		HarmfulMS: s.Rules.Limit("slam-harmful").Value.SI,
	}
	if c, err := chart.NewClosing(v, ask, s.units()); err == nil {
		s.Closing = c
	}
	return nil
}

// Best are the IDs of the first n valves of the ranking, each of another family.
func Best(s *study.Study, n int) []string {
	var out []string
	seen := map[string]bool{}
	for _, a := range s.Assessments {
		if a.Rank > 0 && !seen[a.Item.Family.ID] && len(out) < n {
			seen[a.Item.Family.ID] = true
			out = append(out, a.Item.ID)
		}
	}
	return out
}
