package catalog

import (
	"fmt"
	"math"

	"seatward/basis"
	"seatward/diag"
	"seatward/quantity"
	"seatward/valve"
)

// Check proves what reading cannot: that every item can be built and closes in the
// positions that it is offered for, and that its numbers fit together and the
// mechanics of its type. Faults name the item, since they rest on several lines.
func Check(catalogs []*Catalog) diag.List {
	var list diag.List
	for _, c := range catalogs {
		for _, f := range c.Families {
			k := checker{&list, f}
			for _, it := range f.Items {
				k.item(it)
			}
			k.trends()
		}
	}
	return list
}

type checker struct {
	list *diag.List
	f    *Family
}

func (k checker) add(it *Item, id, text, expected, mend string) {
	path := k.f.ID
	if it != nil {
		path = it.ID
	}
	k.list.Add(diag.Message{ID: id, Path: path, Text: text, Expected: expected, Mend: mend})
}

// waterKgM3 is the density of the water in which items are checked.
const waterKgM3 = 999

func (k checker) item(it *Item) {
	k.masses(it)
	k.passage(it)
	for _, p := range it.Positions {
		position, err := valve.PositionNamed(p)
		if err != nil {
			continue // the reader allows only known words
		}
		m, err := it.Family.Type.Build(it.Params, valve.In(waterKgM3, position))
		if err != nil {
			k.add(it, "does-not-build", err.Error(), "numbers of a real valve", "mend the mechanics")
			return
		}
		if yes, stuck := m.SelfClosing(); !yes {
			k.add(it, "does-not-close", fmt.Sprintf("offered for %s, but nothing closes it there from %.0f%% of its way", p, 100*stuck), "a position in which weight or spring close it", "take the position out, or mend the mechanics")
		}
		if m.Efficiency != 0 && (m.Efficiency < 0.6 || m.Efficiency > 2.1) {
			k.add(it, "velocity-and-loss", fmt.Sprintf("full-open velocity, loss and closing force give a force efficiency of %.2f in %s", m.Efficiency, p), "0.7 to 2", "check full_open_velocity, full_open_loss, masses and springs")
		}
		if loss := m.FullOpenVelocity().Loss; loss > 30 {
			k.add(it, "loss-large", fmt.Sprintf("full open it loses %.1f velocity heads", loss), "less than 30", "check the loss coefficient")
		}
	}
}

func (k checker) masses(it *Item) {
	if it.Mass.Known() && it.ElementMass.Known() && it.ElementMass.SI+it.CoverMass.SI >= it.Mass.SI {
		k.add(it, "mass-of-parts", "element and cover weigh as much as the whole valve", "less than "+quantity.SI.Format(quantity.Mass, it.Mass.SI), "check the masses")
	}
	ball, density := it.Params["ball_diameter"], it.Params["ball_density"]
	if full, err := it.Family.Type.Complete(it.Params); err == nil {
		ball = full["ball_diameter"]
	}
	if ball.Known() && density.Known() && it.ElementMass.Known() {
		mass := math.Pi / 6 * math.Pow(ball.SI, 3) * density.SI
		if it.ElementMass.SI < 0.9*math.Min(mass, math.Pi/6*math.Pow(ball.SI, 3)*700) {
			k.add(it, "ball-mass", fmt.Sprintf("the ball weighs %.3g kg but its diameter and density make %.3g kg", it.ElementMass.SI, mass), "within 10 %", "check ball_diameter, ball_density and element_mass")
		}
	}
	if disc := it.Params["disc_mass"]; disc.Known() && it.ElementMass.Known() && math.Abs(disc.SI-it.ElementMass.SI) > 0.1*disc.SI {
		k.add(it, "disc-mass", fmt.Sprintf("disc_mass is %.3g kg but element_mass %.3g kg", disc.SI, it.ElementMass.SI), "within 10 %", "mend one of them")
	}
}

func (k checker) passage(it *Item) {
	if it.Passage.Known() && it.Passage.SI > it.Bore.SI*1.001 {
		k.add(it, "passage-above-bore", "a sphere larger than the bore is said to pass", "at most the bore, "+quantity.SI.Format(quantity.Diameter, it.Bore.SI), "mend passage or bore")
	}
	if k.f.FullBore && it.Passage.Known() && it.Passage.SI < 0.85*it.Bore.SI {
		k.add(it, "not-full-bore", "the family is full-bore, but a sphere of "+quantity.SI.Format(quantity.Diameter, it.Passage.SI)+" is all that passes", "nearly the bore", "mend full_bore or passage")
	}
	nominal := it.Size.NominalM()
	if math.Abs(it.Bore.SI-nominal) > 0.25*nominal {
		k.add(it, "bore-and-size", "the bore "+quantity.SI.Format(quantity.Diameter, it.Bore.SI)+" is far from the size "+it.Size.String(), "within a quarter", "mend size or bore")
	}
	covered := len(k.f.Ends) == 0
	for _, e := range k.f.Ends {
		covered = covered || ((e.Least.DN == 0 || it.Size.DN >= e.Least.DN) && (e.Most.DN == 0 || it.Size.DN <= e.Most.DN))
	}
	if !covered {
		k.add(it, "no-ends", "no ends are offered in this size", "an entry of ends that spans it", "widen from and to of an entry of ends")
	}
}

// trends holds masses and lengths to rise with the size.
func (k checker) trends() {
	var last *Item
	for _, it := range k.f.Items {
		if last != nil && it.Variant == last.Variant && it.Size != last.Size {
			for _, t := range []struct {
				name string
				a, b basis.Value
			}{{"mass", last.Mass, it.Mass}, {"face_to_face", last.FaceToFace, it.FaceToFace}, {"element_mass", last.ElementMass, it.ElementMass}, {"price", last.Price, it.Price}} {
				if t.a.Known() && t.b.Known() && t.b.SI < t.a.SI*0.999 {
					k.add(it, "falls-with-size", fmt.Sprintf("%s is less than that of %s", t.name, last.Size), "no less than the next smaller size", "check both sizes")
				}
			}
		}
		last = it
	}
}
