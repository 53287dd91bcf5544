package pump

import (
	"math"

	"seatward/basis"
	"seatward/quantity"
)

// Impeller is what the pump is built to pass, as far as efficiency goes.
type Impeller uint8

// The impellers.
const (
	UnknownImpeller Impeller = iota
	ClearWater               // closed impeller for clear water
	SolidsPassing            // one to three wide channels, for sewage
	Vortex                   // recessed impeller
	Grinder                  // cutter before the impeller
)

// AssumedPeakEfficiency is the default for the best efficiency of a pump.
func AssumedPeakEfficiency(impeller Impeller) basis.Value {
	band := map[Impeller]struct {
		best, low, high float64
		what            string
	}{
		ClearWater:    {0.76, 0.60, 0.87, "a closed impeller for clear water"},
		SolidsPassing: {0.66, 0.48, 0.80, "a solids-passing impeller"},
		Vortex:        {0.42, 0.28, 0.55, "a vortex impeller"},
		Grinder:       {0.35, 0.20, 0.50, "a grinder pump"},
	}
	b, ok := band[impeller]
	if !ok {
		b.best, b.low, b.high, b.what = 0.68, 0.45, 0.85, "a pump of unknown kind"
	}
	return basis.NewAssumed("best pump efficiency", quantity.Fraction, b.best, b.low, b.high,
		"neither efficiency nor power is given: usual for "+b.what, basis.CommonPractice)
}

// wheel gives efficiency and shaft power at speed ratio 1 for a hydraulic power.
type wheel interface {
	efficiency(q, headM float64) Reading
	shaft(q, headM, densityKgM3 float64) Reading
}

// sampled is a curve through samples, flat beyond its ends.
type sampled struct {
	fit         cubic
	first, last float64
}

func newSampled(samples []Sample) sampled {
	flows, values := make([]float64, len(samples)), make([]float64, len(samples))
	for i, s := range samples {
		flows[i], values[i] = s.FlowM3S, s.SI
	}
	return sampled{newCubic(flows, values), flows[0], flows[len(flows)-1]}
}

func (s sampled) at(q float64) (float64, Condition) {
	v, _ := s.fit.at(math.Min(math.Max(q, s.first), s.last))
	switch {
	case q < s.first*(1-1e-12):
		return v, BelowFirst
	case q > s.last*(1+1e-12):
		return v, Runout
	}
	return v, OnCurve
}

// byEfficiency holds given efficiencies. Below the first sample with an
// efficiency the efficiency falls to zero in proportion to flow, so that the
// shaft power keeps a limit at zero flow.
type byEfficiency struct {
	eta    sampled
	anchor float64 // first flow with an efficiency above zero
}

func (w byEfficiency) efficiency(q, _ float64) Reading {
	if q < w.eta.first {
		v, _ := w.eta.at(w.eta.first)
		return exact(v*q/w.eta.first, BelowFirst)
	}
	return exact(w.eta.at(q))
}

// shaft uses that flow over efficiency has a limit at zero flow; it is taken at a
// thousandth of the first flow with an efficiency.
func (w byEfficiency) shaft(q, headM, densityKgM3 float64) Reading {
	r := w.efficiency(q, headM)
	near, eta := q, r.SI
	if least := 1e-3 * w.anchor; q < least {
		near, eta = least, w.efficiency(least, headM).SI
	}
	return exact(ShaftPower(densityKgM3, near, headM, eta), r.Condition)
}

// byPower holds given shaft power of a liquid of the density.
type byPower struct {
	power       sampled
	densityKgM3 float64
}

func (w byPower) efficiency(q, headM float64) Reading {
	p, c := w.power.at(q)
	return exact(Efficiency(HydraulicPower(w.densityKgM3, q, headM), p), c)
}

func (w byPower) shaft(q, _, densityKgM3 float64) Reading {
	p, c := w.power.at(q)
	return exact(p*densityKgM3/w.densityKgM3, c)
}

// byAssumption is eta = eta_best x (2 - x) with x = Q/Q_best, which is zero at
// zero flow, level at the best and keeps a shaft power at zero flow (common
// practice, no source). Beyond 1.7 times the best flow it is held.
type byAssumption struct {
	peak  basis.Value
	bestM float64 // best flow, m3/s
}

func (w byAssumption) part(q float64) (x, rest float64) {
	x = math.Min(q/w.bestM, 1.7)
	return x, 2 - x
}

func (w byAssumption) efficiency(q, _ float64) Reading {
	x, rest := w.part(q)
	return Reading{SI: w.peak.SI * x * rest, Low: w.peak.Low * x * rest, High: w.peak.High * x * rest}
}

func (w byAssumption) shaft(q, headM, densityKgM3 float64) Reading {
	x, rest := w.part(q)
	base := HydraulicPower(densityKgM3, w.bestM, headM) / rest
	if x == 1.7 {
		base = HydraulicPower(densityKgM3, q, headM) / (x * rest)
	}
	return Reading{SI: base / w.peak.SI, Low: base / w.peak.High, High: base / w.peak.Low}
}
