package catalog

import (
	"math"
	"slices"
	"testing"

	"seatward/valve"
)

// The numbers of the demonstration catalog are invented, but they must be those of valves
// that could be made. These tests hold them to geometry, to mechanics and to handbooks.

// built is the item in cold water, in the position of its test: horizontal, or the first
// that it is offered for.
func built(t *testing.T, it *Item) *valve.Mechanism {
	t.Helper()
	position := it.Positions[0]
	if it.Allows(valve.Horizontal) {
		position = valve.Horizontal
	}
	m, err := it.Build(valve.In(testWaterKgM3, position))
	if err != nil {
		t.Fatalf("%s: %v", it.ID, err)
	}
	return m
}

// TestDemoIsOneShape: within a family every length is the same share of the bore, to the
// figures that are written.
func TestDemoIsOneShape(t *testing.T) {
	shares := map[string]float64{}
	for _, key := range []string{
		"ball_diameter", "chamber_diameter", "stroke", "travel", "pocket_diameter", "disc_diameter", "hinge_to_center",
		"hinge_to_gravity_center", "lever_arm", "cushion_arm", "piston_diameter", "orifice_diameter",
	} {
		eachDemo(t, func(t *testing.T, it *Item) {
			v, said := it.Params[key]
			if !said {
				return
			}
			name := it.Family.ID + " " + key
			if shares[name] == 0 {
				shares[name] = v.SI / it.Bore.SI
			}
			near(t, it.ID+" "+key+" over the bore", v.SI/it.Bore.SI, shares[name], 2e-3)
		})
	}
	if len(shares) < 20 {
		t.Errorf("only %d lengths were looked at", len(shares))
	}
}

// TestDemoMasses: balls have the mass of their volume and density (1.5 and 0.72 are common
// practice, no source). Discs are plates of iron or bronze of believable thickness; a
// flap is one of rubber round steel. Their mass grows with a power of the bore between 2.3
// and 3: same shape, or thinner for its width. The rules for the full-open velocity know no
// size, and one shape would need more velocity the larger it is: large discs are thinner.
func TestDemoMasses(t *testing.T) {
	first := map[string]*Item{}
	eachDemo(t, func(t *testing.T, it *Item) {
		if d, isBall := it.Params["ball_diameter"]; isBall {
			gravity := 1.5
			if it.Variant == "floating" {
				gravity = 0.72
			}
			near(t, it.ID+" mass of the ball", it.ElementMass.SI, gravity*999*math.Pi/6*math.Pow(d.SI, 3), 2e-3)
			return
		}
		density := 7850.0
		if it.Family.Type.Key == "flap" {
			density = 1800
		}
		width := it.Bore.SI // of an axial disc, and where nothing else is said
		if d, said := it.Params["disc_diameter"]; said {
			width = d.SI
		}
		thickness := it.ElementMass.SI / density / (math.Pi / 4 * width * width) / width
		if thickness < 0.03 || thickness > 0.2 {
			t.Errorf("%s: the moving parts make a plate as thick as %.3f of its width", it.ID, thickness)
		}
		if small := first[it.Family.ID]; small != nil {
			power := math.Log(it.ElementMass.SI/small.ElementMass.SI) / math.Log(it.Bore.SI/small.Bore.SI)
			if power < 2.3 || power > 3.05 {
				t.Errorf("%s: mass of the element grows with the power %.2f from %s on", it.ID, power, small.ID)
			}
		} else {
			first[it.Family.ID] = it
		}
	})
}

// TestDemoValveMasses: the whole valve grows with a power of 2 to 3 over the span of its
// family, as walls that are made for one pressure, and for casting, do.
func TestDemoValveMasses(t *testing.T) {
	for _, f := range demoCatalogs(t)[0].Families {
		small, large := f.Items[0], f.Items[len(f.Items)-1]
		power := math.Log(large.Mass.SI/small.Mass.SI) / math.Log(large.Bore.SI/small.Bore.SI)
		if power < 2 || power > 3 {
			t.Errorf("%s: the mass grows with the power %.2f", f.ID, power)
		}
	}
}

