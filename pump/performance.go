package pump

import (
	"math"

	"seatward/basis"
)

// Sample is one point of an efficiency curve (0 to 1) or a shaft power curve (W).
type Sample struct {
	FlowM3S float64
	SI      float64
}

// Performance is a head curve with the efficiency of the pump along it, by
// whichever of efficiency and shaft power was given, or by assumption.
type Performance struct {
	Curve
	wheel wheel
}

// WithEfficiency joins efficiencies (0 to 1) at rising flows to the curve. An
// efficiency at zero flow must be zero, every other between 0 and 1.
func (c Curve) WithEfficiency(samples []Sample) (Performance, Problems) {
	p := c.checkSamples(samples)
	if p != nil {
		return Performance{}, p
	}
	anchor := -1.0
	for i, s := range samples {
		switch {
		case s.FlowM3S == 0 && s.SI != 0:
			p.add(EfficiencyAtRest, i, "the efficiency at zero flow is %.4g: without flow it is zero", s.SI)
		case s.FlowM3S > 0 && !(s.SI > 0 && s.SI < 1):
			p.add(EfficiencyRange, i, "the efficiency of point %d is %.4g: it must be between 0 and 1 (0 and 100 %%)",
				i+1, s.SI)
		case s.FlowM3S > 0 && anchor < 0:
			anchor = s.FlowM3S
		}
	}
	if p != nil {
		return Performance{}, p
	}
	return Performance{c, byEfficiency{newSampled(samples), anchor}}, c.reach(samples)
}

// WithPower joins shaft powers, W, at rising flows of a liquid of the density,
// kg/m3, to the curve at speed ratio 1. Power that is less than the liquid
// receives is a problem.
func (c Curve) WithPower(samples []Sample, densityKgM3 float64) (Performance, Problems) {
	p := c.checkSamples(samples)
	if !(densityKgM3 > 0 && densityKgM3 < 1e5) {
		p.add(BadRatio, -1, "the density is %.4g kg/m3: it must be above zero and that of a liquid", densityKgM3)
	}
	if p != nil {
		return Performance{}, p
	}
	for i, s := range samples {
		head, _, _ := c.full(s.FlowM3S)
		liquid := HydraulicPower(densityKgM3, s.FlowM3S, head)
		switch {
		case !(s.SI > 0 && s.SI < maxPowerW):
			p.add(PowerNotPositive, i, "the shaft power of point %d is %.4g W: it must be above zero and within the scale of pumps", i+1, s.SI)
		case s.SI <= liquid:
			p.add(PowerBelowHydraulic, i, "the shaft power of point %d is %.4g W, but the liquid receives %.4g W: check unit and flow", i+1, s.SI, liquid)
		}
	}
	if p != nil {
		return Performance{}, p
	}
	made := Performance{c, byPower{newSampled(samples), densityKgM3}}
	if q, e := made.BestPoint(); e >= 1 {
		p.add(PowerBelowHydraulic, -1, "between its points the shaft power falls below what the liquid receives, near %.4g m3/s: give more points", q)
		return Performance{}, p
	}
	return made, c.reach(samples)
}

// WithAssumedEfficiency joins an assumed efficiency to the curve: the peak, with
// its range, at the best flow, m3/s at speed ratio 1 (the duty flow where nothing
// else is known).
func (c Curve) WithAssumedEfficiency(peak basis.Value, bestFlowM3S float64) (Performance, Problems) {
	var p Problems
	if !(bestFlowM3S > 0 && bestFlowM3S <= maxFlowM3S) {
		p.add(OutOfScale, -1, "the flow of best efficiency is %.4g m3/s: it must be above zero and within the scale of pumps", bestFlowM3S)
	}
	if !(peak.Low > 0 && peak.High < 1 && peak.Low <= peak.SI && peak.SI <= peak.High) {
		p.add(EfficiencyRange, -1, "the best efficiency is %.4g (%.4g to %.4g): it must be between 0 and 1 (0 and 100 %%)", peak.SI, peak.Low, peak.High)
	}
	if len(c.points) == 0 {
		p.add(TooFewPoints, -1, "there is no head curve to join an efficiency to")
	}
	if p != nil {
		return Performance{}, p
	}
	return Performance{c, byAssumption{peak, bestFlowM3S}}, nil
}

