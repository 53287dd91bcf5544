package chart

import (
	"fmt"
	"math"
	"strings"

	"seatward/internal/trace"
	"seatward/quantity"
)

// Remark is a sentence of a log, with how much it weighs.
type Remark struct {
	Harm bool // what harms, or misleads; else what is to be looked at
	Text string
}

// MostSaid is how many events of one kind are written out.
const MostSaid = 12

// LogCautions are what every reading of a log ends with.
const LogCautions = "A log shows what its sensors saw at their place. Head at the valve needs a sensor at the valve. Findings here are evidence for a licensed engineer; the maker's instructions and local codes go before them."

// About says which log it is.
func (x *Log) About() string {
	what := fmt.Sprintf("%s: %d rows, %s to %s", x.File, x.Rows, x.From, x.To)
	switch {
	case x.Clock && x.Zone != "":
		what += ", UTC; the clock of the log is that of " + x.Zone
	case x.Clock && x.Zoned:
		what += ", UTC"
	case x.Clock:
		what += ", by the clock of the log; no time zone is given"
	default:
		what += " from the start"
	}
	return what + "."
}

// ChannelHeads are the heads of Words.
func ChannelHeads() []string {
	return []string{"channel", "measures", "unit", "step", "readings", "lowest", "highest", "gaps"}
}

// Words are the channel as a row of a table.
func (c *LogChannel) Words() []string {
	step := StepWords(c.StepS)
	if c.Held {
		step = "changes"
	}
	measures := c.Measures
	if c.Sample != "" && c.Sample != "change" {
		measures += " (" + c.Sample + ")"
	}
	return []string{
		c.Name, measures, c.Unit, step, fmt.Sprint(c.Readings), quantity.Figures(c.Low, 4), quantity.Figures(c.High, 4),
		fmt.Sprint(c.Gaps),
	}
}

// StepWords writes a logging step, or the rate of a fast logger.
func StepWords(s float64) string {
	switch {
	case s <= 0:
		return "-"
	case s < 0.5:
		return quantity.Figures(1/s, 3) + " Hz"
	case s < 120:
		return quantity.Figures(s, 3) + " s"
	case s < 7200:
		return quantity.Figures(s/60, 3) + " min"
	}
	return quantity.Figures(s/3600, 3) + " h"
}

// HeadChannels are the channels in which stops can be looked for: heads and pressures, logged as
// single readings and not before the pump.
func (x *Log) HeadChannels() []string {
	var out []string
	for i := range x.Traces {
		if t := &x.Traces[i]; t.Fast && !isSuction(t.Channel) {
			out = append(out, t.Channel)
		}
	}
	return out
}

// SwitchesSaid counts the starts and stops.
func (x *Log) SwitchesSaid() string {
	starts := 0
	for _, op := range x.Switches {
		if op.Start {
			starts++
		}
	}
	return fmt.Sprintf("%s, %s, by %s.", Many(starts, "start"), Many(len(x.Switches)-starts, "stop"), x.Switches[0].By)
}

// TraceSaid says what a trace of head spans, and from where on a step is called one.
func (x *Log) TraceSaid(t *LogTrace, sys quantity.System) []string {
	head := func(m float64) string { return sys.Format(quantity.Head, m) }
	out := []string{fmt.Sprintf("Head over the gauge %s to %s. A step is called one from %s on: more than the scatter of the readings makes by chance.",
		head(t.LowM), head(t.HighM), head(t.LeastM))}
	if len(x.Switches) == 0 && len(t.Operations) > 0 {
		out = append(out, fmt.Sprintf("%s, read from the head alone; the first is a %s at %s.",
			Many(len(t.Operations), "start or stop"), OperationWords(t.Operations[0]), x.When(t.Operations[0].AtNS)))
	}
	return out
}

// SlamSaid is one slam and what follows from it.
func (x *Log) SlamSaid(s *trace.Slam, sys quantity.System) string {
	say, number := sys.Format, sys.Number
	kind := "Slam"
	if s.Cause != "closing" {
		kind = "Steep step by rejoining of the column"
	}
	if s.Later {
		kind = "Later " + strings.ToLower(kind)
	}
	text := fmt.Sprintf("%s  %s: step %s (from %s), peak %s.", x.When(s.AtNS), kind, say(quantity.Head, s.StepM()),
		say(quantity.Head, s.BeforeM), say(quantity.Head, s.PeakM))
	if s.After != nil {
		text += fmt.Sprintf(" %s s after the stop.", quantity.Figures(s.After.S, 3))
	}
	if r := s.Reverse; r != nil && s.Cause == "closing" {
		if s.LowerBound {
			text += fmt.Sprintf(" Reverse velocity at least %s", say(quantity.Velocity, r.Low))
		} else {
			text += fmt.Sprintf(" Reverse velocity %s (%s to %s)", number(quantity.Velocity, r.Best),
				number(quantity.Velocity, r.Low), say(quantity.Velocity, r.High))
		}
		text += " in the valve's branch (Joukowsky)."
	}
	if s.LowerBound {
		text += " Lower bound: " + s.Why + "."
	}
	if s.Braking != nil && s.Cause == "closing" {
		text += fmt.Sprintf(" Deceleration just before: %s.", say(quantity.Acceleration, *s.Braking))
	}
	if w := s.Wave; w != nil {
		text += fmt.Sprintf(" Wave: period %s s ± %s, %d swings, each keeps %s %% of the one before",
			quantity.Figures(w.PeriodS, 4), quantity.Figures(2*w.ErrorS, 1), w.Swings, quantity.Figures(100*w.Kept, 2))
		if w.Speed != nil && s.Air == nil {
			text += fmt.Sprintf("; wave speed %s to %s", number(quantity.Velocity, w.Speed.Low),
				say(quantity.Velocity, w.Speed.High))
		}
		if w.Short {
			text += ": too fast for the main, it is the pipe between valve and header that rings"
		}
		text += "."
	}
	if a := s.Air; a != nil {
		text += fmt.Sprintf(" The swing is slow and rounded, %s times 4L/a: trapped air", quantity.Figures(a.TimesMain, 2))
		if a.Volume != nil {
			text += fmt.Sprintf(" of %s to %s", number(quantity.Volume, a.Volume.Low), say(quantity.Volume, a.Volume.High))
		}
		text += ". Vent and repeat: the period then changes."
	}
	return text
}

