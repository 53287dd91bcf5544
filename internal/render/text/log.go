package text

import (
	"fmt"
	"io"
	"math"
	"strings"

	"seatward/internal/chart"
	"seatward/internal/trace"
	"seatward/quantity"
)

// mostSaid is how many events of one kind are printed.
const mostSaid = 12

// Log prints what a log holds: its channels, what is not clear, traps, events, and what the
// logger could not have seen.
func Log(w io.Writer, x *chart.Log, opt Options) error {
	p := newPage(opt)
	what := fmt.Sprintf("%s: %d rows, %s to %s", Clean(x.File), x.Rows, x.From, x.To)
	switch {
	case x.Clock && x.Zoned:
		what += ", UTC"
	case x.Clock:
		what += ", by the clock of the log; no time zone is given"
	default:
		what += " from the start"
	}
	p.para("", what+".")
	p.heading("CHANNELS")
	p.logChannels(x)
	if len(x.Notes) > 0 {
		p.gap()
		for _, n := range x.Notes {
			p.item(faint, "", "-", Clean(n))
		}
	}
	if len(x.Questions) > 0 {
		p.heading("NOT CLEAR: answer in the map")
		for _, q := range x.Questions {
			p.item(amber, "", "?", Clean(fmt.Sprintf("%s Taken: %s. Set %s to one of: %s.", q.Text, q.Taken, q.Key,
				strings.Join(q.Choices, "; "))))
		}
	}
	if len(x.Traps) > 0 {
		p.heading("DATA TRAPS")
		for _, t := range x.Traps {
			p.item(rust, "", "!", Clean(t.Text+" "+t.Act))
		}
	}
	p.logSwitches(x)
	for i := range x.Traces {
		p.logTrace(x, &x.Traces[i])
	}
	p.logSiblings(x)
	p.heading("CAUTIONS")
	p.para("",
		"A log shows what its sensors saw at their place. Head at the valve needs a sensor at the valve. Findings here are evidence for a licensed engineer; the maker's instructions and local codes go before them.")
	return p.flush(w)
}

func (p *page) logChannels(x *chart.Log) {
	t := &table{indent: "  ", cols: []column{
		{head: "channel", gives: true},
		{head: "measures"},
		{head: "unit"},
		{head: "step", right: true},
		{head: "readings", right: true},
		{head: "lowest", right: true},
		{head: "highest", right: true},
		{head: "gaps", right: true},
	}}
	for i := range x.Channels {
		c := &x.Channels[i]
		step := stepWords(c.StepS)
		if c.Held {
			step = "changes"
		}
		measures := c.Measures
		if c.Sample != "" && c.Sample != "change" {
			measures += " (" + c.Sample + ")"
		}
		t.add(Clean(c.Name), measures, Clean(c.Unit), step, fmt.Sprint(c.Readings), quantity.Figures(c.Low, 4),
			quantity.Figures(c.High, 4), fmt.Sprint(c.Gaps))
	}
	p.table(t)
}

// stepWords writes a logging step, or the rate of a fast logger.
func stepWords(s float64) string {
	switch {
	case s <= 0:
		return none
	case s < 0.5:
		return quantity.Figures(1/s, 3) + " Hz"
	case s < 120:
		return quantity.Figures(s, 3) + " s"
	case s < 7200:
		return quantity.Figures(s/60, 3) + " min"
	}
	return quantity.Figures(s/3600, 3) + " h"
}

func (p *page) logSwitches(x *chart.Log) {
	if len(x.Switches) == 0 {
		return
	}
	p.heading("STARTS AND STOPS")
	starts := 0
	for _, op := range x.Switches {
		if op.Start {
			starts++
		}
	}
	p.para("", fmt.Sprintf("%s, %s, by %s.", many(starts, "start"), many(len(x.Switches)-starts, "stop"),
		x.Switches[0].By))
	for i, op := range x.Switches {
		if i == mostSaid {
			p.paraIn(faint, "", fmt.Sprintf("and %d more, in --json", len(x.Switches)-i))
			break
		}
		p.put("  " + x.When(op.AtNS) + "  " + chart.OperationWords(op))
	}
}

func (p *page) logTrace(x *chart.Log, t *chart.LogTrace) {
	p.heading("EVENTS IN " + strings.ToUpper(Clean(t.Channel)))
	g := t.Grain
	p.para("",
		fmt.Sprintf("Head over the gauge %s to %s. A step is called one from %s on: more than the scatter of the readings makes by chance.",
			p.si(quantity.Head, t.LowM), p.si(quantity.Head, t.HighM), p.si(quantity.Head, t.LeastM)))
	if len(x.Switches) == 0 && len(t.Operations) > 0 {
		p.para("", fmt.Sprintf("%s, read from the head alone; the first is a %s at %s.", many(len(t.Operations),
			"start or stop"),
			chart.OperationWords(t.Operations[0]), x.When(t.Operations[0].AtNS)))
	}
	for i := range t.Slams {
		if i == mostSaid {
			p.paraIn(faint, "", fmt.Sprintf("and %d more, in --json", len(t.Slams)-i))
			break
		}
		p.slamOf(x, &t.Slams[i])
	}
	for _, c := range t.Cavities {
		p.item(rust, "", "!", fmt.Sprintf("%s  Column separation: floor at %s for %s s; rejoining peak %s.",
			x.When(c.FromNS),
			p.si(quantity.Head, c.FloorM), quantity.Figures(c.LifeS, 3), p.si(quantity.Head, c.RejoinM)))
	}
	for i, f := range t.Flutter {
		if i == mostSaid {
			break
		}
		p.item(amber, "", "~",
			fmt.Sprintf("%s  Steady swing of %s Hz, %s from low to high, %d cycles while nothing is switched: valve flutter, vane passing or the supply of the pump.",
				x.When(f.FromNS), quantity.Figures(f.Hz, 3), p.si(quantity.Head, f.HeightM), f.Cycles))
	}
	for _, c := range t.Clipped {
		p.item(amber, "", "!",
			fmt.Sprintf("The sensor is at the end of its range at %s, %d times, up to %s s. What went beyond is not in the log.",
				p.si(quantity.Head, c.LevelM), c.Runs, quantity.Figures(c.LongestS, 3)))
	}
	p.unseen(t, g)
}

