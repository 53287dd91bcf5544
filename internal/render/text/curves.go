package text

import (
	"fmt"
	"io"
	"math"
	"strings"

	"seatward/internal/chart"
	"seatward/quantity"
	"seatward/valve"
)

// curveTitle says whose curve it is, and in what it stands.
func (p *page) curveTitle(v *chart.Valve, what string) {
	name := v.Item.Family.Title + ", " + v.Item.Size.Format(p.opt.Units)
	if v.Item.VariantTitle != "" {
		name += ", " + v.Item.VariantTitle
	}
	p.paraIn(strong, "", what+": "+name)
	where := "alone, in water of 15 °C"
	if v.Study != nil {
		where = "at " + v.Study.Station.Name
	}
	p.para("", fmt.Sprintf("%s, %s, %s", v.Item.ID, v.Position, where))
	if !v.Item.Allows(v.Position) {
		p.item(amber, "", "!", fmt.Sprintf("The maker does not allow it %s, only %s.", v.Position,
			valve.PositionWords(v.Item.Positions, " or ")))
	}
	if v.Item.Family.Catalog.Invented {
		p.paraIn(faint, "", "The catalog is invented for demonstration: no such valve can be bought.")
	}
}

// si prints an SI number with its unit.
func (p *page) si(kind quantity.Kind, x float64) string { return p.withUnit(kind, p.number(kind, x)) }

// Loss prints a loss table, and its picture on logarithmic axes.
func Loss(w io.Writer, v *chart.Valve, l *chart.Loss, opt Options) error {
	p := newPage(opt)
	p.curveTitle(v, "Head loss")
	head := func(m float64) string { return opt.Units.Number(quantity.Head, m) }
	if l.FullOpenVelocityMS > 0 {
		p.para("", fmt.Sprintf("Full-open velocity %s, with K = %s: %s. Cracking head %s.",
			p.si(quantity.Velocity, l.FullOpenVelocityMS), quantity.Figures(l.FullOpenK, roughFigures),
			l.FullOpenMeaning, p.withUnit(quantity.Head, head(l.CrackingHeadM))))
	} else {
		p.item(rust, "", "✕", sentence(l.FullOpenMeaning))
	}
	p.gap()
	t := &table{indent: "  ", cols: []column{
		{head: p.head("flow", quantity.Flow), right: true},
		{head: p.head("velocity", quantity.Velocity), right: true},
		{head: p.head("open", quantity.Fraction), right: true},
		{head: "disc or\nball"},
		{head: "K", right: true},
		{head: p.head("head loss", quantity.Head), right: true},
		{head: "", gives: true},
	}}
	for _, x := range l.Points {
		t.add(opt.Units.Number(quantity.Flow, x.FlowM3S), p.number(quantity.Velocity, x.VelocityMS),
			fmt.Sprintf("%.0f", 100*x.Opening), x.State,
			quantity.Figures(x.K, roughFigures), head(x.LossM), lossMark(l, &x))
	}
	p.table(t)
	p.lossPicture(l)
	p.paraIn(faint, "", "K is on the velocity head in the valve's bore. Opening and loss follow from the balance of the water's force and the closing force; part open, the loss is known to some 30 % unless the catalog has measured it.")
	return p.flush(w)
}

func lossMark(l *chart.Loss, x *chart.LossPoint) string {
	mark := ""
	switch {
	case x.PartOpen:
		mark = "○ part open"
	case math.Abs(x.VelocityMS/l.FullOpenVelocityMS-1) < 1e-5:
		mark = "● full open from here"
	}
	if x.Duty != "" {
		mark = strings.TrimSpace(mark + " ◆ " + x.Duty)
	}
	return mark
}

// lossPicture draws loss over flow: full open it is a straight line of slope two, part
// open it bends away from that line, which goes on in dots.
func (p *page) lossPicture(l *chart.Loss) {
	first, last := l.Line[0], l.Line[len(l.Line)-1]
	square := func(flow float64) float64 {
		v := flow / last.FlowM3S * last.VelocityMS
		return l.FullOpenK * v * v / (2 * quantity.StandardGravity)
	}
	lowest, highest := math.Inf(1), 0.0
	for _, x := range l.Line {
		if x.LossM > 0 {
			lowest, highest = min(lowest, x.LossM, max(square(x.FlowM3S), x.LossM/10)), max(highest, x.LossM)
		}
	}
	if !(highest > lowest && last.FlowM3S > first.FlowM3S) {
		return
	}
	p.gap()
	g := newPlot(p, axis{kind: quantity.Flow, low: first.FlowM3S, high: last.FlowM3S},
		axis{kind: quantity.Head, low: lowest, high: highest})
	for _, x := range l.Line {
		g.dot(x.FlowM3S, square(x.FlowM3S), '·')
	}
	for _, x := range l.Line {
		mark := '●'
		if x.PartOpen {
			mark = '○'
		}
		g.dot(x.FlowM3S, x.LossM, mark)
	}
	key := "● full open  ○ part open  · if it were full open"
	for _, x := range l.Points {
		if x.Duty != "" {
			g.dot(x.FlowM3S, x.LossM, '◆')
			key = "● full open  ○ part open  · if it were full open  ◆ the station"
		}
	}
	g.print("loss", "flow")
	p.put(strings.Repeat(" ", plotLabel+2) + key)
	p.gap()
}

// Closing prints a closing curve: a table, its picture on logarithmic axes, and what
// makes the band.
func Closing(w io.Writer, v *chart.Valve, c *chart.Closing, opt Options) error {
	p := newPage(opt)
	p.curveTitle(v, "Closing curve")
	unit := quantity.Velocity
	from, start := p.si(unit, c.StartVelocityMS.Best), c.StartVelocityMS
	if start.High > start.Low {
		from += fmt.Sprintf(" (%s to %s)", p.number(unit, start.Low), p.number(unit, start.High))
	}
	p.para("", fmt.Sprintf("Even deceleration between two long pipes: the flow falls from %s, at which the valve is %.0f%% open. This curve compares valves. It is not what a station does to the valve: for that, run its pump trip.",
		from, 100*c.StartOpening))
	p.gap()
	speed, rotary := p.head("at seat", quantity.Velocity), len(c.Points) > 0 && c.Points[0].SeatingSpeedRadS != nil
	if rotary {
		speed = "at seat\nrad/s"
	}
	t := &table{indent: "  ", cols: []column{
		{head: p.head("decel-\neration", quantity.Acceleration), right: true},
		{head: p.head("reverse\nvelocity\nmedian", unit), right: true},
		{head: p.head("5 to\n95 %", unit), right: true},
		{head: p.head("best\nnumbers", unit), right: true},
		{head: p.head("without\npull", unit), right: true},
		{head: "closes\nin\ns", right: true},
		{head: speed, right: true},
		{head: "", gives: true},
	}}
	for i := range c.Points {
		x := &c.Points[i]
		t.add(p.number(quantity.Acceleration, x.DecelerationMS2), p.number(unit, x.MedianMS),
			p.number(unit, x.ReverseVelocityMS.Low)+" to "+p.number(unit, x.ReverseVelocityMS.High),
			p.number(unit, x.ReverseVelocityMS.Best), p.number(unit, x.WithoutPullMS),
			quantity.Figures(x.TimeS, roughFigures), p.seats(x), closingMark(c, x))
	}
	p.table(t)
	p.closingPicture(c)
	p.closingMeaning(v, c)
	return p.flush(w)
}
