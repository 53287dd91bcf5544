package plant

import (
	"math"

	"seatward/pipe"
	"seatward/quantity"
	"seatward/station"
	"seatward/steady"
	"seatward/valve"
)

// run is the loss of one pipe run, as the steady solver meets it.
type run struct {
	pipe.Run
	hazenC             float64 // 0 for Darcy-Weisbach
	densityKgM3, visco float64
}

// elements turns a line into the solver's elements.
func elements(line station.Line, fluid station.Fluid) []steady.Element {
	out := make([]steady.Element, 0, len(line.Runs))
	for _, r := range line.Runs {
		e := run{
			Run: pipe.Run{
				LengthM: r.Length.SI, DiameterM: r.InnerDiameter.SI, RoughnessM: r.Roughness.SI,
				K: r.Loss.SI, Multiplier: fluid.FrictionFactor.SI,
			},
			densityKgM3: fluid.Density.SI, visco: fluid.Viscosity.SI,
		}
		if r.HazenWilliams.Known() {
			e.hazenC = r.HazenWilliams.SI
		}
		out = append(out, e)
	}
	return out
}

// Settle is the head lost in the run at the flow, with the flow's sign.
func (r run) Settle(flowM3S float64) float64 {
	v := flowM3S / pipe.AreaM2(r.DiameterM)
	fittings := pipe.FittingLossM(r.K, v)
	if r.hazenC > 0 {
		if h, err := pipe.HazenWilliamsLossM(flowM3S, r.hazenC, r.DiameterM, r.LengthM); err == nil {
			return r.Multiplier*h + fittings
		}
	}
	if loss, err := r.Loss(flowM3S, r.densityKgM3, r.visco); err == nil {
		return loss.TotalM()
	}
	// Only a flow that the solver tries on its way leaves the range of the friction
	// factor (a Reynolds number above 1e8); there flow is wholly rough.
	f, _ := pipe.RoughPipeFactor(math.Max(r.RoughnessM/r.DiameterM, 1e-6))
	return r.Multiplier*pipe.DarcyLossM(f, r.LengthM, r.DiameterM, v) + fittings
}

// check is the valve at the opening that its flow gives it, with reducers where it is not of
// the pipe's size. A nil mechanism is an ideal valve that loses nothing.
type check struct {
	mechanism *valve.Mechanism
	reducers  float64 // k of k Q|Q|
}

// reducersFrom is the ratio of bores from which reducers stand before and behind the valve;
// less is the difference between a nominal bore and that of the pipe.
const reducersFrom = 1.08

// reducers is the loss of the reducers beside the valve, k of k Q|Q|: those of a valve
// smaller than its pipe, and a diffuser and a contraction round a larger one.
func (p *Plant) reducers(m *valve.Mechanism) float64 {
	if m == nil {
		return 0
	}
	own, branch := math.Sqrt(4/math.Pi*m.AreaM2()), p.st.Branch.Runs[0].InnerDiameter.SI
	small, large := math.Min(own, branch), math.Max(own, branch)
	if large < reducersFrom*small {
		return 0
	}
	area := pipe.AreaM2(small)
	return valve.ReducersLoss(small, large, large) / (2 * quantity.StandardGravity * area * area)
}

// Settle is the head lost in the valve at the flow.
func (c check) Settle(flowM3S float64) float64 {
	if c.mechanism == nil || flowM3S <= 0 {
		return 0
	}
	return c.mechanism.LossHeadM(flowM3S/c.mechanism.AreaM2()) + c.reducers*flowM3S*flowM3S
}

// reaches turns the main into the solver's reaches: one, or two where the profile
// has a point above the head at the outlet, since the main then runs partly open beyond it.
func reaches(st *station.Station) []steady.Reach {
	all := steady.Reach{Name: "main"}
	top, high := st.HighPoint()
	if !high {
		all.Elements = elements(st.Main, st.Fluid)
		return []steady.Reach{all}
	}
	before, after := split(st.Main, top.ChainageM)
	all.Name = "main up to its high point"
	all.Elements, all.EndM = elements(before, st.Fluid), top.ElevationM
	return []steady.Reach{all, {Name: "main beyond its high point", Elements: elements(after, st.Fluid)}}
}

// split cuts a line at a chainage. Local losses of the run that is cut go with its
// lengths.
func split(line station.Line, chainageM float64) (before, after station.Line) {
	start := 0.0
	for _, r := range line.Runs {
		end := start + r.Length.SI
		switch {
		case end <= chainageM:
			before.Runs = append(before.Runs, r)
		case start >= chainageM:
			after.Runs = append(after.Runs, r)
		default:
			share := (chainageM - start) / r.Length.SI
			first, second := r, r
			first.Length.SI, second.Length.SI = share*r.Length.SI, (1-share)*r.Length.SI
			first.Loss.SI, second.Loss.SI = share*r.Loss.SI, (1-share)*r.Loss.SI
			before.Runs, after.Runs = append(before.Runs, first), append(after.Runs, second)
		}
		start = end
	}
	return before, after
}
