package station

import (
	"fmt"

	"seatward/basis"
	"seatward/pipe"
	"seatward/quantity"
)

// What is taken while only one or two numbers of a station are known. All of it is
// practice, with wide ranges: it makes an answer that says what to ask next.
const (
	usualPumps   = 2   // one duty, one more: the least that a station for sewage has
	dischargeMS  = 2.4 // 8 ft/s: discharge pipe is sized for less (common practice, no source)
	sewageDN     = 100 // least force main for raw sewage: Ten States sec. 49.2 (from memory)
	usualDN      = 150 // where not even a flow is known
	rareDN       = 125 // 5 in: in the tables, hardly in stations
	curveDuty    = 0.6 // of the last flow of a curve, as usualFlow takes it
	firstFewKeys = "duty.flow, duty.head, duty.static_head, valve.size, a run of pipe or a pump"
)

// anyNumber tells a file that holds nothing from which a station could be estimated.
func (r *resolver) anyNumber() {
	f := r.f
	if f.Duty.Flow.Set || f.Duty.Head.Set || f.Duty.StaticHead.Set || f.Duty.PumpsInService.Set || f.Valve.Size.Set ||
		len(f.Pumps) > 0 || len(f.Branch.Runs) > 0 || len(f.Main.Runs) > 0 || f.Levels.Outlet.Set ||
		f.Levels.OutletPressure.Set {
		return
	}
	r.error(f.Station.At, "station-empty", "no number of the station is known yet", "one of "+firstFewKeys,
		"give one number: the rest is estimated")
}

// noCurve is true where no pump of the file has a curve.
func (r *resolver) noCurve() bool {
	for i := range r.f.Pumps {
		if len(r.f.Pumps[i].Curve) > 0 {
			return false
		}
	}
	return true
}

// sizingFlow is the flow of one pump as far as the file shows it, m³/s; 0 where it does not.
func (r *resolver) sizingFlow() float64 {
	if r.f.Duty.Flow.Set {
		return r.f.Duty.Flow.SI()
	}
	return curveDuty * r.longestCurve()
}

// usualSize assumes the size of the pipe at the valve: the least that carries the flow at
// a usual velocity, and not less than sewage asks for where the flow fills it.
func (r *resolver) usualSize() quantity.Size {
	flow := r.sizingFlow()
	var out quantity.Size
	for _, s := range quantity.Sizes() {
		material := usualMaterial(s, r.st.Units)
		if _, err := pipe.Lookup(material, defaultClass(material, s, r.st.Units), s); err != nil ||
			s.DN == rareDN {
			continue
		}
		out = s
		if flow == 0 && s.DN >= usualDN || flow > 0 && r.carries(s, flow) {
			break
		}
	}
	why := "usual in stations; not even a flow is known"
	if flow > 0 {
		why = fmt.Sprintf("the least size in which %s runs at %s or less", r.show(quantity.Flow, flow),
			r.show(quantity.Velocity, dischargeMS))
	}
	r.warn(unwritten("valve.size"), "word-assumed",
		"not said of what size the pipe at the valve is: "+out.Format(r.st.Units)+" is assumed, "+why, "",
		"say valve: size")
	return out
}

// carries is true where the pipe is large enough for the flow and for what is pumped.
func (r *resolver) carries(s quantity.Size, flow float64) bool {
	if flow/pipe.AreaM2(s.NominalM()) > dischargeMS {
		return false
	}
	fills := flow/pipe.AreaM2(sewageDN/1000.0) >= settleMS // else it comes from a grinder pump
	return s.DN >= sewageDN || !fills || !r.sewageSaid()
}

// sewageSaid is true for what carries solids, or where nothing is said of the liquid.
func (r *resolver) sewageSaid() bool {
	kind := r.f.Fluid.Kind
	return !kind.Set || kind.Text == "raw sewage" || kind.Text == "sludge"
}

// usualNormalFlow assumes the flow of one pump from the size of the pipe.
func (r *resolver) usualNormalFlow() basis.Value {
	d := defaults.velocity
	d.reason = fmt.Sprintf("not given: %s in the pipe at the valve, a usual velocity; %s to %s are the range",
		r.show(quantity.Velocity, d.best), r.show(quantity.Velocity, d.low), r.show(quantity.Velocity, d.high))
	return r.assumeTimes(pipe.AreaM2(r.st.Valve.Size.NominalM()), d)
}
