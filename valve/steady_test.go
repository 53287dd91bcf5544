package valve

import (
	"math"
	"testing"
)

// TestBackHead: the pressure that keeps a ball on an upright seat is what keeps it from
// rolling over the lowest edge, W' h₀/r over the seat's area; a ball that its weight
// presses on the seat needs none.
func TestBackHead(t *testing.T) {
	v := Values{
		"bore": 0.1524, "ball_diameter": 0.19, "chamber_diameter": 0.242, "seat_diameter": 0.1448,
		"stroke": 0.12, "ball_density": 1500,
	}
	lying := build(t, "ball-cage", v, In(998.2, Horizontal))
	r := 0.0724
	want := lying.SubmergedN * math.Sqrt(0.095*0.095-r*r) / r / (math.Pi * r * r) / (998.2 * 9.80665)
	near(t, "back head lying", lying.LeastBackHeadM(), want, 1e-9)
	if yes, _ := lying.SelfClosing(); yes {
		t.Error("a caged ball that lies is said to close by itself")
	}
	if up := build(t, "ball-cage", v, In(998.2, FlowUp)); up.LeastBackHeadM() != 0 {
		t.Errorf("a sinking ball in flow up needs %g m", up.LeastBackHeadM())
	}
	down := build(t, "ball-cage", v, In(998.2, FlowDown))
	near(t, "a sinking ball over its seat, hanging", down.LeastBackHeadM(),
		lying.SubmergedN/(math.Pi*r*r)/(998.2*9.80665), 1e-9)
}

// TestBallDensityAndDirection: a sinking ball cannot seat in flow down, a floating one not
// in flow up; each does in the other.
func TestBallDensityAndDirection(t *testing.T) {
	for _, key := range []string{"ball-cage", "ball-pocket"} {
		for _, tt := range []struct {
			density float64
			at      Position
			closes  bool
		}{{1500, FlowUp, true}, {1500, FlowDown, false}, {720, FlowUp, false}, {720, FlowDown, true}} {
			typ := typeNamed(t, key)
			p, err := typ.ReadExample()
			if err != nil {
				t.Fatal(err)
			}
			ball := p["ball_density"]
			ball.SI, ball.Low, ball.High = tt.density, tt.density, tt.density
			p["ball_density"] = ball
			m, err := typ.Build(p, In(998.2, tt.at))
			if err != nil {
				t.Fatal(err)
			}
			if yes, _ := m.SelfClosing(); yes != tt.closes {
				t.Errorf("%s, ball of %g kg/m³, %s: closes by itself %v", key, tt.density, tt.at, yes)
			}
			if (m.SubmergedN > 0) != (tt.density > 998.2) {
				t.Errorf("submerged weight %g N of a ball of %g kg/m³", m.SubmergedN, tt.density)
			}
		}
	}
}

// TestPocketParks: the ball parks part-way and no flow takes it to its stop.
func TestPocketParks(t *testing.T) {
	m := example(t, typeNamed(t, "ball-pocket"), Horizontal)
	for _, v := range []float64{0.5, 1.5, 4, 20} {
		if r := m.Settle(v); r.Standing != Parked || r.Share > 0.6 {
			t.Errorf("at %g m/s: %s at %.2f of its travel", v, r.Standing, r.Share)
		}
	}
	open := m.FullOpenVelocity()
	if open.Meaning != ParkedClear || open.VelocityMS < 1.2 || open.VelocityMS > 2 {
		t.Errorf("open at %+v", open)
	}
	// Closing from where it is parked is less slam than from the whole travel.
	parked := closeAt(t, m, Deceleration{StartMS: 1.5, RateMS2: 6})
	full := closeAt(t, m, Deceleration{StartMS: 1.5, RateMS2: 6, FromStop: true})
	if parked.ReverseVelocityMS >= full.ReverseVelocityMS {
		t.Errorf("parked %.3f m/s, from the stop %.3f", parked.ReverseVelocityMS, full.ReverseVelocityMS)
	}
}

