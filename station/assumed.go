package station

import (
	"fmt"
	"math"

	"seatward/basis"
	"seatward/internal/yamlfile"
	"seatward/pipe"
	"seatward/quantity"
)

// assumedBranch is the usual pipework of one pump: from its discharge flange up to
// the header, with bends and an isolation valve; less of it where the duty point leaves
// less head than that loses.
func (r *resolver) assumedBranch() Run {
	out := r.assumedRun("branch", r.st.Valve.Size)
	length, loss := defaults.branchLength, defaults.branchLoss
	out.Length, out.Loss = r.assume(length), r.assume(loss)
	left, flow, known := r.headToLose()
	if !known || !out.InnerDiameter.Known() {
		return out
	}
	share := branchShare * left / r.lossM(&out, flow, best)
	if !(share > 0 && share < 1) {
		return out
	}
	why := fmt.Sprintf("; less of it here, because the duty point leaves %s for all pipes", r.show(quantity.Head, left))
	length.reason, loss.reason = length.reason+why, loss.reason+why
	out.Length, out.Loss = r.assumeTimes(share, length), r.assumeTimes(share, loss)
	return out
}

// headToLose is what the duty point of a first call leaves for all pipes at the middle
// level, m, and its flow, m³/s; false where the duty point or the lift is not known, or
// follows from the pipes.
func (r *resolver) headToLose() (headM, flowM3S float64, known bool) {
	flow, d := r.st.Flows.Normal, &r.f.Duty
	if len(r.f.Pumps) > 0 && len(r.f.Pumps[0].Curve) > 0 || len(r.f.Main.Runs) > 0 || !flow.Known() ||
		!r.st.StaticLow.Known() {
		return 0, 0, false
	}
	head := d.Head.SI()
	if !d.Head.Set {
		head = r.st.StaticHigh.SI / r.assume(defaults.staticShare).SI
	}
	return head - r.middleStaticM(), flow.SI, true
}

func (r *resolver) middleStaticM() float64 { return (r.st.StaticLow.SI + r.st.StaticHigh.SI) / 2 }

// assumedRun is a run of usual pipe of a size.
func (r *resolver) assumedRun(name string, size quantity.Size) Run {
	in := RunFile{At: r.f.Valve.Size.At, Size: yamlfile.Size{Size: size, At: r.f.Valve.Size.At}}
	out := Run{Name: name, Size: size, Material: usualMaterial(size, r.st.Units)}
	if r.wall(name, &in, &out) {
		r.surface(name, &in, &out)
		r.wave(name, &in, &out)
	}
	return out
}

// assumedMain is the main of a first call: of the size that keeps the velocity usual and
// the loss below what the pump's head allows, and as long as that head allows.
func (r *resolver) assumedMain() Run {
	lead := &r.st.Pumps[0]
	flow := lead.DutyFlow.SI // of one pump alone, as the duty point is defined
	left := lead.DutyHead.SI - r.middleStaticM()
	for i := range r.st.Branch.Runs {
		left -= r.lossM(&r.st.Branch.Runs[i], flow, best)
	}
	size, rise := r.st.Valve.Size, r.riseM()
	least := math.Max(leastMainM, rise)
	for _, s := range quantity.Sizes() {
		material := usualMaterial(s, r.st.Units)
		if _, err := pipe.Lookup(material, defaultClass(material, s, r.st.Units), s); err != nil ||
			s.DN < r.st.Valve.Size.DN || flow/pipe.AreaM2(s.NominalM()) > mainSpeedMS {
			continue
		}
		size = s
		if left <= 0 || r.trialLossM(flow, s, least) <= left { // with nothing left, no size helps
			break
		}
	}
	out := r.assumedRun("main", size)
	out.Loss = r.assume(defaults.mainLoss)
	if out.InnerDiameter.Known() {
		out.Length = r.fix(r.assumedLength(out, flow, left, rise))
	}
	return out
}

// trialLossM is what an assumed main of the size and length would lose, m.
func (r *resolver) trialLossM(flow float64, size quantity.Size, lengthM float64) float64 {
	before := len(r.list)
	run := r.assumedRun("main", size)
	r.list = r.list[:before] // what a trial tells is of no station
	run.Length, run.Loss = basis.NewGiven("", quantity.Length, lengthM, ""), r.assume(defaults.mainLoss)
	return r.lossM(&run, flow, best)
}

// riseM is the height from the suction up to the outlet, m: no main is shorter.
func (r *resolver) riseM() float64 {
	out, in := r.pressures()
	return r.st.StaticHigh.SI - r.st.headOf(out) + r.st.headOf(in)
}

// assumedLength is the length at which the main loses, at duty, what the pump's head
// leaves of the static head and the branch. The size being assumed too, it may be far
// off: a size up or down changes it by some three times.
func (r *resolver) assumedLength(run Run, flow, leftM, riseM float64) basis.Value {
	friction := leftM - pipe.FittingLossM(run.Loss.SI, pipe.VelocityMS(flow, run.InnerDiameter.SI))
	run.Length, run.Loss = basis.NewGiven("", quantity.Length, 1, ""), basis.Value{}
	length := math.Max(friction/r.lossM(&run, flow, best), math.Max(leastMainM, riseM))
	reason := fmt.Sprintf("not given: a main of %s that loses %s at duty, the head above the static head; the size is assumed too", run.Size, r.show(quantity.Head, math.Max(friction, 0)))
	return basis.NewAssumed("length of the main", quantity.Length, length,
		math.Max(length/mainLengthSpan,
			math.Max(leastMainM/2, riseM)), length*mainLengthSpan, reason, basis.DerivedHere)
}
