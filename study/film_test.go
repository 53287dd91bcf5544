package study

import (
	"bytes"
	"context"
	"math"
	"testing"

	"seatward/station"
)

// kilometer is the layout example with a main of 1 km.
func kilometer(t testing.TB) *station.Station {
	t.Helper()
	st, list := station.Load("test.yaml", bytes.Replace(example(t, "layout"), []byte("length: 3400 ft"), []byte("length: 1000 m"), 1))
	if st == nil {
		t.Fatal(list)
	}
	return st
}

// A film has at most the frames asked for, every peak of every place in it, and leaves the
// run as it is without a film.
func TestFilm(t *testing.T) {
	st := kilometer(t)
	for _, quick := range []bool{true, false} {
		for _, frames := range []int{2, 7, 60, 240, 100_000} {
			opt := TripOptions{Catalogs: options(t).Catalogs, Rules: options(t).Rules, Valve: "flap/6in", Event: "one-trips-high", Frames: frames, Quick: quick}
			s, err := RunTrip(context.Background(), st, opt)
			if err != nil {
				t.Fatal(err)
			}
			f, trip := s.Told().Film, s.Told()
			n := len(f.TimeS)
			if n > min(frames, MostFrames) || n != len(f.HeadM) || n != len(f.Opening) || n != len(f.PumpSpeed) || f.TimeS[0] != 0 || f.TimeS[n-1] > trip.TimeS || f.TimeS[n-1] < trip.TimeS*0.9 {
				t.Errorf("%d frames to %g s of %g s, asked for %d", n, f.TimeS[n-1], trip.TimeS, frames)
			}
			peaks(t, f, frames >= 60)
			if least, most := bounds(f.LeastM), bounds(f.MostM); least[0] < bounds(envelope(trip, false))[0] || most[1] > bounds(envelope(trip, true))[1] {
				t.Error("the film shows heads beyond the envelope")
			}
		}
	}
	bare, err := RunTrip(context.Background(), st, TripOptions{Catalogs: options(t).Catalogs, Rules: options(t).Rules, Valve: "flap/6in", Event: "one-trips-high", Quick: true})
	if err != nil {
		t.Fatal(err)
	}
	whole, err := RunTrip(context.Background(), st, TripOptions{Catalogs: options(t).Catalogs, Rules: options(t).Rules, Valve: "flap/6in", Event: "one-trips-high"})
	if err != nil {
		t.Fatal(err)
	}
	if bare.Told().Closing != whole.Told().Closing && bare.Told().Closing.ReverseMS != whole.Told().Closing.ReverseMS {
		t.Errorf("the quick run ends with %+v, the whole one with %+v", bare.Told().Closing, whole.Told().Closing)
	}
	if bare.Closed.Class == "" || bare.Told().TimeS >= whole.Told().TimeS {
		t.Errorf("the quick run is of %g s, class %q", bare.Told().TimeS, bare.Closed.Class)
	}
}

// peaks holds every place to the head of the run that is furthest from the one before the
// event, and nearly every place to the one on the other side too: the two may fall in one
// frame.
func peaks(t *testing.T, f *Film, fine bool) {
	t.Helper()
	if !fine {
		return
	}
	lost := 0
	for i := range f.ChainageM {
		low, high := float32(math.Inf(1)), float32(math.Inf(-1))
		for k := range f.HeadM {
			low, high = min(low, f.HeadM[k][i]), max(high, f.HeadM[k][i])
		}
		start := float64(f.HeadM[0][i])
		far, near := low == float32(f.LeastM[i]), high == float32(f.MostM[i])
		if f.MostM[i]-start > start-f.LeastM[i] {
			far, near = near, far
		}
		if !far {
			t.Fatalf("at %g m the frames show %g to %g, the run had %g to %g", f.ChainageM[i], low, high, f.LeastM[i], f.MostM[i])
		}
		if !near && math.Max(math.Abs(float64(low)-f.LeastM[i]), math.Abs(float64(high)-f.MostM[i])) > 0.01 {
			lost++
		}
	}
	if lost > len(f.ChainageM)/20 {
		t.Errorf("%d of %d places lost a peak between frames", lost, len(f.ChainageM))
	}
}

func bounds(x []float64) [2]float64 {
	out := [2]float64{math.Inf(1), math.Inf(-1)}
	for _, v := range x {
		out[0], out[1] = min(out[0], v), max(out[1], v)
	}
	return out
}

func envelope(t *Trip, most bool) []float64 {
	var out []float64
	for _, e := range t.Envelope {
		if most {
			out = append(out, e.MostM)
		} else {
			out = append(out, e.LeastM)
		}
	}
	return out
}

// A change is in every run.
func TestTripWithChange(t *testing.T) {
	st := kilometer(t)
	back := func(ch Change) float64 {
		s, err := RunTrip(context.Background(), st, TripOptions{Catalogs: options(t).Catalogs, Rules: options(t).Rules, Valve: "swing/6in", Event: "one-trips-high", Quick: true, With: ch})
		if err != nil {
			t.Fatal(err)
		}
		return s.Told().Closing.ReverseMS
	}
	if still, wheel := back(Change{}), back(Change{FlywheelKgM2: 2}); wheel >= still {
		t.Errorf("a flywheel takes the reverse velocity from %g to %g", still, wheel)
	}
}

// BenchmarkQuickTrip is the player of a page: one valve on a main of 1 km, until it has
// shut, with its film. Thirty a second on one processor are wanted.
func BenchmarkQuickTrip(b *testing.B) {
	st := kilometer(b)
	for _, event := range []string{"one-trips-high", "power-failure-high", "stop-high"} {
		b.Run(event, func(b *testing.B) {
			b.ReportAllocs()
			opt := TripOptions{Catalogs: options(b).Catalogs, Rules: options(b).Rules, Valve: "flap/6in", Event: event, Frames: 240, Quick: true}
			for b.Loop() {
				if _, err := RunTrip(context.Background(), st, opt); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "trips/s")
		})
	}
}
