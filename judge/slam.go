package judge

import (
	"fmt"
	"math"
	"strings"

	"seatward/basis"
	"seatward/plant"
	"seatward/quantity"
	"seatward/rules"
)

// The slam classes, mildest first.
const (
	Quiet   = "quiet"
	Audible = "audible"
	Harmful = "harmful"
)

// SlamLimits are the limits between the classes, by the rules.
func SlamLimits(book *rules.Book) plant.Limits {
	return plant.Limits{QuietMS: book.Limit("slam-quiet").Value.SI, HarmfulMS: book.Limit("slam-harmful").Value.SI}
}

// SlamClass is the class of a reverse velocity by the limits of the rules.
func SlamClass(book *rules.Book, reverseMS float64) string {
	l := SlamLimits(book)
	switch {
	case reverseMS < l.QuietMS:
		return Quiet
	case reverseMS <= l.HarmfulMS:
		return Audible
	}
	return Harmful
}

// slam takes what the record of the stops says of the valve.
func slam(b *bench) []Finding {
	if b.Mech == nil || b.Answer == nil {
		return nil
	}
	out := &b.out.Slam
	if b.Answer.Worst == nil {
		out.NotRun = b.Answer.Fault
		return []Finding{{
			Kind: SlamNotRun, Text: "Slam was not run: " + b.Answer.Fault + ".", Basis: basis.DerivedHere,
			Missing: "a stop that can be run",
		}}
	}
	b.read()
	findings := []Finding{b.slamVerdict()}
	findings = append(findings, b.later()...)
	for _, s := range b.Answer.Stops {
		if s.Fault != "" && !s.Idle && s.Event.Stops() {
			findings = append(findings, Finding{
				Kind: EventNotRun,
				Text: capital(s.Event.Title) + " was not run: " + s.Fault +
					".", Basis: basis.DerivedHere, Missing: "that event",
			})
		}
	}
	for _, text := range b.Answer.Worst.Notes {
		findings = append(findings, Finding{Kind: RunNote, Text: text, Basis: basis.DerivedHere})
	}
	return findings
}

// read fills in the slam of the assessment from the record.
func (b *bench) read() {
	s, x, worst := &b.out.Slam, &b.Answer.Slam, b.Answer.Worst
	s.Event, s.EventID, s.Pump = worst.Event.Title, worst.Event.ID, worst.Closing.Pump
	s.Deceleration, s.ReverseVelocity, s.Stopped, s.HeadRise = x.Deceleration, x.Reverse, x.Sudden, x.Rise
	s.MedianMS, s.Chances, s.Runs, s.Failed, s.Settled, s.Lucky = x.MedianMS, x.Chances, x.Runs, x.Failed, x.Settled,
		x.Lucky()
	s.Middle, s.Threshold, s.Inputs = x.Middle, x.Threshold, x.Inputs
	s.Resolved, s.AtRest = worst.Resolved(), worst.Rest != plant.NeverRests
	s.Later = Later{
		Count: worst.Closing.Later, WorstMS: worst.Closing.Worst.ReverseMS,
		TimeS: worst.Closing.Worst.TimeS, FirstMS: worst.Closing.First.ReverseMS,
	}
	s.Method = method(worst)
	class := func(ms float64) string { return SlamClass(b.Rules, ms) }
	s.Class, s.ClassLow, s.ClassHigh = class(x.Sudden.SI), class(x.Sudden.Low), class(x.Sudden.High)
	if s.Lucky {
		s.Class = class(x.MedianSudden)
	}
	if !s.AtRest {
		s.Class, s.ClassHigh = Harmful, Harmful
	}
	if t := x.Threshold; t != nil {
		s.Milder, s.Harder = Quiet, Audible
		if t.Limit.SI == b.limit("slam-harmful").SI {
			s.Milder, s.Harder = "not harmful", Harmful
		}
	}
	s.Risk = b.risk()
	if len(x.Inputs) > 0 && x.Inputs[0].Share > 0 {
		s.DecisiveInput = inputName(x.Inputs[0])
	}
}

// inputName is an uncertain number as the reader would learn it.
func inputName(in plant.Influence) string {
	if in.Own && in.Value.Origin == basis.Assumed {
		return in.Value.Name + " (a measured closing curve of the valve would settle it)"
	}
	return in.Value.Name
}

