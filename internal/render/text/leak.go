package text

import (
	"fmt"
	"io"

	"seatward/basis"
	"seatward/internal/site"
	"seatward/leakback"
)

// LeakAnswer is a test of the wet well with its answer and what the station says.
type LeakAnswer struct {
	Test   *leakback.Test
	Answer *leakback.Answer
	Site   *site.Numbers // nil without a station
}

// values are all that the answer prints.
func (l *LeakAnswer) values() []basis.Value {
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

// Doubts are what does not fit, in the readings and beside the station's numbers.
func (l *LeakAnswer) Doubts() []string {
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

// References are the sources of what is printed.
func (l *LeakAnswer) References() []string {
	return append([]string{}, basis.References(l.values()...)...)
}

// Leak prints what a test of the wet well says.
func Leak(w io.Writer, l *LeakAnswer, opt Options) error {
	p := newPage(opt)
	a := l.Answer
	p.heading("Leak-back: " + string(a.Cause))
	p.para("  ", a.Cause.Meaning())
	p.gap()
	t := &table{indent: "  ", cols: []column{{head: "what", gives: true}, {head: "best", right: true}, {head: "range"}}}
	add := func(name string, v basis.Value) {
		if v.Known() {
			t.add(name, p.val(v), p.band(v))
		}
	}
	add("Inflow", a.Inflow)
	add("Leak-back", a.Leak)
	add("Least leak that this test could show", a.Least)
	add("Volume that came back until the rise ended", a.Gained)
	if a.Cause == leakback.Drains || a.Cause == leakback.Fading {
		add("Volume of main that can drain back", l.Test.Site.Drains)
	}
	add("Hole that would leak as much", a.Hole)
	add("Starts per day at this inflow", a.StartsNow)
	add("Starts per day without the leak", a.StartsDry)
	add("Pumped again per day", a.Returned)
	add("Energy cost of the leak, in your currency", a.Cost)
	p.table(t)
	p.gap()
	for _, d := range l.Doubts() {
		p.item(rust, "  ", "!", d)
	}
	l.notes(&p)
	l.pump(&p)
	l.runBack(&p)
	p.heading("Where it comes from")
	for _, v := range basis.Assumptions(l.values()...) {
		p.item(plain, "  ", "·", v.Name+": "+p.val(v)+" ("+p.band(v)+"), "+v.Reason)
	}
	for i, ref := range l.References() {
		p.para(fmt.Sprintf("%4d  ", i+1), ref)
	}
	p.fieldCautions()
	return p.flush(w)
}

// notes say what limits the test.
func (l *LeakAnswer) notes(p *page) {
	a := l.Answer
	if a.Cause == leakback.NotPaired {
		return
	}
	if !a.Bracketed {
		p.item(amber, "  ", "!", "There is one fill with the valve shut only: a change of inflow would look the same as a leak. Repeat it shut, open and shut, within the hour.")
	}
	if a.Coarse {
		p.item(amber, "  ", "!", "The level rose by fewer than ten steps of its reading: the errors of the readings are not independent then, and the range is too narrow. Measure for longer, or time the steps.")
	}
	p.item(plain, "  ", "·", "A leaking check valve leaks whenever its header is under pressure: also while the other pump runs, at a greater head.")
	if found, ok := readings[a.Cause]; ok {
		p.item(plain, "  ", "·", "For the cause: seatward diagnose --found paired-fills="+found)
	}
	if a.Gained.Known() && l.Test.Site.Drains.Known() && a.Cause == leakback.Drains {
		p.item(plain, "  ", "·", fmt.Sprintf("The rise ended after %s, %.0f %% of what the main can give back.",
			p.val(a.Gained), 100*a.Gained.SI/l.Test.Site.Drains.SI))
	}
}

// readings are what a cause is as a reading of the test of diagnosis.
var readings = map[leakback.Cause]string{
	leakback.SeatLeak: "open-faster", leakback.Drains: "open-ends", leakback.NotSeen: "same",
}

// pump prints the drawdown against the curve.
func (l *LeakAnswer) pump(p *page) {
	flow := l.Answer.PumpFlow
	if !flow.Known() {
		return
	}
	p.heading("Pump flow from the drawdown")
	p.para("  ", fmt.Sprintf("Measured %s (%s).", p.val(flow), p.band(flow)))
	curve := l.Test.Site.PumpFlow
	if !curve.Known() {
		p.para("  ", "A station file gives the flow by the pump's curve to hold it against.")
		return
	}
	word := "agrees with"
	switch {
	case flow.High < curve.Low:
		word = "is below"
	case flow.Low > curve.High:
		word = "is above"
	}
	p.para("  ", fmt.Sprintf("By curve and pipe %s, without the loss of a check valve. The measured flow %s it, at %.0f %%.",
		p.val(curve), word, 100*flow.SI/curve.SI))
	if word == "is below" {
		p.para("  ", "Causes in order of the cheapest check: a valve that does not open fully, air in the main, a leak back through the other pump's valve, a worn impeller or ring, a main that is rougher than described. See: seatward diagnose.")
	}
}

// runBack prints the pump behind a valve stuck open.
func (l *LeakAnswer) runBack(p *page) {
	if l.Site == nil || l.Site.RunBack == nil {
		return
	}
	r := l.Site.RunBack
	p.heading("If the valve sticks open")
	p.para("  ", fmt.Sprintf("The pump spins backward at %s, steady, and passes %s back into the wet well.",
		p.val(r.Speed), p.val(r.Flow)))
	if r.StandsS.Known() {
		p.para("  ", fmt.Sprintf("After a power failure it comes to a stop in %s and turns back, up to %s.",
			p.val(r.StandsS), p.val(r.Fastest)))
	}
	p.para("  ", fmt.Sprintf("A start against that heats the rotor %s times as much as a start from rest (inertia alone). Do not restart until the shaft stands; block automatic restart.",
		p.num(r.Heat)))
	if r.Outside != "" {
		p.item(amber, "  ", "!", sentenceEnd(sentence(r.Outside)))
	}
}

// fieldCautions go with everything that sends people to a wet well.
func (p *page) fieldCautions() {
	p.heading("Cautions")
	for _, c := range []string{
		"Read levels from outside: a wet well and a valve vault are confined spaces, and sewage gases kill without warning. Enter only by the local rules, with tested air.",
		"Lock out and tag out the pump before an isolating valve is moved or a cover touched; pumps start by themselves on level. The column above the valve is under pressure with the pump off.",
		"Watch the level: with the pumps off the well fills. Stop before the overflow or the alarm level.",
		"Maker's instructions and local rules come first.",
	} {
		p.item(amber, "  ", "!", c)
	}
}
