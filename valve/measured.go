package valve

import (
	"errors"
	"fmt"
	"math"
)

// Point is one measured point.
type Point struct{ X, Y float64 }

// Measured are steady tests of one valve. They take the place of what the type's law
// says about forward flow: the surest calibration of a check valve there is.
type Measured struct {
	Loss     []Point // share of the stroke against loss coefficient on the bore
	Floating []Point // velocity in the bore, m/s, against the share of the stroke at which the element floats
	// Push is the force of the water on the element held at a share of the stroke, over
	// ½ρ V² D² (its torque over ½ρ V² D³ when it turns), D the bore: by a load cell or a
	// torque arm. PushBack is the same in reverse flow, both positive.
	Push, PushBack []Point
	// Tested is the same valve in the liquid and position of the floating test.
	Tested *Mechanism
}

// ErrMeasured means that measured curves cannot be used for this mechanism.
var ErrMeasured = errors.New("valve: measured curves do not fit")

// calibrated is a law with measured loss and force.
type calibrated struct {
	law      Law
	stroke   float64
	loss     *curve // logarithm of K by share; nil where not measured
	lossFrom float64
	join     float64 // measured over lawful loss at lossFrom: below it the law is scaled
	area     *curve  // force per pressure drop by share; nil where not measured
	areaBack *curve  // the same in reverse flow
}

// Calibrate gives the mechanism the measured loss and force. The force follows from a
// floating test by inverting the balance, S = F_close/(½ρ K V²), or from a test of the
// held element, S = C D²/K (C D³/K when it turns). Below the least measured opening the
// gap's law is scaled to join the measured loss, and the force runs straight to that on
// the seat; above the greatest, both stay level. The loss in reverse flow keeps its ratio
// to that in forward flow; so does the force, where it was not measured.
//
// The errors wrap ErrMeasured: curves that do not run up, numbers that are not positive,
// or a type whose element feels more than one resistance.
func (m *Mechanism) Calibrate(c Measured) (*Mechanism, error) {
	if s := m.lawAt(m.Stroke / 2); s.Terms[1] != (Term{}) {
		return nil, fmt.Errorf("%w: this type feels several resistances, and one curve cannot tell them apart",
			ErrMeasured)
	}
	if len(c.Floating) > 0 && len(c.Push) > 0 {
		return nil, fmt.Errorf("%w: a floating test and one of the held element both give the force in forward flow",
			ErrMeasured)
	}
	k := &calibrated{law: m.law, stroke: m.Stroke}
	if len(c.Loss) > 0 {
		if err := k.takeLoss(c.Loss); err != nil {
			return nil, err
		}
	}
	if len(c.Floating) > 0 {
		if c.Tested == nil {
			return nil, fmt.Errorf("%w: a floating test needs the mechanism in the tested position", ErrMeasured)
		}
		if err := k.takeFloating(c.Floating, c.Tested); err != nil {
			return nil, err
		}
	}
	lever := m.BoreM * m.BoreM
	if m.Rotary {
		lever *= m.BoreM
	}
	var err error
	if k.area, err = k.takePush(c.Push, 1, lever, k.area); err != nil {
		return nil, err
	}
	if k.areaBack, err = k.takePush(c.PushBack, -1, lever/m.reverse, nil); err != nil {
		return nil, err
	}
	out := *m
	out.law, out.Known = k.state, benchTested
	out.Notes = append(append([]Note(nil), m.Notes...),
		Note{Key: "measured", Text: "loss or force in forward flow are measured ones"})
	return &out, out.look(nil)
}

func (k *calibrated) takeLoss(points []Point) error {
	var s, logs []float64
	for _, p := range points {
		if !(p.X > 0 && p.X <= 1 && p.Y > 0) {
			return fmt.Errorf("%w: loss %g at opening %g; openings must be above 0 to 1, losses positive", ErrMeasured,
				p.Y, p.X)
		}
		s, logs = append(s, p.X), append(logs, math.Log(p.Y))
	}
	fitted, err := newCurve(s, logs)
	if err != nil {
		return fmt.Errorf("%w: loss against opening: %w", ErrMeasured, err)
	}
	var at State
	k.law(s[0]*k.stroke, &at)
	k.loss, k.lossFrom, k.join = &fitted, s[0], points[0].Y/at.Terms[0].Forward.Loss
	return nil
}

func (k *calibrated) takeFloating(points []Point, tested *Mechanism) error {
	var seat State
	k.law(seatShare*k.stroke, &seat)
	s, areas := []float64{0}, []float64{seat.Terms[0].Forward.Area}
	for _, p := range points {
		if !(p.X > 0 && p.Y > 0 && p.Y <= 1) {
			return fmt.Errorf("%w: opening %g at %g m/s; openings must be above 0 to 1, velocities positive",
				ErrMeasured, p.Y, p.X)
		}
		xi := p.Y * k.stroke
		var here State
		k.state(xi, &here)
		there := tested.At(xi)
		s = append(s, p.Y)
		areas = append(areas, there.Closing/(0.5*tested.DensityKgM3*here.Terms[0].Forward.Loss*p.X*p.X))
	}
	fitted, err := newCurve(s, areas)
	if err != nil {
		return fmt.Errorf("%w: opening against velocity: %w", ErrMeasured, err)
	}
	k.area = &fitted
	return nil
}

// takePush reads the force of the held element in the direction of sign into a curve of
// force per pressure drop; known stands where nothing was measured.
func (k *calibrated) takePush(points []Point, sign, lever float64, known *curve) (*curve, error) {
	if len(points) == 0 {
		return known, nil
	}
	var seat State
	k.law(seatShare*k.stroke, &seat)
	s, areas := []float64{0}, []float64{seat.Terms[0].side(sign).Area}
	for _, p := range points {
		if !(p.X > 0 && p.X <= 1 && p.Y > 0) {
			return nil, fmt.Errorf("%w: force coefficient %g at opening %g; openings must be above 0 to 1, coefficients positive", ErrMeasured, p.Y, p.X)
		}
		var here State
		k.state(p.X*k.stroke, &here)
		s, areas = append(s, p.X), append(areas, p.Y*lever/here.Terms[0].side(sign).Loss)
	}
	fitted, err := newCurve(s, areas)
	if err != nil {
		return nil, fmt.Errorf("%w: force against opening: %w", ErrMeasured, err)
	}
	return &fitted, nil
}

// state is the Law.
func (k *calibrated) state(xi float64, s *State) {
	k.law(xi, s)
	share := xi / k.stroke
	t := &s.Terms[0]
	alike := t.Forward == t.Reverse
	if k.loss != nil {
		loss := k.join * t.Forward.Loss
		if share >= k.lossFrom {
			loss = math.Exp(k.loss.at(share))
		}
		t.Reverse.Loss *= loss / t.Forward.Loss
		t.Forward.Loss = loss
	}
	if k.area != nil {
		t.Forward.Area = k.area.at(share)
		if alike {
			t.Reverse.Area = t.Forward.Area
		}
	}
	if k.areaBack != nil {
		t.Reverse.Area = k.areaBack.at(share)
	}
}
