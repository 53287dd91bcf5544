package document

import (
	"strings"

	"seatward/internal/figure"
	"seatward/plant"
	"seatward/quantity"
)

// minus sets a number below zero with a true minus.
func minus(s string) string { return strings.Replace(s, "-", "−", 1) }

// sketch draws the station in elevation over its length, with its levels, pipes and the head
// line at the worked point.
func (c *calc) sketch() {
	st := c.Study.Station
	axis, _ := st.Axis()
	length := func(m float64) float64 { return c.in(quantity.Length, m) }
	up := 0.0 // of the datum, where elevations of the file are known
	if st.WetWellHigh.Known() && st.Outlet.Known() {
		up = st.WetWellHigh.SI + st.SuctionPressure.SI/(st.Fluid.Density.SI*plant.GravityMS2)
	}
	total := st.Main.LengthM()
	room := 0.12 * total // before the station, for wet well, pump and branch
	main := figure.Series{Name: "pipe axis", Style: figure.Amber}
	for _, p := range axis {
		main.X, main.Y = append(main.X, length(p.ChainageM)), append(main.Y, length(p.ElevationM+up))
	}
	level := func(name string, m, from, to float64, dash bool) figure.Series {
		return figure.Series{
			Name: name, Style: figure.Water, Dash: dash, X: []float64{length(from), length(to)},
			Y: []float64{length(m + up), length(m + up)},
		}
	}
	panel := figure.Panel{
		Title:  "Elevation; heights and lengths at different scales",
		XLabel: "distance along the main, " + c.unit(quantity.Length),
		YLabel: "elevation, " + c.unit(quantity.Length),
		Series: []figure.Series{
			main, level("", 0, -room, -0.6*room, false), level("", st.WellLowM(), -room, -0.6*room, true),
			level("", st.OutletAboveDatum(), total, 1.04*total, false),
		},
	}
	valve := st.ValveAboveDatum()
	panel.Series = append(panel.Series, figure.Series{
		Style: figure.Ink, X: []float64{length(-0.6 * room), length(-0.3 * room), 0},
		Y: []float64{length(st.WellLowM() + up), length(valve + up), length(axis[0].ElevationM + up)},
	})
	if grade, ok := c.gradeLine(total); ok {
		for i := range grade.Y {
			grade.Y[i] += length(up)
		}
		panel.Series = append(panel.Series, grade)
	}
	floor := st.WellLowM() + up - 0.3*(st.OutletAboveDatum()-st.WellLowM())
	panel.Series = append(panel.Series, figure.Series{ // room below for the letters
		Bare: true, X: []float64{0, 0}, Y: []float64{length(floor), length(floor)},
	})
	panel.Points = []figure.Point{
		{X: length(-0.8 * room), Y: length((st.WellLowM() + 2*up) / 2), Text: "A", Style: figure.Water},
		{X: length(-0.6 * room), Y: length(st.WellLowM() + up), Text: "B", Style: figure.Ink},
		{X: length(-0.3 * room), Y: length(valve + up), Text: "C", Style: figure.Rust},
		{X: length(1.02 * total), Y: length(st.OutletAboveDatum() + up), Text: "D", Style: figure.Water},
	}
	c.figure(&figure.Figure{
		Title:       st.Name + ", " + c.Assessment.Item.Size.Format(c.units()) + " check valves",
		Panels:      []figure.Panel{panel},
		PanelHeight: chartHeight,
		Note:        "Sketch for review. Suction and branch stand before the start of the main. Numbers in the key below and in the tables of inputs.",
		NameRoom:    170,
	}, "The station with its levels, pipes and head line",
		"Elevation over the length of the main: levels at the suction, check valve, axis of the main, outlet, and the head line while the pumps run at the worked point.")
	c.key(up)
}

// key tells the letters and lines of the sketch with their numbers.
func (c *calc) key(up float64) {
	st := c.Study.Station
	shown := func(m float64) string { return c.units().Format(quantity.Length, m) }
	items := []string{
		c.say("A: {source}, high level {high}, low level {low}", "source", c.say(st.Source()),
			"high", shown(up), "low", shown(st.WellLowM()+up)),
	}
	for i := range st.Pumps {
		p := &st.Pumps[i]
		items = append(items, c.say("B: pump {name}, {speed}, shut-off head {head}; in service: {n}", "name", p.Name,
			"n",
			decimal(p.Count-p.Standby), "speed", c.units().Format(quantity.RotationalSpeed, p.Speed.SI), "head",
			c.units().Format(quantity.Head, p.ShutoffHead.SI)))
	}
	items = append(items,
		c.say("C: check valve {valve}, one for each pump, axis at {z}; {position}", "valve", c.Assessment.Item.ID,
			"z",
			shown(st.ValveAboveDatum()+up), "position", c.position()),
		c.say("D: outlet, level {z}", "z", shown(st.OutletAboveDatum()+up)))
	branch, mains := c.runs()
	for _, r := range append(branch, mains...) {
		items = append(items, c.say("{run}: {length}. {pipe}, bore {bore}, wall {wall}", "run",
			sentenceStart(r.Name),
			"length", shown(r.Length.SI), "pipe", sentenceStart(joined(" ", r.Material, r.Class, r.Size.Format(c.units()))), "bore",
			c.units().Format(quantity.Diameter, r.InnerDiameter.SI), "wall",
			c.units().Format(quantity.Diameter, r.Wall.SI)))
	}
	c.put(List{Items: items})
}

// gradeLine is the head line of the main at the worked point, above the datum.
func (c *calc) gradeLine(total float64) (figure.Series, bool) {
	p, err := plant.New(c.Study.Station)
	if err != nil || c.Valve == nil {
		return figure.Series{}, false
	}
	x, ok := p.Work(c.Valve.Mechanism)
	if !ok {
		return figure.Series{}, false
	}
	out := figure.Series{Name: "head line, " + x.Name, Style: figure.Ink, Dash: true}
	at, h := 0.0, c.Study.Station.OutletHeadM()
	end := total
	if x.HighPoint != nil {
		h, end = x.HighPoint.ElevationM, x.HighPoint.ChainageM
	}
	for i := range x.Main {
		h += x.Main[i].TotalM()
	}
	add := func() {
		out.X, out.Y = append(out.X, c.in(quantity.Length, at)), append(out.Y, c.in(quantity.Length, h))
	}
	add()
	for i := range x.Main {
		at, h = min(end, at+x.Main[i].LengthM), h-x.Main[i].TotalM()
		add()
	}
	return out, true
}
