package valve

import (
	"errors"
	"math"
	"testing"
)

// TestCalibrateReturnsItsSource: a valve calibrated by its own loss and floating velocity
// behaves as before.
func TestCalibrateReturnsItsSource(t *testing.T) {
	for _, key := range []string{"swing", "axial", "dual-plate", "ball-pocket"} {
		m := example(t, typeNamed(t, key), Horizontal)
		c := Measured{Tested: m}
		for share := 0.04; share <= 0.5; share += 0.005 {
			s := m.At(share * m.Stroke)
			c.Loss = append(c.Loss, Point{share, s.Loss(1)})
			if v := m.FloatingVelocityMS(share * m.Stroke); len(c.Floating) == 0 ||
				v > c.Floating[len(c.Floating)-1].X {
				c.Floating = append(c.Floating, Point{v, share})
			}
		}
		got, err := m.Calibrate(c)
		if err != nil {
			t.Fatal(err)
		}
		for _, share := range []float64{0.01, 0.05, 0.11, 0.23, 0.4} {
			xi := share * m.Stroke
			near(t, key+" floating velocity", got.FloatingVelocityMS(xi), m.FloatingVelocityMS(xi), 0.02)
			a, b := got.At(xi), m.At(xi)
			near(t, key+" loss", a.Loss(1), b.Loss(1), 0.02)
			near(t, key+" loss in reverse", a.Loss(-1), b.Loss(-1), 0.02)
		}
	}
}

// TestCalibrateMeetsTheTest: a valve calibrated by a floating test floats as it was tested,
// in the tested position, and in another as its closing force there asks.
func TestCalibrateMeetsTheTest(t *testing.T) {
	typ := typeNamed(t, "swing")
	lying, rising := example(t, typ, Horizontal), example(t, typ, FlowUp)
	c := Measured{
		Loss:     []Point{{0.1, 20}, {0.3, 2}, {0.6, 1.1}, {1, 0.9}},
		Floating: []Point{{0.3, 0.15}, {0.8, 0.35}, {1.2, 0.7}, {1.45, 1}},
		Tested:   lying,
	}
	got, err := lying.Calibrate(c)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range c.Floating {
		near(t, "floating velocity", got.FloatingVelocityMS(p.Y*got.Stroke), p.X, 1e-9)
	}
	near(t, "loss at the stop", got.Settle(2).Loss, 0.9, 1e-9)
	turned, err := rising.Calibrate(c)
	if err != nil {
		t.Fatal(err)
	}
	a, b := lying.At(0.35*lying.Stroke), rising.At(0.35*rising.Stroke)
	ratio := turned.FloatingVelocityMS(0.35*turned.Stroke) / got.FloatingVelocityMS(0.35*got.Stroke)
	near(t, "square of the velocities", ratio*ratio, b.Closing/a.Closing, 1e-9)
	if lying.Settle(2).Loss == 0.9 || len(got.Notes) != len(lying.Notes)+1 {
		t.Error("calibration changed the mechanism it started from, or does not say that it was done")
	}
}

func TestCalibrateFaults(t *testing.T) {
	m := example(t, typeNamed(t, "swing"), Horizontal)
	for name, c := range map[string]Measured{
		"loss runs back":       {Loss: []Point{{0.5, 2}, {0.3, 3}}},
		"one point":            {Loss: []Point{{0.5, 2}}},
		"no loss":              {Loss: []Point{{0.1, 0}, {0.3, 3}}},
		"beyond the stop":      {Loss: []Point{{0.1, 9}, {1.3, 3}}},
		"no tested mechanism":  {Floating: []Point{{1, 0.3}, {2, 0.8}}},
		"floating runs back":   {Floating: []Point{{1, 0.8}, {2, 0.3}}, Tested: m},
		"floating at nothing":  {Floating: []Point{{0, 0.1}, {2, 0.3}}, Tested: m},
		"floating past a stop": {Floating: []Point{{1, 0.1}, {2, 1.3}}, Tested: m},
	} {
		if _, err := m.Calibrate(c); !errors.Is(err, ErrMeasured) {
			t.Errorf("%s: error %v", name, err)
		}
	}
	cage := example(t, typeNamed(t, "ball-cage"), FlowUp)
	if _, err := cage.Calibrate(Measured{Loss: []Point{{0.1, 9}, {1, 1}}}); !errors.Is(err, ErrMeasured) {
		t.Errorf("a caged ball was calibrated: %v", err)
	}
}

