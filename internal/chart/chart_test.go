package chart

import (
	"context"
	"errors"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatward/basis"
	"seatward/catalog"
	"seatward/quantity"
	"seatward/rules"
	"seatward/station"
	"seatward/study"
	"seatward/valve"
)

// TestRound: the numbers of a table rise, lie in the range, and are round in the units
// that are printed.
func TestRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sys := rapid.SampledFrom([]quantity.System{quantity.US, quantity.SI}).Draw(t, "system")
		kind := rapid.SampledFrom([]quantity.Kind{quantity.Flow, quantity.Acceleration, quantity.Velocity}).Draw(t,
			"kind")
		low := math.Pow(10, rapid.Float64Range(-5, 3).Draw(t, "low"))
		high := low * rapid.Float64Range(10, 1e4).Draw(t, "span")
		out := Round(sys, kind, low, high)
		if len(out) < 8 || !slices.IsSorted(out) || out[0] < low*(1-1e-6) || out[len(out)-1] > high*(1+1e-6) {
			t.Fatalf("%v from %g to %g", out, low, high)
		}
		for _, x := range out {
			v := sys.In(kind, x)
			step := v / math.Pow(10, math.Floor(math.Log10(v*(1+1e-9))))
			if !slices.ContainsFunc(roundSteps, func(s float64) bool { return math.Abs(s-step) < 1e-6 }) {
				t.Fatalf("%g is not round", v)
			}
		}
	})
	for _, bad := range [][2]float64{{0, 1}, {-1, 1}, {2, 1}, {1, math.Inf(1)}, {math.NaN(), 1}} {
		if out := Round(quantity.SI, quantity.Flow, bad[0], bad[1]); out != nil {
			t.Errorf("from %g to %g: %v", bad[0], bad[1], out)
		}
	}
}

