package study

import (
	"fmt"
	"math"
	"slices"

	"seatward/quantity"
	"seatward/transient"
	"seatward/valve"
)

// Names of the readings of a run.
const (
	ReadDown    = "head behind the valve"
	ReadUp      = "head before the valve"
	ReadHeader  = "head at the header"
	ReadFlow    = "flow through the valve"
	ReadOpening = "opening"
	ReadSpeed   = "pump speed"
	ReadOther   = "flow through another valve"
)

// probes read the watched valve, its pump and the header.
func (l *layout) probes() []transient.Probe {
	down := l.behind()
	chain, line, machine := l.chains[l.watched], l.valves[l.watched], l.machines[l.watched]
	header, err := l.net.HeadAt(l.profile[0].name, 0)
	if err != nil {
		header = down
	}
	out := []transient.Probe{
		{Name: ReadDown, Read: down},
		{Name: ReadUp, Read: func() float64 { return down() + chain.DropM() }},
		{Name: ReadHeader, Read: header},
		{Name: ReadFlow, Read: chain.FlowM3S},
		{Name: ReadOpening, Read: line.Share},
		{Name: ReadSpeed, Read: machine.Ratio},
	}
	for i := range l.chains {
		if i != l.watched {
			return append(out, transient.Probe{Name: ReadOther, Read: l.chains[i].FlowM3S})
		}
	}
	return out
}

// report fills in the time line and the envelope.
func (p *plant) report(t *Trip, l *layout, r *transient.Result) {
	line, machine := l.valves[l.watched], l.machines[l.watched]
	m := &line.Motion
	t.Reopened, t.Bounces, t.VaporM = m.Reopened, m.Bounces, p.gas().VaporHeadM
	add := func(at float64, text string) { t.Moments = append(t.Moments, Moment{at, text}) }
	add(0, t.Event.Title)
	if m.ReversedS > 0 {
		add(m.ReversedS, "the water turns back")
	}
	if at := machine.ReversedS(); at > 0 {
		add(at, "the pump begins to turn back")
	}
	for _, x := range m.Moments {
		add(x.TimeS, p.momentText(x, line.Mechanism()))
	}
	if m.More > 0 {
		add(t.TimeS, fmt.Sprintf("the valve chatters: %d more movements are not listed", m.More))
	}
	for _, c := range t.Cavities {
		add(c.OpensS, fmt.Sprintf("vapor at %s, %s along it", c.Pipe, p.st.Units.Format(quantity.Length, c.ChainageM)))
	}
	slices.SortStableFunc(t.Moments, func(a, b Moment) int {
		switch {
		case a.TimeS < b.TimeS:
			return -1
		case a.TimeS > b.TimeS:
			return 1
		}
		return 0
	})
	p.envelope(t, l, r)
}

// notes tells what the run takes for granted, and what it could not do.
func (p *plant) notes(t *Trip, l *layout, r *transient.Result) {
	if l.pockets != "" {
		t.Notes = append(t.Notes, l.pockets)
	}
	if l.assumedAir > 0 {
		t.Notes = append(t.Notes, fmt.Sprintf("The station's air vessel is taken with %s of air, a fiftieth of the main: its size is not in the station file.", p.st.Units.Format(quantity.Volume, l.assumedAir)))
	}
	if r.Loose > 0 {
		t.Notes = append(t.Notes, fmt.Sprintf("In %d of %d steps the valve stood just between shut and open beside a cavity; each time it is taken as it did last, which moves the instant of its closing within the step.", r.Loose, r.Steps))
	}
	if len(p.st.Main.Profile) == 0 || !p.st.WetWellHigh.Known() {
		t.Notes = append(t.Notes, "No profile is given: the main is taken to run straight from the wet well's high level to the outlet. High points on the way would see less head.")
	}
	if l.rigid {
		t.Notes = append(t.Notes, "The branch is so short beside the main that it moves as a rigid column; the head of the slam is that of a sudden stop.")
	}
	for _, q := range p.quadrants {
		if q.Outside != "" {
			t.Notes = append(t.Notes, "Beyond normal operation "+q.Outside+".")
		}
	}
}

// shutShare is the part of the stroke below which an element stands on its seat.
const shutShare = 0.001

func (p *plant) momentText(x valve.Moment, m *valve.Mechanism) string {
	switch x.Event {
	case valve.Bounce:
		return "the valve strikes its seat and bounces, the water at " + p.st.Units.Format(quantity.Velocity, x.VelocityMS)
	case valve.Seating:
		return "the valve seats, the water at " + p.st.Units.Format(quantity.Velocity, x.VelocityMS)
	case valve.Released:
		if x.Xi <= shutShare*m.Stroke {
			return "the valve begins to open"
		}
		return "the valve begins to move"
	case valve.Stop:
		return "the valve is full open"
	}
	return "the valve " + x.Event.String()
}

// envelope joins the pipes of the main and sets their limits beside them.
func (p *plant) envelope(t *Trip, l *layout, r *transient.Result) {
	for _, part := range l.profile {
		limit := math.NaN()
		if run := part.station; run.Rating.Known() {
			pa := run.Rating.SI
			if run.SurgeAllowance.Known() {
				pa += run.SurgeAllowance.SI
			}
			limit = pa / (p.st.Fluid.Density.SI * quantity.StandardGravity)
		}
		for _, e := range r.Envelopes {
			if e.Pipe != part.name {
				continue
			}
			for i := range e.ChainageM {
				t.Envelope = append(t.Envelope, EnvelopePoint{
					ChainageM: part.startM + e.ChainageM[i], ElevationM: e.ElevationM[i], LeastM: e.LeastM[i], MostM: e.MostM[i], StartM: e.StartM[i],
					LimitM: e.ElevationM[i] + limit,
				})
			}
		}
	}
}
