package calibrate_test

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"seatward/catalog"
	"seatward/internal/calibrate"
	"seatward/plant"
	"seatward/quantity"
	"seatward/station"
	"seatward/valve"
)

// TestSave: the measured numbers come into the file as ranges with a comment and a note; every
// other line stays, and the station starts from them.
func TestSave(t *testing.T) {
	data, err := os.ReadFile("../../examples/layout.station.yaml")
	if err != nil {
		t.Fatal(err)
	}
	before, _ := station.Load("a", data)
	measured := []calibrate.Written{
		{Path: "pumps[0].inertia", Name: "inertia of pump and motor", Value: "3.4 (3.36..3.44) lb ft2"},
		{Path: "main.runs[0].wave_speed", Name: "wave speed of the main", Value: "1430 (1427..1433) ft/s"},
		{Path: "main.runs[0].roughness", Name: "roughness of the main", Value: "0.0004 (0.0003..0.0006) in"},
		{Path: "fluid.free_gas", Name: "free gas", Value: "0.02 (0.015..0.025) %"},
	}
	out, err := calibrate.Save("a", data, measured, "2026-05-12, stops.log.csv")
	if err != nil {
		t.Fatal(err)
	}
	st, list := station.Load("a", out)
	if st == nil {
		t.Fatal(list)
	}
	v := st.Pumps[0].Inertia
	if !(v.Low > before.Pumps[0].Inertia.Low && v.High < before.Pumps[0].Inertia.High && v.Low < v.High) {
		t.Errorf("inertia %v, before %v", v.Format(quantity.US), before.Pumps[0].Inertia.Format(quantity.US))
	}
	r, gas := st.Main.Runs[0].Roughness, st.Fluid.FreeGas
	if !near(r.Low, 0.0003*0.0254) || !near(r.High, 0.0006*0.0254) || !near(gas.Low, 0.00015) ||
		!near(gas.High, 0.00025) {
		t.Errorf("roughness %s, free gas %s", r.Format(quantity.US), gas.Format(quantity.US))
	}
	p, err := plant.New(st)
	if err != nil {
		t.Fatal(err)
	}
	it := hide(t, before, "swing/6in", "stop", logger{rateHz: 25}, rand.New(rand.NewPCG(1, 1)), 0).model.Item
	knobs, err := p.Knobs(it)
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range knobs { // the next fit and the next answer start from the ranges that were saved
		if k.Name == "roughness of the main" && !near(k.At(1.645), 0.0006*0.0254) {
			t.Errorf("the next fit starts from %g at the upper end of roughness", k.At(1.645))
		}
	}
	for _, l := range strings.Split(string(data), "\n") {
		if !strings.Contains(string(out), l) {
			t.Errorf("the line %q is gone", l)
		}
	}
	for _, want := range []string{
		"inertia: 3.4 (3.36..3.44) lb ft2  # measured 2026-05-12, stops.log.csv",
		"wave_speed: 1430 (1427..1433) ft/s  # measured 2026-05-12, stops.log.csv",
		"roughness: 0.0004 (0.0003..0.0006) in  # measured 2026-05-12, stops.log.csv",
		"free_gas: 0.02 (0.015..0.025) %  # measured 2026-05-12, stops.log.csv",
	} {
		if !strings.Contains(string(out), want) {
			t.Errorf("%q is not in the file:\n%s", want, out)
		}
	}
	if !calibrate.NotedBefore(st, "stops.log.csv") || calibrate.NotedBefore(before, "stops.log.csv") ||
		calibrate.NotedBefore(st, "other.csv") {
		t.Errorf("notes: %q", st.Notes)
	}
	hazen := []calibrate.Written{{Path: "main.runs[0].hazen_williams", Name: "C", Value: "140 (136..144)"}}
	if out, err = calibrate.Save("a", data, hazen, "stops.log.csv"); err != nil {
		t.Fatal(err)
	}
	if st, _ := station.Load("a", out); st == nil || !near(st.Main.Runs[0].HazenWilliams.High, 144) {
		t.Errorf("Hazen-Williams C is not in\n%s", out)
	}
	if _, err := calibrate.Save("a", data, []calibrate.Written{{Path: "pumps[0].inertia", Value: "x"}}, ""); err == nil {
		t.Error("a value that is none was written")
	}
}

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-3*math.Abs(b) }

// points of a fit, as stops give them: deceleration and reverse velocity, each with a half width.
func stopsAt(v ...[4]float64) *calibrate.Fit {
	f := &calibrate.Fit{}
	for _, x := range v {
		f.Points = append(f.Points, calibrate.Point{
			Closed:       true,
			Deceleration: calibrate.Interval{Low: x[0] - x[1], Best: x[0], High: x[0] + x[1]},
			Reverse:      calibrate.Interval{Low: x[2] - x[3], Best: x[2], High: x[2] + x[3]},
		})
	}
	return f
}

