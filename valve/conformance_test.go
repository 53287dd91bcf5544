package valve

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatward/basis"
)

// The tests of this file range over the registered types. A new type needs no edit here.

// eachExample runs the check on every type's example in every position it claims.
func eachExample(t *testing.T, check func(t *testing.T, typ *Type, m *Mechanism)) {
	for _, typ := range Types() {
		for _, p := range typ.Positions {
			t.Run(fmt.Sprintf("%s/%s", typ.Key, p), func(t *testing.T) { check(t, typ, example(t, typ, p)) })
		}
	}
}

func TestTypesSorted(t *testing.T) {
	types := Types()
	if !slices.IsSortedFunc(types, func(a, b *Type) int { return strings.Compare(a.Key, b.Key) }) {
		t.Error("types are not sorted by key")
	}
	for _, typ := range types {
		if found, err := TypeNamed(typ.Key); err != nil || found != typ {
			t.Errorf("%s is not found by its key: %v", typ.Key, err)
		}
	}
	if _, err := TypeNamed("swign"); err == nil || !strings.Contains(err.Error(), "did you mean swing?") {
		t.Errorf("error %v", err)
	}
}

// TestDescriptions: a reader learns what the type and each of its numbers is, and why a
// default is what it is.
func TestDescriptions(t *testing.T) {
	key := regexp.MustCompile(`^[a-z][a-z_]*$`)
	for _, typ := range Types() {
		if typ.Title == "" || len(typ.Description) < 80 || !strings.HasSuffix(typ.Description, ".") {
			t.Errorf("%s: title %q, description %q", typ.Key, typ.Title, typ.Description)
		}
		seen := map[string]bool{}
		for _, p := range typ.Params {
			if !key.MatchString(p.Key) || p.Title == "" || p.Doc == "" || seen[p.Key] {
				t.Errorf("%s: parameter %q, title %q, doc %q, second %v", typ.Key, p.Key, p.Title, p.Doc, seen[p.Key])
			}
			seen[p.Key] = true
			if p.Default != nil && (p.Required || p.Default.Reason == "" || p.Default.Source == "") {
				t.Errorf("%s: default of %s needs reason and source, and is for what is not required", typ.Key, p.Key)
			}
		}
	}
}

// TestLawsSayHowTheyAreKnown: whoever reads a curve learns whether its law is computed,
// measured or assumed.
func TestLawsSayHowTheyAreKnown(t *testing.T) {
	eachExample(t, func(t *testing.T, _ *Type, m *Mechanism) {
		if !slices.Contains([]string{"computed", "measured", "assumed"}, m.Known.Word) || m.Known.Text == "" {
			t.Errorf("law: %+v", m.Known)
		}
	})
}

// TestLossRises: the loss is positive and finite at every opening and grows without bound
// toward the seat, in both directions.
func TestLossRises(t *testing.T) {
	eachExample(t, func(t *testing.T, _ *Type, m *Mechanism) {
		for _, sign := range []float64{1, -1} {
			for i := range 100 {
				s := m.At((float64(i) + 1) / 100 * m.Stroke)
				if k := s.Loss(sign); !(k > 0) || math.IsInf(k, 0) {
					t.Errorf("loss %g at %d %% in direction %g", k, i+1, sign)
				}
			}
			last := 0.0
			for _, share := range []float64{0.05, 0.02, 0.01, 0.003, 0.001, 3e-4} {
				s := m.At(share * m.Stroke)
				if k := s.Loss(sign); k <= last {
					t.Errorf("loss %g at share %g, %g before: it must rise toward the seat", k, share, last)
				} else {
					last = k
				}
			}
			if last < 1e4 {
				t.Errorf("loss %g at 0.03 %% of the stroke", last)
			}
		}
	})
}

// TestSeatWork: on the seat the work of the pressure on the element is that of the pressure
// on what it sweeps (η = 1 of what is swept).
func TestSeatWork(t *testing.T) {
	eachExample(t, func(t *testing.T, _ *Type, m *Mechanism) {
		s := m.At(0)
		for i, term := range s.Terms {
			if term.Forward.Loss < 1e3 {
				continue
			}
			near(t, fmt.Sprintf("force per pressure, resistance %d", i), term.Forward.Area, term.Swept*m.AreaM2(),
				0.002)
			near(t, fmt.Sprintf("the same in reverse, resistance %d", i), term.Reverse.Area, term.Swept*m.AreaM2(),
				0.002)
		}
	})
}

