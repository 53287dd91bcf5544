package station

import (
	"cmp"
	"fmt"
	"slices"

	"seatward/basis"
)

// Alike is true when two groups of pumps are the same machine: every number with its
// range, and the curve. Name, count, standby and place in the file are not looked at.
func (p *Pump) Alike(o *Pump) bool { return p.compare(o) == 0 }

// values are the numbers of the machine in the order by which pumps are sorted: the
// strongest pump comes first.
func (p *Pump) values() []basis.Value {
	return []basis.Value{
		p.DutyFlow, p.DutyHead, p.ShutoffHead, p.Speed, p.Inertia, p.LeastSpeed, p.InertiaTime,
		p.ShaftPower, p.MotorEfficiency, p.Efficiency,
	}
}

// compare is negative when the pump comes before the other, zero when they are alike.
func (p *Pump) compare(o *Pump) int {
	mine, theirs := p.values(), o.values()
	for i, v := range mine {
		w := theirs[i]
		if c := cmp.Or(cmp.Compare(w.SI, v.SI), cmp.Compare(w.Low, v.Low), cmp.Compare(w.High, v.High)); c != 0 {
			return c
		}
	}
	submersible := func(p *Pump) int {
		if p.Submersible {
			return 1
		}
		return 0
	}
	return cmp.Or(cmp.Compare(submersible(p), submersible(o)),
		cmp.Compare(curveText(p.Performance), curveText(o.Performance)))
}

// order brings the pumps into the order of their numbers, so that the order in which
// the file lists them changes no answer. The name decides between equal ones only.
func (r *resolver) order() {
	for i := range r.st.Pumps {
		r.st.Pumps[i].Index = i
	}
	slices.SortStableFunc(r.st.Pumps, func(p, o Pump) int {
		return cmp.Or(p.compare(&o), cmp.Compare(o.Count, p.Count), cmp.Compare(p.Standby, o.Standby),
			cmp.Compare(p.Name, o.Name))
	})
}

// KindOf is the first group of pumps that is alike to this one: groups of one kind may be
// listed apart, and run as one.
func (st *Station) KindOf(group int) int {
	for group > 0 && st.Pumps[group].Alike(&st.Pumps[group-1]) { // alike ones stand side by side
		group--
	}
	return group
}

// InService is the number of pumps of the group that may run together with the rest.
func (p *Pump) InService() int { return p.Count - p.Standby }

// Path is the path of the group in the file and in Walk: "pumps[1]".
func (p *Pump) Path() string { return fmt.Sprintf("pumps[%d]", p.Index) }

// UnitOf finds the pump that an event's step means. Steps number the pumps in service
// from 1 in the order of the file; the group is an index in Pumps, nth counts from 0
// within it. False where the number is of no pump.
func (st *Station) UnitOf(pump int) (group, nth int, ok bool) {
	if pump < 1 {
		return 0, 0, false
	}
	nth = pump - 1
	for index := range st.Pumps {
		group = slices.IndexFunc(st.Pumps, func(p Pump) bool { return p.Index == index })
		if group < 0 {
			return 0, 0, false
		}
		n := st.Pumps[group].InService()
		if nth < n {
			return group, nth, true
		}
		nth -= n
	}
	return 0, 0, false
}

// Unit is the place of an event's pump among all in service, from 0 in the order of
// Pumps, each group's one after the other; -1 where the number is of no pump.
func (st *Station) Unit(pump int) int {
	group, nth, ok := st.UnitOf(pump)
	if !ok {
		return -1
	}
	for i := range group {
		nth += st.Pumps[i].InService()
	}
	return nth
}
