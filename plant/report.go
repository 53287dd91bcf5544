package plant

import (
	"cmp"
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

// readingsOf are those of one valve, in the order of its probes.
var readingsOf = []string{ReadDown, ReadUp, ReadFlow, ReadOpening, ReadSpeed}

// probes read the header, and every valve with its pump.
func (l *layout) probes() []transient.Probe {
	header, err := l.net.HeadAt(l.profile[0].name, 0)
	if err != nil {
		header = l.behind(l.watched)
	}
	out := []transient.Probe{{Name: ReadHeader, Read: header}}
	for i := range l.chains {
		down, chain := l.behind(i), l.chains[i]
		out = append(out, transient.Probe{Name: ReadDown, Read: down},
			transient.Probe{Name: ReadUp, Read: func() float64 { return down() + chain.DropM() }},
			transient.Probe{Name: ReadFlow, Read: chain.FlowM3S},
			transient.Probe{Name: ReadOpening, Read: l.valves[i].Share},
			transient.Probe{Name: ReadSpeed, Read: l.machines[i].Ratio})
	}
	return out
}

// readings are the places of one valve's probes, the header's, and of the flow of another
// valve, with their names.
func (l *layout) readings(valve int, probes []transient.Probe) (at []int, names []string) {
	first := 1 + valve*len(readingsOf)
	at = []int{first, first + 1, 0, first + 2, first + 3, first + 4}
	names = []string{ReadDown, ReadUp, ReadHeader, ReadFlow, ReadOpening, ReadSpeed}
	for i := range l.chains {
		if i != valve {
			return append(at, 1+i*len(readingsOf)+2), append(names, ReadOther)
		}
	}
	return at, names
}

// timeLine lists what happened, by the valve that closed hardest.
func (p *Plant) timeLine(s *Stop, l *layout, w *watch) {
	v := w.hardest()
	machine, m := l.machines[v.index], &v.line.Motion
	add := func(at float64, kind MomentKind, text string) {
		s.Moments = append(s.Moments, Moment{TimeS: at, Text: text, Kind: kind})
	}
	add(0, Begins, s.Event.Title)
	if m.ReversedS > 0 {
		add(m.ReversedS, FlowReverses, "flow reverses")
	}
	if at := machine.ReversedS(); at > 0 {
		add(at, PumpReverses, "the pump begins to spin backward")
	}
	for _, x := range m.Moments {
		kind, text := p.told(x, v.line.Mechanism())
		add(x.TimeS, kind, text)
		if kind == ValveCloses {
			s.Moments[len(s.Moments)-1].ReverseMS = math.Max(0, -x.VelocityMS)
		}
	}
	if m.More > 0 && len(m.Moments) > 0 {
		add(m.Moments[len(m.Moments)-1].TimeS, ValveChatters,
			fmt.Sprintf("the valve chatters: %d more movements follow and are not listed", m.More))
	}
	for _, c := range s.Cavities {
		add(c.OpensS, VaporForms, fmt.Sprintf("vapor forms in %s, %s along it", c.Pipe,
			p.st.Units.Format(quantity.Length, c.ChainageM)))
	}
	slices.SortStableFunc(s.Moments, func(a, b Moment) int { return cmp.Compare(a.TimeS, b.TimeS) })
}

// notes tells what the run takes for granted, and what it could not do.
func (p *Plant) notes(t *Stop, l *layout, r *transient.Result) {
	if l.pockets != "" {
		t.Notes = append(t.Notes, l.pockets)
	}
	for _, d := range l.devices {
		t.Notes = append(t.Notes, d.says(p.st))
	}
	if r.Loose > 0 {
		t.Notes = append(t.Notes, fmt.Sprintf("In %d of %d steps the valve stood just between shut and open beside a cavity; each time it is taken as it did last, which moves the instant of its closing within the step.", r.Loose, r.Steps))
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

// told is a moment of the valve, its kind and its words.
func (p *Plant) told(x valve.Moment, m *valve.Mechanism) (MomentKind, string) {
	reverse := p.st.Units.Format(quantity.Velocity, math.Max(0, -x.VelocityMS))
	switch x.Event {
	case valve.Bounce:
		return ValveBounces, "the valve strikes its seat and bounces, reverse velocity " + reverse
	case valve.Seating:
		return ValveCloses, "the valve closes, reverse velocity " + reverse
	case valve.Released:
		if x.Xi <= shutShare*m.Stroke {
			return ValveOpens, "the valve begins to open"
		}
		return ValveMoves, "the valve begins to move"
	case valve.Stop:
		return ValveIsOpen, "the valve is full open"
	}
	return ValveSticks, "the disc or ball stops on its way"
}

// envelope joins the pipes of the main and sets their limits beside them.
func (p *Plant) envelope(t *Stop, l *layout, r *transient.Result) {
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
					ChainageM: part.startM + e.ChainageM[i], ElevationM: e.ElevationM[i], LeastM: e.LeastM[i],
					MostM: e.MostM[i], StartM: e.StartM[i],
					LimitM: e.ElevationM[i] + limit,
				})
			}
		}
	}
}
