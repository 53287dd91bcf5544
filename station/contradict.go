package station

import (
	"fmt"
	"math"

	"seatward/fluid"
	"seatward/internal/yamlfile"
	"seatward/quantity"
)

// levelOrder holds the levels to their order.
func (r *resolver) levelOrder() {
	l := &r.f.Levels
	if l.WetWellHigh.Set && l.WetWellLow.Set && l.WetWellLow.SI() > l.WetWellHigh.SI() {
		r.error(l.WetWellLow.At, "levels-reversed", "the low level is above the high level",
			"at most "+r.show(quantity.Length, l.WetWellHigh.SI()), "swap or mend the two levels")
	}
	for _, level := range []struct {
		name string
		q    float64
		set  bool
	}{{"high", l.WetWellHigh.SI(), l.WetWellHigh.Set}, {"low", l.WetWellLow.SI(), l.WetWellLow.Set}} {
		if level.set && l.Outlet.Set && !l.OutletPressure.Set && l.Outlet.SI() < level.q {
			r.error(l.Outlet.At, "outlet-below-well",
				"the outlet is below the "+level.name+
					" level: the water runs there by itself, and a check valve cannot stop it", "at least "+
					r.show(quantity.Length, level.q), "mend the elevations")
			return
		}
	}
}

// staticTwice tells a static head that the levels deny.
func (r *resolver) staticTwice() {
	d, l := &r.f.Duty, &r.f.Levels
	if !d.StaticHead.Set || !l.Outlet.Set || l.OutletPressure.Set || l.SuctionPressure.Set {
		return
	}
	for _, level := range []struct {
		q   float64
		set bool
	}{{l.WetWellHigh.SI(), l.WetWellHigh.Set}, {l.WetWellLow.SI(), l.WetWellLow.Set}} {
		h := l.Outlet.SI() - level.q
		if level.set && (h < d.StaticHead.Low.SI-0.5 || h > d.StaticHead.High.SI+0.5) &&
			math.Abs(h-d.StaticHead.SI()) > 0.05*math.Abs(h) {
			r.error(d.StaticHead.At, "static-twice",
				"the static head and the levels disagree: the levels give "+r.show(quantity.Head,
					h), "one of the two, or both alike", "leave static_head out, or mend the levels")
			return
		}
	}
}

// flowOrder holds the stated flows to their order.
func (r *resolver) flowOrder() {
	d := &r.f.Duty
	switch {
	case d.Flow.Set && d.LeastFlow.Set && d.LeastFlow.SI() > d.Flow.SI():
		r.error(d.LeastFlow.At, "flows-reversed", "the least flow is above the normal flow",
			"at most "+r.show(quantity.Flow, d.Flow.SI()), "mend one of them")
	case d.GreatestFlow.Set && d.LeastFlow.SI() > d.GreatestFlow.SI():
		r.error(d.LeastFlow.At, "flows-reversed", "the least flow is above the greatest flow",
			"at most "+r.show(quantity.Flow, d.GreatestFlow.SI()), "swap or mend the two flows")
	}
	if d.Flow.Set && d.GreatestFlow.Set && d.GreatestFlow.SI() < d.Flow.SI() {
		r.error(d.GreatestFlow.At, "flows-reversed", "the greatest flow is below the normal flow",
			"at least "+r.show(quantity.Flow, d.Flow.SI()), "mend one of them")
	}
}

// dutyHead holds the heads of the duty point to their order.
func (r *resolver) dutyHead() {
	d := &r.f.Duty
	if d.Head.Set && d.StaticHead.Set && d.StaticHead.SI() >= d.Head.SI() {
		r.error(d.StaticHead.At, "static-above-head",
			"the static head is not below the pump's head at duty: nothing would flow", "less than "+
				r.show(quantity.Head, d.Head.SI()), "mend one of them")
	}
	if d.Head.Set && d.ShutoffHead.Set && d.ShutoffHead.SI() <= d.Head.SI() {
		r.error(d.ShutoffHead.At, "shutoff-below-head", "the shut-off head is not above the head at duty",
			"more than "+r.show(quantity.Head, d.Head.SI()), "mend one of them")
	}
}

// profile holds the points of the main's axis, and of the ground over it, to its runs and
// levels.
func (r *resolver) profile() {
	r.along("profile", r.f.Main.Profile)
	r.along("ground", r.f.Main.Ground)
}