// TestDemoInertia: a disc that hangs from its hinge has at least the inertia of its mass at
// its center of gravity, and at most that of a ring at its rim.
func TestDemoInertia(t *testing.T) {
	count := 0
	eachDemo(t, func(t *testing.T, it *Item) {
		inertia, said := it.Params["disc_inertia"]
		if !said {
			return
		}
		count++
		m, l, r := it.Params["disc_mass"].SI, it.Params["hinge_to_gravity_center"].SI, it.Params["disc_diameter"].SI/2
		if inertia.SI < m*l*l || inertia.SI > m*(l*l+r*r) {
			t.Errorf("%s: inertia %.3g kg m2, outside %.3g to %.3g", it.ID, inertia.SI, m*l*l, m*(l*l+r*r))
		}
	})
	if count < 50 {
		t.Errorf("only %d discs were looked at", count)
	}
}

// TestDemoEfficiency: full-open loss, full-open velocity and closing force belong to one
// valve: their force efficiency lies where it can, and rising flow opens the valve in
// full at the velocity that the catalog states.
func TestDemoEfficiency(t *testing.T) {
	eachDemo(t, func(t *testing.T, it *Item) {
		m := built(t, it)
		stated, said := it.Params["full_open_velocity"]
		if !said {
			return // balls: velocity and loss follow from drag and gap
		}
		if m.Efficiency < 0.55 || m.Efficiency > 1.2 {
			t.Errorf("%s: force efficiency %.2f", it.ID, m.Efficiency)
		}
		near(t, it.ID+" full-open velocity", m.FullOpenVelocity().VelocityMS, stated.SI, 0.05)
	})
}

// handbook are printed ranges of the full-open loss of each type.
var handbook = map[string]struct {
	low, high float64
	source    string
}{
	"ball-cage":       {0.9, 1.7, "Pumping Station Design, Table B-7: ball"},
	"ball-pocket":     {0.9, 1.7, "Pumping Station Design, Table B-7: ball"},
	"swing":           {0.6, 2.2, "Pumping Station Design, Table B-7: swing; Kalsi and Tullis (1993) 0.29 to 2.2"},
	"swing-assisted":  {0.6, 2.2, "Pumping Station Design, Table B-7: swing"},
	"swing-cushioned": {0.6, 2.2, "Pumping Station Design, Table B-7: swing"},
	"flap":            {1.1, 2.0, "Pumping Station Design, Table B-7: rubber flapper, 1.1 above 6 ft/s, 2.0 below"},
	"tilting-disc": {
		0.25, 2.62,
		"Pumping Station Design, Table B-7: slanting disc 0.25 to 2.0; Kalsi and Tullis (1993) 0.27 to 2.62",
	},
	"axial": {2.6, 2.6, "Pumping Station Design, Table B-7: center guided globe (silent)"},
	"dual-plate": {
		1.0, 2.5,
		"Pumping Station Design, Table B-7: double door 2.5 to 8 in, 1.2 from 10 to 16 in; Kalsi and Tullis (1993) 1.0 to 1.8",
	},
}

// TestDemoLossesAreThoseOfHandbooks: the loss at full opening lies in the printed range
// of its type, to the figures of the flow coefficient.
func TestDemoLossesAreThoseOfHandbooks(t *testing.T) {
	const rounding = 2e-3 // of a flow coefficient of four figures
	eachDemo(t, func(t *testing.T, it *Item) {
		h, known := handbook[it.Family.Type.Key]
		if !known {
			t.Fatalf("%s: no handbook is quoted for its type", it.ID)
		}
		if k := built(t, it).FullOpenVelocity().Loss; k < h.low*(1-rounding) || k > h.high*(1+rounding) {
			t.Errorf("%s: loss coefficient %.3f; %.2f to %.2f (%s)", it.ID, k, h.low, h.high, h.source)
		}
	})
}

