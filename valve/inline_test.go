package valve

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// exampleInLine is the example of a type, opened by a flow, in a line.
func exampleInLine(t testing.TB, key string, velocity float64) *InLine {
	t.Helper()
	typ, err := TypeNamed(key)
	if err != nil {
		t.Fatal(err)
	}
	p := Params{}
	for k, text := range typ.Example {
		if p[k], err = typ.Param(k).Read(text, "example"); err != nil {
			t.Fatal(err)
		}
	}
	m, err := typ.Build(p, In(998, Horizontal))
	if err != nil {
		t.Fatal(err)
	}
	return NewInLine(m, m.Settle(velocity).Xi, velocity)
}

// Questions change nothing: whatever flows were asked for before, the step that is
// committed gives what it would have given alone.
func TestQuestionsChangeNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		asked, alone := exampleInLine(asTB(t), "swing", 2), exampleInLine(asTB(t), "swing", 2)
		area := asked.Mechanism().AreaM2()
		const step, z = 0.004, 3000.0
		for i := range 60 {
			from, to := (2-0.1*float64(i))*area, (2-0.1*float64(i+1))*area
			at := float64(i+1) * step
			for range rapid.IntRange(0, 3).Draw(t, "questions") {
				if _, err := asked.Flow(at, step, from, rapid.Float64Range(-3, 3).Draw(t, "other")*area,
					z); err != nil {
					t.Fatal(err)
				}
			}
			asked.Commit(at, step, from, to, z)
			alone.Commit(at, step, from, to, z)
			if asked.Element().V != alone.Element().V || asked.Element().Xi != alone.Element().Xi {
				t.Fatalf("step %d: %v and %v", i, asked.Element(), alone.Element())
			}
		}
		if asked.Motion.First.TimeS == 0 || asked.Motion.First.TimeS != alone.Motion.First.TimeS {
			t.Errorf("seated at %g and %g s", asked.Motion.First.TimeS, alone.Motion.First.TimeS)
		}
	})
}

// asTB lets rapid's T stand for a testing.TB.
func asTB(t *rapid.T) testing.TB { return tb{t: t} }

type tb struct {
	testing.TB
	t *rapid.T
}

func (b tb) Helper()           {}
func (b tb) Fatal(args ...any) { b.t.Fatal(args...) }

// The moments of a closing come in order, and what they say fits the motion.
func TestMotionIsTold(t *testing.T) {
	for _, key := range []string{"swing", "axial", "flap", "swing-cushioned"} {
		t.Run(key, func(t *testing.T) {
			l := exampleInLine(t, key, 3)
			area := l.Mechanism().AreaM2()
			const step, z = 0.002, 3000.0
			for i := 0; l.Motion.First.TimeS == 0 && i < 5000; i++ {
				from, to := (3-0.01*float64(i))*area, (3-0.01*float64(i+1))*area
				l.Commit(float64(i+1)*step, step, from, to, z)
			}
			m := l.Motion
			if m.First.TimeS == 0 || l.Share() != 0 || l.Element().Mode != Seated {
				t.Fatalf("it did not seat: %+v", m)
			}
			if !(m.First.SeatingSpeed > 0) || m.First.ReverseMS < -m.First.SeatingMS-1e-12 {
				t.Errorf("seats at %g with %g m/s, at most %g m/s back", m.First.SeatingSpeed, m.First.SeatingMS,
					m.First.ReverseMS)
			}
			if m.ReversedS > 0 && (m.ReversedS > m.First.TimeS || math.Abs(m.DecelerationMS2-5) > 4) {
				t.Errorf("turns at %g s slowing at %g m/s², seats at %g s; the free flow's deceleration is 5 m/s²",
					m.ReversedS, m.DecelerationMS2, m.First.TimeS)
			}
			if key == "swing-cushioned" && !(m.First.CushionS > 0 && m.First.CushionS < m.First.TimeS) {
				t.Errorf("%g s in the cushion", m.First.CushionS)
			}
			for i := 1; i < len(m.Moments); i++ {
				if m.Moments[i].TimeS < m.Moments[i-1].TimeS {
					t.Error("moments out of order")
				}
			}
			// Pushed again, it opens, and says so.
			for i := range 200 {
				at := 100 + float64(i)*step
				l.Commit(at, step, 3*area, 3*area, z)
			}
			if l.Motion.Reopened == 0 || !(l.Share() > 0.2) {
				t.Errorf("it does not open again: %d times, open %.2f", l.Motion.Reopened, l.Share())
			}
		})
	}
}