func method(s *plant.Stop) string {
	text := "Stop run through in time: pumps in four quadrants, waves with unsteady friction, and the valves moved by the flow, followed until they rest."
	switch {
	case s.Rest == plant.FirstOnly:
		text = "Stop run through in time: pumps in four quadrants, waves with unsteady friction, and the valves moved by the flow. The main is so long that only the first closing is followed."
	case s.Separates():
		text += " Column separation is predicted; the run includes it."
	}
	return text
}

// Risk is the class that the chances give, by the shares of the rules: harmful in more than
// half of the cases, harmful in more than one of twenty, audible in more than half, or none
// of these (A6.1).
type Risk uint8

// The risks, mildest first.
const (
	InOrder Risk = iota
	WillBeHeard
	MayHarm
	WillHarm
)

func (b *bench) risk() Risk {
	s := &b.out.Slam
	c := s.Chances
	switch {
	case !s.AtRest, c.Harmful > b.limit("slam-harmful-reject").SI, !s.Resolved && s.Class == Harmful:
		return WillHarm
	case c.Harmful > b.limit("slam-harmful-condition").SI:
		return MayHarm
	case c.Audible+c.Harmful > b.limit("slam-audible-condition").SI:
		return WillBeHeard
	}
	return InOrder
}

// slamVerdict weighs the chances.
func (b *bench) slamVerdict() Finding {
	s := &b.out.Slam
	f := Finding{Value: s.ReverseVelocity, Limit: b.limit("slam-quiet"), Basis: "ballun-2007"}
	text := fmt.Sprintf("Worst stop: %s. Reverse velocity %s: %s", s.Event, b.reverseText(), s.chancesText())
	if s.Lucky {
		text += fmt.Sprintf(" The run at best estimates gives %s, outside the middle half of the cases.",
			b.speed(s.ReverseVelocity.SI))
	}
	switch s.Risk {
	case WillHarm:
		f.Kind, f.Limit = SlamHarmful, b.limit("slam-harmful")
		f.Mend = "a valve that closes faster, or surge control designed by a licensed engineer; seatward trip runs the remedies"
	case MayHarm:
		f.Kind, f.Limit = SlamMayHarm, b.limit("slam-harmful")
		f.Mend = "settle the inputs that decide it, or take a valve that closes faster; seatward trip runs the remedies"
	case WillBeHeard:
		f.Kind, f.Mend = SlamAudible, "agree with the owner that it will be heard, or take a valve that closes faster"
	default:
		f.Kind = SlamQuiet
	}
	if t := b.thresholdText(); t != "" {
		text += " " + t
	}
	f.Text = text
	return f
}

// reverseText is the reverse velocity in words: the run at best estimates and the likely
// interval, or the median in place of a run at best estimates that is a lucky one.
func (b *bench) reverseText() string {
	s := &b.out.Slam
	v := s.ReverseVelocity
	if s.Runs == 0 || v.Low == v.High {
		return b.speed(v.SI)
	}
	best := b.speed(v.SI)
	if s.Lucky {
		best = b.speed(s.MedianMS) + " (median)"
	}
	low, _, _ := strings.Cut(b.speed(v.Low), " ")
	return fmt.Sprintf("%s, likely %s to %s", best, low, b.speed(v.High))
}

// speed prints a reverse velocity.
func (b *bench) speed(ms float64) string { return b.Station.Units.Format(quantity.Velocity, ms) }

// chancesText says what class that is, and in how many cases.
func (s *Slam) chancesText() string {
	c := s.Chances
	switch {
	case !s.AtRest:
		return "harmful, as the valve does not come to rest; heads are at least those shown."
	case s.Risk == WillHarm || s.Risk == MayHarm:
		return "harmful in " + share(c.Harmful) + "."
	case s.Risk == WillBeHeard:
		return "audible in " + share(c.Audible+c.Harmful) + "."
	case c.Quiet >= 0.95:
		return "quiet."
	}
	return "quiet in " + share(c.Quiet) + "."
}

