package study

import (
	"context"
	"fmt"
	"math"

	"seatward/quantity"
	"seatward/transient"
	"seatward/valve"
)

// Trip is one event run through with one valve: pumps, waves and the moving element
// together.
type Trip struct {
	Event    Event
	ValveID  string
	Closing  TripClosing
	Moments  []Moment // time line, in order
	Names    []string // of the readings in Rows
	Rows     []transient.Row
	Envelope []EnvelopePoint // along the main
	Cavities []transient.Cavity
	Notes    []string
	StepS    float64
	Steps    int
	TimeS    float64
	Adjusted float64 // greatest share by which a wave speed was changed to fit the grid
	StartMS  float64 // velocity in the valve before the event
	BranchS  float64 // time of a wave along the branch
	Reopened int     // times the valve opened again after it had seated
	Bounces  int     // times its element was thrown off the seat by its own blow
	VaporM   float64 // pressure head at which the liquid boils

	Film *Film // nil unless asked for

	gas bool // vapor cavities were in the run
}

// TripClosing is what the valve of the stopping pump did.
type TripClosing struct {
	Closed          bool
	TimeS           float64 // from the event to seating
	ReversedS       float64 // from the event until the water turned; 0 if it did not
	DecelerationMS2 float64 // of the velocity in the bore as it turned
	ReverseMS       float64 // greatest reverse velocity in the bore before it seated
	SeatingSpeed    float64 // m/s, or rad/s where it turns
	Rotary          bool
	CushionS        float64
	RiseM           float64 // head behind it after it has shut, over that just before
	FallM           float64 // head before it, likewise
	MostM           float64 // greatest head behind it, above the datum
}

// Moment is one thing that happened.
type Moment struct {
	TimeS float64
	Text  string
}

// EnvelopePoint is least and greatest head at a place of the main, m above the wet well's
// high level.
type EnvelopePoint struct {
	ChainageM, ElevationM, LeastM, MostM, StartM float64
	LimitM                                       float64 // head at the pipe's rating with its surge allowance; NaN where not known
}

// runOptions say how a run is made.
type runOptions struct {
	record   bool // histories and the whole time, not only until the valve has shut
	bare     bool // what the valve does is all that is asked
	duration float64
	gas      bool // with cavities from the first: a like run needed them
	change   Change
	fine     int // times as many reaches as usual; 0 means 1
	progress func(done float64)
	frames   int  // of a film; 0 for none
	short    bool // of a recorded run: end when the valve has shut and its wave has run through the main
}

// run lets the event happen with the valve. Where the head falls to vapor pressure, the
// run is made again with gas cavities.
func (p *plant) run(ctx context.Context, m *valve.Mechanism, id string, ev Event, opt runOptions) (*Trip, error) {
	if err := p.forRuns(); err != nil {
		return nil, err
	}
	if !opt.gas {
		if t, boils, err := p.once(ctx, m, ev, opt, false); err != nil || !boils {
			return named(t, id), err
		}
	}
	t, _, err := p.once(ctx, m, ev, opt, true)
	return named(t, id), err
}

// named gives a trip its valve; there is none after an error.
func named(t *Trip, id string) *Trip {
	if t != nil {
		t.ValveID = id
	}
	return t
}

// once runs the event through with or without gas. Without, it ends where vapor would
// form, and says so.
func (p *plant) once(ctx context.Context, m *valve.Mechanism, ev Event, opt runOptions, gas bool) (t *Trip, boils bool, err error) {
	l, err := p.network(m, ev, opt.change, gas, opt.fine)
	if err != nil {
		return nil, false, fmt.Errorf("%s: %w", ev.ID, err)
	}
	floor := 0.0
	if !gas {
		floor = p.gas().VaporHeadM
	}
	t, result, err := l.follow(ctx, ev, opt, floor)
	if err != nil {
		return nil, false, fmt.Errorf("%s: %w", ev.ID, err)
	}
	if result.Boiled {
		return nil, true, nil
	}
	t.gas = gas
	p.notes(t, l, result)
	if opt.record {
		p.report(t, l, result)
	}
	if l.reel != nil {
		t.Film = p.film(t, l, l.reel)
	}
	return t, false, nil
}

// The lengths of runs.
const (
	leastRunS  = 10
	mostRunS   = 240
	fullRows   = 20_000 // of a run that is recorded: as a rule every step
	shortRows  = 2_000  // of one that ends when the valve has shut
	aftermathS = 0.5    // for which such a run goes on, beside the time of a wave along the main
	mainCycles = 8      // times 2L/a of the main
	echoes     = 6      // wave times of the branch for which a closing is followed
)

func (p *plant) runTime() float64 {
	_, main, _ := joined(p.st.Main)
	return math.Min(mostRunS, math.Max(leastRunS, mainCycles*2*main))
}