// TestInsert: a number stands once, in its place.
func TestInsert(t *testing.T) {
	got := insert(insert(insert(insert([]float64{1, 2, 4}, 3), 0.5), 2), 5)
	if want := []float64{0.5, 1, 2, 3, 4, 5}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// alone puts a valve of the demonstration catalog into cold water.
func alone(t testing.TB, it *catalog.Item, p valve.Position) *Valve {
	t.Helper()
	v := &Valve{Item: it, Position: p, Setting: valve.In(999, p)}
	var err error
	if v.Mechanism, err = it.Family.Type.Build(it.Params, v.Setting); err != nil {
		t.Fatal(err)
	}
	return v
}

func demo(t testing.TB) []*catalog.Catalog {
	t.Helper()
	all, list := catalog.Demo()
	if list.Err() != nil {
		t.Fatal(list)
	}
	return all
}

// each visits the 6-inch valves of every family in every position that they allow.
func each(t *testing.T, visit func(t *testing.T, v *Valve)) {
	n := 0
	for _, c := range demo(t) {
		for _, f := range c.Families {
			for _, it := range f.Items {
				if it.Size.NPS() != 6 {
					continue
				}
				for _, position := range it.Positions {
					n++
					t.Run(it.ID+" "+position.String(), func(t *testing.T) { visit(t, alone(t, it, position)) })
				}
			}
		}
	}
	if n < 12 {
		t.Errorf("only %d valves were looked at", n)
	}
}

// TestLossOfEveryFamily: the curve is that of the mechanics, the flow that opens the
// valve in full stands in it, and below it the loss is more than the square of the flow
// gives.
func TestLossOfEveryFamily(t *testing.T) {
	each(t, func(t *testing.T, v *Valve) {
		l := NewLoss(v, nil, quantity.US)
		full := slices.IndexFunc(l.Points,
			func(p LossPoint) bool { return math.Abs(p.VelocityMS/l.FullOpenVelocityMS-1) < 1e-5 })
		if full < 2 || full > len(l.Points)-2 {
			t.Fatalf("the full-open velocity %g m/s stands at %d of %d", l.FullOpenVelocityMS, full, len(l.Points))
		}
		for i, p := range l.Points {
			if i > 0 && p.FlowM3S <= l.Points[i-1].FlowM3S {
				t.Errorf("flow %g does not rise", p.FlowM3S)
			}
			if want := v.Mechanism.LossHeadM(p.VelocityMS); p.LossM != want {
				t.Errorf("at %g m/s it loses %g m, want %g", p.VelocityMS, p.LossM, want)
			}
			if p.PartOpen != (i < full) {
				t.Errorf("at %g m/s part open is %v; full open from %g", p.VelocityMS, p.PartOpen, l.FullOpenVelocityMS)
			}
			square := l.FullOpenK * p.VelocityMS * p.VelocityMS / (2 * quantity.StandardGravity)
			if p.PartOpen && p.LossM < square*(1-1e-9) {
				t.Errorf("part open at %g m/s it loses %g m, less than the %g m that it would lose full open",
					p.VelocityMS, p.LossM, square)
			}
		}
		if first, last := l.Line[0], l.Line[len(l.Line)-1]; first.FlowM3S != l.Points[0].FlowM3S ||
			math.Abs(last.FlowM3S/l.Points[len(l.Points)-1].FlowM3S-1) > 1e-9 {
			t.Error("the line does not span the points")
		}
	})
}

// TestLossAtFlows: the flows asked for stand in the curve, and the caller's list stays.
func TestLossAtFlows(t *testing.T) {
	it, err := catalog.Find(demo(t), "flap/6in")
	if err != nil {
		t.Fatal(err)
	}
	asked := append(make([]float64, 0, 10), 0.01, 0.05)
	l := NewLoss(alone(t, it, valve.FlowUp), asked, quantity.SI)
	if len(l.Points) != 3 || l.Points[0].FlowM3S != 0.01 || l.Points[2].FlowM3S != 0.05 {
		t.Errorf("%d points", len(l.Points))
	}
	if again := asked[:3]; again[2] != 0 {
		t.Error("the caller's list was written to")
	}
}

// TestClosingOfEveryFamily: the best numbers with and without the pull are those of the
// mechanics; the band holds the median; added mass and pull are among its doubts.
func TestClosingOfEveryFamily(t *testing.T) {
	rates := []float64{1, 4, 8, 16}
	each(t, func(t *testing.T, v *Valve) {
		c, err := NewClosing(v, Stop{RatesMS2: rates, QuietMS: 0.15, HarmfulMS: 0.3}, quantity.SI)
		if err != nil {
			t.Fatal(err)
		}
		for i, p := range c.Points {
			d := valve.Deceleration{StartMS: c.StartVelocityMS.Best, RateMS2: rates[i]}
			with, err := v.Mechanism.Close(d)
			if err != nil {
				t.Fatal(err)
			}
			without, err := v.Mechanism.WithoutAcceleration().Close(d)
			if err != nil {
				t.Fatal(err)
			}
			b := p.ReverseVelocityMS
			if b.Best != with.ReverseVelocityMS || p.WithoutPullMS != without.ReverseVelocityMS {
				t.Errorf("at %g m/s²: %g and %g, the mechanics give %g and %g", rates[i], b.Best, p.WithoutPullMS,
					with.ReverseVelocityMS, without.ReverseVelocityMS)
			}
			if !(0 <= b.Low && b.Low <= p.MedianMS && p.MedianMS <= b.High) || p.Failed > c.Draws/20 {
				t.Errorf("at %g m/s²: %g to %g to %g, %d draws failed", rates[i], b.Low, p.MedianMS, b.High, p.Failed)
			}
			if (p.SeatingSpeedRadS != nil) != v.Mechanism.Rotary || (p.SeatingSpeedMS != nil) == v.Mechanism.Rotary {
				t.Errorf("at %g m/s²: seating speed in the wrong unit", rates[i])
			}
		}
		for _, want := range []string{"mass of water", "accelerating water"} {
			if !slices.ContainsFunc(c.Doubts, func(d Doubt) bool { return strings.Contains(d.Name, want) }) {
				t.Errorf("no doubt of the %s", want)
			}
		}
	})
}

// TestClosingCurveRises: from one deceleration to twice it the median and both ends of the
// band rise, for every family from DN100 to DN300. Between, the median may fall where the
// element swings as the flow slows (plain and weighted discs near 3 to 5 m/s², balls in a
// pocket near 5 m/s²; physics A7.1), but by less than a quarter of the band.
func TestClosingCurveRises(t *testing.T) {
	rates := make([]float64, 11)
	for i := range rates {
		rates[i] = 0.5 * math.Pow(2, float64(i)/2)
	}
	for _, f := range demo(t)[0].Families {
		for i, it := range f.Items {
			if it.Bore.SI < 0.09 || it.Bore.SI > 0.31 || i%2 == 1 { // every other item, for time
				continue
			}
			c, err := NewClosing(alone(t, it, it.Positions[0]), Stop{RatesMS2: rates}, quantity.SI)
			if errors.Is(err, ErrNotOpen) {
				continue
			}
			if err != nil {
				t.Fatal(err)
			}
			for i := range c.Points[1:] {
				p, q := &c.Points[i], &c.Points[i+1]
				if fall := p.MedianMS - q.MedianMS; fall > 0.25*(q.ReverseVelocityMS.High-q.ReverseVelocityMS.Low) {
					t.Errorf("%s: from %.2f to %.2f m/s² the median falls from %.3f to %.3f m/s", it.ID, rates[i],
						rates[i+1], p.MedianMS, q.MedianMS)
				}
				if i == 0 {
					continue
				}
				o := &c.Points[i-1]
				if a, b := o.ReverseVelocityMS, q.ReverseVelocityMS; q.MedianMS <= o.MedianMS || b.Low <= a.Low ||
					b.High <= a.High {
					t.Errorf("%s: at %.2f m/s² %.3f to %.3f to %.3f m/s, at twice that %.3f to %.3f to %.3f", it.ID,
						rates[i-1], a.Low, o.MedianMS, a.High, b.Low, q.MedianMS, b.High)
				}
			}
		}
	}
}

// TestClosingNotOpen: a flow that does not lift the element is said to be one.
func TestClosingNotOpen(t *testing.T) {
	it, err := catalog.Find(demo(t), "axial-spring/6in")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := NewClosing(alone(t, it, valve.Horizontal),
		Stop{Start: basis.NewGiven("velocity", quantity.Velocity, 1e-5,
			"test")}, quantity.SI); !errors.Is(err, ErrNotOpen) {
		t.Errorf("got %v", err)
	}
}

// TestMeasuredClosing: a measured curve goes with the computed one.
func TestMeasuredClosing(t *testing.T) {
	found, err := catalog.Find(demo(t), "flap/6in")
	if err != nil {
		t.Fatal(err)
	}
	it := *found
	it.Measured = []catalog.Measured{{
		Kind: "reverse velocity against deceleration", Source: "a test",
		X: []float64{1, 10}, Y: []float64{0.1, 0.4},
	}}
	c, err := NewClosing(alone(t, &it, valve.FlowUp), Stop{RatesMS2: []float64{2, 5}}, quantity.SI)
	if err != nil {
		t.Fatal(err)
	}
	if len(c.Measured) != 2 || c.Measured[1] != (Measured{10, 0.4}) || c.MeasuredSource != "a test" {
		t.Errorf("measured %v from %q", c.Measured, c.MeasuredSource)
	}
}

// ofStation is the quick study of an example station with one valve.
func ofStation(t *testing.T, name string) *study.Study {
	t.Helper()
	file := "../../examples/" + name + ".station.yaml"
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	st, list := station.Load(file, data)
	if st == nil {
		t.Fatal(list)
	}
	book, list := rules.Base()
	if list.Err() != nil {
		t.Fatal(list)
	}
	s, err := study.Run(context.Background(), st, study.Options{Catalogs: demo(t), Rules: book, Valve: "flap/6in"})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestInStation: the station's operating points and worst stop stand in the curves.
func TestInStation(t *testing.T) {
	s := ofStation(t, "layout")
	st := s.Station
	a := &s.Assessments[0]
	v := alone(t, a.Item, st.Valve.Position)
	v.Study = s
	duties := 0
	for _, p := range NewLoss(v, nil, quantity.US).Points {
		if p.Duty != "" {
			duties++
		}
	}
	if duties != len(a.Duties) {
		t.Errorf("%d operating points in the loss curve, want %d", duties, len(a.Duties))
	}
	c, err := NewClosing(v, Stop{Run: RunOf(v)}, quantity.US)
	if err != nil {
		t.Fatal(err)
	}
	if c.Run == nil || c.Run.DecelerationMS2 != a.Slam.Deceleration.SI ||
		c.Run.ReverseVelocityMS.Best != a.Slam.ReverseVelocity.SI || c.Run.Event != a.Slam.Event {
		t.Fatalf("the station's stop is %+v", c.Run)
	}
	if x := c.DoubtsAtMS2 / c.Run.DecelerationMS2; x < 0.7 || x > 1.4 {
		t.Errorf("doubts are listed at %g m/s², the station's deceleration is %g", c.DoubtsAtMS2, c.Run.DecelerationMS2)
	}
}
