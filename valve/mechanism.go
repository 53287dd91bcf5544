package valve

import (
	"fmt"
	"math"
)

// Side is one resistance in one direction of relative flow.
type Side struct {
	Loss float64 // K on the bore's velocity head
	Area float64 // force per pressure drop, m² (torque per pressure drop, m³, when rotary)
}

// Term is one resistance in series: its loss is ½ρK y|y| with y = V − Swept·u.
type Term struct {
	Forward, Reverse Side    // for y > 0 and y < 0
	Swept            float64 // bore velocity made by a unit of element speed, − or m
}

// Both makes a term that is the same in both directions.
func Both(loss, area, swept float64) Term {
	s := Side{Loss: loss, Area: area}
	return Term{Forward: s, Reverse: s, Swept: swept}
}

// side returns the side that the relative velocity y meets.
func (t *Term) side(y float64) *Side {
	if y < 0 {
		return &t.Reverse
	}
	return &t.Forward
}

// State is the moving element at one opening. Forces in N and masses in kg stand
// for torques in N m and inertias in kg m² when the element turns.
type State struct {
	Terms         [3]Term // unused ones are zero
	Closing       float64 // weight, spring and lever; positive closes
	Mass          float64 // with the water that moves along; > 0
	MassSlope     float64 // dMass/dξ
	Coupling      float64 // C: force = C dV/dt
	CouplingSlope float64 // dC/dξ
	Friction      float64 // constant, against motion
	Drag          float64 // force = Drag u², against motion
	Cushion       float64 // force = Cushion u², against closing only

	single bool // only the first term is used, as far as is known
}

// terms are those that may be used.
func (s *State) terms() []Term {
	if s.single {
		return s.Terms[:1]
	}
	return s.Terms[:]
}

// Loss is the sum of the losses for steady flow in the direction of sign.
func (s *State) Loss(sign float64) float64 {
	var k float64
	terms := s.terms()
	for i := range terms {
		k += terms[i].side(sign).Loss
	}
	return k
}

// Push is the hydraulic force on the element at rest in the velocity V for the
// density ρ: ½ρ V|V| Σ K_i S_i.
func (s *State) Push(densityKgM3, velocityMS float64) float64 {
	return pushOf(densityKgM3, velocityMS, s.pushed(velocityMS))
}

// pushed is Σ K S in the direction of sign.
func (s *State) pushed(sign float64) float64 {
	var ks float64
	terms := s.terms()
	for i := range terms {
		side := terms[i].side(sign)
		ks += side.Loss * side.Area
	}
	return ks
}

func pushOf(densityKgM3, velocityMS, pushed float64) float64 {
	return 0.5 * densityKgM3 * velocityMS * math.Abs(velocityMS) * pushed
}

// gapArea is the force per pressure drop of the resistance that loses most: on the
// seat, the gap.
func (s *State) gapArea(sign float64) float64 {
	area, greatest := 0.0, 0.0
	for i := range s.Terms {
		if side := s.Terms[i].side(sign); side.Loss > greatest {
			greatest, area = side.Loss, side.Area
		}
	}
	return area
}

// Frame is what does not change with the opening.
type Frame struct {
	BoreM          float64 // diameter on which velocities and losses rest
	Stroke         float64 // m, or rad when rotary
	Rotary         bool
	DensityKgM3    float64
	GravityMS2     float64
	InclinationRad float64   // of the flow: 0 horizontal, π/2 up, −π/2 down
	SubmergedN     float64   // weight of the element in the liquid; negative floats
	CushionXi      float64   // opening below which a cushion is met; 0 without one
	HoldPa         float64   // pressure that must press on the seated element so that its own weight does not take it off the seat
	Efficiency     float64   // η at full opening, for types in the η form; 0 for others
	Notes          []Note    // what a reader of the numbers must know
	Known          Knowledge // how loss and force at part opening were come by
}

// AreaM2 is the area of the bore.
func (f *Frame) AreaM2() float64 { return math.Pi / 4 * f.BoreM * f.BoreM }

// Note is something that a reader of a mechanism's numbers must know: an
// assumption made in building it, or a number outside its expected range.
type Note struct {
	Key  string // parameter or quantity concerned
	Text string
}

// Law fills in the state, zero before, at the opening ξ, from just above the seat to the
// stroke.
type Law func(xi float64, s *State)

// Mechanism is the moving element of one valve of one type and size, in one
// position and one liquid. It is immutable.
type Mechanism struct {
	Frame
	law         Law
	reverse     float64 // factor on losses in reverse flow
	coupling    float64 // share of the pull of accelerating water that is counted
	restitution float64 // speed off the seat over speed onto it
	scanned     *[len(scan)]still
}

// still is what moves the element at rest at one opening in forward flow.
type still struct {
	pushed  float64 // Σ K S
	closing float64
}

