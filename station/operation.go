package station

import (
	"fmt"
	"math"
)

// surge resolves what holds the pressure near the pumps and how they stop.
func (r *resolver) surge() {
	in, out := &r.f.Surge, &r.st.Surge
	running := r.running()
	out.CommonHeader = in.CommonHeader.Yes() || (!in.CommonHeader.Set && running > 1)
	out.Stop = in.Stop.Text
	if !in.Stop.Set {
		out.Stop = defaultStop
	}
	out.RampTime = r.given(defaults.rampTime.name, in.RampTime)
	if !in.RampTime.Set && out.Stop != defaultStop {
		out.RampTime = r.assume(defaults.rampTime)
	}
	if out.Stop == defaultStop && in.RampTime.Set {
		r.warn(in.RampTime.At, "ramp-unused", "a ramp is given, but the pumps stop direct: it is not used",
			"normal_stop: soft stop or speed ramp", "mend surge.normal_stop, or leave ramp_time out")
	}
	for i, e := range r.f.Events {
		ramp := r.given(fmt.Sprintf("length of the ramp of event %d", i+1), e.Time)
		r.st.Events = append(r.st.Events,
			Event{Name: e.Name.Text, Kind: e.Kind.Text, RampTime: ramp, Steps: r.schedule(i+1, &e, running)})
		if e.Kind.Text == "one pump trips" && running < 2 {
			r.warn(e.Kind.At, "event-impossible", "one pump trips while others run, but only one runs",
				"two pumps or more in service", "leave the event out, or mend the pumps")
		}
	}
}

// schedule resolves the steps of an event: by rising time, of pumps that are in service.
func (r *resolver) schedule(n int, e *EventFile, running int) []EventStep {
	scheduled := e.Kind.Text == "schedule"
	switch {
	case scheduled && len(e.Steps) == 0:
		r.error(e.Kind.At, "schedule-empty", "a schedule without steps", "steps: a list of at, pump and does",
			"add the steps, or name another kind")
		return nil
	case scheduled && !e.Name.Set:
		r.error(e.Kind.At, "schedule-unnamed", "a schedule needs a name, by which it is asked for", "a name",
			"add a line name: ...")
		return nil
	case !scheduled && len(e.Steps) > 0:
		r.error(e.Steps[0].At, "steps-unused", "steps belong to a schedule", "kind: schedule",
			"mend the kind, or remove the steps")
		return nil
	}
	var out []EventStep
	for i, s := range e.Steps {
		pump := s.Pump.Value
		if pump != math.Trunc(pump) || pump > float64(running) {
			r.error(s.Pump.At, "pump-unknown", fmt.Sprintf("no pump has the number %g", pump),
				fmt.Sprintf("a whole number from 1 to %d", running), "mend the number")
			continue
		}
		if i > 0 && s.When.SI() < e.Steps[i-1].When.SI() {
			r.error(s.When.At, "steps-out-of-order", "the step comes before the one above it", "steps by rising time",
				"order the steps")
			continue
		}
		name := fmt.Sprintf("step %d of event %d", i+1, n)
		out = append(out, EventStep{
			At: r.given("time of "+name, s.When), Pump: int(pump), Does: s.Does.Text,
			RampTime: r.given("length of the ramp of "+name, s.Time),
		})
	}
	return out
}

// running is the number of pumps that may run together.
func (r *resolver) running() int {
	n := 0
	for _, p := range r.st.Pumps {
		n += p.Count - p.Standby
	}
	return n
}

// operation resolves what running costs depend on.
func (r *resolver) operation() {
	in := &r.f.Operation
	r.st.Operation = Operation{
		RunningTime: or(r.given(defaults.runningTime.name, in.HoursPerYear), r.assume(defaults.runningTime)),
		StartsPerHour: or(r.givenNumber(defaults.startsPerHour.name, in.StartsPerHour),
			r.assume(defaults.startsPerHour)),
		Tariff:   or(r.given(defaults.tariff.name, in.Tariff), r.assume(defaults.tariff)),
		Interest: or(r.given(defaults.interest.name, in.Interest), r.assume(defaults.interest)),
		Years:    or(r.givenNumber(defaults.lifeYears.name, in.Years), r.assume(defaults.lifeYears)),
	}
}