func (c Curve) checkSamples(samples []Sample) Problems {
	flows := make([]float64, len(samples))
	for i, s := range samples {
		flows[i] = s.FlowM3S
	}
	p := checkFlows(flows)
	if len(c.points) == 0 {
		p.add(TooFewPoints, -1, "there is no head curve to join efficiency or power to")
	}
	for i, s := range samples {
		if math.IsNaN(s.SI) || math.IsInf(s.SI, 0) {
			p.add(NotFinite, i, "the value of point %d is not a finite number", i+1)
		}
	}
	return p
}

// reach notes samples that end before the head curve does.
func (c Curve) reach(samples []Sample) (p Problems) {
	end := c.points[len(c.points)-1].FlowM3S
	if last := samples[len(samples)-1].FlowM3S; last < end*(1-1e-9) {
		p.add(ShortSamples, len(samples)-1,
			"efficiency or power ends at %.4g m3/s and the head curve at %.4g m3/s: the last value is held between", last, end)
	}
	return p
}

// AtSpeed returns the performance at ratio times its speed: head and power by the
// affinity laws, efficiency unchanged at flows of like direction in the impeller.
func (p Performance) AtSpeed(ratio float64) (Performance, error) {
	c, err := p.Curve.AtSpeed(ratio)
	return Performance{c, p.wheel}, err
}

// TimesHead is the performance with the heads of its curve times the ratio; efficiency or
// power along it stay.
func (p Performance) TimesHead(ratio float64) Performance {
	return Performance{p.Curve.TimesHead(ratio), p.wheel}
}

// Efficiency reads the pump's efficiency (0 to 1) at the flow q, m3/s.
func (p Performance) Efficiency(q float64) Reading {
	at, head, cond := p.wheelAt(q)
	if cond == NotAFlow {
		return exact(0, NotAFlow)
	}
	return p.wheel.efficiency(at, head).off(cond)
}

// ShaftPower reads the power at the shaft, W, at the flow q, m3/s, of a liquid of
// the density, kg/m3.
func (p Performance) ShaftPower(q, densityKgM3 float64) Reading {
	at, head, cond := p.wheelAt(q)
	if cond == NotAFlow {
		return exact(0, NotAFlow)
	}
	r := p.wheel.shaft(at, head, densityKgM3).off(cond)
	r.SI, r.Low, r.High = AffinityPower(r.SI, p.ratio), AffinityPower(r.Low, p.ratio), AffinityPower(r.High, p.ratio)
	return r
}

// wheelAt is where the wheel is read at speed ratio 1: reverse flow at zero flow, and head
// below zero beyond the end of the curve as no head.
func (p *Performance) wheelAt(q float64) (at, headM float64, cond Condition) {
	if len(p.points) == 0 || p.wheel == nil || math.IsNaN(q) || math.IsInf(q, 0) {
		return 0, 0, NotAFlow
	}
	q /= p.ratio
	head, _, cond := p.full(q)
	return math.Max(q, 0), math.Max(head, 0), cond
}

// off is the reading with the condition of the head curve, where that is not on it.
func (r Reading) off(cond Condition) Reading {
	if cond != OnCurve {
		r.Condition = cond
	}
	return r
}

// BestPoint is the flow on the curve at which the pump is most efficient, m3/s,
// and that efficiency.
func (p Performance) BestPoint() (flowM3S, efficiency float64) {
	const steps = 400
	low, high := p.Range()
	for i := 0; i <= steps; i++ {
		q := low + (high-low)*float64(i)/steps
		if e := p.Efficiency(q).SI; e > efficiency {
			flowM3S, efficiency = q, e
		}
	}
	return flowM3S, efficiency
}
