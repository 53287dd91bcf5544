package valve

import (
	"errors"
	"math"
	"strings"
	"testing"

	"seatward/basis"
)

// Every number that is worth a what-if can be tried, says that it was, and leaves the
// valve as it is alone.
func TestWhatIf(t *testing.T) {
	for _, typ := range Types() {
		p := exampleParams(t, typ.Key)
		full, err := typ.Complete(p)
		if err != nil {
			t.Fatal(err)
		}
		tried := 0
		for _, spec := range typ.Params {
			v, known := full[spec.Key]
			if !spec.Tried || !known || v.SI == 0 {
				continue
			}
			tried++
			out, err := typ.WhatIf(p, map[string]float64{spec.Key: 1.1 * v.SI})
			if err != nil {
				t.Errorf("%s, %s: %v", typ.Key, spec.Key, err)
				continue
			}
			if got := out[spec.Key]; got.SI != 1.1*v.SI || got.Ranged() || got.Origin != basis.Given ||
				got.Place != basis.WhatIf {
				t.Errorf("%s, %s: %+v", typ.Key, spec.Key, got)
			}
			if p[spec.Key].Place == basis.WhatIf {
				t.Errorf("%s, %s: the valve as it is has changed", typ.Key, spec.Key)
			}
			if _, err := typ.Build(out, In(998, Horizontal)); err != nil {
				t.Errorf("%s, %s: %v", typ.Key, spec.Key, err)
			}
		}
		if tried == 0 {
			t.Errorf("%s has no number that is worth a what-if", typ.Key)
		}
	}
}

// A heavier disc needs more velocity to stand open, because the water pushes no harder on
// it; a number put in anew as it was changes nothing.
func TestWhatIfKeepsTheForce(t *testing.T) {
	typ, p := typeNamed(t, "swing"), exampleParams(t, "swing")
	s := In(998, Horizontal)
	before, err := typ.Build(p, s)
	if err != nil {
		t.Fatal(err)
	}
	for _, factor := range []float64{1, 2} {
		out, err := typ.WhatIf(p, map[string]float64{"disc_mass": factor * p["disc_mass"].SI})
		if err != nil {
			t.Fatal(err)
		}
		m, err := typ.Build(out, s)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(m.Efficiency-before.Efficiency) > 1e-12 ||
			math.Abs(m.SubmergedN-factor*before.SubmergedN) > 1e-9*before.SubmergedN {
			t.Errorf("%g times the mass: efficiency %g to %g, weight %g to %g", factor, before.Efficiency, m.Efficiency,
				before.SubmergedN, m.SubmergedN)
		}
		if got, want := m.FullOpenVelocity().VelocityMS,
			math.Sqrt(factor)*before.FullOpenVelocity().VelocityMS; math.Abs(got-want) > 1e-6*want {
			t.Errorf("%g times the mass: full open from %g m/s, want %g", factor, got, want)
		}
	}
}

func TestWhatIfRefuses(t *testing.T) {
	for _, tt := range []struct {
		typ, key string
		si       float64
		hint     string
	}{
		{"swing", "ball_density", 1200, "does not know"},
		{"swing", "disc_mas", 1, "did you mean disc_mass?"},
		{"ball-cage", "ball_density", -3, "more than 0"},
		{"ball-cage", "ball_density", 0, "more than 0"},
		{"ball-cage", "ball_density", math.NaN(), "no finite number"},
		{"axial", "spring_force", 1e9, "0 N to"},
	} {
		_, err := typeNamed(t, tt.typ).WhatIf(exampleParams(t, tt.typ), map[string]float64{tt.key: tt.si})
		var p *ParamError
		if !errors.As(err, &p) || p.Key != tt.key || !strings.Contains(err.Error(), tt.hint) {
			t.Errorf("%s %s = %g: %v lacks %q", tt.typ, tt.key, tt.si, err, tt.hint)
		}
	}
	typ, p := typeNamed(t, "ball-pocket"), exampleParams(t, "ball-pocket")
	for key, v := range typ.Numbers(Values{"full_open_loss": 1, "full_open_velocity": 1.2}, "test") {
		p[key] = v
	}
	if _, err := typ.WhatIf(p, map[string]float64{"ball_density": 1200}); err == nil ||
		!strings.Contains(err.Error(), "measured with the valve as it is") {
		t.Errorf("a ball whose full-open velocity was measured: %v", err)
	}
}
