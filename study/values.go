package study

import (
	"fmt"

	"seatward/basis"
	"seatward/judge"
	"seatward/station"
)

// Named is a value and the path by which `explain` finds it.
type Named struct {
	Path  string
	Value basis.Value
}

// Values lists every value of the study that can be explained, with its path: those
// of the station, of the operating points, and of each valve, such as
// "swing/6in loss".
func (s *Study) Values() []Named {
	var out []Named
	add := func(path string, v basis.Value) {
		if v.Known() {
			out = append(out, Named{path, v})
		}
	}
	station.Walk(s.Station, add)
	for i := range s.Points {
		p, at := &s.Points[i], fmt.Sprintf("operating_points[%d].", i)
		for _, n := range []Named{
			{"flow", p.Flow},
			{"head", p.Head},
			{"static_head", p.StaticHead},
			{"power", p.Power},
			{"efficiency", p.Efficiency},
			{"main_velocity", p.MainVelocity},
		} {
			add(at+n.Path, n.Value)
		}
	}
	for i := range s.Assessments {
		for _, n := range valveValues(&s.Assessments[i]) {
			add(s.Assessments[i].Item.ID+" "+n.Path, n.Value)
		}
	}
	return out
}

// valveValues lists the values of one judged valve.
func valveValues(a *judge.Assessment) []Named {
	return []Named{
		{"flow", a.Governing.Flow},
		{"velocity", a.Governing.Velocity},
		{"loss", a.Governing.Loss},
		{"opening", a.Governing.Opening},
		{"full_open_velocity", a.FullOpenVelocity},
		{"cracking_head", a.CrackingHead},
		{"submerged_weight", a.SubmergedWeight},
		{"least_back_head", a.BackHead},
		{"energy_per_year", a.EnergyPerYear},
		{"cost_per_year", a.CostPerYear},
		{"life_cycle_cost", a.LifeCycleCost},
		{"deceleration", a.Slam.Deceleration},
		{"reverse_velocity", a.Slam.ReverseVelocity},
		{"sudden_stop", a.Slam.Stopped},
		{"head_rise", a.Slam.HeadRise},
	}
}

// Value finds a value by its path.
func (s *Study) Value(path string) (basis.Value, bool) {
	for _, n := range s.Values() {
		if n.Path == path {
			return n.Value, true
		}
	}
	return basis.Value{}, false
}
