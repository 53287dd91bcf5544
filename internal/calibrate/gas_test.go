package calibrate_test

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"seatward/internal/calibrate"
	"seatward/quantity"
)

// TestFreeGas: gas that the trace asks for is taken in, and what it cannot be held apart from is
// said.
func TestFreeGas(t *testing.T) {
	h := hide(t, stationAt(t, "layout"), "swing/6in", "one-trips", logger{rateHz: 50, noiseM: 0.05},
		rand.New(rand.NewPCG(5, 1)), 1.2)
	f, err := calibrate.Of(context.Background(), h.model, h.stops[:1], calibrate.Options{})
	if err != nil {
		t.Fatal(err)
	}
	v := f.Points[0].Reverse
	if is := h.seated().ReverseMS; is < v.Low || is > v.High {
		t.Errorf("reverse velocity %.3f, stated %.3f to %.3f", is, v.Low, v.High)
	}
	if !f.Gas && !f.Poor {
		t.Error("free gas is not seen, and the fit is called good")
	}
	for _, w := range f.Measured(quantity.SI) {
		if w.Path != "pumps[0].inertia" {
			t.Errorf("%s is written, which a stop with gas tells only with another number", w.Path)
		}
	}
	if !slices.ContainsFunc(f.Pairs, func(p calibrate.Pair) bool { return p.Second == "free gas" }) {
		t.Errorf("gas and wave speed are not said to go together: %v", f.Pairs)
	}
}
