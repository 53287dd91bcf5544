package valve

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// closingWith closes the example of a type with the restitution, and stays a second after.
func closingWith(t testing.TB, key string, restitution float64) *InLine {
	typ := typeNamed(t, key)
	p, err := typ.ReadExample()
	if err != nil {
		t.Fatal(err)
	}
	m, err := typ.VariedAll(p, In(998, Horizontal), map[string]float64{"restitution": restitution})
	if err != nil {
		t.Fatal(err)
	}
	l := NewInLine(m, m.Settle(3).Xi, 3)
	area := m.AreaM2()
	const step, z = 0.002, 3000.0
	for i := 0; i < 5000 && (l.Motion.First.TimeS == 0 || float64(i)*step < l.Motion.First.TimeS+1); i++ {
		from, to := max(-3, 3-0.01*float64(i))*area, max(-3, 3-0.01*float64(i+1))*area
		if _, err := l.Flow(float64(i+1)*step, step, from, to, z); err != nil {
			t.Fatal(err)
		}
		l.Commit(float64(i+1)*step, step, from, to, z)
	}
	return l
}

// TestBounce: whatever the restitution, the element strikes first at the same time and
// with the same speed; each bounce is weaker than the one before, and in the end it rests.
func TestBounce(t *testing.T) {
	for _, key := range []string{"swing", "axial", "flap", "ball-pocket"} {
		dead := closingWith(t, key, 0).Motion
		if dead.First.TimeS == 0 || dead.Bounces > 0 {
			t.Fatalf("%s without restitution: %+v", key, dead)
		}
		rapid.Check(t, func(r *rapid.T) {
			l := closingWith(t, key, rapid.Float64Range(0.05, 0.9).Draw(r, "restitution"))
			m := l.Motion
			if m.First.TimeS != dead.First.TimeS || m.First.SeatingSpeed != dead.First.SeatingSpeed ||
				m.First.SeatingMS != dead.First.SeatingMS || m.First.ReverseMS != dead.First.ReverseMS {
				r.Fatalf("%s: the first blow is not that of an element without restitution: %+v, %+v", key, m, dead)
			}
			if m.Bounces == 0 || l.Element().Mode != Seated {
				r.Fatalf("%s: %d bounces, then %v", key, m.Bounces, l.Element().Mode)
			}
			last := math.Inf(1)
			for _, x := range m.Moments {
				if x.Event != Bounce {
					continue
				}
				if speed := math.Abs(x.Speed); !(speed < last) {
					r.Fatalf("%s: a blow of %g after one of %g", key, speed, last)
				} else {
					last = speed
				}
			}
		})
	}
}

// TestBounceLeavesWithItsShare: the speed off the seat is the restitution's share of the
// speed onto it.
func TestBounceLeavesWithItsShare(t *testing.T) {
	m := example(t, typeNamed(t, "swing"), Horizontal)
	m.restitution = 0.4
	e := NewElement(m, 0.5*m.Stroke, 1)
	var share float64
	err := e.Advance(20, Node{Free: 1, Slope: -2, Admittance: PipeAdmittance(998, 1000, 1000)},
		func(_ float64, e *Element, event Event) bool {
			if event == Bounce {
				share = e.U / -e.StruckU
			}
			return event != Bounce
		})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "share", share, 0.4, 1e-8)
}