// TestCalibrateByHeldElement: the water pushes a held element as it was tested, in both
// directions, and a valve calibrated by its own force behaves as before.
func TestCalibrateByHeldElement(t *testing.T) {
	quicker := false
	for _, key := range []string{"swing", "axial"} {
		m, err := typeNamed(t, key).VariedAll(exampleParams(t, key), In(998, Horizontal),
			map[string]float64{"reverse_loss_factor": 1.3})
		if err != nil {
			t.Fatal(err)
		}
		lever := m.BoreM * m.BoreM
		if m.Rotary {
			lever *= m.BoreM
		}
		coefficient := func(share, sign float64) float64 {
			s := m.At(share * m.Stroke)
			return math.Abs(s.Push(2, sign)) / lever // ½ρV² = 1
		}
		var own, doubled Measured
		for share := 0.02; share <= 1; share += 0.02 {
			own.Push = append(own.Push, Point{share, coefficient(share, 1)})
			own.PushBack = append(own.PushBack, Point{share, coefficient(share, -1)})
			doubled.PushBack = append(doubled.PushBack, Point{share, 2 * coefficient(share, -1)})
		}
		same, err := m.Calibrate(own)
		if err != nil {
			t.Fatal(err)
		}
		quick, err := m.Calibrate(doubled)
		if err != nil {
			t.Fatal(err)
		}
		for _, share := range []float64{0.05, 0.3, 0.71} {
			xi := share * m.Stroke
			a, b, c := m.At(xi), same.At(xi), quick.At(xi)
			for _, sign := range []float64{1, -1} {
				near(t, key+" force of its own test", b.Push(2, sign), a.Push(2, sign), 0.01)
			}
			near(t, key+" force of a test in reverse flow", c.Push(2, -1), 2*a.Push(2, -1), 0.01)
			near(t, key+" force in forward flow, not tested", c.Push(2, 1), a.Push(2, 1), 1e-9)
		}
		// The force in reverse flow moves an element only where the water overtakes it.
		for _, rate := range []float64{5, 20} {
			fall := Deceleration{StartMS: 2, RateMS2: rate}
			before, _ := m.Close(fall)
			after, _ := same.Close(fall)
			pushed, _ := quick.Close(fall)
			near(t, key+" reverse velocity", after.ReverseVelocityMS, before.ReverseVelocityMS, 0.01)
			if pushed.TimeS > before.TimeS+1e-9 {
				t.Errorf("%s: twice the force in reverse flow shuts it in %g s, once in %g s", key, pushed.TimeS,
					before.TimeS)
			}
			quicker = quicker || pushed.TimeS < 0.999*before.TimeS
		}
	}
	if !quicker {
		t.Error("twice the force in reverse flow shuts none of them sooner")
	}
	m := example(t, typeNamed(t, "swing"), Horizontal)
	both := Measured{Push: []Point{{0.2, 1}, {1, 1}}, Floating: []Point{{1, 0.5}, {2, 1}}, Tested: m}
	if _, err := m.Calibrate(both); !errors.Is(err, ErrMeasured) {
		t.Errorf("force given twice: %v", err)
	}
}

func exampleParams(t *testing.T, key string) Params {
	t.Helper()
	p, err := typeNamed(t, key).ReadExample()
	if err != nil {
		t.Fatal(err)
	}
	return p
}
