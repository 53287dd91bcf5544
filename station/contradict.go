package station

import (
	"fmt"
	"math"

	"seatward/fluid"
	"seatward/pipe"
	"seatward/quantity"
)

// contradictions tells what cannot be as it is written, before anything is computed.
// It looks only at what is there, so it can be told together with reading faults.
func (r *resolver) contradictions() {
	for _, check := range []func(){r.levelOrder, r.staticTwice, r.flowOrder, r.dutyHead, r.walls, r.profile, r.boiling, r.drinking} {
		check()
	}
}

func (r *resolver) levelOrder() {
	l := &r.f.Levels
	if l.WetWellHigh.Set && l.WetWellLow.Set && l.WetWellLow.SI() > l.WetWellHigh.SI() {
		r.error(l.WetWellLow.At, "levels-reversed", "the low level is above the high level", "at most "+r.show(quantity.Length, l.WetWellHigh.SI()), "swap or mend the two levels")
	}
	for _, level := range []struct {
		name string
		q    float64
		set  bool
	}{{"high", l.WetWellHigh.SI(), l.WetWellHigh.Set}, {"low", l.WetWellLow.SI(), l.WetWellLow.Set}} {
		if level.set && l.Outlet.Set && !l.OutletPressure.Set && l.Outlet.SI() < level.q {
			r.error(l.Outlet.At, "outlet-below-well", "the outlet is below the "+level.name+" level: the water runs there by itself, and a check valve cannot stop it", "at least "+r.show(quantity.Length, level.q), "mend the elevations")
			return
		}
	}
}

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
		if level.set && (h < d.StaticHead.Low.SI-0.5 || h > d.StaticHead.High.SI+0.5) && math.Abs(h-d.StaticHead.SI()) > 0.05*math.Abs(h) {
			r.error(d.StaticHead.At, "static-twice", "the static head and the levels disagree: the levels give "+r.show(quantity.Head, h), "one of the two, or both alike", "leave static_head out, or mend the levels")
			return
		}
	}
}

func (r *resolver) flowOrder() {
	d := &r.f.Duty
	if d.LeastFlow.Set && d.GreatestFlow.Set && d.LeastFlow.SI() > d.GreatestFlow.SI() {
		r.error(d.LeastFlow.At, "flows-reversed", "the least flow is above the greatest flow", "at most "+r.show(quantity.Flow, d.GreatestFlow.SI()), "swap or mend the two flows")
	}
	if d.Flow.Set && d.LeastFlow.Set && d.LeastFlow.SI() > d.Flow.SI() {
		r.error(d.LeastFlow.At, "flows-reversed", "the least flow is above the normal flow", "at most "+r.show(quantity.Flow, d.Flow.SI()), "mend one of them")
	}
	if d.Flow.Set && d.GreatestFlow.Set && d.GreatestFlow.SI() < d.Flow.SI() {
		r.error(d.GreatestFlow.At, "flows-reversed", "the greatest flow is below the normal flow", "at least "+r.show(quantity.Flow, d.Flow.SI()), "mend one of them")
	}
}

func (r *resolver) dutyHead() {
	d := &r.f.Duty
	if d.Head.Set && d.StaticHead.Set && d.StaticHead.SI() >= d.Head.SI() {
		r.error(d.StaticHead.At, "static-above-head", "the static head is not below the pump's head at duty: nothing would flow", "less than "+r.show(quantity.Head, d.Head.SI()), "mend one of them")
	}
	if d.Head.Set && d.ShutoffHead.Set && d.ShutoffHead.SI() <= d.Head.SI() {
		r.error(d.ShutoffHead.At, "shutoff-below-head", "the shut-off head is not above the head at duty", "more than "+r.show(quantity.Head, d.Head.SI()), "mend one of them")
	}
}

func (r *resolver) walls() {
	for _, line := range []*LineFile{&r.f.Branch, &r.f.Main} {
		for i := range line.Runs {
			run := &line.Runs[i]
			if run.Wall.Set && run.InnerDiameter.Set && run.Wall.SI() > run.InnerDiameter.SI()/2 {
				r.error(run.Wall.At, "wall-too-thick", "the wall is thicker than the pipe's inner radius", "less than "+r.show(quantity.Diameter, run.InnerDiameter.SI()/2), "mend wall or inner_diameter")
			}
		}
	}
}

func (r *resolver) profile() {
	points := r.f.Main.Profile
	for i := 1; i < len(points); i++ {
		if points[i].Set && points[i-1].Set && points[i].Items[0].SI() <= points[i-1].Items[0].SI() {
			r.error(points[i].At, "profile-order", "the chainage does not rise from the point before", "more than "+r.show(quantity.Length, points[i-1].Items[0].SI()), "order the points in the direction of flow")
			return
		}
	}
	if len(points) == 0 {
		return
	}
	var total float64
	for i := range r.f.Main.Runs {
		total += r.f.Main.Runs[i].Length.SI()
	}
	last := points[len(points)-1]
	if end := last.Items[0].SI(); total > 0 && math.Abs(end-total) > 0.02*total {
		r.error(last.At, "profile-length", "the profile ends at "+r.show(quantity.Length, end)+" but the runs are "+r.show(quantity.Length, total)+" long", "the same length to 2 %", "mend the profile or the runs' lengths")
	}
	if !r.f.Levels.WetWellHigh.Set && !r.f.Levels.WetWellLow.Set {
		r.error(points[0].At, "profile-without-levels", "the profile has elevations, but the wet well has none", "levels: wet_well_high and wet_well_low above the same datum", "add levels")
	}
}

