package valve

import (
	"math"
	"os"
	"strings"
	"testing"

	"seatward/quantity"
)

// A made-up type, as CONTRIBUTING.md walks through it: a plug that a spring presses
// into a cone. Registered here it passes through every conformance test.
var plug = register(Type{
	Key: "plug", Title: "Plug on a spring", Description: "A made-up type: a plug that a spring presses on a round seat. Water lifts it and passes round it; the spring brings it back.",
	Params: with([]Param{
		{Key: "bore", Title: "bore of the valve", Kind: quantity.Diameter, Required: true, Positive: true, Doc: "On which velocity and loss rest."},
		{Key: "stroke", Title: "lift of the plug", Kind: quantity.Diameter, Required: true, Positive: true, Doc: "From seat to stop."},
		{Key: "moving_mass", Title: "mass of the plug", Kind: quantity.Mass, Required: true, Positive: true, Doc: "With half the spring."},
		{Key: "spring_force", Title: "force of the spring", Kind: quantity.Force, Required: true, Positive: true, Doc: "Constant over the stroke."},
		{Key: "body_loss", Title: "loss of the open body", Kind: quantity.Number, Required: true, Positive: true, Doc: "On the bore's velocity head."},
	}, common(bodyFactor)),
	Positions:  []Position{Horizontal},
	SweptBores: [2]float64{0.05, 0.5},
	Example:    map[string]string{"bore": "100 mm", "stroke": "20 mm", "moving_mass": "0.8 kg", "spring_force": "15 N", "body_loss": "3"},
	build: func(v Values, s Setting) (Frame, Law, error) {
		area := math.Pi / 4 * v["bore"] * v["bore"]
		water := v["added_mass_factor"] * DiscAddedMass(s.DensityKgM3, v["bore"]/2)
		law := func(lift float64) State {
			gap := GapLoss(area, math.Pi*v["bore"]*lift, 0.8)
			return State{Terms: [3]Term{Both(gap+v["body_loss"], area, 1)}, Closing: v["spring_force"], Mass: v["moving_mass"] + water, Coupling: water}
		}
		return Frame{BoreM: v["bore"], Stroke: v["stroke"]}, law, nil
	},
})

// TestMadeUpType reads the type's data file and asks of it what is asked of any valve;
// the file of its numbers and this one are all that it takes.
func TestMadeUpType(t *testing.T) {
	data, err := os.ReadFile("testdata/plug.txt")
	if err != nil {
		t.Fatal(err)
	}
	p := Params{}
	for _, line := range strings.Split(strings.TrimSpace(string(data)), "\n") {
		key, text, _ := strings.Cut(line, ":")
		if p[key], err = plug.Param(key).Read(strings.TrimSpace(text), "made up"); err != nil {
			t.Fatal(err)
		}
	}
	m, err := plug.Build(p, In(999, Horizontal))
	if err != nil {
		t.Fatal(err)
	}
	open := m.FullOpenVelocity()
	if open.Meaning != HeldAtStop || !(open.VelocityMS > 0.3 && open.VelocityMS < 2) {
		t.Errorf("opens in full at %g m/s: %s", open.VelocityMS, open.Meaning)
	}
	c, err := m.Close(Deceleration{StartMS: open.VelocityMS, RateMS2: 5})
	if err != nil || c.Outcome != ClosedShut || !(c.ReverseVelocityMS > 0) {
		t.Errorf("closing: %+v, %v", c, err)
	}
	walk, err := os.ReadFile("../CONTRIBUTING.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, must := range []string{"valve/plug_test.go", "register(Type{", "catalog/demo/"} {
		if !strings.Contains(string(walk), must) {
			t.Errorf("CONTRIBUTING.md no longer walks through this type: %q is missing", must)
		}
	}
}
