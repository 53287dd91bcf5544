package truth

import (
	"fmt"
	"math"

	"seatward/valve"
)

// reference valves: worked out by hand and by two independent codes with
// g = 9.81 m/s² and ρ = 1000 kg/m³ in pipes of 1000 m/s.
var referenceValves = map[string]struct {
	kind   string
	rising bool
	values valve.Values
}{
	"A": {"axial", false, valve.Values{
		"bore": 0.2, "stroke": 0.03, "moving_mass": 3, "displaced_volume": 0, "spring_force": 30, "spring_rate": 1500,
		"full_open_loss": 2.5, "full_open_velocity": 1.5, "reference_density": 1000, "added_mass_factor": 1,
	}},
	"C": {"ball-cage", true, valve.Values{
		"bore": 0.15, "ball_diameter": 0.19, "chamber_diameter": 0.242, "stroke": 0.12, "ball_density": 1500,
		"body_loss": 0, "drag_coefficient": 0.44, "blockage_factor": 1, "added_mass_factor": 1,
	}},
	// The 6-inch ball check of the holding velocities, in water of 20 °C.
	"6-inch": {"ball-cage", true, valve.Values{
		"bore": 0.1524, "ball_diameter": 0.19, "chamber_diameter": 0.242, "seat_diameter": 0.1448, "stroke": 0.12,
		"ball_density": 1500,
		"body_loss":    0, "drag_coefficient": 0.46, "blockage_factor": 1,
	}},
	"pocket": {"ball-pocket", false, valve.Values{"bore": 0.15, "ball_density": 1500}},
	// The plate of a ram pump's waste valve: held open by a spring until the flow closes it.
	"ram plate": {"axial", false, valve.Values{
		"bore": 0.02372, "seat_diameter": 0.02372, "disc_diameter": 0.02857, "stroke": 0.0125, "moving_mass": 0.1059,
		"spring_force": 4.181, "spring_rate": 0, "full_open_loss": 5.9, "full_open_velocity": 2.2557,
		"reference_density": 998,
	}},
	// A swing check of which a secondary table gives the shape of the loss: seat at 16.1°, 44°
	// of travel; the rest as in the demonstration catalog.
	"nuclear loop": {"swing", false, valve.Values{
		"bore": 1, "disc_diameter": 1.1, "hinge_to_center": 0.625, "disc_mass": 500, "seat_angle": 16.1 * degree,
		"stroke_angle":   44 * degree,
		"full_open_loss": 1.108, "opening_efficiency": 1,
	}},
	// The 6-inch disc that was closed with the computed curves themselves.
	"disc 6-inch": {"swing", false, valve.Values{
		"bore": 0.1524, "disc_diameter": 0.1676, "hinge_to_center": 0.09525, "hinge_to_gravity_center": 0.08992,
		"disc_mass":    3.79,
		"disc_inertia": 0.0412, "seat_angle": 5 * degree, "stroke_angle": 65 * degree, "friction": 0.05,
		"full_open_loss": 0.65, "opening_efficiency": 1,
	}},
	// The body for which the curves of the swing disc were computed, in bores of 1 m.
	"disc": {"swing", false, valve.Values{
		"bore": 1, "disc_diameter": 1.1, "hinge_to_center": 0.65, "chamber_diameter": 1.4, "disc_mass": 500,
		"disc_inertia": 1,
		"seat_angle":   0, "stroke_angle": 62 * degree, "full_open_loss": 0.65, "opening_efficiency": 1.01,
	}},
}

const degree = math.Pi / 180