func (r *resolver) boiling() {
	t := r.f.Fluid.MaxTemperature
	if !t.Set {
		t = r.f.Fluid.Temperature
	}
	elevation := r.f.Site.Elevation.SI()
	if !t.Set {
		return
	}
	air, err := fluid.AtmospherePa(elevation)
	if err != nil {
		return
	}
	if boils, err := fluid.BoilingPointK(air); err == nil && t.High.SI >= boils {
		r.error(t.At, "boils", "water boils below this temperature at the site's air pressure", "less than "+r.show(quantity.Temperature, boils), "mend the temperature")
	}
}

func (r *resolver) drinking() {
	in := &r.f.Fluid
	if in.Kind.Text != "drinking water" {
		return
	}
	for _, w := range []struct {
		name string
		at   bool
		text string
	}{{"rags", in.Rags.Set, in.Rags.Text}, {"hydrogen_sulfide", in.HydrogenSulfide.Set, in.HydrogenSulfide.Text}, {"oil", in.Oil.Set, in.Oil.Text}} {
		if w.at && w.text != "none" {
			r.error(in.Kind.At, "not-drinking", fmt.Sprintf("drinking water with %s: %s", w.name, w.text), "none", "mend fluid.kind or "+w.name)
			return
		}
	}
}

// consistent tells what the resolved station shows to be impossible or odd.
func (r *resolver) consistent() {
	r.shutOff()
	r.dutyOnCurve()
	r.velocities()
	r.sizes()
	r.highPoints()
}

func (r *resolver) shutOff() {
	best := 0.0
	for _, p := range r.st.Pumps {
		best = math.Max(best, p.ShutoffHead.SI)
	}
	at := r.f.Levels.Outlet.At
	if r.f.Duty.StaticHead.Set {
		at = r.f.Duty.StaticHead.At
	}
	switch {
	case r.st.StaticLow.SI >= best:
		r.error(at, "static-above-shutoff", "the static head "+r.show(quantity.Head, r.st.StaticLow.SI)+" is not below the shut-off head "+r.show(quantity.Head, best)+": no pump delivers", "less than the shut-off head", "mend the levels or the pump curve")
	case r.st.StaticHigh.SI >= best:
		r.warn(at, "static-above-shutoff-low", "at the low level the static head "+r.show(quantity.Head, r.st.StaticHigh.SI)+" is above the shut-off head: no pump delivers there", "", "mend the low level or the pump curve")
	}
	if r.st.StaticLow.SI <= 0 {
		r.warn(at, "no-static-head", "there is no static head: nothing closes a check valve by back pressure, and the main may siphon", "", "check the levels")
	}
}

func (r *resolver) dutyOnCurve() {
	for i := range r.st.Pumps {
		p := &r.st.Pumps[i]
		_, last := p.Performance.Range()
		if r.st.Flows.Normal.Known() && p.CurveGiven && r.st.Flows.Normal.SI > last*1.001 {
			r.error(r.f.Duty.Flow.At, "duty-beyond-curve", "the duty flow is beyond the end of the curve of "+p.Name, "at most "+r.show(quantity.Flow, last), "mend the duty flow, or give the curve further")
			return
		}
	}
}

// Velocities beyond which a file is taken to be wrong, and odd.
const (
	absurdMS = 15.0
	oddMS    = 4.6 // greatest discharge velocity of ANSI/HI 9.6.6 (from memory)
)

func (r *resolver) velocities() {
	lead := &r.st.Pumps[0]
	v := pipe.VelocityMS(lead.DutyFlow.SI, r.st.Branch.Runs[0].InnerDiameter.SI)
	at := r.f.Duty.Flow.At
	if !at.Set {
		at = r.f.Valve.Size.At
	}
	switch {
	case v > absurdMS:
		r.error(at, "velocity-absurd", "the duty flow gives a velocity of "+r.show(quantity.Velocity, v)+" in the branch", "less than "+r.show(quantity.Velocity, absurdMS), "check the flow's unit and the size")
	case v > oddMS:
		r.warn(at, "velocity-high", "the duty flow gives a velocity of "+r.show(quantity.Velocity, v)+" in the branch, more than pump piping is made for", "less than "+r.show(quantity.Velocity, oddMS), "check flow and size")
	}
}

func (r *resolver) sizes() {
	first := r.st.Branch.Runs[0].Size
	if r.f.Valve.Size.Set && len(r.f.Branch.Runs) > 0 {
		for _, run := range r.st.Branch.Runs {
			if run.Size == r.st.Valve.Size {
				return
			}
		}
		r.warn(r.f.Valve.Size.At, "valve-size-differs", "the valve's pipe is "+r.st.Valve.Size.String()+", but no run of the branch is; the first is "+first.String(), "", "check valve.size, or add the run")
	}
}

func (r *resolver) highPoints() {
	if !r.st.WetWellHigh.Known() {
		return
	}
	outlet := r.st.WetWellHigh.SI + r.st.StaticLow.SI
	for i, p := range r.st.Main.Profile {
		if p.ElevationM > outlet+0.01 {
			r.warn(r.f.Main.Profile[i].At, "high-point", "this point of the profile is above the outlet: the main runs partly open beyond it, and the water column can part there after a stop", "", "check air valves there, and the profile")
			return
		}
	}
}
