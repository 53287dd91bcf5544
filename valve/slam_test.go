package valve

import (
	"testing"

	"pgregory.net/rapid"
)

// What is asked of the seatings of a run agrees with the whole list of them.
func TestSeatingsAreCounted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var m seatings
		var all []Slam
		later := 0
		for i := range rapid.IntRange(0, 100).Draw(t, "seatings") {
			s := Slam{TimeS: float64(i + 1), ReverseMS: rapid.Float64Range(0, 0.2).Draw(t, "reverse")}
			if len(all) > 0 && rapid.Bool().Draw(t, "a further blow") {
				m.again(s)
				if last := &all[len(all)-1]; s.ReverseMS > last.ReverseMS {
					*last = s
				}
				continue
			}
			m.seat(s)
			all = append(all, s)
		}
		worst := func(since float64) (out Slam) {
			for _, s := range all {
				if s.TimeS >= since && (out.TimeS == 0 || s.ReverseMS > out.ReverseMS) {
					out = s
				}
			}
			return out
		}
		for i, s := range all {
			if i > 0 && s.ReverseMS >= CountedSlamMS {
				later++
			}
			if got, want := m.WorstSince(s.TimeS), worst(s.TimeS); got.ReverseMS != want.ReverseMS {
				t.Fatalf("hardest since %g: %+v, want %+v of %+v", s.TimeS, got, want, all)
			}
		}
		if m.Seatings != len(all) || m.Later != later || m.Worst.ReverseMS != worst(0).ReverseMS ||
			(len(all) > 0 && m.First != all[0]) {
			t.Fatalf("%+v of %+v", m, all)
		}
	})
}

// An element that the pipes lift again after it has seated slams a second time, as hard as
// the water then runs back; an opening that goes on to the end is reported too.
func TestLaterSlam(t *testing.T) {
	for _, key := range []string{"swing", "axial", "ball-pocket"} {
		l := exampleInLine(t, key, 3)
		area := l.Mechanism().AreaM2()
		const step, z = 0.002, 3000.0
		free, at := 3.0, 0.0
		ramp := func(to, rate float64) {
			for d := rate * step; free != to; {
				from := free
				if free += d; (d > 0) == (free > to) {
					free = to
				}
				at += step
				l.Commit(at, step, from*area, free*area, z)
			}
			for range 1000 { // the ball takes its time on its way down
				at += step
				l.Commit(at, step, free*area, free*area, z)
			}
		}
		ramp(-1, -2)
		first := at
		ramp(3, 20)
		lifted := at
		ramp(-1, -30)
		m := &l.Motion
		if m.Seatings != 2 || m.Later != 1 || m.Reopened != 1 || m.Worst.ReverseMS <= m.First.ReverseMS {
			t.Errorf("%s: %+v", key, m)
		}
		if !(m.First.TimeS < first && m.ReleasedS > first && m.ReleasedS < lifted) || m.WorstSince(lifted) != m.Worst ||
			m.WorstSince(at) != (Slam{}) {
			t.Errorf("%s: %+v", key, m)
		}
		ramp(3, 20)
		for range 2 {
			at += step
			l.Commit(at, step, -2*area, -2*area, z)
		}
		if m.UnseatedReverseMS <= 0 || m.Seatings != 2 {
			t.Errorf("%s: on its way back %g m/s", key, m.UnseatedReverseMS)
		}
	}
}
