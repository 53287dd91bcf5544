package station

// depth says how much is known of a station.
//
//	layout: every pump has a curve, and the main its runs
//	study:  a layout with the profile or an inertia, and the running time
//	first call: anything less
//
// What is assumed does not count, however near to the truth.
func (r *resolver) depth() {
	curves, inertia := len(r.f.Pumps) > 0, false
	for i := range r.f.Pumps {
		curves = curves && len(r.f.Pumps[i].Curve) > 0
		inertia = inertia || r.f.Pumps[i].Inertia.Set
	}
	layout := curves && len(r.f.Main.Runs) > 0
	switch {
	case layout && (inertia || len(r.f.Main.Profile) > 0) && r.f.Operation.HoursPerYear.Set:
		r.st.Depth = Full
	case layout:
		r.st.Depth = Layout
	default:
		r.st.Depth = FirstCall
	}
}
