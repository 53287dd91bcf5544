package site

import (
	"fmt"
	"strings"

	"seatward/basis"
	"seatward/leakback"
	"seatward/quantity"
)

// Leak is a test of the wet well with its answer and what the station says.
type Leak struct {
	Test   *leakback.Test
	Answer *leakback.Answer
	Site   *Numbers // nil without a station
}

// Line is one number of an answer in words: the best estimate with its unit, and the range.
type Line struct{ Name, Best, Range string }

// Note is a sentence that limits an answer or follows from it.
type Note struct {
	Warns bool
	Text  string
}

// The tests of a diagnosis that levels of the wet well answer, and the one that a logger answers.
const (
	LeakTest     = "paired-fills"
	DrawdownTest = "drawdown"
	LoggerTest   = "logger"
)

// readings are what a cause is as a reading of the leak test of a diagnosis.
var readings = map[leakback.Cause]string{
	leakback.SeatLeak: "open-faster", leakback.Drains: "open-ends", leakback.NotSeen: "same",
}

// Cautions go with everything that sends people to a wet well.
func Cautions() []string {
	return []string{
		"Read levels from outside: a wet well and a valve vault are confined spaces, and sewage gases kill without warning. Enter only by the local rules, with tested air.",
		"Lock out and tag out the pump before an isolating valve is moved or a cover touched; pumps start by themselves on level. The column above the valve is under pressure with the pump off.",
		"Watch the level: with the pumps off the well fills. Stop before the overflow or the alarm level.",
		"Maker's instructions and local rules come first.",
	}
}

// StopCautions go with a stop that is to be logged.
func StopCautions() []string {
	return []string{
		"A stop that has never been made may be the one that breaks the main: plan it with a licensed engineer, and agree on each one with the operator.",
		"Pressure taps are under pressure. Pumps start by themselves: lock out and tag out before hands go near a shaft, a lever or a weight.",
		"Vaults, dry pits and wet wells are confined spaces, and sewage gases kill without warning. Enter only by the local rules, with tested air.",
		"Watch the level: with the pumps off the well fills. Stop before the overflow or the alarm level.",
		"Maker's instructions and local rules come first.",
	}
}

// Reading is what the answer is as a reading of the leak test of a diagnosis; false where it is none.
func (l *Leak) Reading() (string, bool) {
	r, ok := readings[l.Answer.Cause]
	return r, ok
}

// values are all that the answer says.
func (l *Leak) values() []basis.Value {
	a := l.Answer
	out := []basis.Value{
		a.Leak, a.Least, a.Inflow, a.Hole, a.Gained, a.Returned, a.StartsNow, a.StartsDry, a.Cost, a.PumpFlow,
	}
	if l.Site != nil && l.Site.RunBack != nil {
		out = append(out, l.Site.PumpFlow, l.Site.Drains, l.Site.RunBack.Speed, l.Site.RunBack.Heat)
	}
	var known []basis.Value
	for _, v := range out {
		if v.Known() {
			known = append(known, v)
		}
	}
	return known
}

// Lines are the numbers of the answer, those that are known.
func (l *Leak) Lines(sys quantity.System) []Line {
	a := l.Answer
	var out []Line
	add := func(name string, v basis.Value) {
		if v.Known() {
			out = append(out, Line{name, said(sys, v), band(sys, v)})
		}
	}
	add("Inflow", a.Inflow)
	add("Leak-back", a.Leak)
	add("Least leak that this test could show", a.Least)
	add("Volume that came back until the rise ended", a.Gained)
	if a.Cause == leakback.Drains || a.Cause == leakback.Fading {
		add("Volume of main that can drain back", l.Test.Site.Drains)
	}
	if h := a.Hole; h.Known() { // as many figures as its range warrants, not those of a bore
		number := func(si float64) string { return quantity.Figures(sys.In(h.Kind, si), 2) }
		out = append(out, Line{
			"Hole that would leak as much", number(h.SI) + " " + sys.Unit(h.Kind), number(h.Low) + " to " + number(h.High),
		})
	}
	add("Starts per day at this inflow", a.StartsNow)
	add("Starts per day without the leak", a.StartsDry)
	add("Pumped again per day", a.Returned)
	add("Energy cost of the leak, in your currency", a.Cost)
	return out
}

// Doubts are what does not fit, in the readings and beside the station's numbers.
func (l *Leak) Doubts() []string {
	out := l.Test.Doubts()
	if l.Site == nil {
		return out
	}
	a := l.Answer
	if r := l.Site.RunBack; r != nil && a.Leak.Known() && a.Leak.Low > r.Flow.SI {
		out = append(out, "The leak is more than a valve stuck open would pass back: check the area of the well and the units of the levels.")
	}
	if q := l.Site.PumpFlow; q.Known() && a.Inflow.Known() && a.Inflow.Low > q.High {
		out = append(out, "The inflow is more than one pump delivers by its curve: check the area of the well and the units of the levels.")
	}
	return out
}