// TestDemoFlowCoefficients: Cv/d² = 29.8/√K with d in inches, the handbook's form. For
// balls K is computed, good to some 10 %; the catalog was written from it.
func TestDemoFlowCoefficients(t *testing.T) {
	eachDemo(t, func(t *testing.T, it *Item) {
		k, inches := built(t, it).FullOpenVelocity().Loss, it.Bore.SI/0.0254
		near(t, it.ID+" Cv over the square of the bore", it.FlowCoefficient.SI/0.865/(inches*inches), 29.8/math.Sqrt(k),
			6e-3)
	})
}

// TestDemoOpensAtTheVelocityOfHandbooks: the full-open velocity of swing and tilting disc
// checks lies within 30 % of what Technical Paper 410 gives for its styles, N/√ρ: swing
// 45 (angled seat) to 75 (straight), tilting disc 40 (15°) to 100 (5°). The rule knows no
// size, while a disc of one shape needs a velocity that grows with the root of its size:
// below 4 in the catalog's swing checks open earlier than the rule has it. So do tilting
// discs in flow up, for which the rule was not made.
func TestDemoOpensAtTheVelocityOfHandbooks(t *testing.T) {
	rule := map[string][2]float64{"swing": {45, 75}, "tilting-disc": {40, 100}}
	count := 0
	eachDemo(t, func(t *testing.T, it *Item) {
		n, ruled := rule[it.Family.ID]
		if !ruled || it.Size.DN < 100 {
			return
		}
		count++
		v := built(t, it).FullOpenVelocity().VelocityMS
		if low, high := 0.7*n[0]/math.Sqrt(testWaterKgM3), 1.3*n[1]/math.Sqrt(testWaterKgM3); v < low || v > high {
			t.Errorf("%s is fully open at %.2f m/s; %.2f to %.2f m/s", it.ID, v, low, high)
		}
	})
	if count < 20 {
		t.Errorf("only %d valves were looked at", count)
	}
}

// TestDemoBallsFloatAtTheVelocityOfTheHandForm: V = (A_ann/A)(1/λ)√(4/3 g D |SG − 1|) with
// the annulus round the ball and λ ball over chamber (derived from a momentum balance;
// the accepted drag laws scatter by −8 to +11 % about the one in use).
func TestDemoBallsFloatAtTheVelocityOfTheHandForm(t *testing.T) {
	eachDemo(t, func(t *testing.T, it *Item) {
		if it.Family.ID != "ball-cage" {
			return
		}
		ball, chamber, bore := it.Params["ball_diameter"].SI, it.Params["chamber_diameter"].SI, it.Bore.SI
		lighter := math.Abs(it.Params["ball_density"].SI/testWaterKgM3 - 1)
		hand := (chamber*chamber - ball*ball) / (bore * bore) * chamber / ball * math.Sqrt(4.0/3*9.80665*ball*lighter)
		near(t, it.ID+" floats at", built(t, it).FullOpenVelocity().VelocityMS, hand, 0.08)
	})
}

// TestDemoPracticeOfTheTrade: a ball check lying down seals at 10 ft and more of water, a floating
// ball stands in flow down and a sinking one in flow up (common practice, no source);
// test factors are 1.5 and 1.0 (likewise).
func TestDemoPracticeOfTheTrade(t *testing.T) {
	eachDemo(t, func(t *testing.T, it *Item) {
		f := it.Family
		if f.ID == "ball-pocket" {
			near(t, it.ID+" seals lying down from", f.BackHead[valve.Horizontal].SI, 10*0.3048, 1e-9)
		}
		if want := map[string]valve.Position{
			"sinking":  valve.FlowUp,
			"floating": valve.FlowDown,
		}[it.Variant]; it.Variant != "" &&
			!slices.Equal(it.Positions, []valve.Position{want}) {
			t.Errorf("%s is offered for %v", it.ID, it.Positions)
		}
		if f.ShellTest.SI != 1.5 || f.SeatTest.SI != 1 {
			t.Errorf("%s is tested with %g and %g times its rating", it.ID, f.ShellTest.SI, f.SeatTest.SI)
		}
	})
}
