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
// the header, with bends and an isolation valve.
func (r *resolver) assumedBranch() Run {
	out := r.assumedRun("branch", r.st.Valve.Size)
	out.Length, out.Loss = r.assume(defaults.branchLength), r.assume(defaults.branchLoss)
	return out
}

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

// assumedMain is the main of a first call: of the size that keeps the velocity usual,
// and as long as the head lost at duty allows.
func (r *resolver) assumedMain() Run {
	lead := &r.st.Pumps[0]
	flow := lead.DutyFlow.SI // of one pump alone, as the duty point is defined
	size := r.st.Valve.Size
	for _, s := range quantity.Sizes() {
		material := usualMaterial(s, r.st.Units)
		if _, err := pipe.Lookup(material, defaultClass(material, s, r.st.Units), s); err == nil && s.DN >= size.DN && flow/pipe.AreaM2(s.NominalM()) <= mainSpeedMS {
			size = s
			break
		}
	}
	out := r.assumedRun("main", size)
	out.Loss = r.assume(defaults.mainLoss)
	if out.InnerDiameter.Known() {
		out.Length = r.fix(r.assumedLength(out, lead))
	}
	return out
}

// assumedLength is the length at which the main loses, at duty, what the pump's head
// has above the static head. The size being assumed too, it may be far off: a size
// up or down changes it by some three times.
func (r *resolver) assumedLength(run Run, lead *Pump) basis.Value {
	lossM := lead.DutyHead.SI - (r.st.StaticLow.SI+r.st.StaticHigh.SI)/2
	flow := lead.DutyFlow.SI
	for i := range r.st.Branch.Runs {
		lossM -= r.lossM(&r.st.Branch.Runs[i], flow, best)
	}
	lossM -= pipe.FittingLossM(run.Loss.SI, pipe.VelocityMS(flow, run.InnerDiameter.SI))
	run.Length, run.Loss = basis.NewGiven("", quantity.Length, 1, ""), basis.Value{}
	length := math.Max(lossM/r.lossM(&run, flow, best), leastMainM)
	reason := fmt.Sprintf("not given: a main of %s that loses %s at duty, the head above the static head; the size is assumed too", run.Size, r.show(quantity.Head, math.Max(lossM, 0)))
	return basis.NewAssumed("length of the main", quantity.Length, length, math.Max(length/mainLengthSpan, leastMainM/2), length*mainLengthSpan, reason, basis.DerivedHere)
}
