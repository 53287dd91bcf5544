package chart

import (
	"fmt"
	"math"

	"seatward/internal/figure"
	"seatward/quantity"
	"seatward/valve"
)

// axis words a quantity with its unit.
func axis(name string, kind quantity.Kind, sys quantity.System) string {
	return fmt.Sprintf("%s, %s", name, sys.Unit(kind))
}

// curveNote says where the numbers of a curve come from.
func curveNote(v *Valve) string {
	note := "Computed by the mechanics of the valve's type. Preliminary, for review. " + v.Item.Family.Catalog.Maker +
		" " + v.Item.Family.Catalog.Version + "."
	if v.Item.MeasuredSteady() {
		note = "Measured curves of the catalog stand in for the computed ones. Preliminary, for review. " +
			v.Item.Family.Catalog.Maker + " " + v.Item.Family.Catalog.Version + "."
	}
	if v.Item.Family.Catalog.Invented {
		note += " Valve data invented for demonstration."
	}
	return note
}

// partOpen says what a part-open element does, by the state that the table names too.
var partOpen = map[string]string{
	valve.Floating.String(): "part open, floating: moves with the flow, wears, more head loss",
	valve.Parked.String():   "part open, parked: held steady, more head loss",
}

// shades tints the velocities that do not open the valve in full, one shade for each state of
// the element, from the slowest up. The last ends at the full-open velocity.
func (l *Loss) shades(at func(velocityMS float64) float64) []figure.Shade {
	if math.IsInf(l.FullOpenVelocityMS, 0) {
		return nil
	}
	var out []figure.Shade
	state := ""
	for _, p := range l.Line {
		if !p.PartOpen || partOpen[p.State] == "" || p.State == state {
			continue
		}
		if n := len(out); n > 0 {
			out[n-1].To = at(p.VelocityMS)
		}
		from := math.Inf(-1)
		if len(out) > 0 {
			from = at(p.VelocityMS)
		}
		state = p.State
		out = append(out, figure.Shade{From: from, Text: partOpen[p.State], Style: figure.Amber})
		if state == valve.Parked.String() {
			out[len(out)-1].Style = figure.Ink
		}
	}
	if n := len(out); n > 0 {
		out[n-1].To = at(l.FullOpenVelocityMS)
	}
	return out
}

// Figure draws head loss against flow on logarithmic axes, with the flows tinted that do
// not open the valve in full, the loss that it would have if it were open, and the
// station's operating points.
func (l *Loss) Figure(v *Valve, sys quantity.System) *figure.Figure {
	flow := func(x float64) float64 { return sys.In(quantity.Flow, x) }
	head := func(x float64) float64 { return sys.In(quantity.Head, x) }
	area := math.Pi / 4 * l.BoreM * l.BoreM
	actual, open := figure.Series{Name: "at its opening", Style: figure.Water}, figure.Series{
		Name:  "if full open",
		Style: figure.Ink, Dash: true,
	}
	for _, p := range l.Line {
		velocity := p.FlowM3S / area
		actual.X, actual.Y = append(actual.X, flow(p.FlowM3S)), append(actual.Y, head(p.LossM))
		open.X, open.Y = append(open.X, flow(p.FlowM3S)), append(open.Y,
			head(l.FullOpenK*velocity*velocity/(2*quantity.StandardGravity)))
	}
	panel := figure.Panel{
		Title: "Head loss of the valve alone", XLabel: axis("Flow", quantity.Flow, sys),
		YLabel: axis("Head loss", quantity.Head, sys),
		Series: []figure.Series{open, actual}, LogX: true, LogY: true,
	}
	panel.Shades = l.shades(func(x float64) float64 { return flow(x * area) })
	for _, p := range l.Points {
		if p.Duty != "" {
			panel.Points = append(panel.Points,
				figure.Point{X: flow(p.FlowM3S), Y: head(p.LossM), Text: p.Duty, Style: figure.Rust})
		}
	}
	title := "Head loss of " + v.Item.ID + ", " + l.Position
	if l.Station != "" {
		title += ", " + l.Station
	}
	return &figure.Figure{Title: title, Note: curveNote(v), Panels: []figure.Panel{panel}, PanelHeight: 430}
}

// Figure draws the median of the reverse velocity against deceleration with its 5 to 95 %
// band, the best numbers as a thin line, the limits of the slam classes, measured points, and
// the station's worst stop with its bar.
func (c *Closing) Figure(v *Valve, sys quantity.System) *figure.Figure {
	rate := func(x float64) float64 { return sys.In(quantity.Acceleration, x) }
	speed := func(x float64) float64 { return sys.In(quantity.Velocity, x) }
	band := figure.Series{Style: figure.Water, Bare: true}
	median, best := figure.Series{Name: "median", Style: figure.Water}, figure.Series{
		Name:  "best numbers",
		Style: figure.Ink, Dash: true,
	}
	panel := figure.Panel{
		Title:  "Closing curve, even deceleration between long pipes",
		XLabel: axis("Deceleration", quantity.Acceleration, sys),
		YLabel: axis("Reverse velocity", quantity.Velocity, sys), YFromZero: true,
		Levels: []figure.Level{
			{Y: speed(c.QuietMS), Text: "quiet below", Style: figure.Amber},
			{Y: speed(c.HarmfulMS), Text: "harmful above", Style: figure.Rust},
		},
	}
	for _, p := range c.Points {
		x := rate(p.DecelerationMS2)
		band.X, band.Y, band.Low = append(band.X, x), append(band.Y, speed(p.ReverseVelocityMS.High)), append(band.Low,
			speed(p.ReverseVelocityMS.Low))
		best.X, best.Y = append(best.X, x), append(best.Y, speed(p.ReverseVelocityMS.Best))
		median.X, median.Y = append(median.X, x), append(median.Y, speed(p.MedianMS))
	}
	bar := figure.Series{Style: figure.Rust}
	if r := c.Run; r != nil {
		x := rate(r.DecelerationMS2)
		bar.X, bar.Y = []float64{x, x}, []float64{speed(r.ReverseVelocityMS.Low), speed(r.ReverseVelocityMS.High)}
		panel.Points = append(panel.Points,
			figure.Point{
				X: x, Y: speed(r.ReverseVelocityMS.Best), Text: "this station's worst stop",
				Style: figure.Rust,
			})
	}
	panel.Series = []figure.Series{band, best, median, bar}
	for _, m := range c.Measured {
		panel.Points = append(panel.Points,
			figure.Point{X: rate(m.DecelerationMS2), Y: speed(m.ReverseVelocityMS), Style: figure.Ink})
	}
	title := "Closing of " + v.Item.ID + ", " + c.Position
	if c.Station != "" {
		title += ", " + c.Station
	}
	return &figure.Figure{Title: title, Note: curveNote(v), Panels: []figure.Panel{panel}, PanelHeight: 430}
}
