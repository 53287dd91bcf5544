package generate

import (
	"fmt"

	"seatward/quantity"
)

// Layout is an ordinary station of the survey.
type Layout struct {
	Position string
	Pumps    int
	Main     string // material
	LengthM  float64
	Station  Station
}

// Layouts are the 32 ordinary layouts: two positions, one or two pumps, a PVC or an iron
// main, four lengths. Each is a sewage lift station as it is usually laid out: 6 in valves,
// 475 gpm a pump, the main chosen for 2 to 6 ft/s, the pump for the duty that follows, and
// all said that a check of the place needs.
func Layouts() []Layout {
	var out []Layout
	for _, position := range []string{"horizontal", "flow up"} {
		for pumps := 1; pumps <= 2; pumps++ {
			for _, main := range []class{{"PVC", []string{"DR18"}}, {"ductile iron", []string{"PC350"}}} {
				for _, m := range ordinaryMains {
					l := Layout{Position: position, Pumps: pumps, Main: main.material, LengthM: m.lengthFt * foot}
					l.Station = ordinary(l, Run{
						Material: main.material, Class: main.classes[0], DN: m.dn[pumps-1],
						LengthM:  Number{SI: l.LengthM},
						Fittings: []Fitting{{"45 elbow", m.bends}, {"exit", 1}},
					}, m.staticFt*foot)
					out = append(out, l)
				}
			}
		}
	}
	return out
}

const (
	foot = 0.3048
	gpm  = 6.30901964e-5 // m³/s
)

// ordinaryMains are the mains: 30 m, 300 m, 1.2 km and 4 km, with the size for one and for
// two pumps, and the lift that goes with it.
var ordinaryMains = []struct {
	lengthFt, staticFt, bends float64
	dn                        [2]int
}{
	{100, 30, 2, [2]int{150, 200}},
	{1000, 35, 4, [2]int{150, 200}},
	{4000, 40, 6, [2]int{200, 250}},
	{13000, 45, 10, [2]int{200, 250}},
}

// ordinaryCurve is the head of a usual sewage pump over that at duty, by its flow over that
// at duty.
var ordinaryCurve = []Pair{{0, 1.45}, {0.5, 1.27}, {1, 1}, {1.5, 0.68}, {1.9, 0.35}}

// ordinary is the station round a main.
func ordinary(l Layout, main Run, staticM float64) Station {
	const flow, well = 475 * gpm, 4 * foot
	high := 8 * foot
	s := Station{
		Units: quantity.US, Depth: "layout",
		Fluid: Fluid{Kind: "raw sewage", Rags: "light", Grit: "some", Oil: "trace"},
		Valve: Valve{
			DN: 150, Position: l.Position, Place: "dry pit", StraightM: Number{SI: 3 * foot},
			ClearanceM: Number{SI: 4 * foot},
		},
		Levels: Levels{Given: true, HighM: high, LowM: high - well, OutletM: high + staticM},
		Branch: []Run{{
			Material: "ductile iron", Class: "CL53", Lining: "cement", DN: 150, LengthM: Number{SI: 20 * foot},
			Fittings: []Fitting{{"90 elbow", 2}, {"gate valve", 1}, {"tee branch", 1}},
		}},
		Main:    []Run{main},
		Profile: []Point{{0, high}, {l.LengthM, high + staticM - foot}}, // a steady rise
	}
	head := staticM + well/2 + losses(s.Branch, flow) + losses(s.Main, flow*float64(l.Pumps))
	p := Pump{Name: "P", Count: l.Pumps, Speed: Number{SI: 1760 * rpm}, Submersible: "no"}
	d := dice{units: s.Units}
	for _, x := range ordinaryCurve {
		p.Curve = append(p.Curve, Pair{d.round(quantity.Flow, x.X*flow), d.round(quantity.Head, x.Y*head)})
	}
	s.Pumps = []Pump{p}
	return s
}

const rpm = 0.10471975511965977 // rad/s

// String names the layout in a few words.
func (l Layout) String() string {
	material := map[string]string{"PVC": "PVC", "ductile iron": "iron"}[l.Main]
	return fmt.Sprintf("%s, %d, %s, %.0f ft", map[string]string{"horizontal": "level", "flow up": "up"}[l.Position],
		l.Pumps, material, l.LengthM/foot)
}
