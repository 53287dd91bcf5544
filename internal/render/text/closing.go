package text

import (
	"fmt"
	"math"
	"strings"

	"seatward/internal/chart"
	"seatward/judge"
	"seatward/quantity"
)

// seats is the speed of the element at the seat, as a velocity or in rad/s.
func (p *page) seats(x *chart.ClosingPoint) string {
	switch {
	case !x.Closed:
		return none
	case x.SeatingSpeedMS != nil:
		return p.number(quantity.Velocity, *x.SeatingSpeedMS)
	case x.SeatingSpeedRadS != nil:
		return quantity.Figures(*x.SeatingSpeedRadS, roughFigures)
	}
	return none
}

// closingMark says the slam class of a point.
func closingMark(c *chart.Closing, x *chart.ClosingPoint) string {
	class := func(v float64) string {
		switch {
		case v < c.QuietMS:
			return "quiet"
		case v <= c.HarmfulMS:
			return "audible"
		}
		return "harmful"
	}
	mark := class(x.MedianMS)
	if low, high := class(x.ReverseVelocityMS.Low), class(x.ReverseVelocityMS.High); low != high {
		mark = low + " to " + high
	}
	if !x.Closed {
		mark = "does not close"
	}
	return mark
}

// leastCurve is how many points a curve must have to be drawn.
const leastCurve = 4

// closingPicture draws the band over the deceleration, with the limits of the classes.
func (p *page) closingPicture(c *chart.Closing) {
	lowest, highest := c.QuietMS, c.HarmfulMS
	for _, x := range c.Points {
		b := x.ReverseVelocityMS
		highest = max(highest, b.High)
		if x.MedianMS > 0 {
			lowest = min(lowest, max(b.Low, x.MedianMS/4))
		}
	}
	first, last := c.Points[0].DecelerationMS2, c.Points[len(c.Points)-1].DecelerationMS2
	left, right := first, last
	if r := c.Run; r != nil && r.ReverseVelocityMS.Best > 0 && r.DecelerationMS2 > 0 {
		left, right = min(first, r.DecelerationMS2), max(last, r.DecelerationMS2)
		lowest, highest = min(lowest, r.ReverseVelocityMS.Best), max(highest, r.ReverseVelocityMS.High)
	}
	if !(last > first && lowest > 0) || len(c.Points) < leastCurve {
		return
	}
	p.gap()
	g := newPlot(p, axis{kind: quantity.Acceleration, low: left, high: right},
		axis{kind: quantity.Velocity, low: lowest, high: highest})
	at := func(rate float64) (low, median, high, best float64) {
		for i := 1; i < len(c.Points); i++ {
			a, b := &c.Points[i-1], &c.Points[i]
			if rate <= b.DecelerationMS2*(1+1e-9) {
				s := math.Log(rate/a.DecelerationMS2) / math.Log(b.DecelerationMS2/a.DecelerationMS2)
				// Straight on the picture's axes; a velocity of nothing stands at its foot.
				mix := func(x, y float64) float64 {
					x, y = max(x, lowest/10), max(y, lowest/10)
					return x * math.Pow(y/x, s)
				}
				return mix(a.ReverseVelocityMS.Low, b.ReverseVelocityMS.Low), mix(a.MedianMS, b.MedianMS),
					mix(a.ReverseVelocityMS.High, b.ReverseVelocityMS.High), mix(a.ReverseVelocityMS.Best,
						b.ReverseVelocityMS.Best)
			}
		}
		return 0, 0, 0, 0
	}
	for i := range plotWide {
		rate := first * math.Pow(last/first, float64(i)/(plotWide-1))
		low, median, high, best := at(rate)
		g.bar(rate, low, high, '░')
		g.dot(rate, best, '·')
		g.dot(rate, median, '●')
	}
	key := "● median  ░ 5 to 95 %  · best numbers"
	for _, m := range c.Measured {
		g.dot(m.DecelerationMS2, m.ReverseVelocityMS, '×')
	}
	if len(c.Measured) > 0 {
		key += "  × measured"
	}
	g.level(c.QuietMS, "audible above")
	g.level(c.HarmfulMS, "harmful above")
	if r := c.Run; r != nil {
		g.dot(r.DecelerationMS2, r.ReverseVelocityMS.Best, '◆')
		key += "  ◆ this station"
	}
	g.print("reverse velocity", "deceleration")
	p.put(strings.Repeat(" ", plotLabel+2) + key)
	p.gap()
}

// closingMeaning says what the numbers mean and what makes the band.
func (p *page) closingMeaning(v *chart.Valve, c *chart.Closing) {
	if a := v.Assessment(); a != nil {
		p.inStation(a)
	}
	p.para("", fmt.Sprintf("Median and band: %d draws of the start velocity and of what is not known of the valve, all at once: the water that moves with its element (added mass), the pull of slowing water on it, loss in reverse flow, friction and the like. Largest sources at a deceleration of %s, each alone:", c.Draws, p.si(quantity.Acceleration, c.DoubtsAtMS2)))
	t := &table{indent: "  ", cols: []column{
		{head: "", gives: true},
		{head: p.head("at its low end", quantity.Velocity), right: true},
		{head: p.head("at its high end", quantity.Velocity), right: true},
	}}
	for i, d := range c.Doubts {
		if i == mostShares || i > 0 && math.Abs(d.HighMS-d.LowMS) < leastShare*math.Abs(
			c.Doubts[0].HighMS-c.Doubts[0].LowMS) {
			break
		}
		t.add(d.Name, p.number(quantity.Velocity, d.LowMS), p.number(quantity.Velocity, d.HighMS))
	}
	p.table(t)
	p.gap()
	if most := mostFailed(c); most > 0 {
		p.item(amber, "", "!", fmt.Sprintf("Up to %d of %d draws make no valve that can be computed; they are in no median or band.", most, c.Draws))
	}
	if medianFalls(c) {
		p.para("", "Where the median falls as the deceleration rises, the element swings as the flow slows and meets its seat a swing earlier or later.")
	}
	p.paraIn(faint, "", "Best numbers may be a lucky case; go by the median. Without pull: best numbers without the pull of slowing water; safe for the first closing only. One or two digits mean something; a closing test of the valve is the way to certainty.")
	if c.MeasuredSource != "" {
		p.paraIn(faint, "", fmt.Sprintf("× measured: %s. Selection goes by the measured curve where there is one.",
			c.MeasuredSource))
	}
}

// inStation tells the station's own stop, from the record of its runs.
func (p *page) inStation(a *judge.Assessment) {
	s := &a.Slam
	if why := whyNotRun(a); why != "" {
		p.item(strong, "", "◆", "In this station: not run: "+sentenceEnd(why))
		return
	}
	text := fmt.Sprintf("In this station: %s. Reverse velocity %s: %s", s.Event, p.reverseWords(s), a.SlamWords())
	if s.Deceleration.Known() {
		text += "; deceleration " + p.val(s.Deceleration) + " without the valve"
	}
	p.item(strong, "", "◆", text+"; from the run of the station, not from the curve.")
}

func medianFalls(c *chart.Closing) bool {
	for i := 1; i < len(c.Points); i++ {
		if c.Points[i].MedianMS < c.Points[i-1].MedianMS {
			return true
		}
	}
	return false
}

// mostFailed is the most draws that failed at one deceleration.
func mostFailed(c *chart.Closing) int {
	most := 0
	for i := range c.Points {
		most = max(most, c.Points[i].Failed)
	}
	return most
}