// referenceValve builds the valve that the row names.
func referenceValve(in Inputs) (*valve.Mechanism, error) {
	name := in.S("valve")
	if own := referenceSwings[name]; own != nil {
		m, err := own(valve.Setting{DensityKgM3: 1000, GravityMS2: 9.81})
		if err == nil && in.Has("acceleration") && in.S("acceleration") == "off" {
			m = m.WithoutAcceleration()
		}
		return m, err
	}
	r, known := referenceValves[name]
	if !known {
		return nil, fmt.Errorf("no reference valve is called %q", name)
	}
	t, err := valve.TypeNamed(r.kind)
	if err != nil {
		return nil, err
	}
	s := valve.Setting{DensityKgM3: 1000, GravityMS2: 9.81}
	if name == "6-inch" {
		s = valve.Setting{DensityKgM3: 998.2}
	}
	if r.rising {
		s.InclinationRad = math.Pi / 2
	}
	v := valve.Values{}
	for key, x := range r.values {
		v[key] = x
	}
	if in.Has("ball_density") {
		v["ball_density"] = in.F("ball_density")
		s.InclinationRad = math.Copysign(math.Pi/2, v["ball_density"]-s.DensityKgM3)
	}
	m, err := t.Build(t.Numbers(v, "reference valve"), s)
	if err == nil && in.Has("acceleration") && in.S("acceleration") == "off" {
		m = m.WithoutAcceleration()
	}
	return m, err
}

// ofValve evaluates something of a reference valve.
func ofValve(pick func(m *valve.Mechanism, in Inputs) (float64, error)) func(Inputs) (float64, error) {
	return func(in Inputs) (float64, error) {
		m, err := referenceValve(in)
		if err != nil {
			return 0, err
		}
		return pick(m, in)
	}
}

// closing is a run of a reference valve from its stop in a flow that falls from 2 m/s.
func closing(m *valve.Mechanism, in Inputs) (valve.Closing, error) {
	return m.Close(valve.Deceleration{StartMS: 2, RateMS2: in.F("alpha"), FromStop: true})
}

// opening reads the opening of a row: x in m, or theta in degrees.
func opening(in Inputs) float64 {
	if in.Has("theta") {
		return in.F("theta") * degree
	}
	return in.F("x")
}