// TestCurve: stops of one deceleration are one point, a fall within the errors is none, and what
// makes no curve says why.
func TestCurve(t *testing.T) {
	got, err := stopsAt([4]float64{4, 0.1, 0.4, 0.02}, [4]float64{1, 0.1, 0.1, 0.02}, [4]float64{1.02, 0.1, 0.12, 0.02},
		[4]float64{3, 0.1, 0.41, 0.02}).Curve()
	if err != nil || len(got) != 2 {
		t.Fatalf("%+v, %v", got, err)
	}
	if p := got[0]; p.Stops != 2 || math.Abs(p.Reverse.Best-0.11) > 1e-9 || math.Abs(p.Deceleration.Best-1.01) > 1e-9 ||
		math.Abs(p.Reverse.High-0.11-0.02/math.Sqrt2) > 1e-9 {
		t.Errorf("joint point %+v", p)
	}
	if p := got[1]; p.Stops != 2 || math.Abs(p.Reverse.Best-0.405) > 1e-9 {
		t.Errorf("the fall within the errors: %+v", p)
	}
	_, err = stopsAt([4]float64{1, 0.1, 0.4, 0.02}, [4]float64{4, 0.1, 0.1, 0.02}).Curve()
	if !errors.Is(err, calibrate.ErrFalls) {
		t.Errorf("a falling curve: %v", err)
	}
	if _, err := stopsAt([4]float64{1, 0.1, 0.4, 0.02}).Curve(); !errors.Is(err, calibrate.ErrFewPoints) {
		t.Errorf("one stop: %v", err)
	}
	poor := stopsAt([4]float64{1, 0.1, 0.1, 0.02}, [4]float64{4, 0.1, 0.4, 0.02})
	poor.Poor = true
	if _, err := poor.Curve(); !errors.Is(err, calibrate.ErrFewPoints) {
		t.Errorf("a poor fit: %v", err)
	}
}

// TestCurveFile: the file of a curve is a catalog file without a fault, and comes to its valve.
func TestCurveFile(t *testing.T) {
	points, err := stopsAt([4]float64{1, 0.1, 0.1, 0.02}, [4]float64{4, 0.2, 0.4, 0.03}).Curve()
	if err != nil {
		t.Fatal(err)
	}
	demo, _ := catalog.Demo()
	it, err := catalog.Find(demo, "ball-cage/6in/sinking")
	if err != nil {
		t.Fatal(err)
	}
	for _, nameless := range []bool{false, true} {
		text := calibrate.CurveFile(points, calibrate.Origin{
			Station: "Dune Road: \"lift\" station", Date: "2026-05-12", Licence: "CC0 1.0", Item: it, At: valve.FlowUp, Stops: 2,
			Nameless: nameless,
		})
		own, list := catalog.LoadFiles(fstest.MapFS{"c.yaml": {Data: text}}, "c.yaml")
		if len(list) > 0 {
			t.Fatalf("%v\n%s", list, text)
		}
		all, list := catalog.Join(append(demo, own...))
		if len(list) > 0 {
			t.Fatal(list)
		}
		found, err := catalog.Find(all, it.ID)
		if err != nil {
			t.Fatal(err)
		}
		m, ok := found.MeasuredClosing(valve.FlowUp)
		if !ok || m.X[1] != 4 || math.Abs(m.YHalf[1]-0.03) > 1e-9 || m.Licence != "CC0 1.0" {
			t.Errorf("%v %+v", ok, m)
		}
		if nameless == (strings.Contains(string(text), "Dune") || strings.Contains(string(text), "05-12")) {
			t.Errorf("nameless %v:\n%s", nameless, text)
		}
	}
}

// TestFitEnds: a fit is canceled at once, and what cannot be fitted says so.
func TestFitEnds(t *testing.T) {
	h := hide(t, stationAt(t, "layout"), "swing/6in", "one-trips", logger{rateHz: 50, noiseM: 0.1},
		rand.New(rand.NewPCG(1, 1)), 0)
	ctx, stop := context.WithCancel(context.Background())
	runs := 0
	_, err := calibrate.Of(ctx, h.model, h.stops[:1], calibrate.Options{Progress: func(n int) {
		if runs = n; n > 5 {
			stop()
		}
	}})
	if !errors.Is(err, context.Canceled) || runs > 40 {
		t.Errorf("canceled after 5 runs: %v after %d", err, runs)
	}
	stop()
	_, err = calibrate.Of(context.Background(), h.model, nil, calibrate.Options{})
	if !errors.Is(err, calibrate.ErrNoStop) {
		t.Errorf("without a stop: %v", err)
	}
}

// TestWrongStop: a stop of another kind is not followed, and nothing is taken from it.
func TestWrongStop(t *testing.T) {
	h := hide(t, stationAt(t, "layout"), "swing/6in", "one-trips", logger{rateHz: 25, noiseM: 0.1},
		rand.New(rand.NewPCG(2, 1)), 0)
	other := hide(t, stationAt(t, "layout"), "swing/6in", "power-failure", logger{rateHz: 25, noiseM: 0.1},
		rand.New(rand.NewPCG(2, 1)), 0)
	f, err := calibrate.Of(context.Background(), other.model, h.stops[:1], calibrate.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !f.Poor || len(f.Measured(quantity.SI)) > 0 {
		t.Errorf("a stop of one pump fitted as power failure: poor %v, measured %v", f.Poor, f.Measured(quantity.SI))
	}
}
