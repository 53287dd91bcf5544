package study

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"sync"

	"seatward/basis"
	"seatward/catalog"
	"seatward/judge"
	"seatward/quantity"
	"seatward/rules"
	"seatward/station"
	"seatward/valve"
)

// TripOptions say what to run through.
type TripOptions struct {
	Catalogs []*catalog.Catalog
	Rules    *rules.Book
	Valve    string // ID
	Event    string // as EventIDs gives it, or without its level; "" for all
	Size     Change // sizes of the what-ifs; those not given are usual ones
	With     Change // made to the station before all runs
	// Mechanics are numbers of the valve that are tried in place of the catalog's, SI, by
	// their keys.
	Mechanics map[string]float64
	Frames    int  // of a film of each run; 0 for none
	Quick     bool // one event, until its valve has shut and the wave has run through the main; no band, no bound
	Samples   int  // of all ranges; 0 for none
	Seed      uint64
	Remedies  bool // what-ifs beside the run
	Progress  func(done float64, what string)
}

// TripStudy is what the stops of a station do with one valve in it.
type TripStudy struct {
	Station  *station.Station
	Item     *catalog.Item
	Mech     *valve.Mechanism
	Trips    []*Trip // one for each event, in the order of the station's list
	Slam     int     // index of the worst for slam; −1 where none shuts a valve
	Peak     int     // of the one with the highest pressure
	Vacuum   int     // of the one with the lowest
	Run      *judge.Run
	Bound    TripClosing // the worst for slam without the pull of accelerating water on the element: the conservative bound
	Closed   judge.Slam  // by closed formulas
	Findings []judge.Finding
	Remedies []Remedy
	Sample   *Sample
	Assumed  []Assumed
	Cautions []judge.Caution
	Datum    string // what heads are told above

	with Change
	sold *catalog.Item // as the catalog has it; Item may have numbers that are tried
}

// ErrValve means that the valve cannot be run.
var ErrValve = errors.New("the valve cannot be run")

// RunTrip runs the events through with the valve. The errors are those of the station,
// of an unknown event or valve, of the context, a *valve.ParamError of a number that cannot
// be tried, and ErrValve.
func RunTrip(ctx context.Context, st *station.Station, opt TripOptions) (*TripStudy, error) {
	p, err := newPlant(st)
	if err != nil {
		return nil, err
	}
	events := p.events()
	if opt.Event != "" {
		if events, err = p.findEvents(opt.Event); err != nil {
			return nil, err
		}
	}
	if opt.Quick {
		events = []Event{quickest(events)}
	}
	it, m, setting, err := p.theValve(opt)
	if err != nil {
		return nil, err
	}
	out := &TripStudy{Station: st, Item: it, Mech: m, Slam: -1, Datum: "the wet well's high level", with: opt.With}
	if out.sold, err = catalog.Find(opt.Catalogs, opt.Valve); err != nil {
		return nil, err
	}
	say := opt.Progress
	if say == nil {
		say = func(float64, string) {}
	}
	if out.Trips, err = p.runEvents(ctx, m, it.ID, events, opt); err != nil {
		return nil, err
	}
	out.worst()
	if opt.Quick {
		out.Closed.Class = out.classOf(opt.Rules)
		out.Findings = out.pressures(p)
	} else if err := out.weigh(ctx, p, m, setting, opt); err != nil {
		return nil, err
	}
	say(shareOfBand, "remedies")
	if opt.Remedies && out.Slam >= 0 {
		if out.Remedies, err = p.remedies(ctx, it, m, out.Trips[out.Slam].Event, opt); err != nil {
			return nil, err
		}
	}
	if opt.Samples > 0 && out.Slam >= 0 {
		if out.Sample, err = p.sample(ctx, it, setting, out.Trips[out.Slam].Event, opt); err != nil {
			return nil, err
		}
	}
	station.Walk(st, func(path string, v basis.Value) {
		if v.Origin == basis.Assumed {
			out.Assumed = append(out.Assumed, Assumed{path, v})
		}
	})
	for _, t := range out.Trips {
		if v := t.Event.RampS; v.Origin == basis.Assumed {
			out.Assumed = append(out.Assumed, Assumed{"events " + t.Event.ID, v})
		}
	}
	out.Cautions = judge.Cautions(st, nil, opt.Rules)
	say(1, "")
	return out, nil
}

// How far the work has come when the events are run through, and when their band is known;
// the rest are remedies.
const (
	shareOfEvents = 0.5
	shareOfBand   = 0.75
)