// TestSlopes: the slopes of mass and coupling are those of the curves.
func TestSlopes(t *testing.T) {
	eachExample(t, func(t *testing.T, _ *Type, m *Mechanism) {
		for i := 1; i < 20; i++ {
			xi, d := (float64(i)+0.37)/20.5*m.Stroke, 1e-6*m.Stroke
			a, b, s := m.At(xi-d), m.At(xi+d), m.At(xi)
			for _, of := range []struct {
				name              string
				left, right, told float64
				scale             float64
			}{
				{"mass", a.Mass, b.Mass, s.MassSlope, s.Mass / m.Stroke},
				{"coupling", a.Coupling, b.Coupling, s.CouplingSlope, math.Abs(s.Coupling) / m.Stroke},
			} {
				if off := (of.right-of.left)/(2*d) - of.told; math.Abs(off) > 1e-4*of.scale {
					t.Errorf("%s at %g: slope off by %g", of.name, xi, off)
				}
			}
		}
	})
}

// TestCloses: the element closes by itself in every position that the type claims, and a
// stopping flow shuts it from where it rests and from its stop.
func TestCloses(t *testing.T) {
	for _, typ := range Types() {
		for _, p := range Positions() {
			m := example(t, typ, p)
			claimed := slices.Contains(typ.Positions, p)
			if !claimed {
				continue
			}
			if yes, from := m.SelfClosing(); !yes {
				t.Errorf("%s, %s: nothing closes it from %g of its stroke", typ.Key, p, from)
			}
			for _, fromStop := range []bool{false, true} {
				c := closeAt(t, m, Deceleration{StartMS: 2, RateMS2: 5, FromStop: fromStop})
				if c.Outcome != ClosedShut || c.ReverseVelocityMS <= 0 || c.TimeS <= 0 || c.SeatingSpeed <= 0 {
					t.Errorf("%s, %s: %+v", typ.Key, p, c)
				}
			}
		}
	}
}

// TestReverseVelocityRises: doubling the deceleration raises the reverse velocity. Small
// steps may lower it a little, where the element just tracks the flow near its seat.
func TestReverseVelocityRises(t *testing.T) {
	eachExample(t, func(t *testing.T, _ *Type, m *Mechanism) {
		last := 0.0
		for _, rate := range []float64{0.5, 1, 2, 4, 8, 16} {
			c := closeAt(t, m, Deceleration{StartMS: 2.5, RateMS2: rate})
			if c.ReverseVelocityMS <= last {
				t.Errorf("at %g m/s² %.4f m/s, at half of it %.4f", rate, c.ReverseVelocityMS, last)
			}
			last = c.ReverseVelocityMS
		}
	})
}

// TestPullHelps: without the pull of accelerating water the valve closes no
// sooner.
func TestPullHelps(t *testing.T) {
	eachExample(t, func(t *testing.T, _ *Type, m *Mechanism) {
		for _, rate := range []float64{2, 6, 12} {
			d := Deceleration{StartMS: 2, RateMS2: rate}
			with, without := closeAt(t, m, d).ReverseVelocityMS, closeAt(t, m.WithoutAcceleration(),
				d).ReverseVelocityMS
			if without < with {
				t.Errorf("at %g m/s²: %.4f m/s with the pull, %.4f without", rate, with, without)
			}
		}
	})
}

// TestPassive: steady flow loses head at every opening, and over a closing the water does
// more work on the valve than it does on the element: nothing is created.
func TestPassive(t *testing.T) {
	eachExample(t, func(t *testing.T, _ *Type, m *Mechanism) {
		m = m.WithoutAcceleration()
		var lost, given, lastT float64
		trace := func(x Sample) {
			s := m.At(x.Xi)
			through, onto := 0.0, 0.0
			for i := range s.Terms {
				y := x.VelocityMS - s.Terms[i].Swept*x.Speed
				side := s.Terms[i].side(y)
				dp := 0.5 * m.DensityKgM3 * side.Loss * y * math.Abs(y)
				through += dp * m.AreaM2() * x.VelocityMS
				onto += dp * side.Area * x.Speed
			}
			lost += (through - onto) * (x.TimeS - lastT)
			given += math.Abs(onto) * (x.TimeS - lastT)
			lastT = x.TimeS
		}
		closeAt(t, m, Deceleration{StartMS: 2, RateMS2: 6, Trace: trace, Tolerance: 1e-6})
		if lost <= 0 {
			t.Errorf("the water lost %g J to the valve while moving the element with %g J", lost, given)
		}
	})
}

// TestRestsAreBalanced: where the element rests between seat and stop the forces balance,
// and it never opens less in more flow.
func TestRestsAreBalanced(t *testing.T) {
	eachExample(t, func(t *testing.T, _ *Type, m *Mechanism) {
		rapid.Check(t, func(t *rapid.T) {
			v := rapid.Float64Range(0.01, 6).Draw(t, "velocity")
			r, more := m.Settle(v), m.Settle(1.05*v)
			if more.Xi < r.Xi-1e-9*m.Stroke {
				t.Errorf("%g m/s: rests at %g, in 5 %% more flow at %g", v, r.Xi, more.Xi)
			}
			s := m.At(r.Xi)
			push := s.Push(m.DensityKgM3, v)
			switch r.Standing {
			case Floating, Parked:
				if math.Abs(push-s.Closing) > 1e-6*math.Abs(s.Closing) {
					t.Errorf("%g m/s: push %g, closing %g at rest", v, push, s.Closing)
				}
			case FullOpen:
				if push < s.Closing*(1-1e-6) {
					t.Errorf("%g m/s: push %g, closing %g at the stop", v, push, s.Closing)
				}
			case Closed:
				t.Errorf("%g m/s leaves it closed", v)
			}
			if want := r.Loss * v * v / (2 * m.GravityMS2); r.HeadM != want || m.LossHeadM(v) != want {
				t.Errorf("%g m/s: head %g, want %g", v, r.HeadM, want)
			}
			if r.Standing == FullOpen && m.LossHeadM(1.05*v) <= r.HeadM {
				t.Errorf("%g m/s: the loss of the open valve does not rise with the flow", v)
			}
		})
	})
}

