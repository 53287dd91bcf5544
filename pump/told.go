package pump

import "seatward/basis"

// Told is what a performance was made from: efficiencies or shaft powers along the curve, or
// an assumed best efficiency.
type Told struct {
	Efficiency  []Sample    // given efficiencies; empty where none
	Power       []Sample    // given shaft powers, W; empty where none
	DensityKgM3 float64     // of the liquid of Power
	Peak        basis.Value // assumed best efficiency; unknown where one of the lists is given
	BestFlowM3S float64     // at which Peak is taken
}

// Told gives back what the performance was made from, at speed ratio 1.
func (p Performance) Told() Told {
	switch w := p.wheel.(type) {
	case byEfficiency:
		return Told{Efficiency: w.eta.samples()}
	case byPower:
		return Told{Power: w.power.samples(), DensityKgM3: w.densityKgM3}
	case byAssumption:
		return Told{Peak: w.peak, BestFlowM3S: w.bestM}
	}
	return Told{}
}

// samples are the points through which the curve was laid.
func (s sampled) samples() []Sample {
	out := make([]Sample, len(s.fit))
	for i, p := range s.fit {
		out[i] = Sample{p.from, p.v}
	}
	return out
}
