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
	out.Length = basis.NewAssumed("length of the branch", quantity.Length, 6, 3, 15, "pipework is not given: from the pump's discharge to the header", basis.CommonPractice)
	out.Loss = basis.NewAssumed("sum of local losses of the branch", quantity.Number, 1.5, 0.8, 3, "pipework is not given: discharge bend, elbow, isolation valve, tee", basis.CommonPractice)
	return out
}

// assumedRun is a run of usual pipe of a size.
func (r *resolver) assumedRun(name string, size quantity.Size) Run {
	in := RunFile{Size: yamlfile.Size{Size: size, At: yamlfile.At{Set: true, Path: name}}, Material: yamlfile.Word{Text: "ductile iron", At: yamlfile.At{Set: true}}}
	out := Run{Name: name, Size: size}
	r.wall(name, &in, &out)
	if r.list.Err() != nil {
		// Ductile iron starts at 3 in; below it plants are of steel.
		r.list = r.list[:0]
		in.Material.Text = "steel"
		r.wall(name, &in, &out)
	}
	r.surface(name, &in, &out)
	r.wave(name, &in, &out)
	return out
}

// mainSpeedMS is the velocity below which an assumed main is kept.
const mainSpeedMS = 2.0

// assumedMain is the main of a first call: of the size that keeps the velocity usual,
// and as long as the head lost at duty allows.
func (r *resolver) assumedMain() Run {
	lead := &r.st.Pumps[0]
	flow := lead.DutyFlow.SI // of one pump alone, as the duty point is defined
	size := r.st.Valve.Size
	for _, s := range quantity.Sizes() {
		if s.DN >= size.DN && flow/pipe.AreaM2(s.NominalM()) <= mainSpeedMS {
			if _, err := pipe.Lookup("ductile iron", defaultClass("ductile iron", s, r.st.Units), s); err == nil {
				size = s
				break
			}
		}
	}
	out := r.assumedRun("main", size)
	out.Loss = basis.NewAssumed("sum of local losses of the main", quantity.Number, 3, 1, 10, "pipework is not given: bends and the outlet", basis.CommonPractice)
	out.Length = r.assumedLength(&out, lead, flow)
	return out
}

// leastMainM is the shortest main that is assumed.
const leastMainM = 20.0

// assumedLength is the length at which the main loses, at duty, what the pump's head
// has above the static head. The size being assumed too, it may be far off.
func (r *resolver) assumedLength(run *Run, lead *Pump, flowM3S float64) basis.Value {
	const name = "length of the main"
	lossM := lead.DutyHead.SI - (r.st.StaticLow.SI+r.st.StaticHigh.SI)/2
	perMeter := r.lossPerMeter(run, flowM3S)
	local := pipe.FittingLossM(run.Loss.SI, pipe.VelocityMS(flowM3S, run.InnerDiameter.SI)) + r.branchLoss(lead.DutyFlow.SI)
	best := leastMainM
	if perMeter > 0 {
		best = math.Max((lossM-local)/perMeter, leastMainM)
	}
	reason := fmt.Sprintf("not given: a main of %s that loses %s at duty, the head above the static head; the size is assumed too", run.Size, r.show(quantity.Head, math.Max(lossM-local, 0)))
	return basis.NewAssumed(name, quantity.Length, best, math.Max(best/3, leastMainM/2), best*3, reason, basis.DerivedHere)
}

func (r *resolver) lossPerMeter(run *Run, flowM3S float64) float64 {
	p := pipe.Run{LengthM: 1, DiameterM: run.InnerDiameter.SI, RoughnessM: run.Roughness.SI, Multiplier: r.st.Fluid.FrictionFactor.SI}
	loss, err := p.Loss(flowM3S, r.st.Fluid.Density.SI, r.st.Fluid.Viscosity.SI)
	if err != nil {
		return 0
	}
	return loss.TotalM()
}

// branchLoss is what one branch loses at the flow, without the check valve.
func (r *resolver) branchLoss(flowM3S float64) float64 {
	var sum float64
	for i := range r.st.Branch.Runs {
		b := &r.st.Branch.Runs[i]
		p := pipe.Run{LengthM: b.Length.SI, DiameterM: b.InnerDiameter.SI, RoughnessM: b.Roughness.SI, K: b.Loss.SI, Multiplier: r.st.Fluid.FrictionFactor.SI}
		if loss, err := p.Loss(flowM3S, r.st.Fluid.Density.SI, r.st.Fluid.Viscosity.SI); err == nil {
			sum += loss.TotalM()
		}
	}
	return sum
}