// TestFullOpenVelocity: a little more opens the valve in full, a little less does not.
func TestFullOpenVelocity(t *testing.T) {
	eachExample(t, func(t *testing.T, _ *Type, m *Mechanism) {
		open := m.FullOpenVelocity()
		below, above := m.Settle(0.99*open.VelocityMS), m.Settle(1.01*open.VelocityMS)
		if below.Xi >= open.Xi || above.Xi < open.Xi*(1-1e-9) {
			t.Errorf("open at %+v, but rests at %g just below and %g just above", open, below.Xi, above.Xi)
		}
		if rest := m.Settle(0); rest.Standing != Closed || rest.HeadM != 0 {
			t.Errorf("without flow: %+v", rest)
		}
		if back := m.Settle(-1); back.Standing != Closed {
			t.Errorf("in reverse flow: %+v", back)
		}
	})
}

// TestExamplesAreConsistent: the examples are valves that could be.
func TestExamplesAreConsistent(t *testing.T) {
	for _, typ := range Types() {
		p, err := typ.ReadExample()
		if err != nil {
			t.Fatal(err)
		}
		notes, err := typ.Consistency(p)
		if err != nil || len(notes) > 0 {
			t.Errorf("%s: %v, error %v", typ.Key, notes, err)
		}
	}
}

// TestAnyNumbers: whatever the numbers, Build refuses them in words or gives a valve whose
// rest and closing are finite.
func TestAnyNumbers(t *testing.T) {
	for _, typ := range Types() {
		t.Run(typ.Key, func(t *testing.T) {
			given, err := typ.ReadExample()
			if err != nil {
				t.Fatal(err)
			}
			rapid.Check(t, func(t *rapid.T) {
				p := Params{}
				for i := range typ.Params {
					spec := &typ.Params[i]
					if v, known := given[spec.Key]; known {
						v.SI *= math.Pow(10, rapid.Float64Range(-1, 1).Draw(t, spec.Key))
						v.Low, v.High = v.SI, v.SI
						p[spec.Key] = v
					}
				}
				at := rapid.SampledFrom(Positions()).Draw(t, "position")
				m, err := typ.Build(p, In(rapid.Float64Range(900, 1200).Draw(t, "density"), at))
				if err != nil {
					if !strings.Contains(err.Error(), typ.Key) {
						t.Errorf("error %v does not say which type", err)
					}
					return
				}
				c, err := m.Close(Deceleration{StartMS: 2, RateMS2: 5, LimitMS: 5})
				if err != nil {
					t.Fatalf("%v", err)
				}
				open, rest := m.FullOpenVelocity(), m.Settle(1.5)
				for _, x := range []float64{
					c.ReverseVelocityMS, c.TimeS, c.SeatingSpeed, c.DecelerationMS2,
					open.VelocityMS, open.Loss, rest.HeadM, m.CrackingHeadM(), m.LeastBackHeadM(),
				} {
					if math.IsNaN(x) || math.IsInf(x, 0) || x < 0 {
						t.Errorf("closing %+v, open %+v, rest %+v", c, open, rest)
					}
				}
			})
		})
	}
}

// TestSourcesAreCited: where a default or a formula comes from can be printed in full.
func TestSourcesAreCited(t *testing.T) {
	citation := regexp.MustCompile(`^[A-Z].*\b(18|19|20)\d\d\b`)
	check := func(where, ref string) {
		if !basis.Cited(ref) && !citation.MatchString(ref) {
			t.Errorf("%s: %q is neither in the bibliography nor a citation", where, ref)
		}
	}
	for _, typ := range Types() {
		for _, p := range typ.Params {
			if p.Default != nil {
				check(typ.Key+" "+p.Key, p.Default.Source)
			}
		}
	}
	for _, h := range HandbookLosses("") {
		check(h.Style, h.Source)
	}
	for _, f := range []basis.Formula{
		SphereDragSmoothFormula, BallDragWallFormula, DiscLossFormula, BallDragFormula, MinimumVelocityFormula,
		LossFromKvFormula, RubberModulusFormula,
	} {
		check(f.ID, f.Ref)
	}
}
