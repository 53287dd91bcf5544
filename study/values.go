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
	Valve string // ID of the judged valve that it is of; "" for values of the station
}

// Values lists every value of the study that can be explained, with its path: those
// of the station, of the operating points, and of each valve, such as
// "swing/6in loss".
func (s *Study) Values() []Named {
	var out []Named
	of := ""
	add := func(path string, v basis.Value) {
		if v.Known() {
			out = append(out, Named{path, v, of})
		}
	}
	station.Walk(s.Station, add)
	for i := range s.Points {
		p, at := &s.Points[i], fmt.Sprintf("operating_points[%d].", i)
		for _, n := range []keyed{
			{"flow", p.Flow},
			{"head", p.Head},
			{"static_head", p.StaticHead},
			{"power", p.Power},
			{"efficiency", p.Efficiency},
			{"main_velocity", p.MainVelocity},
		} {
			add(at+n.key, n.value)
		}
	}
	for i := range s.Assessments {
		of = s.Assessments[i].Item.ID
		for _, n := range valveValues(&s.Assessments[i]) {
			add(of+" "+n.key, n.value)
		}
	}
	return out
}

// keyed is a value with the last part of its path.
type keyed struct {
	key   string
	value basis.Value
}

// valveValues lists the values of one judged valve.
func valveValues(a *judge.Assessment) []keyed {
	return []keyed{
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