func (r *resolver) along(what string, points []yamlfile.Tuple) {
	if len(points) == 0 {
		return
	}
	for i := 1; i < len(points); i++ {
		if points[i].Items[0].SI() <= points[i-1].Items[0].SI() {
			r.error(points[i].At, what+"-order", "the chainage does not rise from the point before",
				"more than "+r.show(quantity.Length, points[i-1].Items[0].SI()), "order the points in the direction of flow")
			return
		}
	}
	var total float64
	for i := range r.f.Main.Runs {
		total += r.f.Main.Runs[i].Length.SI()
	}
	first, last := points[0], points[len(points)-1]
	if start := first.Items[0].SI(); math.Abs(start) > 0.02*math.Max(total, 1) {
		r.error(first.At, what+"-start",
			"the "+what+" begins at "+r.show(quantity.Length, start)+
				", the main at the station", r.show(quantity.Length, 0), "count the chainage from the station")
	} else if end := last.Items[0].SI(); total > 0 && math.Abs(end-total) > 0.02*total {
		r.error(last.At, what+"-length",
			"the "+what+" ends at "+r.show(quantity.Length, end)+" but the runs are "+r.show(quantity.Length, total)+
				" long", "the same length to 2 %", "mend the "+what+" or the runs' lengths")
	}
	if !r.f.Levels.WetWellHigh.Set && !r.f.Levels.WetWellLow.Set {
		r.error(first.At, what+"-without-levels", "the "+what+" has elevations, but the wet well has none",
			"levels: wet_well_high and wet_well_low above the same datum", "add levels")
	}
}

// temperatures tells temperatures at which the liquid would boil, and a greatest one
// below the usual one.
func (r *resolver) temperatures() {
	in := &r.f.Fluid
	t := in.Temperature
	if in.MaxTemperature.Set {
		t = in.MaxTemperature
		if in.Temperature.Set && t.SI() < in.Temperature.SI() {
			r.error(t.At, "temperatures-reversed", "the greatest temperature is below the temperature",
				"at least "+r.show(quantity.Temperature, in.Temperature.SI()), "mend one of them")
			return
		}
	}
	if !t.Set {
		return
	}
	air, err := fluid.AtmospherePa(r.f.Site.Elevation.SI())
	if err != nil {
		return // the elevation is held to the standard atmosphere when it is read
	}
	if boils, err := fluid.BoilingPointK(air); err == nil && t.High.SI >= boils {
		r.error(t.At, "boils", "water boils below this temperature at the site's air pressure",
			"less than "+r.show(quantity.Temperature, boils), "mend the temperature")
	}
}

// service tells words of the service that do not go with the kind of liquid.
func (r *resolver) service() {
	in := &r.f.Fluid
	if !fluid.Service(in.Kind.Text).Drinking() {
		return
	}
	for _, w := range []struct {
		name string
		bad  bool
		text string
	}{
		{"rags", in.Rags.Set && in.Rags.Text != "none", in.Rags.Text},
		{"hydrogen_sulfide", in.HydrogenSulfide.Set && in.HydrogenSulfide.Text != "none", in.HydrogenSulfide.Text},
		{"oil", in.Oil.Set && in.Oil.Text != "none", in.Oil.Text},
		{"solids", in.Solids.SI() > 0.005, r.show(quantity.Diameter, in.Solids.SI())},
	} {
		if w.bad {
			r.error(in.Kind.At, "not-drinking", fmt.Sprintf("drinking water with %s: %s", w.name, w.text), "none",
				"mend fluid.kind or "+w.name)
			return
		}
	}
}

// pumpList tells pumps of one name, numbers and speeds that cannot be, and a number in
// service that the list denies.
func (r *resolver) pumpList() {
	seen := map[string]bool{}
	running := 0
	for i := range r.f.Pumps {
		p := &r.f.Pumps[i]
		name := r.pumpName(i)
		if seen[name] {
			r.error(p.Name.At, "name-twice", fmt.Sprintf("two entries of the list of pumps are called %q", name),
				"a name for each, or one entry with a count", "rename one, or join them with count")
		}
		seen[name] = true
		count, standby := max(int(p.Count.Value), 1), int(p.Standby.Value)
		if standby >= count {
			r.error(p.Standby.At, "standby-too-many",
				fmt.Sprintf("%d standby of %d pumps leaves none to run", standby,
					count), "fewer standby pumps than pumps", "mend count or standby")
		}
		if p.Speed.Set && p.LeastSpeed.SI() > p.Speed.SI() {
			r.error(p.LeastSpeed.At, "speeds-reversed", "the least speed is above the full speed",
				"at most "+r.show(quantity.RotationalSpeed, p.Speed.SI()), "mend one of them")
		}
		running += count - standby
	}
	if n := r.f.Duty.PumpsInService; n.Set && len(r.f.Pumps) > 0 && int(n.Value) != running {
		r.warn(n.At, "pumps-in-service-unused",
			fmt.Sprintf("%g pumps are said to run together, but the list of pumps has %d for that: the list is used",
				n.Value, running), "", "leave pumps_in_service out, or mend count and standby")
	}
}
