package catalog

import (
	"math"

	"seatward/basis"
	"seatward/internal/yamlfile"
	"seatward/quantity"
	"seatward/valve"
)

// SphereMass is the mass in kg of a ball of the diameter D diameterM in m and the
// density ρ densityKgM3: m = ρ π D³/6.
func SphereMass(densityKgM3, diameterM float64) float64 {
	return densityKgM3 * valve.SphereVolume(diameterM)
}

// SphereMassFormula is SphereMass.
var SphereMassFormula = basis.Formula{
	ID:      "sphere-mass",
	Title:   "Mass of a ball",
	Expr:    "m = ρ π D³ / 6",
	Symbols: []string{"ρ", "D"},
	Kind:    quantity.Mass,
	Ref:     basis.DerivedHere,
	Range:   "ρ of the whole ball, core and lining",
}

// movingMass are the keys under which valve types know the mass of what moves.
var movingMass = []string{"disc_mass", "plates_mass", "moving_mass"}

// derive fills in what follows from the rest of the data: full-open loss and flow
// coefficient from each other, and the mass of the element from the mechanics.
func (it *Item) derive() {
	loss := it.Family.Type.Param("full_open_loss")
	if loss != nil && loss.Required && it.Bore.Known() {
		known, said := it.Params[loss.Key]
		switch {
		case !said && it.FlowCoefficient.Known():
			it.Params[loss.Key] = valve.LossFromKvFormula.Eval2(loss.Title, valve.LossFromKv, it.FlowCoefficient,
				it.Bore)
		case said && known.SI > 0 && !it.FlowCoefficient.Known():
			it.FlowCoefficient = valve.KvFromLossFormula.Eval2(flowCoefficient, valve.KvFromLoss, known, it.Bore)
		}
	}
	if it.ElementMass.Known() {
		return
	}
	for _, key := range movingMass {
		if v, said := it.Params[key]; said {
			it.ElementMass = v
			it.ElementMass.Name = elementMass
			return
		}
	}
	it.ElementMass = it.ballMass(elementMass)
}

const (
	flowCoefficient = "flow coefficient, fully open"
	elementMass     = "mass of the moving element"
)

// ballMass is the mass of the item's ball by its diameter and density; unknown for
// other elements.
func (it *Item) ballMass(name string) basis.Value {
	full, err := it.Family.Type.Complete(it.Params)
	density, diameter := full["ball_density"], full["ball_diameter"]
	if err != nil || !density.Known() || !diameter.Known() {
		return basis.Value{}
	}
	return SphereMassFormula.Eval2(name, SphereMass, density, diameter)
}

// Build makes the moving element of the item in the setting, measured loss and force
// standing in for computed ones where the catalog has them. The errors are those of
// valve.Type.Build and valve.Mechanism.Calibrate.
func (it *Item) Build(s valve.Setting) (*valve.Mechanism, error) {
	m, err := it.Family.Type.Build(it.Params, s)
	if err != nil {
		return nil, err
	}
	return it.calibrate(m, s)
}

// Draw is valve.Type.Draw with the item's measured loss and floating curves.
func (it *Item) Draw(s valve.Setting, n int) (*valve.Draws, error) {
	return it.Family.Type.Draw(it.Params, s, n,
		func(m *valve.Mechanism) (*valve.Mechanism, error) { return it.calibrate(m, s) })
}

// VariedAll is Build with some mechanical numbers replaced.
func (it *Item) VariedAll(s valve.Setting, at map[string]float64) (*valve.Mechanism, error) {
	m, err := it.Family.Type.VariedAll(it.Params, s, at)
	if err != nil {
		return nil, err
	}
	return it.calibrate(m, s)
}

// WhatIf is the item with some mechanical numbers replaced, as valve.Type.WhatIf has it.
// Measured loss and force stay; a measured closing is that of the valve as it is sold, and
// is left out.
func (it *Item) WhatIf(at map[string]float64) (*Item, error) {
	params, err := it.Family.Type.WhatIf(it.Params, at)
	if err != nil {
		return nil, err
	}
	out := *it
	out.Params, out.tested, out.Measured = params, it.Params, nil
	for _, m := range it.Measured {
		if m.Kind != closingCurve {
			out.Measured = append(out.Measured, m)
		}
	}
	return &out, nil
}

// calibrate gives the mechanism the item's measured curves.
func (it *Item) calibrate(m *valve.Mechanism, s valve.Setting) (*valve.Mechanism, error) {
	position := nearest(s.InclinationRad)
	loss, hasLoss := it.curve(lossCurve, position, true)
	floating, hasFloating := it.curve(openingCurve, position, true)
	push, hasPush := it.curve(pushCurve, position, true)
	back, hasBack := it.curve(backCurve, position, true)
	if !hasLoss && !hasFloating && !hasPush && !hasBack {
		return m, nil
	}
	c := valve.Measured{Loss: loss.points(), Push: push.points(), PushBack: back.points()}
	if hasFloating {
		c.Floating = floating.points()
		params := it.Params
		if it.tested != nil {
			params = it.tested
		}
		var err error
		if c.Tested, err = it.Family.Type.Build(params, valve.In(testWaterKgM3, floating.Position)); err != nil {
			return nil, err
		}
	}
	return m.Calibrate(c)
}

// testWaterKgM3 is the density of the water of a laboratory, 20 °C.
const testWaterKgM3 = 998.2

// nearest names the position whose inclination is next to the angle.
func nearest(inclinationRad float64) valve.Position {
	best := valve.Horizontal
	for _, p := range valve.Positions() {
		if math.Abs(p.InclinationRad()-inclinationRad) < math.Abs(best.InclinationRad()-inclinationRad) {
			best = p
		}
	}
	return best
}

// where is the place of a mechanical datum: the line that counts, or that of the size
// when nobody wrote it.
func (it *Item) where(key string) yamlfile.At {
	if it.size == nil {
		return yamlfile.At{}
	}
	for _, pairs := range [][]yamlfile.Pair{it.variant.Mechanics, it.size.Mechanics, it.Family.file.Common} {
		for _, p := range pairs {
			if p.Key.Text == key {
				return p.Key.At
			}
		}
	}
	if key == "bore" && it.size.Bore.Set {
		return it.size.Bore.At
	}
	if key == "full_open_loss" && it.size.Flow.Set {
		return it.size.Flow.At
	}
	return it.size.Size.At
}