// look takes down what the law says where Settle looks for a balance: it asks for these
// openings over and over, with other velocities. Each state is shown to check, which may
// be nil.
func (m *Mechanism) look(check func(s *State, share float64) error) error {
	m.scanned = new([len(scan)]still)
	s := new(State)
	for i, share := range scan {
		*s = State{}
		m.law(share*m.Stroke, s)
		if check != nil {
			if err := check(s, share); err != nil {
				return err
			}
		}
		m.scanned[i] = still{s.pushed(1), s.Closing}
	}
	return nil
}

// push is the hydraulic force at one of these openings, in a velocity that is not negative.
func (m *Mechanism) push(i int, velocityMS float64) float64 {
	return pushOf(m.DensityKgM3, velocityMS, m.scanned[i].pushed)
}

// seatShare is the share of the stroke at which the element is taken as seated. The
// gap's loss grows without bound at the seat itself.
const seatShare = 1e-4

// NewMechanism joins a frame and a law. It is how every Type ends its Build, and
// the way in for an element that is no registered type. The error says which
// number of the frame, or of the law at mid-stroke, cannot be.
func NewMechanism(f Frame, law Law) (*Mechanism, error) {
	for _, must := range []struct {
		name  string
		value float64
	}{
		{"bore", f.BoreM}, {"stroke", f.Stroke}, {"density", f.DensityKgM3}, {"gravity", f.GravityMS2},
	} {
		if !(must.value > 0) || math.IsInf(must.value, 0) {
			return nil, fmt.Errorf("valve: %s is %g; it must be a positive number", must.name, must.value)
		}
	}
	if f.Known.Word == "" {
		f.Known = gapFormula
	}
	m := &Mechanism{Frame: f, law: law, reverse: 1, coupling: 1}
	if err := m.look(possible); err != nil {
		return nil, err
	}
	return m, nil
}

// freeLoss is the loss below which an element runs free of the water round it, so that a
// light one may run ahead of it.
const freeLoss = 5

// possible says why a state cannot be that of a real element at the share of the stroke.
func possible(s *State, share float64) error {
	for _, of := range []struct {
		name  string
		value float64
	}{
		{"closing force", s.Closing},
		{"coupling", s.Coupling},
		{"friction", s.Friction},
		{"drag", s.Drag + s.Cushion},
		{"loss in forward flow", s.Loss(1)},
		{"loss in reverse flow", s.Loss(-1)},
		{"force in forward flow", s.Push(1, 1)},
		{"force in reverse flow", s.Push(1, -1)},
	} {
		if math.IsNaN(of.value) || math.IsInf(of.value, 0) {
			return fmt.Errorf("valve: at %g of the stroke the %s is %g; it must be finite", share, of.name, of.value)
		}
	}
	if !(s.Mass > 0) || math.IsInf(s.Mass, 0) {
		return fmt.Errorf("valve: at %g of the stroke the moving mass is %g; it must be positive", share, s.Mass)
	}
	for i := range s.Terms {
		// Where the water of a tight gap and the element move together, the pull of the
		// water must not outrun the mass, or the node between pipes has no single answer.
		t := &s.Terms[i]
		if left := 1 - t.Swept*s.Coupling/s.Mass; left <= 0 && -left*max(t.Forward.Loss, t.Reverse.Loss) > freeLoss {
			return fmt.Errorf("valve: at %g of the stroke accelerating water pulls with %.2f times the mass that moves: the element is too light, or sweeps too much for its bore", share, 1-left)
		}
	}
	return nil
}

// seat is the opening at which the element is taken as seated.
func (m *Mechanism) seat() float64 { return seatShare * m.Stroke }

// At returns the state at the opening ξ. Openings outside the stroke are those
// of its ends: the element cannot be there.
func (m *Mechanism) At(xi float64) State {
	var s State
	m.at(xi, &s)
	return s
}

// at is At for who asks often and has a State at hand.
func (m *Mechanism) at(xi float64, s *State) {
	*s = State{}
	m.law(min(max(xi, m.seat()), m.Stroke), s)
	// A term that loses nothing neither holds the water nor moves the element.
	s.single = s.Terms[1].Forward.Loss+s.Terms[1].Reverse.Loss+s.Terms[2].Forward.Loss+s.Terms[2].Reverse.Loss == 0
	terms := s.terms()
	for i := range terms {
		terms[i].Reverse.Loss *= m.reverse
	}
	s.Coupling *= m.coupling
	s.CouplingSlope *= m.coupling
}

// lawAt is the state as the law has it.
func (m *Mechanism) lawAt(xi float64) State {
	var s State
	m.law(xi, &s)
	return s
}

// WithoutAcceleration is the same element without the pull of accelerating water,
// the conservative bound: it closes later.
func (m *Mechanism) WithoutAcceleration() *Mechanism {
	c := *m
	c.coupling = 0
	return &c
}
