package plant

import (
	"math"

	"seatward/transient"
	"seatward/valve"
)

// Stop is the record of what one event does at a station with one valve in every branch:
// pumps, waves and moving elements together, followed until the valves rest. An event that
// cannot happen, or cannot be run, has a Fault and nothing else.
type Stop struct {
	Event   Event
	ValveID string
	Fault   string // why there is no run, in a sentence; "" where there is one
	Idle    bool   // the fault is of the station: nothing flows before the event

	Closing  Closing
	Rest     Rest
	Finer    *Closing // on a grid twice as fine, where the valve opened again; nil elsewhere
	FineRest Rest     // how that run ended
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
	VaporM   float64 // pressure head at which the liquid boils

	Film *Film // nil unless asked for

	gas    bool    // gas cavities were in the run
	boreM2 float64 // area of the valve's bore
	fullMS float64 // velocity at which the valve begins to close as the flow falls
}

// as is the record of another event that does the same.
func (s *Stop) as(ev Event) *Stop {
	out := *s
	out.Event = ev
	return &out
}

// Closing is what the hardest of the valves did: that of the unit whose seating was the
// hardest of the run, or of the first unit that stops where none seated.
type Closing struct {
	Pump            string // whose valve it is; "" where all pumps are alike
	Closed          bool
	First           valve.Slam // the first seating
	Worst           valve.Slam // the hardest
	Later           int        // seatings after the first with a reverse velocity that matters
	Reopened        int        // times the valve opened again after it had seated
	Bounces         int        // times its element was thrown off the seat by its own blow
	ReversedS       float64    // from the event until the water turned; 0 if it did not
	DecelerationMS2 float64    // of the flow as it turns, without the valve: the axis of a closing curve
	Rotary          bool
	FirstRiseM      float64 // head behind it after the first seating, over that just before
	RiseM           float64 // the greatest such rise of all seatings
	FallM           float64 // head before it, likewise
	MostM           float64 // greatest head behind it in the whole run, above the datum
}

// Rest says how far a run was followed.
type Rest uint8

// How runs end.
const (
	AtRest      Rest = iota // no valve opened again for two cycles of the waves
	FirstOnly               // the main is so long that only the first closing is followed
	Window                  // the window ended while valves still opened now and then
	SlamsOn                 // it was ended early, as a valve slammed on and on
	NeverRests              // the last second held a blow of twice the first
	NotClosed               // a valve did not close
	NotReversed             // the flow did not turn
)

// followedTS is the longest cycle 4L/a, s, of branch and main for which later seatings are
// followed (A5.1).
const followedTS = 5.0

// SlamMS is the reverse velocity by which the stop is judged, m/s: that of the hardest
// seating, on the worse of two grids where they do not agree.
func (s *Stop) SlamMS() float64 {
	if s.Resolved() {
		return s.Closing.Worst.ReverseMS
	}
	return math.Max(s.Closing.Worst.ReverseMS, s.Finer.Worst.ReverseMS)
}

// RiseM is the head rise that goes with SlamMS, m.
func (s *Stop) RiseM() float64 {
	if s.Resolved() {
		return s.Closing.RiseM
	}
	return math.Max(s.Closing.RiseM, s.Finer.RiseM)
}

// MostM is the greatest head behind the valve of the whole run, m above the datum.
func (s *Stop) MostM() float64 {
	if s.Resolved() {
		return s.Closing.MostM
	}
	return math.Max(s.Closing.MostM, s.Finer.MostM)
}

// How far two grids may be apart before a run is taken as not resolved (A5.1, 5).
const (
	apartShare = 0.25
	apartMS    = 0.05
	apartHead  = 0.15
)

// Resolved is true where a grid twice as fine says the same.
func (s *Stop) Resolved() bool {
	if s.Finer == nil {
		return true
	}
	if (s.Rest == NeverRests) != (s.FineRest == NeverRests) {
		return false
	}
	a, b := s.Closing, *s.Finer
	v := math.Max(a.Worst.ReverseMS, b.Worst.ReverseMS)
	outlet := s.outletM()
	h := math.Max(a.MostM, b.MostM) - outlet
	return math.Abs(a.Worst.ReverseMS-b.Worst.ReverseMS) <= math.Max(apartShare*v, apartMS) &&
		math.Abs(a.MostM-b.MostM) <= apartHead*math.Max(h, 1)
}

func (s *Stop) outletM() float64 { return s.Event.level.OutletM }

// Cushioned is true where the hardest seating took longer in its cushion than a wave needs
// to run along the branch and back: a slow closure.
func (s *Stop) Cushioned() bool { return s.Closing.Worst.CushionS > 2*s.BranchS }

// Moment is one thing that happened.
type Moment struct {
	TimeS float64
	Text  string
	Kind  MomentKind

	ReverseMS float64 // of the water as the valve closes; 0 for other moments
}

// MomentKind is what happened: moments of one kind differ in their numbers alone.
type MomentKind uint8

// The kinds of moments.
const (
	Begins MomentKind = iota // the event itself
	FlowReverses
	PumpReverses
	ValveOpens // leaves its seat
	ValveMoves // leaves another rest
	ValveIsOpen
	ValveSticks
	ValveBounces
	ValveCloses
	ValveChatters
	VaporForms
)

// String is the kind as replies name it.
func (k MomentKind) String() string {
	return [...]string{
		"event", "flow reverses", "pump reverses", "valve opens", "valve moves", "valve is open",
		"valve sticks", "valve bounces", "valve closes", "valve chatters", "vapor forms",
	}[k]
}

// OfValve is true for what the valve does.
func (k MomentKind) OfValve() bool { return k >= ValveOpens && k <= ValveChatters }

// EnvelopePoint is least and greatest head at a place of the main, m above the datum.
type EnvelopePoint struct {
	ChainageM, ElevationM, LeastM, MostM, StartM float64
	LimitM                                       float64 // head at the pipe's rating with its surge allowance; NaN where not known
}

// MostPressureM is the greatest pressure head of the main, m.
func (s *Stop) MostPressureM() float64 {
	most := math.Inf(-1)
	for _, e := range s.Envelope {
		most = math.Max(most, e.MostM-e.ElevationM)
	}
	return most
}

// LeastPressureM is the least.
func (s *Stop) LeastPressureM() float64 {
	least := math.Inf(1)
	for _, e := range s.Envelope {
		least = math.Min(least, e.LeastM-e.ElevationM)
	}
	return least
}

// Separates is true where the column separates: the head falls to vapor pressure.
func (s *Stop) Separates() bool {
	return s.Fault == "" && (len(s.Cavities) > 0 || s.LeastPressureM() <= s.VaporM+nearVaporM)
}

// nearVaporM is the head above vapor pressure, m, below which the liquid is taken to boil.
const nearVaporM = 0.05

// OverRating is the place of the main at which the head goes furthest over what the pipe is
// rated for.
func (s *Stop) OverRating() (worst EnvelopePoint, over bool) {
	by := 0.0
	for _, e := range s.Envelope {
		if d := e.MostM - e.LimitM; d > by {
			worst, by, over = e, d, true
		}
	}
	return worst, over
}
