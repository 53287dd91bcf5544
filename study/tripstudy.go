package study

import (
	"context"
	"errors"
	"fmt"
	"sync"

	"seatward/basis"
	"seatward/catalog"
	"seatward/judge"
	"seatward/plant"
	"seatward/rules"
	"seatward/station"
	"seatward/valve"
)

// TripOptions say what to run through.
type TripOptions struct {
	Catalogs []*catalog.Catalog
	Rules    *rules.Book
	Valve    string       // ID
	Event    string       // as plant.EventIDs gives it, or without its level; "" for all
	Size     plant.Change // sizes of the what-ifs; those not given are usual ones
	With     plant.Change // made to the station before all runs
	// Mechanics are numbers of the valve that are tried in place of the catalog's, SI, by
	// their keys.
	Mechanics map[string]float64
	Frames    int  // of a film of each run; 0 for none
	Quick     bool // one event at best estimates alone: no chances, no remedies
	Samples   int  // draws of all ranges that are made; 0 for as many as are needed
	Remedies  bool // what-ifs beside the run
	Progress  func(done float64, what string)
}

// TripStudy is what the stops of a station do with one valve in it.
type TripStudy struct {
	Station     *station.Station
	Item        *catalog.Item
	Mech        *valve.Mechanism
	Answer      *plant.Answer    // the record of the stops
	Judged      judge.Assessment // by that record, as a study of all valves judges it
	WithoutPull *plant.Closing   // of the worst stop, without the pull of slowing water on the element; nil where not asked
	ByHand      judge.ByHand     // a check on the run
	Findings    []judge.Finding  // those that the stops gave, and what rejects the valve
	Remedies    []Remedy
	Assumed     []Assumed
	Cautions    []judge.Caution
	Datum       string // what heads are given above

	with plant.Change
	sold *catalog.Item // as the catalog has it; Item may have numbers that are tried
}

// Datum is what heads of runs are given above.
const Datum = "the head line at the suction at its high level"

// ErrValve means that the valve cannot be run.
var ErrValve = errors.New("the valve cannot be run")

// RunTrip runs the events through with the valve. The errors are those of the station,
// of an unknown event or valve, of the context, a *valve.ParamError of a number that cannot
// be tried, and ErrValve.
func RunTrip(ctx context.Context, st *station.Station, opt TripOptions) (*TripStudy, error) {
	p, err := plant.New(st)
	if err != nil {
		return nil, err
	}
	events := p.Events()
	if opt.Event != "" {
		if events, err = p.FindEvents(opt.Event); err != nil {
			return nil, err
		}
	}
	if opt.Quick {
		events = []plant.Event{quickest(events)}
	}
	it, m, setting, err := theValve(st, opt)
	if err != nil {
		return nil, err
	}
	out := &TripStudy{Station: st, Item: it, Mech: m, Datum: Datum, with: opt.With}
	if out.sold, err = catalog.Find(opt.Catalogs, opt.Valve); err != nil {
		return nil, err
	}
	out.Answer, err = p.Ask(ctx, it, setting, plant.Ask{
		Events: events, Limits: judge.SlamLimits(opt.Rules), Change: opt.With, Record: true, Frames: opt.Frames,
		Threshold: !opt.Quick, Least: opt.Quick, Sample: opt.Samples, Progress: shares(events, opt.Progress),
	})
	if err != nil {
		return nil, err
	}
	if err := out.judge(p, opt); err != nil {
		return nil, err
	}
	if !opt.Quick {
		err = out.beside(ctx, p, opt)
	}
	if err != nil {
		return nil, err
	}
	out.told(opt)
	if opt.Progress != nil {
		opt.Progress(1, "")
	}
	return out, nil
}