// follow runs the layout and watches the valve.
func (l *layout) follow(ctx context.Context, ev Event, opt runOptions, floorM float64) (*Trip, *transient.Result, error) {
	w := newWatch(l)
	start := w.line.Element().V
	duration := opt.duration
	o := transient.Options{DurationS: duration, Until: w.step, FloorM: floorM, Bare: opt.bare && floorM == 0}
	if opt.progress != nil {
		o.Progress = func(t float64) { opt.progress(t / duration) }
	}
	if opt.record {
		w.whole = true
		o.Probes, o.Rows = l.probes(), fullRows
	}
	if opt.short {
		_, main, _ := joined(l.main)
		w.whole, w.tail, o.Rows = false, aftermathS+main, shortRows
	}
	if opt.frames > 0 {
		var err error
		if l.reel, err = newReel(l, opt.frames, int(duration/l.net.StepS())); err != nil {
			return nil, nil, err
		}
		o.Until = func() bool {
			l.reel.step()
			return w.step()
		}
	}
	r, err := l.net.Run(ctx, o)
	if err != nil {
		return nil, nil, err
	}
	t := &Trip{Event: ev, Rows: r.Rows, StepS: l.net.StepS(), Steps: r.Steps, TimeS: r.TimeS, Cavities: r.Cavities, BranchS: l.branch, StartMS: start, Closing: w.closing()}
	for _, pr := range o.Probes {
		t.Names = append(t.Names, pr.Name)
	}
	if r.Stopped != "" {
		t.Notes = append(t.Notes, r.Stopped)
	}
	for _, a := range l.net.Adjusted() {
		t.Adjusted = math.Max(t.Adjusted, math.Abs(a))
	}
	return t, r, nil
}

// watch follows the valve of the stopping pump from step to step.
type watch struct {
	l              *layout
	line           *valve.InLine
	down           func() float64
	before         [2]float64 // heads behind and before the valve at the step before it seats
	rise, fall     float64
	most           float64
	seated         float64
	whole          bool
	tail           float64 // s after seating for which the run goes on at least
	lastUp, lastDn float64
}

func newWatch(l *layout) *watch {
	w := &watch{l: l, line: l.valves[l.watched], most: math.Inf(-1)}
	w.down = l.behind()
	return w
}

// behind reads the head behind the watched valve.
func (l *layout) behind() func() float64 {
	name := l.name
	if l.rigid {
		name = l.profile[0].name
	}
	f, err := l.net.HeadAt(name, 0)
	if err != nil {
		return func() float64 { return math.NaN() }
	}
	return f
}

func (w *watch) step() bool {
	chain := w.l.chains[w.l.watched]
	down := w.down()
	up := down + chain.DropM()
	w.most = math.Max(w.most, down)
	if seated := w.line.Motion.First.TimeS; seated > 0 {
		if w.seated == 0 {
			w.seated, w.before = seated, [2]float64{w.lastDn, w.lastUp}
		}
		if w.l.net.TimeS() < seated+echoes*w.l.branch+2*w.l.net.StepS() {
			w.rise = math.Max(w.rise, down-w.before[0])
			w.fall = math.Max(w.fall, w.before[1]-up)
		} else if !w.whole && w.l.net.TimeS() >= seated+w.tail {
			return true
		}
	}
	w.lastUp, w.lastDn = up, down
	return false
}

func (w *watch) closing() TripClosing {
	m := &w.line.Motion
	c := TripClosing{
		Closed: m.Seated(), TimeS: m.First.TimeS, ReversedS: m.ReversedS, DecelerationMS2: m.DecelerationMS2, ReverseMS: m.First.ReverseMS,
		SeatingSpeed: m.First.SeatingSpeed, Rotary: w.line.Mechanism().Rotary, CushionS: m.First.CushionS, RiseM: w.rise, FallM: w.fall, MostM: w.most,
	}
	if !c.Closed {
		c.ReverseMS = m.UnseatedReverseMS
	}
	if w.l.rigid && c.Closed { // the branch carries no waves: the sudden stop is that of Joukowsky
		inPipe := math.Max(0, -m.First.SeatingMS) * w.line.Mechanism().AreaM2() / (math.Pi / 4 * w.l.boreM * w.l.boreM)
		c.RiseM = valve.Joukowsky(w.l.waveMS, inPipe, quantity.StandardGravity)
		c.FallM = c.RiseM
	}
	return c
}

// stopEvents are the events at which a valve may slam.
func (p *plant) stopEvents() []Event {
	var out []Event
	for _, e := range p.events() {
		if e.Stops() && !(e.Kind == NormalStop && e.RampS.Known()) {
			out = append(out, e)
		}
	}
	return out
}
