package plant

import (
	"context"
	"errors"
	"math"

	"seatward/transient"
	"seatward/valve"
)

// Options say how a run is made. None of them changes what is found, but Change and
// SteadyFriction.
type Options struct {
	Record bool // histories, time line and envelope, not only what the valve does
	Change Change
	// SteadyFriction leaves unsteady friction out: what the run then shows after the first
	// closing is decided by the grid. The acceptance rows hold that such a run says so.
	SteadyFriction bool

	Frames   int // of a film; 0 for none
	Progress func(done float64)

	draw bool // one of many draws: what the valve does is all that is asked
	gas  bool // with cavities from the first: a like run needed them
	fine int  // times as many reaches as usual; 0 means 1

	untilS float64 // end of the run; 0: as long as there is something to follow
}

// errIdle means that nothing flows before the event.
var errIdle = errors.New("nothing flows")

// Run lets the event happen with the valve. Where the head falls to vapor pressure, the run
// is made again with gas cavities; where the valve opens again after a closing, once more on a
// grid twice as fine. The only error is the context's: what cannot be run has a Fault.
func (p *Plant) Run(ctx context.Context, m *valve.Mechanism, ev Event, opt Options) (*Stop, error) {
	s, err := p.whole(ctx, m, ev, opt)
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	if err != nil {
		return &Stop{Event: ev, Fault: err.Error(), Idle: errors.Is(err, errIdle)}, nil
	}
	reopened := s.Closing.Closed && s.Closing.Reopened > 0 && s.Rest != FirstOnly && s.Rest != NotReversed
	if !opt.draw && reopened && opt.fine == 0 {
		finer, err := p.whole(ctx, m, ev,
			Options{Change: opt.Change, SteadyFriction: opt.SteadyFriction, gas: s.gas, fine: 2})
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if err == nil {
			s.Finer = &finer.Closing
			s.FineRest = finer.Rest
		} else {
			s.Notes = append(s.Notes, "A run on a grid twice as fine could not be made: "+err.Error())
		}
	}
	return s, nil
}

// whole is a run, with gas cavities where it needs them.
func (p *Plant) whole(ctx context.Context, m *valve.Mechanism, ev Event, opt Options) (*Stop, error) {
	if err := p.forRuns(); err != nil {
		return nil, err
	}
	if !opt.gas && p.gas().Fraction == 0 {
		if s, boils, err := p.once(ctx, m, ev, opt, false); err != nil || !boils {
			return s, err
		}
	}
	s, _, err := p.once(ctx, m, ev, opt, true)
	return s, err
}

// once runs the event through with or without gas. Without, it ends where vapor would
// form, and says so.
func (p *Plant) once(
	ctx context.Context, m *valve.Mechanism, ev Event, opt Options, gas bool,
) (s *Stop, boils bool, err error) {
	l, err := p.network(m, ev, opt, gas)
	if err != nil {
		return nil, false, err
	}
	floor := 0.0
	if !gas {
		floor = p.gas().VaporHeadM
	}
	w := newWatch(l, ev, opt.draw)
	if opt.untilS > 0 {
		w.mostS = math.Min(w.mostS, opt.untilS)
	}
	o := transient.Options{
		DurationS: w.mostS, Until: w.step, FloorM: floor, Bare: opt.draw && gas,
		MostSteps: mostSteps,
	}
	if opt.Progress != nil {
		o.Progress = func(float64) { opt.Progress(w.share()) }
	}
	if opt.Record {
		o.Probes, o.Rows = l.probes(), mostRows
	}
	if opt.Frames > 0 {
		if l.reel, err = newReel(l, opt.Frames); err != nil {
			return nil, false, err
		}
		o.Until = func() bool {
			l.reel.step()
			return w.step()
		}
	}
	r, err := l.net.Run(ctx, o)
	if err != nil {
		return nil, false, err
	}
	if r.Boiled {
		return nil, true, nil
	}
	s = &Stop{
		Event: ev, Closing: w.closing(), Rest: w.rest(), StepS: l.net.StepS(), Steps: r.Steps, TimeS: r.TimeS,
		Cavities: r.Cavities,
		BranchS:  l.branch, VaporM: p.gas().VaporHeadM, gas: gas,
	}
	s.StartMS, s.boreM2 = w.startMS(), m.AreaM2()
	s.fullMS = math.Min(s.StartMS, m.FullOpenVelocity().VelocityMS)
	for _, a := range l.net.Adjusted() {
		s.Adjusted = math.Max(s.Adjusted, math.Abs(a))
	}
	if !o.Bare {
		p.envelope(s, l, r)
	}
	if !opt.draw {
		p.notes(s, l, r)
	}
	if opt.Record {
		s.Rows, s.Names = w.rows(r.Rows, o.Probes)
		p.timeLine(s, l, w)
	}
	if l.reel != nil {
		s.Film = p.film(s, l, l.reel)
	}
	return s, false, nil
}

// The lengths of runs.
const (
	mostSteps = 100_000
	mostRows  = 20_000 // of a run that is recorded: as a rule every step
	echoes    = 6      // wave times of the branch for which the head of a seating is followed
)