var (
	_ = evaluator("closing-curve", "valve.Mechanism.Close",
		ofValve(func(m *valve.Mechanism, in Inputs) (float64, error) {
			c, err := closing(m, in)
			return c.ReverseVelocityMS, err
		}))
	_ = evaluator("closing-curve/computed disc", "valve.Mechanism.Close",
		ofValve(func(m *valve.Mechanism, in Inputs) (float64, error) {
			c, err := m.Close(valve.Deceleration{StartMS: 2.5, RateMS2: in.F("alpha"), FromStop: true})
			return c.ReverseVelocityMS, err
		}))
	_ = evaluator("closing-curve/time", "valve.Mechanism.Close",
		ofValve(func(m *valve.Mechanism, in Inputs) (float64, error) {
			c, err := closing(m, in)
			return c.TimeS, err
		}))
	_ = evaluator("following-reverse-velocity", "valve.FollowingReverseVelocity", func(in Inputs) (float64, error) {
		return valve.FollowingReverseVelocity(in.F("alpha"), in.F("l"), in.F("Vo")), nil
	})
	_ = evaluator("following-reverse-velocity/caged ball", "valve.FollowingReverseVelocity",
		ofValve(func(m *valve.Mechanism, in Inputs) (float64, error) {
			c, err := closing(m, in)
			hand := valve.FollowingReverseVelocity(in.F("alpha"), m.SweptLengthM(), m.FullOpenVelocity().VelocityMS)
			return hand / c.ReverseVelocityMS, err
		}))
	_ = evaluator("swept-length", "valve.Mechanism.SweptLengthM",
		ofValve(func(m *valve.Mechanism, _ Inputs) (float64, error) {
			return m.SweptLengthM() / m.BoreM, nil
		}))
	_ = evaluator("gap-loss", "valve.GapLoss, each gap area",
		ofValve(func(m *valve.Mechanism, in Inputs) (float64, error) {
			s := m.At(opening(in))
			if in.S("valve") == "C" {
				return s.Terms[1].Forward.Loss, nil
			}
			return s.Loss(1), nil
		}))
	_ = evaluator("ball-gap-area", "valve.BallGapArea", func(in Inputs) (float64, error) {
		bore := in.F("D")
		return valve.BallGapArea(in.F("Db")/2, in.F("Ds")/2, in.F("x")) / (math.Pi / 4 * bore * bore), nil
	})
	_ = evaluator("floating-velocity", "valve.Mechanism.FloatingVelocityMS",
		ofValve(func(m *valve.Mechanism, in Inputs) (float64, error) {
			return m.FloatingVelocityMS(opening(in)), nil
		}))
	_ = evaluator("full-open-velocity", "valve.Mechanism.FullOpenVelocity",
		ofValve(func(m *valve.Mechanism, _ Inputs) (float64, error) {
			return m.FullOpenVelocity().VelocityMS, nil
		}))
	_ = evaluator("opening-efficiency", "valve.OpeningEfficiency",
		ofValve(func(m *valve.Mechanism, _ Inputs) (float64, error) {
			return m.Efficiency, nil
		}))
	_ = evaluator("closing-force", "valve.State.Closing", ofValve(func(m *valve.Mechanism, in Inputs) (float64, error) {
		s := m.At(opening(in))
		return s.Closing, nil
	}))
	_ = evaluator("moving-mass", "valve.State.Mass", ofValve(func(m *valve.Mechanism, in Inputs) (float64, error) {
		s := m.At(opening(in))
		return s.Mass, nil
	}))
	_ = evaluator("cracking-pressure", "valve.Mechanism.CrackingHeadM",
		ofValve(func(m *valve.Mechanism, _ Inputs) (float64, error) {
			return m.CrackingHeadM() * m.DensityKgM3 * m.GravityMS2, nil
		}))
	_ = evaluator("cracking-pressure/head", "valve.Mechanism.CrackingHeadM",
		ofValve(func(m *valve.Mechanism, _ Inputs) (float64, error) {
			return m.CrackingHeadM(), nil
		}))
	_ = evaluator("submerged-weight", "valve.SubmergedWeight",
		ofValve(func(m *valve.Mechanism, _ Inputs) (float64, error) {
			return math.Abs(m.SubmergedN), nil
		}))
	_ = evaluator("pocket-curve", "valve ball-pocket", ofValve(func(m *valve.Mechanism, in Inputs) (float64, error) {
		return pocketOf(m, in)
	}))
	_ = evaluator("disc-loss", "valve swing", ofValve(discOf("K")))
	_ = evaluator("disc-loss/shape", "valve swing", ofValve(func(m *valve.Mechanism, in Inputs) (float64, error) {
		s, open := m.At(opening(in)), m.At(m.Stroke)
		return s.Loss(1) / open.Loss(1), nil
	}))
	_ = evaluator("plate-force/closed", "valve.State, seat",
		ofValve(func(m *valve.Mechanism, in Inputs) (float64, error) {
			s := m.At(0)
			return s.Terms[0].Forward.Area * in.F("rho") * 9.80665 * in.F("H"), nil
		}))
	_ = evaluator("plate-force/open", "valve.State.Push", ofValve(func(m *valve.Mechanism, in Inputs) (float64, error) {
		s, v := m.At(m.Stroke), in.F("V")
		return s.Push(in.F("rho"), v) / (0.5 * in.F("rho") * v * v * m.AreaM2()), nil
	}))
	_ = evaluator("swing-curve/torque", "valve swing", ofValve(discOf("C_T")))
	_ = evaluator("swing-curve/inertia", "valve swing-curve", ofValve(discOf("inertia")))
	_ = evaluator("swing-curve/pull", "valve swing-curve", ofValve(discOf("pull")))
	_ = evaluator("settle/share", "valve.Mechanism.Settle",
		ofValve(func(m *valve.Mechanism, in Inputs) (float64, error) {
			return m.Settle(in.F("V")).Share, nil
		}))
	_ = evaluator("settle/loss", "valve.Mechanism.Settle",
		ofValve(func(m *valve.Mechanism, in Inputs) (float64, error) {
			return m.Settle(in.F("V")).Loss, nil
		}))
)

// discOf reads a curve of the computed swing disc at the angle theta.
func discOf(what string) func(m *valve.Mechanism, in Inputs) (float64, error) {
	return func(m *valve.Mechanism, in Inputs) (float64, error) {
		const radius, arm, density = 0.55, 0.65, 1000.0
		s := m.At(in.F("theta") * degree)
		side, sign := s.Terms[0].Forward, 1.0
		if in.Has("flow") && in.S("flow") == "reverse" {
			side, sign = s.Terms[0].Reverse, -1
		}
		switch what {
		case "K":
			return side.Loss, nil
		case "C_T":
			return sign * side.Loss * side.Area / (m.AreaM2() * m.BoreM), nil
		case "inertia":
			return (s.Mass - 1) / valve.DiscAddedInertia(density, radius, arm), nil
		default:
			return s.Coupling / (valve.DiscAddedMass(density, radius) * arm), nil
		}
	}
}