// TestPocketByCatalog: full-open loss and velocity together stand in for the curves, and
// are met.
func TestPocketByCatalog(t *testing.T) {
	m := build(t, "ball-pocket", Values{
		"bore": 0.15, "ball_density": 1500, "full_open_loss": 1.1,
		"full_open_velocity": 1.5, "reference_density": 998.2,
	}, In(998.2, Horizontal))
	open := m.FullOpenVelocity()
	if open.Meaning != HeldAtStop {
		t.Errorf("open: %s", open.Meaning)
	}
	near(t, "velocity at the stop", m.FloatingVelocityMS(m.Stroke), 1.5, 1e-9)
	near(t, "loss at the stop", open.Loss, 1.1, 1e-9)
	if m.Efficiency == 0 || len(m.Notes) == 0 || m.Notes[len(m.Notes)-1] != catalogNote {
		t.Errorf("efficiency %g, notes %v", m.Efficiency, m.Notes)
	}
	if computed := example(t, typeNamed(t, "ball-pocket"), Horizontal); len(computed.Notes) != 1 ||
		computed.Notes[0] != computedNote {
		t.Errorf("notes %v", computed.Notes)
	}
}

// TestSeveralBalances: a swing check in flow up closes hardest part-way, so that at one
// velocity it may rest low or stand open; the low rest is what rising flow finds, the
// others are reported.
func TestSeveralBalances(t *testing.T) {
	m := example(t, typeNamed(t, "swing"), FlowUp)
	r := m.Settle(1.14)
	if r.Standing != Floating || len(r.Others) != 2 || r.Others[0].Stable || !r.Others[1].Stable ||
		r.Others[1].Xi != m.Stroke {
		t.Errorf("%+v", r)
	}
	if r.Others[0].Xi <= r.Xi {
		t.Errorf("other balances %v below the rest at %g", r.Others, r.Xi)
	}
}

// TestEfficiencyNote: numbers that do not belong to one valve are reported.
func TestEfficiencyNote(t *testing.T) {
	v := Values{}
	for key, x := range axialA {
		v[key] = x
	}
	v["full_open_velocity"] = 0.8
	m := build(t, "axial", v, water(Horizontal))
	if m.Efficiency < 2 || len(m.Notes) != 1 || m.Notes[0].Key != "opening_efficiency" {
		t.Errorf("efficiency %g, notes %v", m.Efficiency, m.Notes)
	}
}

// TestConsistencyFinds: slips of the pen in product data are found.
func TestConsistencyFinds(t *testing.T) {
	for _, tt := range []struct {
		name, kind, key, text string
	}{
		{"loss of a globe lift valve", "ball-cage", "body_loss", "45"},
		{"mass in pounds written as kg, tenfold", "swing", "displaced_volume", "6 L"},
		{"stroke in cm", "axial", "stroke", "200 mm"},
		{"opening velocity of another valve", "axial", "full_open_velocity", "0.8 m/s"},
	} {
		typ := typeNamed(t, tt.kind)
		p, err := typ.ReadExample()
		if err != nil {
			t.Fatal(err)
		}
		if p[tt.key], err = typ.Param(tt.key).Read(tt.text, "test"); err != nil {
			t.Fatal(err)
		}
		if notes, err := typ.Consistency(p); err != nil || len(notes) == 0 {
			t.Errorf("%s: notes %v, error %v", tt.name, notes, err)
		}
	}
}

// TestOpeningHead: the head lost has no gap on the way from the seat into flow: a velocity
// too small to lift the element meets the head that opens it.
func TestOpeningHead(t *testing.T) {
	for _, key := range []string{"swing", "ball-cage", "flap"} {
		m := example(t, typeNamed(t, key), FlowUp)
		if m.LossHeadM(0) != 0 {
			t.Errorf("%s: %g m lost without flow", key, m.LossHeadM(0))
		}
		least := m.opening(m.Stroke, HeldAtStop).VelocityMS
		before := m.LossHeadM(1e-9 * least)
		if crack := m.CrackingHeadM(); !(before > 0.5*crack && before < 2*crack) {
			t.Errorf("%s: opens at %g m, but the cracking head is %g m", key, before, crack)
		}
		for v := 1e-9 * least; v < least; v *= 1.02 {
			now := m.LossHeadM(v)
			if math.Abs(now-before) > 0.1*before {
				t.Errorf("%s: the head jumps from %g to %g m at %g m/s", key, before, now, v)
				break
			}
			before = now
		}
	}
}
