package plant

import (
	"math"

	"seatward/quantity"
	"seatward/transient"
	"seatward/valve"
)

// watch follows the valves of a run from step to step, and says when it is over.
type watch struct {
	l      *layout
	ev     Event
	valves []*watched
	cycleS float64 // 4L/a of branch and main
	mostS  float64 // longest window
	lastS  float64 // when the event has done all that it does
	draw   bool    // one of many draws: no more is followed than decides the slam
}

// watched is one valve of the run: that of one kind of pump which does one thing.
type watched struct {
	index          int // in the layout
	line           *valve.InLine
	down           func() float64
	stops          bool
	seatings       int
	seatedS        float64    // the last seating
	before         [2]float64 // heads behind and before the valve at the step before it
	firstRise      float64
	rise, fall     float64
	most           float64
	startMS        float64
	lastUp, lastDn float64
}

// How long runs are followed.
const (
	leastQuietS = 0.2   // and two cycles without an opening or a seating end a run
	quietCycles = 2     // (A5.1, 3)
	afterFirst  = 0.6   // cycles after the first closing in a long main: the wave that it sends out has come back
	leastWindow = 3.0   // s after the first closing, for which a run is followed at the most
	cycles      = 20    // or so many cycles, whichever is longer
	patience    = 60.0  // s and patienceTs cycles for which the flow may take to turn
	patienceTs  = 12    //
	openS       = 10.0  // s and openTs cycles for which a valve may stay open in reverse flow
	openTs      = 3     //
	endless     = 8     // later slams, and endlessS seconds, after which a valve is taken to slam on
	endlessS    = 10.0  // and on: our choice, no source
	longestRunS = 900.0 // whatever the main
	lastWordS   = 1.0   // in which a blow of twice the first means that the valve does not come to rest
	growing     = 2.0   //
)

func newWatch(l *layout, ev Event, draw bool) *watch {
	w := &watch{l: l, ev: ev, lastS: ev.lastS(), draw: draw}
	_, main, _ := joined(l.main)
	w.cycleS = 4 * (l.branch + main)
	w.mostS = math.Min(longestRunS, w.lastS+patience+patienceTs*w.cycleS)
	for i, line := range l.valves {
		v := &watched{
			index: i, line: line, down: l.behind(i), stops: l.stops[i], most: math.Inf(-1),
			startMS: line.Element().V,
		}
		w.valves = append(w.valves, v)
	}
	return w
}

// step looks at every valve after a step; true ends the run.
func (w *watch) step() bool {
	now := w.l.net.TimeS()
	for _, v := range w.valves {
		v.step(w.l, now)
	}
	return w.over(now)
}

func (v *watched) step(l *layout, now float64) {
	down := v.down()
	up := down + l.chains[v.index].DropM()
	v.most = math.Max(v.most, down)
	m := &v.line.Motion
	if m.Seatings != v.seatings {
		v.seatings, v.seatedS, v.before = m.Seatings, now, [2]float64{v.lastDn, v.lastUp}
	}
	if v.seatings > 0 && now < v.seatedS+echoes*l.branch+2*l.net.StepS() {
		v.rise = math.Max(v.rise, down-v.before[0])
		v.fall = math.Max(v.fall, v.before[1]-up)
		if v.seatings == 1 {
			v.firstRise = v.rise
		}
	}
	v.lastUp, v.lastDn = up, down
}

// over is true when the run has been followed far enough.
func (w *watch) over(now float64) bool {
	if now < w.lastS {
		return false
	}
	if !w.ev.Stops() {
		return now >= w.lastS+math.Max(leastWindow, afterFirst*w.cycleS)
	}
	first, quiet := w.closedS()
	switch {
	case math.IsInf(first, 1): // the window ends it, or reverse flow through a valve that stays open
		back := w.valves[w.l.watched].line.Motion.ReversedS
		return back > 0 && now > back+openS+openTs*w.cycleS
	case w.cycleS > followedTS && w.draw && w.hardest().line.Motion.Worst.ReverseMS >= valve.CountedSlamMS:
		return now >= first+(echoes+1)*w.l.branch+2*w.l.net.StepS()
	case w.cycleS > followedTS:
		return now >= first+afterFirst*w.cycleS
	}
	return now >= math.Max(quiet, w.lastS)+math.Max(leastQuietS, quietCycles*w.cycleS) && w.seated() ||
		now >= math.Max(first, w.lastS)+w.window() || w.endless(now, first)
}

// endless is true for a valve that has slammed so often that more of the same tells nothing
// new. In a short main that takes longer than the window.
func (w *watch) endless(now, first float64) bool {
	return w.hardest().line.Motion.Later >= endless &&
		now >= math.Max(first, w.lastS)+math.Max(endlessS, quietCycles*w.cycleS)
}

func (w *watch) window() float64 { return math.Max(leastWindow, cycles*w.cycleS) }

