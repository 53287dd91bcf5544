package text

import (
	"fmt"
	"math"

	"seatward/basis"
	"seatward/judge"
	"seatward/plant"
	"seatward/quantity"
)

// reverse is the reverse velocity as it is read first: that at best estimates, or the
// median, with a star, where the run at best estimates is a lucky one.
func (p *page) reverse(s *judge.Slam) string {
	if s.Lucky && s.ReverseVelocity.Known() {
		return p.number(quantity.Velocity, s.MedianMS) + "*"
	}
	return p.num(s.ReverseVelocity)
}

// luckyNote explains the star of reverse.
const luckyNote = "* median; the run at best estimates is outside the middle half of the cases."

// likely is the 5 to 95 % interval without the unit; a dash where no draws were made.
func (p *page) likely(v basis.Value, s *judge.Slam) string {
	if s.Runs == 0 || !v.Known() {
		return none
	}
	return p.band(v)
}

// reverseWords is the reverse velocity with its likely interval, in words.
func (p *page) reverseWords(s *judge.Slam) string {
	v := s.ReverseVelocity
	switch {
	case !v.Known():
		return "unknown"
	case s.Runs == 0 || !v.Ranged():
		return p.val(v)
	case s.Lucky:
		return fmt.Sprintf("%s (median), likely %s; at best estimates %s", p.si(v.Kind, s.MedianMS), p.bandUnit(v),
			p.val(v))
	}
	return fmt.Sprintf("%s, likely %s", p.val(v), p.bandUnit(v))
}

// riseWords is the head rise likewise.
func (p *page) riseWords(s *judge.Slam) string {
	v := s.HeadRise
	if s.Runs == 0 || !v.Ranged() {
		return p.val(v)
	}
	return fmt.Sprintf("%s, likely %s", p.val(v), p.bandUnit(v))
}

// whyNotRun says why a valve has no slam number; "" where it has one.
func whyNotRun(a *judge.Assessment) string {
	switch {
	case a.Slam.NotRun != "":
		return a.Slam.NotRun
	case a.Pending():
		return "its stops are still to be run"
	case a.Slam.Class == "":
		return "the catalog's numbers do not make a valve in this position"
	}
	return ""
}

// slamFinding is the verdict on slam in a few sentences; "" where there is none.
func slamFinding(a *judge.Assessment) string {
	if f := a.SlamFinding(); f != nil {
		return f.Text
	}
	return ""
}

// The threshold picture: a bar of the classes over the fact, and its range below.
const (
	barCells = 40
	barRoom  = 0.08 // of the range, beyond either end
	// wideRange is the quotient of the ends of a range from which its picture is logarithmic.
	wideRange = 4
)

// threshold draws the class against the fact that decides it, with the range that the
// fact has now.
func (p *page) threshold(s *judge.Slam) {
	t := s.Threshold
	if t == nil || !(t.Fact.High > t.Fact.Low) {
		return
	}
	scale := func(x float64) float64 { return x }
	if t.Fact.Low > 0 && t.Fact.High > wideRange*t.Fact.Low {
		scale = math.Log
	}
	from, to := scale(t.Fact.Low), scale(t.Fact.High)
	room := barRoom * (to - from)
	cell := func(x float64) int {
		u := (scale(x) - from + room) / (to - from + 2*room)
		return min(max(int(math.Round(u*(barCells-1))), 0), barCells-1)
	}
	left, right, marks := s.Milder, s.Harder, [2]rune{'.', '#'}
	if t.Above {
		left, right, marks = right, left, [2]rune{'#', '.'}
	}
	bar, under := make([]rune, barCells), make([]rune, barCells)
	at, low, best, high := cell(t.At.SI), cell(t.Fact.Low), cell(t.Fact.SI), cell(t.Fact.High)
	for i := range bar {
		bar[i], under[i] = marks[0], ' '
		if i > at {
			bar[i] = marks[1]
		}
		if i >= low && i <= high {
			under[i] = '─'
		}
	}
	bar[at], under[low], under[high], under[best] = '|', '├', '┤', '◆'
	label := max(width(left), width(right)) + 2
	show := func(x float64) string { return s.ThresholdNumber(p.opt.Units, x) }
	p.gap()
	p.para("  ", sentence(fmt.Sprintf("%s: limit | %s, now ◆ %s, range ├─┤ %s", t.Fact.Name, show(t.At.SI),
		show(t.Fact.SI), s.ThresholdRange(p.opt.Units))))
	p.put(padLeft(left, label) + " " + string(bar) + " " + right)
	p.put(pad("", label+1) + string(under))
	p.gap()
}

// mostShares is how many sources of uncertainty are listed.
const mostShares = 6

// leastShare is the share of the variance below which a source is not listed.
const leastShare = 0.02

// sources lists what makes the interval wide.
func (p *page) sources(s *judge.Slam) {
	if len(s.Inputs) == 0 || s.Runs == 0 {
		return
	}
	p.heading("Largest sources of uncertainty")
	p.para("  ", fmt.Sprintf("From %d runs with all ranges drawn at once: half of the cases are below %s, the middle half is %s to %s.", s.Runs,
		p.si(quantity.Velocity, s.MedianMS), p.number(quantity.Velocity, s.Middle[0]), p.si(quantity.Velocity,
			s.Middle[1])))
	t := &table{indent: "  ", cols: []column{
		{head: "input", gives: true},
		{head: "range", gives: true},
		{head: "share of the\nvariance", right: true},
	}}
	for i, x := range s.Inputs {
		if i == mostShares || i > 0 && x.Share < leastShare {
			break
		}
		t.add(x.Value.Name, p.inputRange(x), judge.Percent(x.Share))
	}
	p.table(t)
}

func (p *page) inputRange(x plant.Influence) string { return x.Value.FormatRange(p.opt.Units) }
