package plant

import (
	"math"
	"testing"

	"seatward/basis"
	"seatward/catalog"
	"seatward/quantity"
)

// TestReadMeasuredErrors: between two points of a curve with errors the reverse velocity has their
// error, with that of the deceleration by the slope; at the ends it holds as far as these reach.
func TestReadMeasuredErrors(t *testing.T) {
	m := catalog.Measured{
		Source: "test", X: []float64{1, 3}, Y: []float64{0.1, 0.5}, XHalf: []float64{0.1, 0.1},
		YHalf: []float64{0.04, 0.06},
	}
	at := func(x float64) (basis.Value, error) {
		return ReadMeasured(m, basis.NewGiven("deceleration", quantity.Acceleration, x, "test"))
	}
	v, err := at(2)
	half := math.Hypot(0.05, 0.2*0.1) * 1.6448536 / 1.9599640 // of 95 % and of 5 to 95 %
	if err != nil || math.Abs(v.SI-0.3) > 1e-12 || math.Abs(v.High-0.3-half) > 1e-6 || math.Abs(0.3-half-v.Low) > 1e-6 {
		t.Errorf("%v, %v; half %g", v, err, half)
	}
	if v, err := at(3.05); err != nil || v.SI != 0.5 {
		t.Errorf("within the error of the end: %v, %v", v.SI, err)
	}
	for _, x := range []float64{0.8, 3.2} {
		if v, err := at(x); err == nil {
			t.Errorf("outside, at %g: %v", x, v.SI)
		}
	}
}

// TestMeasuredReplacesTheValvesPart: the interval of a measured slam is that of the curve and of
// what the station leaves open, and the chances are those of that interval.
func TestMeasuredReplacesTheValvesPart(t *testing.T) {
	x := Slam{Inputs: []Influence{{Own: true, Share: 0.6}, {Share: 0.2}}}
	if s := x.stationShare(); math.Abs(s-0.25) > 1e-12 {
		t.Errorf("the station has %g of 0.8, exactly 0.25", s)
	}
	if s := (&Slam{}).stationShare(); s != 1 {
		t.Errorf("nothing known of the parts: %g", s)
	}
	v := basis.NewCatalog("v", quantity.Velocity, 0.3, "test").WithRange(0.1, 0.4)
	c := chancesOf(v, Limits{QuietMS: 0.1, HarmfulMS: 0.3})
	if math.Abs(c.Quiet-0.05) > 1e-6 || math.Abs(c.Audible-0.45) > 1e-6 || math.Abs(c.Harmful-0.5) > 1e-6 {
		t.Errorf("chances %+v, exactly 0.05, 0.45 and 0.5", c)
	}
	sure := chancesOf(basis.NewCatalog("v", quantity.Velocity, 0.2, "test"), Limits{QuietMS: 0.1, HarmfulMS: 0.3})
	if sure != (Chances{Audible: 1}) {
		t.Errorf("without an error: %+v", sure)
	}
}
