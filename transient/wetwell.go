package transient

// WetWell is a level that moves: branches draw from it, and an inflow fills it. Several
// branches may share one.
type WetWell struct {
	HeadM     float64 // level
	AreaM2    float64 // of its surface
	InflowM3S float64

	at float64 // time up to which the inflow is counted
}

// HeadAt is the level at the start of the step: it moves far less in a step than a pump
// notices.
func (w *WetWell) HeadAt(float64, float64, float64) float64 { return w.HeadM }

// Draw takes what a branch has drawn in the step.
func (w *WetWell) Draw(timeS, stepS, flowM3S float64) {
	if timeS > w.at {
		w.HeadM += w.InflowM3S * stepS / w.AreaM2
		w.at = timeS
	}
	w.HeadM -= flowM3S * stepS / w.AreaM2
}
