package study

import (
	"context"
	"math"
	"slices"

	"seatward/basis"
	"seatward/catalog"
	"seatward/pipe"
	"seatward/quantity"
	"seatward/valve"
)

// Remedy is a what-if beside the run as it is.
type Remedy struct {
	Name  string
	What  string // what is changed, in a sentence
	Trip  *Trip
	Fault string // why it could not be run; "" where it was
}

// remedies runs the event again with what might cure it, one thing at a time: what the
// user gave, or else a usual size of it.
func (p *plant) remedies(ctx context.Context, it *catalog.Item, m *valve.Mechanism, ev Event, opt TripOptions) ([]Remedy, error) {
	type try struct {
		mech   *valve.Mechanism
		id     string
		event  Event
		change Change
	}
	out, tries := []Remedy{{Name: "as it is", What: it.ID}}, []try{{m, it.ID, ev, Change{}}}
	for _, c := range p.cures(opt, ev) {
		out, tries = append(out, Remedy{Name: c.name, What: c.what}), append(tries, try{m, it.ID, c.event, c.change})
	}
	position, err := valve.PositionNamed(p.st.Valve.Position)
	if err != nil {
		return nil, err
	}
	for _, o := range otherValves(opt.Catalogs, it) {
		other, err := o.item.Build(valve.In(p.st.Fluid.Density.SI, position))
		if err != nil {
			out, tries = append(out, Remedy{Name: o.name, What: o.item.ID, Fault: err.Error()}), append(tries, try{})
			continue
		}
		if yes, _ := other.SelfClosing(); !yes || !o.item.Allows(p.st.Valve.Position) {
			continue
		}
		out, tries = append(out, Remedy{Name: o.name, What: o.item.ID}), append(tries, try{other, o.item.ID, ev, Change{}})
	}
	sideBySide(len(out), func(i int) {
		if out[i].Fault != "" {
			return
		}
		t, err := p.run(ctx, tries[i].mech, tries[i].id, tries[i].event, runOptions{record: true, duration: p.runTime(), change: tries[i].change})
		if out[i].Trip = t; err != nil {
			out[i].Trip, out[i].Fault = nil, err.Error()
		}
	})
	return out, ctx.Err()
}

// cure is a change of the station.
type cure struct {
	name, what string
	event      Event
	change     Change
}

// The sizes of cures that the user did not size, to show their effect; common practice, no
// source.
const (
	usualFlywheel = 2.0  // times the inertia that is there
	usualVessel   = 0.02 // of the main's volume, as air
	usualRampS    = 15
)

// usualAir is the air of a vessel whose size is not given.
func (p *plant) usualAir() float64 {
	air := 0.0
	for _, r := range p.st.Main.Runs {
		air += usualVessel * r.Length.SI * pipe.AreaM2(r.InnerDiameter.SI)
	}
	return math.Max(air, leastAirM3)
}

const leastAirM3 = 0.05

func (p *plant) cures(opt TripOptions, ev Event) []cure {
	sys := p.st.Units
	show := func(kind quantity.Kind, x float64) string { return sys.Format(kind, x) }
	wheel, air, ramp := opt.Size.FlywheelKgM2, opt.Size.VesselM3, opt.Size.RampS
	if wheel == 0 {
		wheel = usualFlywheel * p.st.Pumps[0].Inertia.SI
	}
	if air == 0 {
		air = p.usualAir()
	}
	if ramp == 0 {
		ramp = usualRampS
	}
	out := []cure{
		{"flywheel", "a flywheel of " + show(quantity.Inertia, wheel) + " on each pump", ev, Change{FlywheelKgM2: wheel}},
		{"air vessel", "an air vessel at the header with " + show(quantity.Volume, air) + " of air", ev, Change{VesselM3: air}},
	}
	if ev.Kind == NormalStop {
		slow := ev
		slow.RampS = basis.NewGiven("length of the stop ramp", quantity.Time, ramp, basis.WhatIf)
		out = append(out, cure{"ramped stop", "the stop by a speed ramp of " + show(quantity.Time, ramp), slow, Change{RampS: ramp}})
	}
	return out
}

// otherValve is another product in place of the one that is looked at.
type otherValve struct {
	name string
	item *catalog.Item
}

// otherValves are the next smaller size of the family, and assisted or short-stroke
// families in the same size.
func otherValves(all []*catalog.Catalog, it *catalog.Item) []otherValve {
	var out []otherValve
	var smaller *catalog.Item
	for _, o := range it.Family.Items {
		if o.Variant == it.Variant && o.Size.DN < it.Size.DN && (smaller == nil || o.Size.DN > smaller.Size.DN) {
			smaller = o
		}
	}
	if smaller != nil {
		out = append(out, otherValve{"smaller valve", smaller})
	}
	quick := []string{"swing-assisted", "axial"}
	for _, c := range all {
		for _, f := range c.Families {
			if f == it.Family || !slices.Contains(quick, f.Type.Key) {
				continue
			}
			for _, o := range f.Items {
				if o.Size == it.Size {
					out = append(out, otherValve{f.Title, o})
					break
				}
			}
		}
	}
	return out
}