// told lists what goes with the answer.
func (s *TripStudy) told(opt TripOptions) {
	station.Walk(s.Station, func(path string, v basis.Value) {
		if v.Origin == basis.Assumed {
			s.Assumed = append(s.Assumed, Assumed{Path: path, Value: v})
		}
	})
	for _, x := range s.Answer.Stops {
		if v := x.Event.RampS; v.Origin == basis.Assumed {
			s.Assumed = append(s.Assumed, Assumed{Path: "events " + x.Event.ID, Value: v, Event: true})
		}
	}
	s.Cautions = judge.Cautions(s.Station, nil, opt.Rules)
}

// shareOfEvents is how far the work has come when the events are run through.
const shareOfEvents = 0.5

// shares joins how far each event has come.
func shares(events []plant.Event, tell func(float64, string)) func(plant.Event, float64) {
	if tell == nil {
		return nil
	}
	var telling sync.Mutex
	done := map[string]float64{}
	return func(e plant.Event, x float64) {
		telling.Lock()
		defer telling.Unlock()
		done[e.ID] = x
		sum := 0.0
		for _, y := range done {
			sum += y
		}
		tell(shareOfEvents*sum/float64(len(events)), e.ID)
	}
}

// quickest is the event of a quick run where several are meant: the trip of one pump, the
// rest running, before all others.
func quickest(events []plant.Event) plant.Event {
	for _, e := range events {
		if e.Kind == plant.OneTrips {
			return e
		}
	}
	return events[0]
}

// theValve finds the item and builds its mechanism.
func theValve(st *station.Station, opt TripOptions) (*catalog.Item, *valve.Mechanism, valve.Setting, error) {
	it, err := catalog.Find(opt.Catalogs, opt.Valve)
	if err != nil {
		return nil, nil, valve.Setting{}, err
	}
	if it, err = opt.asTried(it); err != nil {
		return nil, nil, valve.Setting{}, err
	}
	setting := st.Setting()
	m, err := it.Build(setting)
	var tried *valve.ParamError
	switch {
	case len(opt.Mechanics) > 0 && errors.As(err, &tried):
		return nil, nil, setting, err
	case err != nil:
		return nil, nil, setting, fmt.Errorf("%w: %s: %w", ErrValve, it.ID, err)
	}
	return it, m, setting, nil
}

// judge weighs the record as a study of all valves does.
func (s *TripStudy) judge(p *plant.Plant, opt TripOptions) error {
	points, err := p.Solve(s.Mech)
	if err != nil {
		return err
	}
	s.Judged = judge.Assess(judge.Input{
		Station: s.Station, Item: s.Item, Mech: s.Mech, Rules: opt.Rules,
		Points: points.ForValve(), Answer: s.Answer,
	})
	s.Findings = s.Judged.OfStops()
	return nil
}

// beside runs what stands beside the record: the worst stop without the pull of slowing
// water, the hand formulas, and the remedies.
func (s *TripStudy) beside(ctx context.Context, p *plant.Plant, opt TripOptions) error {
	if s.Answer.Worst == nil {
		return nil
	}
	bare, err := p.Run(ctx, s.Mech.WithoutAcceleration(), s.Answer.Worst.Event, plant.Options{Change: opt.With})
	if err != nil {
		return err
	}
	if bare.Fault == "" {
		s.WithoutPull = &bare.Closing
	}
	points, err := p.Solve(nil)
	if err != nil {
		return err
	}
	if hand, err := judge.HandFormulas(s.Station, s.Item, plant.ByHand(s.Station, points.ForValve())); err == nil {
		s.ByHand = hand
	}
	if opt.Remedies {
		s.Remedies, err = s.remedies(ctx, p, opt)
	}
	return err
}

// Told is the stop that is shown in full: the worst for slam, else the first that ran.
func (s *TripStudy) Told() *plant.Stop {
	if s.Answer.Worst != nil {
		return s.Answer.Worst
	}
	for _, x := range s.Answer.Stops {
		if x.Fault == "" {
			return x
		}
	}
	return s.Answer.Stops[0]
}
