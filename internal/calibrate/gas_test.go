package calibrate_test

import (
	"context"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"seatward/internal/calibrate"
	"seatward/quantity"
	"seatward/station"
)

// TestFreeGas: gas that the trace asks for is taken in, is found beside the wave speed which it slows,
// and is saved.
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
	if !f.Gas || f.Poor {
		t.Fatalf("free gas taken in %v, poor %v", f.Gas, f.Poor)
	}
	for i, k := range h.knobs {
		at := slices.IndexFunc(f.Numbers, func(n calibrate.Number) bool { return n.Name == k.Name })
		if is, n := k.At(h.z[i]), f.Numbers[at]; n.Measured() && n.Paths != nil && (is < n.Low || is > n.High) {
			t.Errorf("%s is %.4g, stated %.4g to %.4g", n.Name, is, n.Low, n.High)
		}
	}
	data, err := os.ReadFile("../../examples/layout.station.yaml")
	if err != nil {
		t.Fatal(err)
	}
	out, err := calibrate.Save("a", data, f.Measured(quantity.US), "2026-05-12, gas.csv")
	if err != nil {
		t.Fatal(err)
	}
	st, list := station.Load("a", out)
	if st == nil {
		t.Fatal(list)
	}
	was := h.model.Station.Fluid.FreeGas
	if gas := st.Fluid.FreeGas; !(gas.Low > 0 && gas.High-gas.Low < was.High-was.Low) {
		t.Errorf("saved as %s, before %s:\n%s", gas.Format(quantity.US), was.Format(quantity.US), out)
	}
}
