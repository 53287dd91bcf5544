package chart

import (
	"errors"
	"fmt"
	"math"

	"seatward/basis"
	"seatward/quantity"
	"seatward/study"
	"seatward/valve"
)

// ClosingSchema names the machine form of a Closing.
const ClosingSchema = "seatward.closing/1"

// ErrNotOpen means that the flow asked for does not open the valve.
var ErrNotOpen = errors.New("does not open the valve")

// ClosingPoint is one deceleration of a closing curve.
type ClosingPoint struct {
	DecelerationMS2   float64        `json:"deceleration_m_s2"`
	ReverseVelocityMS study.BandJSON `json:"reverse_velocity_m_s" jsonschema_description:"Greatest reverse velocity before the valve is shut; low and high join what is not known of the valve"`
	WithoutPullMS     float64        `json:"reverse_velocity_without_pull_m_s" jsonschema_description:"Without the pull of accelerating water on the moving element: the conservative bound"`
	TimeS             float64        `json:"time_s"`
	SeatingSpeedMS    *float64       `json:"seating_speed_m_s,omitempty"`
	SeatingSpeedRadS  *float64       `json:"seating_speed_rad_s,omitempty"`
	Closed            bool           `json:"closed" jsonschema_description:"False where the run was given up with the element still off its seat"`
	Station           bool           `json:"station,omitempty" jsonschema_description:"The station's worst stop"`
}

// Doubt is one number that is known only within a range, and the reverse velocity with
// it at either end.
type Doubt struct {
	Name   string  `json:"name"`
	LowMS  float64 `json:"reverse_velocity_at_low_m_s"`
	HighMS float64 `json:"reverse_velocity_at_high_m_s"`
}

// Measured is one point of a measured closing curve.
type Measured struct {
	DecelerationMS2   float64 `json:"deceleration_m_s2"`
	ReverseVelocityMS float64 `json:"reverse_velocity_m_s"`
}

// Closing is the computed closing curve of a valve: reverse velocity against a steady
// deceleration, between two long pipes.
type Closing struct {
	Schema          string         `json:"schema"`
	Valve           string         `json:"valve"`
	Position        string         `json:"position"`
	Station         string         `json:"station,omitempty"`
	Event           string         `json:"event,omitempty" jsonschema_description:"The station's worst stop"`
	StartVelocityMS float64        `json:"start_velocity_m_s"`
	StartOpening    float64        `json:"start_opening"`
	QuietMS         float64        `json:"quiet_below_m_s"`
	HarmfulMS       float64        `json:"harmful_above_m_s"`
	Points          []ClosingPoint `json:"points"`
	Doubts          []Doubt        `json:"doubts" jsonschema_description:"What makes the band, the greatest first, at the station's or the middle deceleration"`
	DoubtsAtMS2     float64        `json:"doubts_at_m_s2"`
	Measured        []Measured     `json:"measured,omitempty"`
	MeasuredSource  string         `json:"measured_source,omitempty"`
}

// Stop is what is asked of a closing curve. Zero values mean the usual.
type Stop struct {
	StartMS            float64   // velocity in the bore before the stop
	RatesMS2           []float64 // decelerations, rising
	QuietMS, HarmfulMS float64   // limits of the slam classes
}

// The decelerations of a closing curve unless some are asked for, m/s²: from a long
// main to a trip beside a running pump.
const (
	gentleMS2 = 0.5
	sharpMS2  = 20
)

// leastStartMS is the least velocity from which a valve is closed that opens at less.
const leastStartMS = 0.5

// openMargin is how far above the full-open velocity a stop begins, so that the
// element stands at its stop for certain.
const openMargin = 1.02