// closedS is when every valve that has to close has seated first, and when the last of all
// openings and seatings was; infinity while one has not closed. A seating has the same weight as
// an opening: a valve that was long open slams the harder, and its blow may lift it again.
func (w *watch) closedS() (first, quiet float64) {
	for _, v := range w.valves {
		m := &v.line.Motion
		if v.stops {
			if m.Seatings == 0 {
				if v.line.Element().Mode == valve.Seated && v.startMS <= 0 {
					continue // it was shut all along
				}
				return math.Inf(1), math.Inf(1)
			}
			first = math.Max(first, m.First.TimeS)
		}
		quiet = math.Max(quiet, math.Max(m.Last().TimeS, m.ReleasedS))
	}
	return first, quiet
}

// seated is true while every valve of a pump that stops is on its seat.
func (w *watch) seated() bool {
	for _, v := range w.valves {
		if v.stops && v.line.Element().Mode != valve.Seated {
			return false
		}
	}
	return true
}

// share is how much of the run is done, as far as that can be said.
func (w *watch) share() float64 {
	now := w.l.net.TimeS()
	first, _ := w.closedS()
	if math.IsInf(first, 1) {
		return 0.5 * math.Min(1, now/(w.lastS+2*w.cycleS+1))
	}
	return math.Min(1, 0.5+0.5*(now-first)/w.window())
}

// hardest is the valve with the hardest seating of the run; the first that stops where none
// has seated.
func (w *watch) hardest() *watched {
	out := w.valves[w.l.watched]
	for _, v := range w.valves {
		if v.line.Motion.Seatings > 0 && v.line.Motion.Worst.ReverseMS > out.line.Motion.Worst.ReverseMS {
			out = v
		}
	}
	return out
}

func (w *watch) startMS() float64 { return w.hardest().startMS }

// closing tells what the hardest of the valves did.
func (w *watch) closing() Closing {
	v := w.hardest()
	m := &v.line.Motion
	c := Closing{
		Pump: w.l.pumps[v.index], Closed: m.Seatings > 0, First: m.First, Worst: m.Worst, Later: m.Later,
		Reopened: m.Reopened, Bounces: m.Bounces,
		ReversedS: m.ReversedS, Rotary: v.line.Mechanism().Rotary, FirstRiseM: v.firstRise, RiseM: v.rise,
		FallM: v.fall, MostM: v.most,
	}
	if !c.Closed {
		c.Worst.ReverseMS = m.UnseatedReverseMS
	}
	if w.l.rigid && c.Closed { // the branch carries no waves: the sudden stop is that of Joukowsky
		c.FirstRiseM, c.RiseM = w.sudden(v, m.First), w.sudden(v, m.Worst)
		c.FallM = c.RiseM
		c.MostM = math.Max(c.MostM, v.before[0]+c.RiseM)
	}
	return c
}

func (w *watch) sudden(v *watched, s valve.Slam) float64 {
	inPipe := math.Max(0, -s.SeatingMS) * v.line.Mechanism().AreaM2() / (math.Pi / 4 * w.l.boreM * w.l.boreM)
	return valve.Joukowsky(w.l.waveMS, inPipe, quantity.StandardGravity)
}

// rest says how the run ended.
func (w *watch) rest() Rest {
	now := w.l.net.TimeS()
	first, quiet := w.closedS()
	switch {
	case !w.ev.Stops():
		return AtRest
	case math.IsInf(first, 1):
		if m := &w.valves[w.l.watched].line.Motion; m.ReversedS == 0 && w.valves[w.l.watched].line.Element().V >= 0 {
			return NotReversed
		}
		return NotClosed
	case w.cycleS > followedTS:
		return FirstOnly
	case now >= math.Max(quiet, w.lastS)+math.Max(leastQuietS, quietCycles*w.cycleS)-w.l.net.StepS() && w.seated():
		return AtRest
	}
	for _, v := range w.valves {
		m := &v.line.Motion
		if last := m.WorstSince(now - lastWordS); last.ReverseMS >= growing*m.First.ReverseMS &&
			last.ReverseMS >= valve.CountedSlamMS {
			return NeverRests
		}
	}
	if w.endless(now, first) && now < math.Max(first, w.lastS)+w.window() {
		return SlamsOn
	}
	return Window
}

// rows are the readings of the hardest valve out of those of all.
func (w *watch) rows(all []transient.Row, probes []transient.Probe) ([]transient.Row, []string) {
	own, names := w.l.readings(w.hardest().index, probes)
	out := make([]transient.Row, len(all))
	pick := func(x []float64) []float64 {
		y := make([]float64, len(own))
		for i, k := range own {
			y[i] = x[k]
		}
		return y
	}
	for i, r := range all {
		out[i] = transient.Row{TimeS: r.TimeS, Now: pick(r.Now), Least: pick(r.Least), Most: pick(r.Most)}
	}
	return out, names
}