// share says a chance as people do.
func share(x float64) string {
	switch {
	case x >= 0.975:
		return "nearly all cases"
	case x > 0.5 && x < 0.55:
		return "just over half of the cases"
	case x < 0.1:
		return fmt.Sprintf("%d of 20 cases", max(1, int(math.Round(20*x))))
	}
	if tenths := math.Round(10 * x); math.Abs(10*x-tenths) <= 0.25 {
		return fmt.Sprintf("%.0f of 10 cases", min(9, tenths))
	}
	return fmt.Sprintf("%.0f of 20 cases", min(19, math.Round(20*x)))
}

// thresholdText is the deciding sentence: which value of which fact changes the class.
func (b *bench) thresholdText() string {
	t := b.out.Slam.Threshold
	if t == nil {
		return ""
	}
	class, side := b.out.Slam.Milder, "less"
	if t.Above {
		side = "more"
	}
	sys := b.Station.Units
	fact, given := t.Fact, "given as"
	if fact.Origin == basis.Assumed || t.Own {
		given = "assumed at"
	} else if fact.Origin != basis.Given {
		given = "estimated at"
	}
	s := &b.out.Slam
	return fmt.Sprintf("It is %s if the %s is %s than %s; here it is %s %s.", class, fact.Name, side,
		s.ThresholdNumber(sys, t.At.SI), given, s.ThresholdRange(sys))
}

// later tells slams after the first, and runs that two grids do not agree on.
func (b *bench) later() []Finding {
	s, worst := &b.out.Slam, b.Answer.Worst
	sys, speed := b.Station.Units, b.speed
	var out []Finding
	l := s.Later
	if l.Count > 0 && l.WorstMS > l.FirstMS {
		text := fmt.Sprintf("The valve opens again and closes harder: the first closing has %[3]s, a later one at %[1]s %[2]s.", sys.Format(quantity.Time, l.TimeS), speed(l.WorstMS), speed(l.FirstMS))
		if l.FirstMS >= 0.01 {
			text = fmt.Sprintf("The valve opens again and closes harder: a later slam is %.1f times the first, at %s.",
				l.WorstMS/l.FirstMS, sys.Format(quantity.Time, l.TimeS))
		}
		out = append(out, Finding{Kind: SlamLater, Value: s.ReverseVelocity, Text: text, Basis: basis.DerivedHere})
	} else if l.Count > 0 {
		out = append(out, Finding{
			Kind: SlamLater,
			Text: fmt.Sprintf("The valve opens again: %s milder than the first closing.",
				laterSlams(l.Count)), Basis: basis.DerivedHere,
		})
	}
	if worst.Rest == plant.SlamsOn {
		out = append(out, Finding{
			Kind: SlamLater,
			Text: fmt.Sprintf("The valve slams on and on: the run was ended after %d later slams.",
				l.Count), Basis: basis.DerivedHere,
		})
	}
	if !s.AtRest {
		out = append(out, Finding{
			Kind: SlamNoRest,
			Text: fmt.Sprintf("%s: the valve does not come to rest; its last closings are at least twice as hard as the first.", capital(worst.Event.Title)), Basis: basis.DerivedHere,
		})
	}
	if !s.Resolved {
		out = append(out, Finding{
			Kind: SlamNotResolved, Basis: basis.DerivedHere,
			Text: fmt.Sprintf("Later slams are not resolved: %s on one grid, %s on one twice as fine. The worse of the two is taken.", speed(worst.Closing.Worst.ReverseMS), speed(worst.Finer.Worst.ReverseMS)),
		})
	}
	if !s.Settled && s.Runs > 0 {
		out = append(out, Finding{
			Kind: SlamSample, Basis: basis.DerivedHere,
			Text: fmt.Sprintf("The closing depends on small differences: the likely range comes from %d runs, and its ends are known only roughly.", s.Runs),
		})
	}
	if s.Failed > 0 && s.Runs > 0 {
		out = append(out, Finding{
			Kind: SlamRunsFailed, Basis: basis.DerivedHere, Missing: "what happens at those ends of the ranges",
			Text: fmt.Sprintf("%d of %d runs with other values inside their ranges gave no closing; they are not in the likely range.", s.Failed, s.Runs),
		})
	}
	return out
}

func laterSlams(n int) string {
	if n == 1 {
		return "one later slam follows,"
	}
	return fmt.Sprintf("%d later slams follow, all", n)
}
