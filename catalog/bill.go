package catalog

import (
	"fmt"
	"slices"

	"seatward/basis"
	"seatward/lift"
	"seatward/quantity"
)

// Part is a line of a bill of materials.
type Part struct {
	Name string
	Material
	Mass basis.Value // unknown where the catalog does not say
	By   string      // the option that fills the line; "" for the family's own
}

// Bill is what a configuration is made of, and what it bears.
type Bill struct {
	Parts                  []Part
	Mass, Cover, Element   basis.Value
	Rating                 basis.Value // of its weakest part
	ShellTest, SeatTest    basis.Value // pressures
	DrinkingWater          string      // the least that any part is certified
	Standards, Spares, Say []string    // declared by the maker; spare parts; what the catalog does not tell
}

// testPressure is the pressure of a test.
var testPressure = basis.Formula{
	ID: "test-pressure", Title: "Test pressure", Expr: "p_t = f p", Symbols: []string{"f", "p"},
	Kind: quantity.Pressure,
	Ref:  basis.DerivedHere, Range: "factor and rating of the catalog; water at room temperature",
}

// added is a mass with what choices add to it.
var added = basis.Formula{
	ID: "configured-mass", Title: "Mass with what a choice adds", Expr: "m = m₀ + Δm", Symbols: []string{"m₀", "Δm"},
	Kind: quantity.Mass,
	Ref:  basis.DerivedHere, Range: "masses of the catalog",
}

// bill draws up what the configuration is made of.
func (f *Family) bill(c *Configuration) Bill {
	it := c.Item
	b := Bill{
		Mass: it.Mass, Cover: it.CoverMass, Element: it.ElementMass, Rating: it.Rating, DrinkingWater: f.DrinkingWater,
		Standards: slices.Clone(f.Standards), Spares: slices.Clone(f.Spares),
		Parts: []Part{
			{Name: "body", Material: f.Body},
			{Name: "element", Material: f.Element, Mass: it.ElementMass},
			{Name: "seat", Material: f.Seat},
			{Name: "bolting", Material: f.Bolting},
			{Name: "coating", Material: f.Coating},
		},
	}
	for _, s := range c.Options {
		if s.Choice != nil {
			b.choose(s.Option, s.Choice, it)
		}
	}
	b.Parts = slices.DeleteFunc(b.Parts, func(p Part) bool { return p.Material.Material == "" && p.Standard == "" })
	if b.Rating.Known() {
		times := func(factor, rating float64) float64 { return factor * rating }
		b.ShellTest = testPressure.Eval2("shell test pressure", times, f.ShellTest, b.Rating)
		b.SeatTest = testPressure.Eval2("seat test pressure", times, f.SeatTest, b.Rating)
	}
	for _, gap := range []struct {
		v    basis.Value
		name string
	}{{b.Mass, "mass of the valve"}, {b.Cover, "mass of the cover"}, {
		b.Element,
		"mass of the moving element",
	}, {b.Rating, "pressure rating"}} {
		if !gap.v.Known() {
			b.Say = append(b.Say, "the "+gap.name)
		}
	}
	return b
}

// Lifts holds what may have to be lifted against the limit for one person.
func (b *Bill) Lifts(limit basis.Value) []lift.Verdict {
	return []lift.Verdict{
		lift.Judge("element", b.Element, limit), lift.Judge("cover", b.Cover, limit),
		lift.Judge("valve", b.Mass, limit),
	}
}

// choose enters what a choice brings.
func (b *Bill) choose(o *Option, c *Choice, it *Item) {
	switch o.ID {
	case EndsOption:
		e, _ := it.Family.end(c.ID, it.Size)
		b.limit(e.Rating)
		b.Parts = append(b.Parts, Part{Name: "ends", Material: Material{Standard: e.Standard}, By: o.ID})
	case ElastomerOption:
		if c.ID == "none" {
			break
		}
		b.Parts = append(b.Parts, Part{Name: "elastomer", Material: Material{Material: c.ID}, By: o.ID})
	}
	b.limit(c.Rating)
	b.Spares, b.Standards = append(b.Spares, c.Spares...), append(b.Standards, c.Standards...)
	if c.DrinkingWater != "" && certified(c.DrinkingWater) < certified(b.DrinkingWater) {
		b.DrinkingWater = c.DrinkingWater
	}
	if c.Mass.Known() && b.Mass.Known() {
		b.Mass = added.Eval2("mass of the valve as configured", func(m, more float64) float64 { return m + more },
			b.Mass, c.Mass)
	}
	if o.Part == "" {
		return
	}
	made := Part{Name: o.Part, Material: c.Material, By: o.ID}
	if made.Material == (Material{}) {
		made.Material.Material = c.Title
	}
	if i := slices.IndexFunc(b.Parts, func(p Part) bool { return p.Name == o.Part }); i >= 0 {
		made.Mass = b.Parts[i].Mass
		b.Parts[i] = made
		return
	}
	b.Parts = append(b.Parts, made)
}

func (b *Bill) limit(rating basis.Value) {
	if rating.Known() && (!b.Rating.Known() || rating.SI < b.Rating.SI) {
		b.Rating = rating
	}
}

// certified ranks the words on drinking water. A certified part does not make a valve
// certified of which nothing is said.
func certified(word string) int {
	return slices.Index([]string{"no", "on request", "", "certified"}, word)
}

// Code names the configuration in one line, by which it can be asked for again.
func (c *Configuration) Code() string {
	text := c.Family.ID
	for _, s := range c.Options {
		if s.Choice != nil {
			text += fmt.Sprintf(" %s", Pick{s.Option.ID, quoted(s.Choice.ID)})
		}
	}
	return text
}

// quoted puts quotes round what a shell would take apart.
func quoted(word string) string {
	for _, r := range word {
		if r == ' ' {
			return "'" + word + "'"
		}
	}
	return word
}