// pocketOf reads a curve of the pocket valve at the share s of the travel.
func pocketOf(m *valve.Mechanism, in Inputs) (float64, error) {
	s := m.At(in.F("s") * m.Stroke)
	side, sign := s.Terms[0].Forward, 1.0
	if in.S("flow") == "reverse" {
		side, sign = s.Terms[0].Reverse, -1
	}
	switch what := in.S("what"); what {
	case "K":
		return side.Loss, nil
	case "C_along":
		return sign * side.Area * side.Loss / m.AreaM2(), nil
	default:
		return 0, fmt.Errorf("no curve is called %q", what)
	}
}

// free is an element of its own, without water but for the drag k u².
func free(in Inputs, closing func(xi float64) float64, friction float64) (valve.Element, float64, error) {
	stroke, drag := in.F("stroke"), 0.0
	if in.Has("k") {
		drag = in.F("k")
	}
	mass := in.F("M")
	m, err := valve.NewMechanism(valve.Frame{BoreM: 1, Stroke: stroke, DensityKgM3: 1000, GravityMS2: 9.81},
		func(xi float64, s *valve.State) {
			s.Closing, s.Mass, s.Drag, s.Friction = closing(xi), mass, drag, friction
		})
	if err != nil {
		return valve.Element{}, 0, err
	}
	return valve.NewElement(m, stroke, 0), stroke, nil
}

// untilSeated moves the element in still water until it seats, and returns when, and
// how fast it then was.
func untilSeated(e valve.Element) (timeS, speed float64, err error) {
	err = e.Advance(100, valve.Node{}, func(t float64, e *valve.Element, ev valve.Event) bool {
		timeS, speed = t, math.Abs(e.U)
		return ev != valve.Seating
	})
	return timeS, speed, err
}

func fall(in Inputs) (timeS, speed float64, err error) {
	var force func(xi float64) float64
	friction := 0.0
	switch kind := in.S("force"); kind {
	case "constant":
		f := in.F("F")
		force = func(float64) float64 { return f }
	case "spring":
		f, rate := in.F("F"), in.F("rate")
		force = func(xi float64) float64 { return f + rate*xi }
	case "pendulum":
		moment, tilt := in.F("F"), in.F("tilt")*degree
		force = func(xi float64) float64 { return moment * math.Sin(xi+tilt) }
		friction = in.F("friction")
	default:
		return 0, 0, fmt.Errorf("no force is called %q", kind)
	}
	e, _, err := free(in, force, friction)
	if err != nil {
		return 0, 0, err
	}
	return untilSeated(e)
}

var (
	_ = evaluator("element-motion/time", "valve.Element.Advance", func(in Inputs) (float64, error) {
		t, _, err := fall(in)
		return t, err
	})
	_ = evaluator("element-motion/speed", "valve.Element.Advance", func(in Inputs) (float64, error) {
		_, u, err := fall(in)
		return u, err
	})
	_ = evaluator("element-motion/still water", "valve.Element.Advance", ofValve(stillWater))
)

// stillWater is the time in which a valve falls to the share of its stroke with the
// water in the pipe at rest.
func stillWater(m *valve.Mechanism, in Inputs) (float64, error) {
	const dt = 1e-4
	e, goal := valve.NewElement(m, m.Stroke, 0), in.F("share")*m.Stroke
	for t := 0.0; t < 10; t += dt {
		before := e.Xi
		if err := e.Advance(dt, valve.Node{}, nil); err != nil {
			return 0, err
		}
		if e.Xi <= goal {
			return t + dt*(before-goal)/(before-e.Xi), nil
		}
	}
	return 0, fmt.Errorf("the element does not fall to %g of its stroke", in.F("share"))
}