// runEvents runs the events through, on all processors.
func (p *plant) runEvents(ctx context.Context, m *valve.Mechanism, id string, events []Event, opt TripOptions) ([]*Trip, error) {
	if err := p.forRuns(); err != nil {
		return nil, err
	}
	out, errs := make([]*Trip, len(events)), make([]error, len(events))
	var telling sync.Mutex
	shares := make([]float64, len(events))
	tell := func(i int, done float64) {
		if opt.Progress == nil {
			return
		}
		telling.Lock()
		defer telling.Unlock()
		shares[i] = done
		sum := 0.0
		for _, x := range shares {
			sum += x
		}
		opt.Progress(shareOfEvents*sum/float64(len(events)), events[i].ID)
	}
	sideBySide(len(events), func(i int) {
		o := runOptions{record: true, duration: p.runTime(), change: opt.With, frames: opt.Frames, short: opt.Quick, progress: func(d float64) { tell(i, d) }}
		out[i], errs[i] = p.run(ctx, m, id, events[i], o)
	})
	for _, err := range errs { // one is told: that of the first event
		if err != nil {
			return nil, cmp.Or(ctx.Err(), err)
		}
	}
	return out, nil
}

// quickest is the event of a quick run where several are meant: the trip of one pump, the
// rest running, before all others.
func quickest(events []Event) Event {
	for _, e := range events {
		if e.Kind == OneTrips {
			return e
		}
	}
	return events[0]
}

// classOf is the slam class of the run alone; none behind a cushion, whose slow closing is
// weighed by its head rise, which a quick run does not do.
func (s *TripStudy) classOf(book *rules.Book) string {
	if s.Slam < 0 {
		return ""
	}
	if t := s.Trips[s.Slam]; t.Closing.CushionS <= 2*t.BranchS {
		return judge.SlamClass(book, t.Closing.ReverseMS)
	}
	return ""
}

