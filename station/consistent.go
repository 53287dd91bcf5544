package station

import (
	"fmt"
	"math"

	"seatward/internal/yamlfile"
	"seatward/pipe"
	"seatward/pump"
	"seatward/quantity"
)

// The limits beyond which facts are taken to be wrong (absurd) or are pointed out
// (odd). None of them changes a number.
const (
	// A velocity head of 7 m in every fitting: nozzles run so, pipes of stations do
	// not. Reading L/s for gpm makes the usual 2 m/s to 32 m/s, so the slip is caught.
	absurdMS = 12.0
	oddMS    = 4.6 // greatest discharge velocity of ANSI/HI 9.6.6 (from memory)
	mainMS   = 3.0 // 10 ft/s: mains are laid out for less (common practice, no source)
	settleMS = 0.6 // 2 ft/s carries the solids of sewage: Ten States sec. 49.1 (from memory)

	offSystem   = 0.25 // of the pump's head: duty points are quoted with a margin
	offEstimate = 2.0  // times the band of the estimated inertia
	offWave     = 1.15 // times the band of the computed wave speed
	endBelowM   = 5.0  // outlets stand under water by less
)

// shutOff tells static heads that no pump can lift against.
func (r *resolver) shutOff() {
	highest := 0.0
	for i := range r.st.Pumps {
		highest = math.Max(highest, r.st.Pumps[i].ShutoffHead.SI)
	}
	at := r.f.Levels.Outlet.At
	if r.f.Duty.StaticHead.Set {
		at = r.f.Duty.StaticHead.At
	}
	low, high := r.show(quantity.Head, r.st.StaticLow.SI), r.show(quantity.Head, r.st.StaticHigh.SI)
	switch {
	case r.st.StaticLow.SI >= highest:
		r.error(at, "static-above-shutoff",
			"the static head "+low+" is not below the shut-off head "+r.show(quantity.Head, highest)+
				": no pump delivers", "less than the shut-off head", "mend the levels or the pump curve")
		return
	case r.st.StaticHigh.SI >= highest:
		r.warn(at, "static-above-shutoff-low",
			"at the low level the static head "+high+
				" is above the shut-off head: no pump delivers there", "", "mend the low level or the pump curve")
	default:
		r.weakPumps(high)
	}
	if r.st.StaticLow.SI <= 0 {
		r.warn(at, "no-static-head", "there is no static head: nothing closes a check valve by back pressure, and the main may siphon", "", "check the levels")
	}
}

// weakPumps tells pumps that do not lift where others do, or not at least speed.
func (r *resolver) weakPumps(static string) {
	for i := range r.st.Pumps {
		p := &r.st.Pumps[i]
		at, least := unwritten("pumps"), yamlfile.At{}
		if p.Index < len(r.f.Pumps) {
			at, least = r.f.Pumps[p.Index].At, r.f.Pumps[p.Index].LeastSpeed.At
		}
		slow := pump.AffinityHead(p.ShutoffHead.SI, p.LeastSpeed.SI/p.Speed.SI)
		switch {
		case p.ShutoffHead.SI <= r.st.StaticHigh.SI:
			r.warn(at, "pump-never-delivers", fmt.Sprintf("the shut-off head of %s, %s, is not above the greatest static head, %s", p.Name, r.show(quantity.Head, p.ShutoffHead.SI), static), "", "check its curve and the levels")
		case slow <= r.st.StaticHigh.SI:
			r.warn(least, "least-speed-no-flow",
				fmt.Sprintf("at its least speed %s lifts %s, not above the greatest static head, %s: the check valve is shut while the pump turns", p.Name, r.show(quantity.Head, slow), static), "", "check least_speed")
		}
	}
}

// greatestFlow tells one that no pump can deliver.
func (r *resolver) greatestFlow() {
	end, f := 0.0, r.st.Flows.Greatest
	for i := range r.st.Pumps {
		p := &r.st.Pumps[i]
		if !p.CurveGiven {
			return
		}
		_, last := p.Performance.Range()
		end = math.Max(end, last)
	}
	if f.Known() && f.SI > end*1.001 {
		r.warn(r.f.Duty.GreatestFlow.At, "greatest-beyond-curve", "the greatest flow is beyond the end of the curve",
			"at most "+r.show(quantity.Flow, end), "mend the greatest flow, or give the curve further")
	}
}

// branchVelocity tells velocities that pump piping does not have.
func (r *resolver) branchVelocity() {
	at := r.f.Duty.Flow.At
	if !at.Set {
		at = r.f.Valve.Size.At
	}
	v := pipe.VelocityMS(r.st.Pumps[0].DutyFlow.SI, r.st.Branch.Runs[0].InnerDiameter.SI)
	r.velocity(at, "branch", v, oddMS)
}

