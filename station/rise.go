package station

import (
	"fmt"
	"math"

	"seatward/quantity"
)

const (
	suctionLiftM = 7.5 // a pump stands above its wet well by less: air and vapor pressure allow no more
	riseSlackM   = 0.5 // levels and lengths are given to about that
	riserM       = 5.0 // a chainage along the ground leaves out a riser or a drop of a few meters
)

// rises tells pipes that are shorter than the height between their ends. The water at
// the outlet may stand above the pipe's end, and the pump above its well, so that much is
// allowed.
func (r *resolver) rises() {
	l := &r.f.Levels
	length := r.most(r.st.Main)
	if len(r.f.Main.Runs) == 0 || length == 0 {
		return
	}
	start, from := r.st.WellLowM()+suctionLiftM, "the wet well"
	if l.ValveAxis.Set && r.st.WetWellHigh.Known() {
		start, from = r.st.ValveAboveDatum(), "the valve"
	} else {
		start -= r.st.headOf(r.st.SuctionPressure)
		length += r.most(r.st.Branch)
	}
	rise := r.st.OutletAboveDatum() - endBelowM - start
	if !l.Outlet.Set && !r.f.Duty.StaticHead.Set || rise <= length+riseSlackM {
		return
	}
	at := r.f.Main.Runs[0].At
	if q := r.f.Main.Runs[0].Length; q.Set {
		at = q.At
	}
	r.warn(at, "main-below-rise", fmt.Sprintf("the pipe is %s long, but from %s to the outlet it rises %s",
		r.show(quantity.Length, length), from, r.show(quantity.Length, rise+endBelowM)),
		"at least "+r.show(quantity.Length, rise)+" of pipe", "mend the runs' lengths or the levels")
}

// most is the greatest length of a line, m.
func (r *resolver) most(line Line) (sum float64) {
	for i := range line.Runs {
		sum += line.Runs[i].Length.High
	}
	return sum
}

// climbs tells profiles that climb and fall by more than the pipe is long.
func (r *resolver) climbs() {
	points := r.st.Main.Profile
	for i := 1; i < len(points); i++ {
		dz, dx := math.Abs(points[i].ElevationM-points[i-1].ElevationM), points[i].ChainageM-points[i-1].ChainageM
		if dz > dx+riserM {
			r.error(r.f.Main.Profile[i].At, "profile-above-length",
				fmt.Sprintf("from the point before, the pipe rises or falls %s on a length of %s",
					r.show(quantity.Length, dz), r.show(quantity.Length, dx)),
				"a difference of elevation below that of chainage, which counts along the pipe", "mend chainage or elevation")
			return
		}
	}
}

// valveHeight tells valves where no water of the station stands, or that are further from
// the main than their branch is long.
func (r *resolver) valveHeight() {
	at := r.f.Levels.ValveAxis
	if !at.Set || !r.st.WetWellHigh.Known() {
		return
	}
	highest := 0.0
	for i := range r.st.Pumps {
		highest = math.Max(highest, r.st.Pumps[i].ShutoffHead.High)
	}
	valve := r.st.ValveAboveDatum()
	switch top := r.st.OutletHeadM(); {
	case valve > highest:
		r.error(at.At, "valve-above-shutoff",
			"the valve is "+r.show(quantity.Length, valve)+
				" above the head line at the suction, and no pump lifts above "+r.show(quantity.Head, highest)+
				": no water reaches it",
			"below "+r.show(quantity.Length, at.SI()-valve+highest), "mend levels.valve")
		return
	case valve > top && valve > 0:
		r.warn(at.At, "valve-above-outlet",
			"the valve is "+r.show(quantity.Length, valve-top)+
				" above the head at the outlet: the main stands empty behind it after a stop", "below the outlet", "check levels.valve and the outlet")
		return
	}
	if len(r.st.Main.Profile) == 0 || len(r.f.Branch.Runs) == 0 {
		return
	}
	start := r.st.Main.Profile[0].ElevationM
	if off, reach := math.Abs(start-at.SI()), r.most(r.st.Branch); off > reach+riseSlackM {
		r.warn(at.At, "valve-off-main",
			"the valve is "+r.show(quantity.Length, off)+" above or below the start of the main, and its branch is "+
				r.show(quantity.Length, reach)+" long",
			"within the length of the branch", "check levels.valve, the profile and the branch")
	}
}