// theValve finds the item and builds its mechanism.
func (p *plant) theValve(opt TripOptions) (*catalog.Item, *valve.Mechanism, valve.Setting, error) {
	it, err := catalog.Find(opt.Catalogs, opt.Valve)
	if err != nil {
		return nil, nil, valve.Setting{}, err
	}
	if it, err = opt.asTried(it); err != nil {
		return nil, nil, valve.Setting{}, err
	}
	position, err := valve.PositionNamed(p.st.Valve.Position)
	if err != nil {
		return nil, nil, valve.Setting{}, err
	}
	setting := valve.In(p.st.Fluid.Density.SI, position)
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

// worst finds the events that are worst for slam, peak and vacuum.
func (s *TripStudy) worst() {
	for i, t := range s.Trips {
		if t.Event.Stops() && t.Closing.Closed && (s.Slam < 0 || t.Closing.ReverseMS > s.Trips[s.Slam].Closing.ReverseMS) {
			s.Slam = i
		}
		if t.MostPressureM() > s.Trips[s.Peak].MostPressureM() {
			s.Peak = i
		}
		if t.LeastPressureM() < s.Trips[s.Vacuum].LeastPressureM() {
			s.Vacuum = i
		}
	}
}

// MostPressureM is the greatest pressure head of the main, m.
func (t *Trip) MostPressureM() float64 {
	most := math.Inf(-1)
	for _, e := range t.Envelope {
		most = math.Max(most, e.MostM-e.ElevationM)
	}
	return most
}

// LeastPressureM is the least.
func (t *Trip) LeastPressureM() float64 {
	least := math.Inf(1)
	for _, e := range t.Envelope {
		least = math.Min(least, e.LeastM-e.ElevationM)
	}
	return least
}

// weigh judges the worst runs: slam with its band, and heads against ratings and vapor.
func (s *TripStudy) weigh(ctx context.Context, p *plant, m *valve.Mechanism, setting valve.Setting, opt TripOptions) error {
	bare, err := p.points(nil)
	if err != nil {
		return err
	}
	if len(bare[0].Branches) == 0 {
		return fmt.Errorf("%s: %w", p.st.Name, ErrNoFlow)
	}
	spread := flowSpread(p.st, bare[0].Branches[0].FlowM3S)
	in := judge.Input{Station: p.st, Item: s.Item, Mech: m, Rules: opt.Rules, Stops: judge.NewStops(p.st, p.forValve(bare, spread)), Points: p.forValve(bare, spread)}
	if s.Slam >= 0 {
		variants, err := p.variants()
		if err != nil {
			return err
		}
		worst := s.Trips[s.Slam]
		b := bandOf{plant: p, item: s.Item, setting: setting, event: worst.Event, opt: runOptions{duration: p.runTime(), gas: worst.gas, bare: true, change: opt.With}, ctx: ctx, best: worst}
		if err := b.doubts(m, variants); err != nil {
			return err
		}
		s.Run = b.result()
		in.Run = s.Run
		bound, err := p.run(ctx, m.WithoutAcceleration(), s.Item.ID, worst.Event, runOptions{duration: p.runTime(), gas: worst.gas, bare: true, change: opt.With})
		if err != nil {
			return err
		}
		s.Bound = bound.Closing
	}
	a := judge.Assess(in)
	s.Closed = a.Slam
	for _, f := range a.Findings {
		if f.ID == "slam-closed-form" || slices.Contains([]string{judge.Quiet, judge.Audible, judge.Harmful, "open"}, cutPrefix(f.ID, "slam-")) {
			s.Findings = append(s.Findings, f)
		}
	}
	for _, f := range a.Findings {
		if f.Severity == judge.Rejects && f.ID != "slam-harmful" { // a quiet run must not hide that
			f.Text = "Whatever the run says, the valve is unsuitable here: " + f.Text
			s.Findings = append(s.Findings, f)
		}
	}
	s.Findings = append(s.Findings, s.pressures(p)...)
	return nil
}

func cutPrefix(s, prefix string) string {
	if len(s) > len(prefix) && s[:len(prefix)] == prefix {
		return s[len(prefix):]
	}
	return ""
}

// pressures holds heads against the ratings of pipe, valve and ends, and against vapor.
func (s *TripStudy) pressures(p *plant) []judge.Finding {
	var out []judge.Finding
	show := func(v basis.Value) string { return v.Format(p.st.Units) }
	head := func(name string, m float64) basis.Value {
		return basis.NewSimulated(name, quantity.Head, m, "read off the run")
	}
	low := s.Trips[s.Vacuum]
	for _, t := range s.Trips {
		if e, over := t.overRating(); over {
			out = append(out, judge.Finding{
				ID: "trip-pipe-rating", Severity: judge.Condition, Value: head("greatest head", e.MostM-e.ElevationM), Limit: head("head at the pipe's rating", e.LimitM-e.ElevationM), Basis: "catalog",
				Text: fmt.Sprintf("%s: %s of pressure head at %s of the main, above what the pipe is rated for.", t.Event.Title, p.st.Units.Format(quantity.Head, e.MostM-e.ElevationM), p.st.Units.Format(quantity.Length, e.ChainageM)), Mend: "surge control, or a higher class of pipe",
			})
			break
		}
	}
	branch := p.st.Branch.Runs[0]
	for _, part := range []struct {
		id, name string
		rated    basis.Value
		allowed  basis.Value
	}{
		{"trip-valve-rating", "at the valve, above its rating or that of its ends", judge.WeakestRating(s.Item), basis.Value{}},
		{"trip-branch-rating", "in the branch, above what its pipe is rated for", branch.Rating, branch.SurgeAllowance},
	} {
		for _, t := range s.Trips {
			v := basis.NewSimulated("greatest pressure at the valve", quantity.Pressure, (t.Closing.MostM-ValveElevationM(p.st))*p.st.Fluid.Density.SI*quantity.StandardGravity, "read off the run")
			if part.rated.Known() && v.SI > part.rated.SI+part.allowed.SI {
				out = append(out, judge.Finding{
					ID: part.id, Severity: judge.Condition, Value: v, Limit: part.rated, Basis: "catalog",
					Text: fmt.Sprintf("%s: %s %s, %s.", t.Event.Title, show(v), part.name, show(part.rated)), Mend: "surge control, or a higher class",
				})
				break
			}
		}
	}
	floor := p.gas().VaporHeadM
	switch least := low.LeastPressureM(); {
	case len(low.Cavities) > 0 || least <= floor+0.05:
		out = append(out, judge.Finding{
			ID: "trip-vapor", Severity: judge.Condition, Value: head("least pressure head", least), Limit: head("vapor pressure", floor), Basis: "wylie-streeter-1993",
			Text: fmt.Sprintf("%s: the head falls to vapor pressure in the main and the column parts. No check valve cures that: it takes surge protection (air vessel, flywheel, air valves, slower stop) designed by a licensed engineer.", low.Event.Title),
			Mend: "an air vessel or flywheel; see the what-ifs",
		})
	case least < 0:
		out = append(out, judge.Finding{
			ID: "trip-vacuum", Severity: judge.Note, Value: head("least pressure head", least), Limit: head("vapor pressure", floor), Basis: "wylie-streeter-1993",
			Text: fmt.Sprintf("%s: the head falls %s below the pipe, without reaching vapor pressure.", low.Event.Title, p.st.Units.Format(quantity.Head, -least)),
		})
	}
	return out
}

// overRating is the first place at which the head passes what the pipe is rated for.
func (t *Trip) overRating() (EnvelopePoint, bool) {
	for _, e := range t.Envelope {
		if e.MostM > e.LimitM {
			return e, true
		}
	}
	return EnvelopePoint{}, false
}
