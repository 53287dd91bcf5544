package text

import (
	"fmt"
	"math"
	"strings"

	"seatward/internal/chart"
	"seatward/quantity"
)

// seats is the speed of the element at the seat, m/s or rad/s.
func seats(x *chart.ClosingPoint) string {
	for _, speed := range []*float64{x.SeatingSpeedMS, x.SeatingSpeedRadS} {
		if speed != nil && x.Closed {
			return quantity.Figures(*speed, roughFigures)
		}
	}
	return none
}

// closingMark says the slam class of a point, and whether it is the station's.
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
	mark := class(x.ReverseVelocityMS.Best)
	if low, high := class(x.ReverseVelocityMS.Low), class(x.ReverseVelocityMS.High); low != high {
		mark = low + " to " + high
	}
	if !x.Closed {
		mark = "does not close"
	}
	if x.Station {
		mark = "◆ " + mark
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
		if b.Best > 0 {
			lowest = min(lowest, max(b.Low, b.Best/4))
		}
	}
	first, last := c.Points[0].DecelerationMS2, c.Points[len(c.Points)-1].DecelerationMS2
	if !(last > first && lowest > 0) || len(c.Points) < leastCurve {
		return
	}
	p.gap()
	g := newPlot(p, axis{kind: quantity.Acceleration, low: first, high: last}, axis{kind: quantity.Velocity, low: lowest, high: highest})
	at := func(rate float64) (low, best, high float64) {
		for i := 1; i < len(c.Points); i++ {
			a, b := &c.Points[i-1], &c.Points[i]
			if rate <= b.DecelerationMS2*(1+1e-9) {
				s := math.Log(rate/a.DecelerationMS2) / math.Log(b.DecelerationMS2/a.DecelerationMS2)
				// Straight on the picture's axes; a velocity of nothing stands at its foot.
				mix := func(x, y float64) float64 {
					x, y = max(x, lowest/10), max(y, lowest/10)
					return x * math.Pow(y/x, s)
				}
				return mix(a.ReverseVelocityMS.Low, b.ReverseVelocityMS.Low), mix(a.ReverseVelocityMS.Best, b.ReverseVelocityMS.Best), mix(a.ReverseVelocityMS.High, b.ReverseVelocityMS.High)
			}
		}
		return 0, 0, 0
	}
	for i := range plotWide {
		rate := first * math.Pow(last/first, float64(i)/(plotWide-1))
		low, best, high := at(rate)
		g.bar(rate, low, high, '░')
		g.dot(rate, best, '●')
	}
	key := "● best estimate  ░ band"
	for _, m := range c.Measured {
		g.dot(m.DecelerationMS2, m.ReverseVelocityMS, '×')
		key = "● best estimate  ░ band  × measured"
	}
	for _, x := range c.Points {
		if x.Station {
			g.dot(x.DecelerationMS2, x.ReverseVelocityMS.Best, '◆')
			key += "  ◆ the station"
		}
	}
	g.level(c.QuietMS, "audible above")
	g.level(c.HarmfulMS, "harmful above")
	g.print("runs back at", "flow slows by")
	p.put(strings.Repeat(" ", plotLabel+2) + key)
	p.gap()
}

// closingMeaning says what the numbers mean and what makes the band.
func (p *page) closingMeaning(v *chart.Valve, c *chart.Closing) {
	if c.Event != "" {
		p.item(strong, "", "◆", "The station's worst stop: "+sentenceEnd(c.Event)+" "+p.stationBand(v))
	}
	p.para("", "The band joins, as independent, what is not known of the valve: the water that moves along with its element (added mass), the pull of accelerating water on it, losses in reverse flow, friction and the like. At a deceleration of "+p.si(quantity.Acceleration, c.DoubtsAtMS2)+" each alone gives:")
	t := &table{indent: "  ", cols: []column{
		{head: "", gives: true}, {head: p.head("at its low end", quantity.Velocity), right: true}, {head: p.head("at its high end", quantity.Velocity), right: true},
	}}
	for i, d := range c.Doubts {
		if i == mostShares || i > 0 && math.Abs(d.HighMS-d.LowMS) < leastShare*math.Abs(c.Doubts[0].HighMS-c.Doubts[0].LowMS) {
			break
		}
		t.add(d.Name, p.number(quantity.Velocity, d.LowMS), p.number(quantity.Velocity, d.HighMS))
	}
	p.table(t)
	p.gap()
	p.paraIn(faint, "", "Without pull: the pull of accelerating water left out altogether, the conservative bound; the best estimate counts it in full. Flow slows by: constant, of the velocity in the bore that the pipes would have without a valve. One or two digits mean something; a closing test of the valve is the way to certainty.")
	if c.MeasuredSource != "" {
		p.paraIn(faint, "", fmt.Sprintf("× measured: %s. Selection goes by the measured curve where there is one.", c.MeasuredSource))
	}
}

// stationBand says what the range of the deceleration itself adds to the band.
func (p *page) stationBand(v *chart.Valve) string {
	if v.Study == nil || len(v.Study.Assessments) == 0 {
		return ""
	}
	s := &v.Study.Assessments[0].Slam
	if !s.Deceleration.Ranged() || !s.ReverseVelocity.Ranged() {
		return ""
	}
	return fmt.Sprintf("How fast it slows the flow is itself known only as %s; with that the band is %s.", p.bandUnit(s.Deceleration), p.bandUnit(s.ReverseVelocity))
}
