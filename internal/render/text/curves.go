package text

import (
	"fmt"
	"io"
	"math"
	"strings"

	"seatward/catalog"
	"seatward/quantity"
	"seatward/study"
	"seatward/valve"
)

// Curve says whose curve is printed.
type Curve struct {
	Item     *catalog.Item
	Position string
	Units    quantity.System
	Study    *study.Study // the station, if there is one
}

func (c Curve) title(p *page, what string) {
	name := c.Item.Family.Title + ", " + c.Item.Size.Format(c.Units)
	if c.Item.VariantTitle != "" {
		name += ", " + c.Item.VariantTitle
	}
	where := "in water at 15 °C"
	if c.Study != nil {
		where = "at " + c.Study.Station.Name
	}
	p.para("", fmt.Sprintf("%s of %s (%s), %s, %s.", what, name, c.Item.ID, c.Position, where))
	if c.Item.Family.Catalog.Invented {
		p.para("", "The catalog is invented for demonstration.")
	}
}

// Loss prints a loss table and its picture on logarithmic axes.
func Loss(w io.Writer, c Curve, t study.LossTable) error {
	p := &page{}
	c.title(p, "Head loss")
	u := c.Units
	p.para("", fmt.Sprintf("It opens in full from %s (%s); it cracks at %s.", u.Format(quantity.Velocity, t.FullOpenVelocityMS), t.FullOpenMeaning, u.Format(quantity.Head, t.CrackingHeadM)))
	p.line("")
	cols := []column{
		{u.Unit(quantity.Flow), true}, {u.Unit(quantity.Velocity), true}, {"open", true}, {"state", false}, {"K", true}, {"loss " + u.Unit(quantity.Head), true}, {"", false},
	}
	var rows [][]string
	for _, x := range t.Points {
		mark := ""
		if x.State != valve.FullOpen.String() {
			mark = "part open"
		}
		rows = append(rows, []string{
			u.Number(quantity.Flow, x.FlowM3S), u.Number(quantity.Velocity, x.VelocityMS), fmt.Sprintf("%.0f%%", 100*x.Opening), x.State,
			quantity.Figures(x.K, 2), quantity.Figures(u.In(quantity.Head, x.LossM), 2), mark,
		})
	}
	p.table("  ", cols, rows)
	p.line("")
	c.plot(p, t)
	p.para("", "Computed from the balance of hydraulic and closing force at each flow; part open the loss is known to some 30 %.")
	return p.flush(w)
}

// plotWide and plotHigh are the picture's columns and rows.
const (
	plotWide = 56
	plotHigh = 14
)

// plot draws loss over flow, both logarithmic: full open it is a straight line of
// slope two (●), part open it bends away (○). Duty points of the station are ◆.
func (c Curve) plot(p *page, t study.LossTable) {
	u := c.Units
	first, last := t.Points[0], t.Points[len(t.Points)-1]
	lowest, highest := math.Inf(1), 0.0
	for _, x := range t.Points {
		lowest, highest = min(lowest, x.LossM), max(highest, x.LossM)
	}
	if !(lowest > 0) {
		return
	}
	grid := make([][]rune, plotHigh)
	for i := range grid {
		grid[i] = []rune(strings.Repeat(" ", plotWide))
	}
	put := func(flow, loss float64, r rune) {
		if !(flow > 0 && loss > 0) {
			return
		}
		x := math.Log(flow/first.FlowM3S) / math.Log(last.FlowM3S/first.FlowM3S) * (plotWide - 1)
		y := math.Log(loss/lowest) / math.Log(highest/lowest) * (plotHigh - 1)
		if i, j := int(math.Round(x)), plotHigh-1-int(math.Round(y)); i >= 0 && i < plotWide && j >= 0 && j < plotHigh {
			grid[j][i] = r
		}
	}
	for _, x := range t.Points {
		r := '●'
		if x.State != valve.FullOpen.String() {
			r = '○'
		}
		put(x.FlowM3S, x.LossM, r)
	}
	marked := c.duties(put)
	for i, row := range grid {
		label := ""
		switch i {
		case 0:
			label = quantity.Figures(u.In(quantity.Head, highest), 2) + " " + u.Unit(quantity.Head)
		case plotHigh - 1:
			label = quantity.Figures(u.In(quantity.Head, lowest), 2) + " " + u.Unit(quantity.Head)
		}
		p.line("%12s │%s", label, string(row))
	}
	p.line("%12s └%s", "", strings.Repeat("─", plotWide))
	left, right := u.Format(quantity.Flow, first.FlowM3S), u.Format(quantity.Flow, last.FlowM3S)
	p.line("%12s  %s%s%s", "", left, strings.Repeat(" ", max(plotWide-width(left)-width(right), 1)), right)
	key := "○ part open  ● full open"
	if marked {
		key += "  ◆ the station's duty points"
	}
	p.line("%12s  %s", "", key)
}

func (c Curve) duties(put func(flow, loss float64, r rune)) bool {
	if c.Study == nil {
		return false
	}
	for _, d := range c.Study.Assessments[0].Duties {
		put(d.Flow.SI, d.Loss.SI, '◆')
	}
	return true
}

// Closing prints a closing curve.
func Closing(w io.Writer, c Curve, t study.ClosingTable) error {
	p := &page{}
	c.title(p, "Closing curve")
	u := c.Units
	p.para("", fmt.Sprintf("The flow falls steadily from %s, at which the valve stands %.0f%% open, between two long pipes.", u.Format(quantity.Velocity, t.StartVelocityMS), 100*t.StartOpening))
	p.line("")
	speed := "seats m/s"
	if t.Rotary {
		speed = "seats rad/s"
	}
	velocity := u.Unit(quantity.Velocity)
	cols := []column{
		{"slows " + u.Unit(quantity.Acceleration), true}, {"back " + velocity, true}, {"no pull " + velocity, true}, {"shut s", true}, {speed, true}, {"", false},
	}
	var rows [][]string
	two := func(k quantity.Kind, v float64) string { return quantity.Figures(u.In(k, v), 2) }
	for _, x := range t.Points {
		note := ""
		if x.Station {
			note = "◆ this station"
		}
		if x.Outcome != valve.ClosedShut.String() {
			note += " " + x.Outcome
		}
		rows = append(rows, []string{
			quantity.Figures(u.In(quantity.Acceleration, x.DecelerationMS2), 3), two(quantity.Velocity, x.ReverseVelocityMS), two(quantity.Velocity, x.BoundMS),
			quantity.Figures(x.TimeS, 2), quantity.Figures(x.SeatingSpeed, 2), note,
		})
	}
	p.table("  ", cols, rows)
	p.line("")
	if t.Event != "" {
		p.para("◆ ", t.Event+".")
	}
	p.para("", "Back: best estimate of the greatest reverse velocity. Shut: time from the start. Seats: speed of the element at the seat. No pull: without the pull of accelerating water on the element, the conservative bound. One or two digits are meaningful; a closing test of the valve is the way to certainty.")
	return p.flush(w)
}
