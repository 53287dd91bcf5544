package station

import (
	"math"

	"seatward/basis"
	"seatward/pipe"
	"seatward/quantity"
)

// end says at which end of its range each value of a run is taken.
type end int

const (
	kind    end = iota - 1 // least loss
	best                   // best values
	adverse                // greatest loss
)

// of picks a value that raises the loss as it rises; inverse is for one that lowers it.
func (e end) of(v basis.Value) float64      { return [...]float64{v.Low, v.SI, v.High}[e+1] }
func (e end) inverse(v basis.Value) float64 { return (-e).of(v) }

// lossM is what the run loses at the flow, in m of the liquid; NaN where no formula
// holds.
func (r *resolver) lossM(run *Run, flowM3S float64, e end) float64 {
	diameter := e.inverse(run.InnerDiameter)
	p := pipe.Run{
		LengthM: e.of(run.Length), DiameterM: diameter, RoughnessM: e.of(run.Roughness), K: e.of(run.Loss),
		Multiplier: r.st.Fluid.FrictionFactor.SI,
	}
	loss, err := p.Loss(flowM3S, r.st.Fluid.Density.SI, r.st.Fluid.Viscosity.SI)
	if err != nil {
		return math.NaN()
	}
	if !run.HazenWilliams.Known() {
		return loss.TotalM()
	}
	friction, err := pipe.HazenWilliamsLossM(flowM3S, e.inverse(run.HazenWilliams), diameter, p.LengthM)
	if err != nil {
		return math.NaN()
	}
	return friction*p.Multiplier + loss.FittingsM
}

// pipeLoss is what branch and main lose at the flow of one pump running alone,
// without the check valve, as a value; unknown where no formula holds.
func (r *resolver) pipeLoss(flow basis.Value) basis.Value {
	var sum [3]float64
	in := []basis.Value{flow}
	for _, line := range []*Line{&r.st.Branch, &r.st.Main} {
		for i := range line.Runs {
			run := &line.Runs[i]
			for k := range sum {
				sum[k] += r.lossM(run, flow.SI, end(k)-1)
			}
			in = append(in, run.InnerDiameter, run.Length, run.Roughness, run.Loss)
			if run.HazenWilliams.Known() {
				in = append(in, run.HazenWilliams)
			}
		}
	}
	if math.IsNaN(sum[0] + sum[1] + sum[2]) {
		return basis.Value{}
	}
	const how = "friction and fittings of branch and main run by run, without the check valve"
	return basis.NewSimulated("head lost in the pipes at duty", quantity.Head, sum[1], how, in...).WithRange(sum[0],
		sum[2])
}
