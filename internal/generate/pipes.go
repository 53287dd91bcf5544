package generate

import (
	"math"

	"seatward/pipe"
	"seatward/quantity"
)

// The classes drawn of each material: those that branches and mains are made of.
var (
	mainClasses = []class{
		{"PVC", []string{"DR18", "DR25", "DR14", "CL150"}},
		{"ductile iron", []string{"PC350", "CL52", "K9", "C40"}},
		{"HDPE", []string{"DR17", "DR11", "DR21"}},
		{"steel", []string{"STD", "SCH10"}},
	}
	branchClasses = []class{
		{"ductile iron", []string{"CL53", "K9", "PC350"}},
		{"steel", []string{"STD", "SCH40", "SCH10"}},
		{"HDPE", []string{"DR11"}},
		{"PVC", []string{"DR18"}},
	}
)

// class is a material with classes of the pipe tables.
type class struct {
	material string
	classes  []string
}

const (
	gravity     = 9.80665
	roughly     = 0.022 // friction factor by which pipes are chosen, not computed
	largestMain = 900   // DN
)

// bore is the inner diameter by the tables, m; 0 for a pipe that is not made.
func bore(material, class string, dn int) float64 {
	d, err := pipe.Lookup(material, class, quantity.Size{DN: dn})
	if err != nil {
		return 0
	}
	return d.IDM()
}

// lost is what a pipe loses to friction, m, near enough to choose a pump by.
func lost(flowM3S, lengthM, boreM float64) float64 {
	v := pipe.VelocityMS(flowM3S, boreM)
	return roughly * lengthM / boreM * v * v / (2 * gravity)
}

// pick draws a class that is made in the size, and gives material and class.
func (d dice) pick(from []class, dn int, what string) (material, name string) {
	var made []class
	for _, c := range from {
		left := class{material: c.material}
		for _, name := range c.classes {
			if bore(c.material, name, dn) > 0 {
				left.classes = append(left.classes, name)
			}
		}
		if left.classes != nil {
			made = append(made, left)
		}
	}
	c := of(d, what+" material", made...)
	return c.material, of(d, what+" class", c.classes...)
}

// branch draws the pipe of one pump.
func (d dice) branch(dn int) []Run {
	material, name := d.pick(branchClasses, dn, "branch")
	run := Run{
		Material: material, Class: name, DN: dn,
		LengthM:  d.number(quantity.Length, d.scaled(2, 20, "branch length"), "branch length"),
		Fittings: []Fitting{{"90 elbow", of(d, "branch elbows", 1., 2, 3)}, {"gate valve", 1}, {"tee branch", 1}},
	}
	if d.chance(10, "long branch") {
		run.LengthM = Number{SI: d.round(quantity.Length, d.between(20, 60, "long branch length"))}
	}
	return []Run{run}
}

// main draws a force main of the length for the flow, the friction in it no more than asked
// for if a size of the tables allows it.
func (d dice) main(flowM3S, lengthM, mostLostM float64, least int) []Run {
	parts := []float64{1}
	if d.chance(30, "main of several runs") {
		x := d.between(0.1, 0.9, "main cut")
		parts = []float64{x, 1 - x}
		if d.chance(30, "main of three runs") {
			parts = []float64{x / 2, x / 2, 1 - x}
		}
	}
	var out []Run
	fastest := d.between(0.8, 2.6, "main velocity")
	for i, part := range parts {
		dn := mainSize(flowM3S, lengthM, mostLostM, fastest, least)
		if i > 0 && d.chance(40, "main size changes") {
			dn = next(dn, least)
		}
		material, name := d.pick(mainClasses, dn, "main")
		out = append(out, d.run(Run{
			Material: material, Class: name, DN: dn,
			LengthM: Number{SI: d.round(quantity.Length, part*lengthM)},
		}))
	}
	return out
}

// mainSize is the smallest usual size in which the flow is not too fast and loses no more
// than wanted.
func mainSize(flowM3S, lengthM, mostLostM, fastestMS float64, least int) int {
	for _, s := range quantity.Sizes() {
		nominal := float64(s.DN) / 1000
		if s.DN < max(least, 80) || s.DN%50 != 0 && s.DN != 80 || s.DN > 600 && s.DN%100 != 0 {
			continue
		}
		if pipe.VelocityMS(flowM3S, nominal) <= fastestMS && lost(flowM3S, lengthM, nominal) <= mostLostM ||
			s.DN == largestMain {
			return s.DN
		}
	}
	return largestMain
}

// next is the next larger usual size.
func next(dn, least int) int {
	switch {
	case dn < max(least, 100):
		return max(least, 100)
	case dn < 400:
		return dn + 50
	case dn < largestMain:
		return dn + 100
	}
	return dn
}

// run draws what else is known of a run of the main: surface, fittings, losses.
func (d dice) run(r Run) Run {
	if r.Material == "ductile iron" {
		r.Lining = of(d, "lining", "", "cement", "none")
	}
	switch {
	case d.chance(20, "hazen-williams"):
		r.Williams = Number{SI: d.round(quantity.Number, d.between(100, 150, "C"))}
		if d.chance(12, "C has a range") {
			r.Williams.Spread = 0.05
		}
	case d.chance(25, "roughness"):
		r.RoughnessM = d.number(quantity.Roughness, d.scaled(0.00003, 0.002, "roughness value"), "roughness")
	}
	if d.chance(10, "length has a range") {
		r.LengthM.Spread = 0.05
	}
	if d.chance(70, "fittings") {
		r.Fittings = []Fitting{{
			of(d, "bend", "45 elbow", "90 elbow", "22.5 bend"),
			math.Floor(d.between(1, 8, "bends")),
		}}
	}
	if d.chance(20, "other losses") {
		k := math.Round(d.between(0, 50, "K")) / 10
		r.LossK = &k
	}
	return r
}

// losses is what the runs lose, m, near enough to choose a pump by.
func losses(runs []Run, flowM3S float64) float64 {
	sum := 0.0
	for _, r := range runs {
		b := bore(r.Material, r.Class, r.DN)
		if b == 0 {
			b = float64(r.DN) / 1000
		}
		v := pipe.VelocityMS(flowM3S, b)
		k := 0.0
		for _, f := range r.Fittings {
			k += 0.3 * f.Count
		}
		if r.LossK != nil {
			k += *r.LossK
		}
		sum += lost(flowM3S, r.LengthM.SI, b) + k*v*v/(2*gravity)
	}
	return sum
}