// mainVelocity tells velocities that force mains do not have, of one pump alone.
func (r *resolver) mainVelocity() {
	for i := range r.f.Main.Runs {
		at := r.f.Main.Runs[i].Size.At
		if !at.Set {
			at = r.f.Main.Runs[i].At
		}
		v := pipe.VelocityMS(r.st.Pumps[0].DutyFlow.SI, r.st.Main.Runs[i].InnerDiameter.SI)
		if r.velocity(at, r.st.Main.Runs[i].Name, v, mainMS) {
			return
		}
		if v < settleMS && r.st.Fluid.Sewage() && r.f.Duty.Flow.Set { // else the flow is not known yet
			r.warn(at, "velocity-low", "one pump alone makes "+r.show(quantity.Velocity, v)+" in the "+
				r.st.Main.Runs[i].Name+": solids settle", "at least "+r.show(quantity.Velocity,
				settleMS), "check flow and size")
			return
		}
	}
}

// velocity tells one that is absurd or odd; true when it did.
func (r *resolver) velocity(at yamlfile.At, where string, v, odd float64) bool {
	switch {
	case v > absurdMS:
		r.error(at, "velocity-absurd", "the duty flow gives a velocity of "+r.show(quantity.Velocity, v)+" in the "+
			where, "less than "+r.show(quantity.Velocity, absurdMS), "check the flow's unit and the size")
	case v > odd:
		r.warn(at, "velocity-high", "the duty flow gives a velocity of "+r.show(quantity.Velocity, v)+" in the "+where+
			", more than it is usually made for", "less than "+r.show(quantity.Velocity, odd), "check flow and size")
	}
	return v > odd
}

// sizes tells a valve size that no run of the branch has.
func (r *resolver) sizes() {
	if !r.f.Valve.Size.Set || len(r.f.Branch.Runs) == 0 {
		return
	}
	for i := range r.st.Branch.Runs {
		if r.st.Branch.Runs[i].Size == r.st.Valve.Size {
			return
		}
	}
	r.warn(r.f.Valve.Size.At, "valve-size-differs",
		"the valve's pipe is "+r.st.Valve.Size.String()+", but no run of the branch is; the first is "+
			r.st.Branch.Runs[0].Size.String(), "", "check valve.size, or add the run")
}

// highPoints tells points of the main above its outlet, and an end far below it.
func (r *resolver) highPoints() {
	points := r.st.Main.Profile
	if !r.st.WetWellHigh.Known() || len(points) == 0 {
		return
	}
	for i, p := range points {
		if r.st.AboveDatum(p.ElevationM) > r.st.OutletHeadM()+0.01 {
			r.warn(r.f.Main.Profile[i].At, "high-point",
				"this point of the profile is above the outlet: the main runs partly open beyond it, and the water column can part there after a stop", "", "check air valves there, and the profile")
			return
		}
	}
	last := len(points) - 1
	if r.f.Levels.Outlet.Set && !r.f.Levels.OutletPressure.Set &&
		points[last].ElevationM < r.f.Levels.Outlet.SI()-endBelowM {
		r.warn(r.f.Main.Profile[last].At, "profile-end",
			"the profile ends "+r.show(quantity.Length, r.f.Levels.Outlet.SI()-points[last].ElevationM)+
				" below the level of the outlet", "", "check the last point and levels.outlet")
	}
}

// dutyInSystem tells a duty point at which the given system asks for another head.
func (r *resolver) dutyInSystem() {
	flow, lead := r.st.Flows.Normal, &r.st.Pumps[0]
	if len(r.f.Main.Runs) == 0 || !flow.Known() || !lead.CurveGiven && !r.f.Duty.Head.Set {
		return // one of the two was estimated from the other
	}
	loss := r.pipeLoss(flow)
	least, most := r.st.StaticLow.SI+loss.Low, r.st.StaticHigh.SI+loss.High
	if loss.Known() && (lead.DutyHead.SI < least*(1-offSystem) || lead.DutyHead.SI > most*(1+offSystem)) {
		asked := (r.st.StaticLow.SI+r.st.StaticHigh.SI)/2 + loss.SI
		r.warn(r.f.Duty.Flow.At, "duty-off-system",
			fmt.Sprintf("at the duty flow %s gives %s, but levels and pipes ask for %s: the flow will be another",
				lead.Name, r.show(quantity.Head, lead.DutyHead.SI), r.show(quantity.Head, asked)),
			"within a quarter of each other", "check duty, curve, levels and lengths")
	}
}
