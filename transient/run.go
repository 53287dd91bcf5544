package transient

import (
	"context"
	"errors"
	"fmt"
	"math"
)

// Probe is a reading that a run records.
type Probe struct {
	Name string
	Read func() float64
}

// Options say how far a run goes and what it records.
type Options struct {
	DurationS float64
	MostSteps int // 0 means 2,000,000
	Rows      int // greatest number of rows recorded; 0 means 2,000
	Probes    []Probe
	Progress  func(timeS float64) // told some hundred times; may be nil
	Until     func() bool         // ends the run early when true; may be nil
	FloorM    float64             // head above the pipe's axis at which a run without gas ends, because vapor would form; 0 for none
	Bare      bool                // keep no envelopes and no cavities: what a boundary does is all that is asked; not beside FloorM
}

const (
	standardSteps = 2_000_000
	standardRows  = 2_000
	ticks         = 100
)

// Row is a row of the record: readings at the time, and the least and greatest since the
// row before, so that no peak is lost.
type Row struct {
	TimeS            float64
	Now, Least, Most []float64
}

// Result is what a run gave.
type Result struct {
	Rows      []Row
	Envelopes []Envelope
	Cavities  []Cavity
	Steps     int
	TimeS     float64
	Stopped   string // why it ended before its time; "" if it did not
	Boiled    bool   // a head fell below FloorM
	Loose     int    // steps and nodes at which a valve stood just between shut and open beside gas: it took one side, more than 1 cm/s off the balance
}

// Envelope is the least and greatest head along one pipe.
type Envelope struct {
	Pipe                    string
	ChainageM, ElevationM   []float64
	LeastM, MostM           []float64
	StartM                  []float64 // at the start
	WaveSpeedMS, AdjustedBy float64
}

// Run advances the network. It stops for the context, whose error it returns; the step
// budget ends it with what it has, and says so.
func (n *Network) Run(ctx context.Context, opt Options) (*Result, error) {
	budget, rows := opt.MostSteps, opt.Rows
	if budget == 0 {
		budget = standardSteps
	}
	if rows == 0 {
		rows = standardRows
	}
	if !(opt.DurationS > 0) || math.IsInf(opt.DurationS, 0) {
		return nil, fmt.Errorf("transient: a run of %g s", opt.DurationS)
	}
	if opt.Bare && opt.FloorM != 0 {
		return nil, errors.New("transient: a run that keeps no envelope cannot tell when a head falls below the floor")
	}
	steps := int(math.Min(math.Ceil(opt.DurationS/n.stepS), float64(math.MaxInt32)))
	out := &Result{}
	if steps > budget {
		steps, out.Stopped = budget, fmt.Sprintf("the budget of %d steps ended the run at %.3g s of %.3g s", budget,
			float64(budget)*n.stepS, opt.DurationS)
	}
	stride := (steps + rows - 1) / rows
	rec := newRecorder(opt.Probes, steps/stride+2)
	start := make([][]float64, len(n.lines))
	for i, l := range n.lines {
		l.bare = opt.Bare
		start[i] = append([]float64(nil), l.h...)
	}
	rec.note()
	rec.row(n.timeS)
	for i := range steps {
		if err := n.Advance(); err != nil {
			return nil, err
		}
		rec.note()
		if n.gas != nil && !opt.Bare {
			for _, l := range n.lines {
				l.gas.watch(l, n.timeS)
			}
		}
		if (i+1)%stride == 0 {
			rec.row(n.timeS)
		}
		if i%max(1, steps/ticks) == 0 {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			if opt.Progress != nil {
				opt.Progress(n.timeS)
			}
		}
		if opt.FloorM != 0 && i%boilEvery == 0 && n.below(opt.FloorM) {
			out.Boiled = true
			break
		}
		if opt.Until != nil && opt.Until() {
			break
		}
	}
	out.Rows, out.Steps, out.TimeS = rec.rows, n.steps, n.timeS
	out.Boiled = out.Boiled || opt.FloorM != 0 && n.below(opt.FloorM)
	for _, d := range n.nodes {
		out.Loose += d.loose
	}
	if !opt.Bare {
		out.Envelopes, out.Cavities = n.envelopes(start), n.cavities()
	}
	return out, nil
}

// boilEvery is how many steps go by between two looks for heads below the floor.
const boilEvery = 64

// below is true once a head has fallen below the floor over the pipe's axis.
func (n *Network) below(floorM float64) bool {
	for _, l := range n.lines {
		for i, h := range l.lo {
			if h < l.z[i]+floorM {
				return true
			}
		}
	}
	return false
}

func (n *Network) envelopes(start [][]float64) []Envelope {
	var out []Envelope
	for i, l := range n.lines {
		e := Envelope{
			Pipe: l.pipe.Name, ElevationM: l.z, LeastM: l.lo, MostM: l.hi, StartM: start[i],
			WaveSpeedMS: l.waveMS, AdjustedBy: l.waveMS/l.pipe.WaveSpeedMS - 1,
		}
		for k := range l.h {
			e.ChainageM = append(e.ChainageM, l.pipe.LengthM*float64(k)/float64(l.last()))
		}
		out = append(out, e)
	}
	return out
}

func (n *Network) cavities() []Cavity {
	var out []Cavity
	if n.gas == nil {
		return nil
	}
	for _, l := range n.lines {
		for i, c := range l.gas.seen {
			if most := l.gas.most[i]; most > 0 {
				c.MostM3 = most
				if c.ShutsS != 0 {
					c.JoinedHeadM = l.gas.joined[i]
				}
				c.Pipe, c.ChainageM, c.LiquidReachM3 = l.pipe.Name, l.pipe.LengthM*float64(i)/float64(l.last()),
					l.gas.reachM3
				out = append(out, c)
			}
		}
	}
	return out
}

// recorder keeps rows of readings; it allocates all at the start.
type recorder struct {
	probes           []Probe
	rows             []Row
	store            []float64
	now, least, most []float64
}

func newRecorder(probes []Probe, rows int) *recorder {
	n := len(probes)
	if n == 0 {
		rows = 0
	}
	r := &recorder{probes: probes, rows: make([]Row, 0, rows), store: make([]float64, 3*n*rows)}
	r.now, r.least, r.most = make([]float64, n), make([]float64, n), make([]float64, n)
	r.fresh()
	return r
}

func (r *recorder) fresh() {
	for i := range r.least {
		r.least[i], r.most[i] = math.Inf(1), math.Inf(-1)
	}
}

// note takes the readings of a step.
func (r *recorder) note() {
	for i := range r.probes {
		x := r.probes[i].Read()
		r.now[i] = x
		if x < r.least[i] {
			r.least[i] = x
		}
		if x > r.most[i] {
			r.most[i] = x
		}
	}
}

// row writes what was noted since the last row.
func (r *recorder) row(timeS float64) {
	n := len(r.probes)
	if len(r.rows) == cap(r.rows) || len(r.store) < 3*n {
		return
	}
	take := func(from []float64) []float64 {
		to := r.store[:n:n]
		r.store = r.store[n:]
		copy(to, from)
		return to
	}
	r.rows = append(r.rows, Row{timeS, take(r.now), take(r.least), take(r.most)})
	r.fresh()
}