// OtherSaid are the events of a trace that are no slams.
func (x *Log) OtherSaid(t *LogTrace, sys quantity.System) []Remark {
	var out []Remark
	for _, c := range t.Cavities {
		out = append(out, Remark{true, fmt.Sprintf("%s  Column separation: floor at %s for %s s; rejoining peak %s.",
			x.When(c.FromNS), sys.Format(quantity.Head, c.FloorM), quantity.Figures(c.LifeS, 3),
			sys.Format(quantity.Head, c.RejoinM))})
	}
	for i, f := range t.Flutter {
		if i == MostSaid {
			break
		}
		out = append(out, Remark{false, fmt.Sprintf("%s  Steady swing of %s Hz, %s from low to high, %d cycles while nothing is switched: valve flutter, vane passing or the supply of the pump.",
			x.When(f.FromNS), quantity.Figures(f.Hz, 3), sys.Format(quantity.Head, f.HeightM), f.Cycles)})
	}
	return out
}

// ClippedSaid says where a sensor was at the end of its range.
func (t *LogTrace) ClippedSaid(sys quantity.System) []string {
	var out []string
	for _, c := range t.Clipped {
		out = append(out, fmt.Sprintf("The sensor is at the end of its range at %s, %d times, up to %s s. What went beyond is not in the log.",
			sys.Format(quantity.Head, c.LevelM), c.Runs, quantity.Figures(c.LongestS, 3)))
	}
	return out
}

// UnseenSaid says what the logger could not have seen: first what the log says of slam.
func (t *LogTrace) UnseenSaid(sys quantity.System) []string {
	u := &t.Unseen
	out := []string{"What this log says of slam: " + verdictWords(u) + "."}
	if u.Means {
		return append(out, fmt.Sprintf("Values each %s that are means, held values, or may be either: a spike of %s for 0.2 s leaves %s in such a mean. It can neither prove nor exclude slam. Log max. and min. of each interval, or single readings each %s ms.",
			StepWords(u.StepS), sys.Format(quantity.Head, 40),
			sys.Format(quantity.Head, trace.LeftInMean(40, 0.2, u.StepS)), quantity.Figures(1000*u.NeededS, 2)))
	}
	var parts []string
	for _, c := range u.Caught {
		parts = append(parts, fmt.Sprintf("%s of %s", percent(c.Share), c.Pulse))
	}
	if len(parts) > 0 {
		out = append(out, fmt.Sprintf("At %s this logger keeps, of the peak and in the mean: %s. 95 %% of a slam takes %s ms.",
			StepWords(u.StepS), strings.Join(parts, ", "), quantity.Figures(1000*u.NeededS, 2)))
	}
	if u.SeemingS > 0 {
		out = append(out, fmt.Sprintf("The main swings with %s s (4L/a); this logger would show it as %s s.",
			quantity.Figures(u.MainPeriodS, 3), quantity.Figures(u.SeemingS, 3)))
	}
	if t.Unresolved > 0 {
		out = append(out, fmt.Sprintf("%d rises came between two readings; whether they were steps is not known.",
			t.Unresolved))
	}
	if u.StopsWithout > 0 && u.Verdict != trace.Cannot {
		out = append(out, fmt.Sprintf("Recorded stops without a step: %d of %d, above %s.", u.StopsWithout,
			u.StopsRecorded, sys.Format(quantity.Head, t.LeastM)))
	}
	return out
}

// Many writes a count with its word.
func Many(n int, word string) string {
	switch {
	case n == 1:
		return "1 " + word
	case strings.Contains(word, " "):
		return fmt.Sprintf("%d starts and stops", n)
	}
	return fmt.Sprintf("%d %ss", n, word)
}

func percent(share float64) string { return quantity.Figures(math.Max(share*100, 0.01), 2) + " %" }

func verdictWords(u *trace.Unseen) string {
	if u.Verdict == trace.Cannot {
		return "it cannot say whether there was one"
	}
	return string(u.Verdict)
}
