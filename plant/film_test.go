package plant

import (
	"math"
	"testing"
)

// A film has at most the frames asked for, every peak of every place in it, and leaves the
// run as it is without a film.
func TestFilm(t *testing.T) {
	p := plantOf(t, "layout", "length: 3400 ft", "length: 1000 m")
	for _, frames := range []int{2, 7, 60, 240, 100_000} {
		trip := stopped(t, p, "flap/6in", "one-trips-high", Options{Frames: frames, Record: true})
		f := trip.Film
		n := len(f.TimeS)
		if n > min(frames, MostFrames) || n != len(f.HeadM) || n != len(f.Opening) || n != len(f.PumpSpeed) ||
			f.TimeS[0] != 0 || f.TimeS[n-1] > trip.TimeS || f.TimeS[n-1] < trip.TimeS*0.9 {
			t.Errorf("%d frames to %g s of %g s, asked for %d", n, f.TimeS[n-1], trip.TimeS, frames)
		}
		peaks(t, f, frames >= 60)
		if least, most := bounds(f.LeastM), bounds(f.MostM); least[0] < bounds(envelope(trip, false))[0] ||
			most[1] > bounds(envelope(trip, true))[1] {
			t.Error("the film shows heads beyond the envelope")
		}
	}
	bare, whole := stopped(t, p, "flap/6in", "one-trips-high", Options{}), stopped(t, p, "flap/6in", "one-trips-high",
		Options{Frames: 7, Record: true})
	if bare.Closing != whole.Closing || bare.TimeS != whole.TimeS {
		t.Errorf("without a film the run ends with %+v, with one with %+v", bare.Closing, whole.Closing)
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
			t.Fatalf("at %g m the frames show %g to %g, the run had %g to %g", f.ChainageM[i], low, high, f.LeastM[i],
				f.MostM[i])
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

func envelope(t *Stop, most bool) []float64 {
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

// While a valve moves, and while the head of its closing is followed, every step is a frame.
func TestFilmHasEveryStepOfTheClosing(t *testing.T) {
	s := stopped(t, plantOf(t, "layout"), "flap/6in", "one-trips-high", Options{Frames: 600, Record: true})
	var frames int
	for i, at := range s.Film.TimeS[1:] {
		if c := s.Closing; at > c.ReversedS && at < c.First.TimeS+s.BranchS {
			frames++
			if gap := at - s.Film.TimeS[i]; gap > 1.001*s.StepS {
				t.Errorf("%g s between two frames at %g s, steps of %g s", gap, at, s.StepS)
			}
		}
	}
	if frames < 5 || len(s.Film.TimeS) > 600 {
		t.Errorf("%d frames of the closing, %d in all", frames, len(s.Film.TimeS))
	}
}