// slamOf prints one slam and what follows from it.
func (p *page) slamOf(x *chart.Log, s *trace.Slam) {
	kind := "Slam"
	if s.Cause != "closing" {
		kind = "Steep step by rejoining of the column"
	}
	if s.Later {
		kind = "Later " + strings.ToLower(kind)
	}
	text := fmt.Sprintf("%s  %s: step %s (from %s), peak %s.", x.When(s.AtNS), kind, p.si(quantity.Head, s.StepM()),
		p.si(quantity.Head, s.BeforeM), p.si(quantity.Head, s.PeakM))
	if s.After != nil {
		text += fmt.Sprintf(" %s s after the stop.", quantity.Figures(s.After.S, 3))
	}
	if r := s.Reverse; r != nil && s.Cause == "closing" {
		if s.LowerBound {
			text += fmt.Sprintf(" Reverse velocity at least %s", p.si(quantity.Velocity, r.Low))
		} else {
			text += fmt.Sprintf(" Reverse velocity %s (%s to %s)", p.number(quantity.Velocity, r.Best),
				p.number(quantity.Velocity, r.Low), p.si(quantity.Velocity, r.High))
		}
		text += " (Joukowsky)."
	}
	if s.LowerBound {
		text += " Lower bound: " + s.Why + "."
	}
	if s.Braking != nil && s.Cause == "closing" {
		text += fmt.Sprintf(" Deceleration just before: %s.", p.si(quantity.Acceleration, *s.Braking))
	}
	if w := s.Wave; w != nil {
		text += fmt.Sprintf(" Wave: period %s s ± %s, %d swings, each keeps %s %% of the one before",
			quantity.Figures(w.PeriodS, 4),
			quantity.Figures(2*w.ErrorS, 1), w.Swings, quantity.Figures(100*w.Kept, 2))
		if w.Speed != nil && s.Air == nil {
			text += fmt.Sprintf("; wave speed %s to %s", p.number(quantity.Velocity, w.Speed.Low),
				p.si(quantity.Velocity, w.Speed.High))
		}
		text += "."
	}
	if a := s.Air; a != nil {
		text += fmt.Sprintf(" The swing is slow and rounded, %s times 4L/a: trapped air",
			quantity.Figures(a.TimesMain, 2))
		if a.Volume != nil {
			text += fmt.Sprintf(" of %s to %s", p.number(quantity.Volume, a.Volume.Low), p.si(quantity.Volume,
				a.Volume.High))
		}
		text += ". Vent and repeat: the period then changes."
	}
	p.item(rust, "", "!", text)
}

// unseen says what the logger could not have seen.
func (p *page) unseen(t *chart.LogTrace, g trace.Grain) {
	u := &t.Unseen
	p.gap()
	p.paraIn(strong, "", "What this log says of slam: "+sayVerdict(u)+".")
	if u.Means {
		p.para("",
			fmt.Sprintf("Values each %s that are means, held values, or may be either: a spike of %s for 0.2 s leaves %s in such a mean. It can neither prove nor exclude slam. Log max. and min. of each interval, or single readings each %s ms.",
				stepWords(u.StepS), p.si(quantity.Head, 40), p.si(quantity.Head, trace.LeftInMean(40, 0.2, u.StepS)),
				quantity.Figures(1000*u.NeededS, 2)))
		return
	}
	var parts []string
	for _, c := range u.Caught {
		parts = append(parts, fmt.Sprintf("%s of %s", percent(c.Share), c.Pulse))
	}
	if len(parts) > 0 {
		p.para("",
			fmt.Sprintf("At %s this logger keeps, of the peak and in the mean: %s. 95 %% of a slam takes %s ms.",
				stepWords(u.StepS),
				strings.Join(parts, ", "), quantity.Figures(1000*u.NeededS, 2)))
	}
	if u.SeemingS > 0 {
		p.para("", fmt.Sprintf("The main swings with %s s (4L/a); this logger would show it as %s s.",
			quantity.Figures(u.MainPeriodS, 3),
			quantity.Figures(u.SeemingS, 3)))
	}
	if t.Unresolved > 0 {
		p.para("", fmt.Sprintf("%d rises came between two readings; whether they were steps is not known.",
			t.Unresolved))
	}
	if u.StopsWithout > 0 && u.Verdict != trace.Cannot {
		p.para("", fmt.Sprintf("Recorded stops without a step: %d of %d, above %s.", u.StopsWithout,
			u.StopsRecorded, p.si(quantity.Head, t.LeastM)))
	}
}

// many writes a count with its word.
func many(n int, word string) string {
	switch {
	case n == 1:
		return "1 " + word
	case strings.Contains(word, " "):
		return fmt.Sprintf("%d starts and stops", n)
	}
	return fmt.Sprintf("%d %ss", n, word)
}

func percent(share float64) string {
	return quantity.Figures(math.Max(share*100, 0.01), 2) + " %"
}

func sayVerdict(u *trace.Unseen) string {
	if u.Verdict == trace.Cannot {
		return "it cannot say whether there was one"
	}
	return string(u.Verdict)
}
