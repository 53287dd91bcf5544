package text

import (
	"fmt"

	"seatward/internal/chart"
	"seatward/quantity"
)

// logSiblings prints what pumps of like power do unlike.
func (p *page) logSiblings(x *chart.Log) {
	if len(x.Apart) == 0 {
		return
	}
	p.heading("PUMPS THAT SHOULD BE ALIKE")
	t := &table{indent: "  ", cols: []column{
		{head: "pump", gives: true},
		{head: "readings", right: true},
		{head: "power", right: true},
		{head: "flow", right: true},
		{head: "kWh/m³", right: true},
		{head: "starts", right: true},
	}}
	for _, s := range x.Siblings {
		flow, energy := none, none
		if s.FlowM3S != nil {
			flow = p.si(quantity.Flow, s.FlowM3S.Value)
		}
		if s.Energy != nil {
			energy = quantity.Figures(s.Energy.Value/joulesInKWh, 3)
		}
		t.add(fmt.Sprint(s.Pump), fmt.Sprint(s.Readings), p.si(quantity.Power, s.PowerW), flow, energy,
			fmt.Sprint(s.Starts))
	}
	p.table(t)
	p.gap()
	for i, a := range x.Apart {
		if i == chart.MostSaid {
			p.more(len(x.Apart) - i)
			break
		}
		text := fmt.Sprintf("Pump %d against pump %d, %s: %+.1f %% ± %s %%", a.First, a.Second, a.What, 100*a.Share,
			quantity.Figures(100*a.Half, 2))
		if a.Level {
			text += ", at equal levels"
		}
		if a.Clear {
			p.item(amber, "", "!", text+". More than chance.")
		} else {
			p.item(faint, "", "-", text+". Within chance.")
		}
	}
	p.paraIn(faint, "", "± is the 95 % interval of the readings; an error of a meter (2 % and more of each flow and power) is not in it. Compare the meters first. A pump that looks weak may lose its water back through the check valve of the other.")
}

const joulesInKWh = 3.6e6
