package valve

import (
	"fmt"
	"math"
)

// Outcome is how a closing run ended.
type Outcome uint8

// The outcomes.
const (
	ClosedShut   Outcome = iota // the element seated
	NeverClosed                 // reverse flow passed the limit with the element still off its seat
	AlwaysClosed                // the flow did not open the valve in the first place
)

// String says the outcome in plain words.
func (o Outcome) String() string {
	return [...]string{"closed", "not closed within the limit of the run", "was not open"}[o]
}

// Deceleration is a flow that dies away, and the pipes in which it does so. The
// velocity that the pipes would have without a valve falls from StartMS at the
// constant rate, or as Free says; the valve stands between two long pipes, so that
// no wave comes back while it closes.
type Deceleration struct {
	StartMS    float64                   // velocity in the bore at the start, > 0
	RateMS2    float64                   // constant deceleration, > 0; not used where Free is set
	Free       func(t float64) float64   // velocity at the time t after the start
	WaveMS     [2]float64                // wave speeds before and behind the valve; 0 means 1000 m/s
	FromStop   bool                      // start from full opening, not from where StartMS holds the element
	LimitMS    float64                   // reverse velocity at which the run is given up; 0 means 20 m/s
	LimitS     float64                   // time after which it is given up; 0 means 600 s
	Tolerance  float64                   // of one step; 0 means Tolerance
	Trace      func(Sample)              // told every step; may be nil
	OnEvent    func(t float64, ev Event) // told every event; may be nil
	freeStepsS float64                   // pieces in which Free is taken as straight
}

// Sample is one moment of a run.
type Sample struct{ TimeS, Xi, Speed, VelocityMS float64 }

// Closing is what a closing run gave.
type Closing struct {
	Outcome           Outcome
	StartXi           float64 // opening at the start, m or rad
	TimeS             float64 // from the start to seating
	ReverseVelocityMS float64 // greatest reverse velocity in the bore before the valve is shut
	SeatingSpeed      float64 // of the element as it touches the seat, m/s or rad/s
	ReversalTimeS     float64 // when the flow turned; 0 if it did not before seating
	CushionS          float64 // time in the cushion before seating; compare it with 2L/a: a longer one is a slow closure, for which SlowClosure gives the head
	DecelerationMS2   float64 // mean slope of the velocity through the valve from the start to reversal, or to seating if that is first
}

// longPipeWaveMS is the wave speed assumed where none is given. It moves the reverse
// velocity by some 2 % between 300 and 1400 m/s.
const longPipeWaveMS = 1000

func (d *Deceleration) settings() error {
	if d.Free == nil && !(d.RateMS2 > 0 && !math.IsInf(d.RateMS2, 0)) {
		return fmt.Errorf("valve: deceleration %g m/s²; it must be a positive number", d.RateMS2)
	}
	if !(d.StartMS > 0 && d.StartMS < 100) {
		return fmt.Errorf("valve: velocity %g m/s at the start; it must be above 0 and below 100", d.StartMS)
	}
	for i, a := range d.WaveMS {
		if a == 0 {
			d.WaveMS[i] = longPipeWaveMS
		} else if !(a > 0) {
			return fmt.Errorf("valve: wave speed %g m/s; it must be positive", a)
		}
	}
	fallback := func(x *float64, standard float64) {
		if !(*x > 0) {
			*x = standard
		}
	}
	fallback(&d.LimitMS, 20)
	fallback(&d.LimitS, 600)
	fallback(&d.Tolerance, Tolerance)
	fallback(&d.freeStepsS, 1e-3)
	return nil
}

// Close lets the flow die and the element follow until it is shut. The error is for a
// deceleration that cannot be, or ErrSteps.
func (m *Mechanism) Close(d Deceleration) (Closing, error) {
	if err := d.settings(); err != nil {
		return Closing{}, err
	}
	xi := m.Stroke
	if !d.FromStop {
		rest := m.Settle(d.StartMS)
		if rest.Standing == Closed {
			return Closing{Outcome: AlwaysClosed}, nil
		}
		xi = rest.Xi
	}
	e := NewElement(m, xi, d.StartMS)
	e.tolerance = d.Tolerance
	r := run{d: &d, out: Closing{Outcome: NeverClosed, StartXi: xi}, lastV: d.StartMS}
	node := Node{
		Free: d.StartMS, Slope: -d.RateMS2,
		Admittance: PipeAdmittance(m.DensityKgM3, d.WaveMS[0], d.WaveMS[1]),
	}
	if d.Free == nil {
		end := min(d.LimitS, (d.StartMS+10*d.LimitMS)/d.RateMS2)
		err := e.Advance(end, node, r.watch)
		return r.out, err
	}
	for t := 0.0; t < d.LimitS && !r.over; t += d.freeStepsS {
		r.since = t
		node.Free = d.Free(t)
		node.Slope = (d.Free(t+d.freeStepsS) - node.Free) / d.freeStepsS
		if err := e.Advance(d.freeStepsS, node, r.watch); err != nil {
			return r.out, err
		}
	}
	return r.out, nil
}

// run watches a closing.
type run struct {
	d            *Deceleration
	out          Closing
	since        float64
	lastT, lastV float64
	cushioned    float64 // when the cushion was met; 0 before
	over         bool
}

func (r *run) watch(t float64, e *Element, event Event) bool {
	t += r.since
	out := &r.out
	if r.d.Trace != nil {
		r.d.Trace(Sample{TimeS: t, Xi: e.Xi, Speed: e.U, VelocityMS: e.V})
	}
	if event != None && r.d.OnEvent != nil {
		r.d.OnEvent(t, event)
	}
	v := e.V
	if event == Bounce {
		v = e.StruckV
	}
	out.ReverseVelocityMS = max(out.ReverseVelocityMS, -v)
	if v < 0 && out.ReversalTimeS == 0 {
		out.ReversalTimeS = r.lastT + (t-r.lastT)*r.lastV/(r.lastV-v)
		out.DecelerationMS2 = r.d.StartMS / out.ReversalTimeS
	}
	if r.cushioned == 0 && e.Xi < e.m.CushionXi {
		r.cushioned = t
	}
	r.lastT, r.lastV = t, v
	if event == Seating || event == Bounce {
		out.Outcome, out.TimeS, out.SeatingSpeed, r.over = ClosedShut, t, math.Abs(e.StruckU), true
		if r.cushioned > 0 {
			out.CushionS = t - r.cushioned
		}
		if out.DecelerationMS2 == 0 {
			out.DecelerationMS2 = (r.d.StartMS - v) / t
		}
	} else {
		r.over = out.ReverseVelocityMS > r.d.LimitMS
	}
	return !r.over
}