// NewClosing closes the valve under each deceleration. The stop begins at the velocity
// asked for, or that before the station's worst stop, or the one that opens the valve
// in full. The error wraps ErrNotOpen where that flow does not open it, or is that of
// the closing runs.
func NewClosing(v *Valve, ask Stop, sys quantity.System) (*Closing, error) {
	out := &Closing{Schema: ClosingSchema, Valve: v.Item.ID, Position: v.Position, Station: v.station(), QuietMS: ask.QuietMS, HarmfulMS: ask.HarmfulMS}
	rates := ask.RatesMS2
	if len(rates) == 0 {
		rates = Round(sys, quantity.Acceleration, gentleMS2, sharpMS2)
	}
	own := out.place(v, ask.StartMS)
	if own > 0 {
		rates = insert(append([]float64(nil), rates...), own)
	}
	rest := v.Mechanism.Settle(out.StartVelocityMS)
	if rest.Standing == valve.Closed {
		return nil, fmt.Errorf("a velocity of %s %w %s", sys.Format(quantity.Velocity, out.StartVelocityMS), ErrNotOpen, v.Item.ID)
	}
	out.StartOpening = rest.Share
	out.DoubtsAtMS2 = rates[len(rates)/2]
	if own > 0 {
		out.DoubtsAtMS2 = own
	}
	for _, rate := range rates {
		if err := out.add(v, rate, own); err != nil {
			return nil, err
		}
	}
	if m, ok := v.Item.MeasuredClosing(v.Position); ok {
		out.MeasuredSource = m.Source
		for i := range m.X {
			out.Measured = append(out.Measured, Measured{m.X[i], m.Y[i]})
		}
	}
	return out, nil
}

// place sets where the stop begins, and gives the station's own deceleration; 0 without
// a station.
func (c *Closing) place(v *Valve, startMS float64) (ownMS2 float64) {
	c.StartVelocityMS = startMS
	if v.Study != nil {
		slam := &v.Study.Assessments[0].Slam
		if stop, ok := v.Study.ByHand.Worst(); ok && slam.Deceleration.Known() {
			ownMS2, c.Event = slam.Deceleration.SI, slam.Event
			if startMS == 0 {
				c.StartVelocityMS = stop.Velocity.SI * math.Pow(v.Study.ByHand.Bore.SI/v.Mechanism.BoreM, 2)
			}
		}
	}
	if c.StartVelocityMS == 0 {
		c.StartVelocityMS = math.Max(openMargin*v.Mechanism.FullOpenVelocity().VelocityMS, leastStartMS)
	}
	return ownMS2
}

// add closes the valve under one deceleration, with the band of what is not known.
func (c *Closing) add(v *Valve, rateMS2, ownMS2 float64) error {
	exact := func(name string, kind quantity.Kind, si float64) basis.Value {
		return basis.NewSimulated(name, kind, si, "chosen for the curve")
	}
	band, err := v.Item.ClosingBand(v.Setting, valve.Duty{
		Start: exact("velocity before the stop", quantity.Velocity, c.StartVelocityMS), Deceleration: exact("deceleration", quantity.Acceleration, rateMS2),
		Pipes: valve.Deceleration{Tolerance: valve.Tolerance}, // the ends too, so that the bound without pull never stands outside the band
	})
	if err != nil {
		return err
	}
	bound, err := v.Mechanism.WithoutAcceleration().Close(valve.Deceleration{StartMS: c.StartVelocityMS, RateMS2: rateMS2})
	if err != nil {
		return err
	}
	p := ClosingPoint{
		DecelerationMS2: rateMS2, ReverseVelocityMS: study.BandJSON{Low: band.Low, Best: band.Best, High: band.High}, WithoutPullMS: bound.ReverseVelocityMS,
		TimeS: band.Closing.TimeS, Closed: band.Closing.Outcome == valve.ClosedShut, Station: rateMS2 == ownMS2,
	}
	if speed := band.Closing.SeatingSpeed; v.Mechanism.Rotary {
		p.SeatingSpeedRadS = &speed
	} else {
		p.SeatingSpeedMS = &speed
	}
	c.Points = append(c.Points, p)
	if rateMS2 == c.DoubtsAtMS2 {
		for _, d := range band.Doubts {
			c.Doubts = append(c.Doubts, Doubt{d.Value.Name, d.LowMS, d.HighMS})
		}
	}
	return nil
}