// Notes say what limits the test.
func (l *Leak) Notes(sys quantity.System) []Note {
	a := l.Answer
	if a.Cause == leakback.NotPaired {
		return nil
	}
	var out []Note
	if !a.Bracketed {
		out = append(out, Note{true, "There is one fill with the valve shut only: a change of inflow would look the same as a leak. Repeat it shut, open and shut, within the hour."})
	}
	if a.Coarse {
		out = append(out, Note{true, "The level rose by fewer than ten steps of its reading: the errors of the readings are not independent then, and the range is too narrow. Measure for longer, or time the steps."})
	}
	out = append(out, Note{Text: "A leaking check valve leaks whenever its header is under pressure: also while the other pump runs, at a greater head."})
	if a.Gained.Known() && l.Test.Site.Drains.Known() && a.Cause == leakback.Drains {
		out = append(out, Note{Text: fmt.Sprintf("The rise ended after %s, %.0f %% of what the main can give back.",
			said(sys, a.Gained), 100*a.Gained.SI/l.Test.Site.Drains.SI)})
	}
	return out
}

// Pump holds the drawdown against the curve, in sentences; none without a drawdown. Weak is true
// where the measured flow is below that of the curve.
func (l *Leak) Pump(sys quantity.System) (out []string, weak bool) {
	flow := l.Answer.PumpFlow
	if !flow.Known() {
		return nil, false
	}
	out = append(out, fmt.Sprintf("Measured %s (%s).", said(sys, flow), band(sys, flow)))
	curve := l.Test.Site.PumpFlow
	if !curve.Known() {
		return append(out, "A station file gives the flow by the pump's curve to hold it against."), false
	}
	word := "agrees with"
	switch {
	case flow.High < curve.Low:
		word = "is below"
	case flow.Low > curve.High:
		word = "is above"
	}
	out = append(out, fmt.Sprintf("By curve and pipe %s, without the loss of a check valve. The measured flow %s it, at %.0f %%.",
		said(sys, curve), word, 100*flow.SI/curve.SI))
	if weak = word == "is below"; weak {
		out = append(out, "Causes in order of the cheapest check: a valve that does not open fully, air in the main, a leak back through the other pump's valve, a worn impeller or ring, a main that is rougher than described.")
	}
	return out, weak
}

// Stuck says what a pump does behind a valve stuck open; nothing without a station.
func (l *Leak) Stuck(sys quantity.System) []Note {
	if l.Site == nil || l.Site.RunBack == nil {
		return nil
	}
	r := l.Site.RunBack
	out := []Note{{Text: fmt.Sprintf("The pump spins backward at %s, steady, and passes %s back into the wet well.",
		said(sys, r.Speed), said(sys, r.Flow))}}
	if r.StandsS.Known() {
		out = append(out, Note{Text: fmt.Sprintf("After a power failure it comes to a stop in %s and turns back, up to %s.",
			said(sys, r.StandsS), said(sys, r.Fastest))})
	}
	out = append(out, Note{Text: fmt.Sprintf("A start against that heats the rotor %s times as much as a start from rest (inertia alone). Do not restart until the shaft stands; block automatic restart.",
		sys.Number(r.Heat.Kind, r.Heat.SI))})
	if r.Outside != "" {
		out = append(out, Note{true, capital(strings.TrimSuffix(r.Outside, ".")) + "."})
	}
	return out
}

// Assumed are the assumptions under the answer, each in a sentence.
func (l *Leak) Assumed(sys quantity.System) []string {
	var out []string
	for _, v := range basis.Assumptions(l.values()...) {
		out = append(out, v.Name+": "+said(sys, v)+" ("+band(sys, v)+"), "+v.Reason)
	}
	return out
}

// References are the sources of what is said.
func (l *Leak) References() []string { return noNull(basis.References(l.values()...)) }

// said is the best estimate with its unit.
func said(sys quantity.System, v basis.Value) string {
	if v.Kind == quantity.AnnualCost {
		return sys.Number(v.Kind, v.SI) + " per year"
	}
	return sys.Format(v.Kind, v.SI)
}

// band is the range without the unit.
func band(sys quantity.System, v basis.Value) string {
	if v.Kind == quantity.Time && v.Ranged() { // its unit depends on its size
		return v.FormatRange(sys)
	}
	low, high := sys.Number(v.Kind, v.Low), sys.Number(v.Kind, v.High)
	if low == high {
		return low
	}
	return low + " to " + high
}
