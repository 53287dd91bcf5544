package chart

import (
	"errors"
	"fmt"
	"math"

	"seatward/basis"
	"seatward/internal/program"
	"seatward/quantity"
	"seatward/study"
	"seatward/valve"
)

// ClosingSchema names the machine form of a Closing. 2: low and high are the 5 and 95 %
// points of draws, the median is added, and the station's stop is a point beside the curve.
const ClosingSchema = "seatward.closing/2"

// ErrNotOpen means that the flow asked for does not open the valve.
var ErrNotOpen = errors.New("does not open the valve")

// ClosingPoint is one deceleration of a closing curve.
type ClosingPoint struct {
	DecelerationMS2   float64        `json:"deceleration_m_s2"`
	ReverseVelocityMS study.BandJSON `json:"reverse_velocity_m_s" jsonschema_description:"Greatest reverse velocity before the valve closes: best numbers, and the 5 and 95 % points over draws from all ranges of the valve and the start velocity at once"`
	MedianMS          float64        `json:"median_m_s" jsonschema_description:"Half of the draws are below it"`
	WithoutPullMS     float64        `json:"reverse_velocity_without_pull_m_s" jsonschema_description:"Best numbers without the pull of slowing water on the moving element; safe for the first closing only"`
	TimeS             float64        `json:"time_s"`
	SeatingSpeedMS    *float64       `json:"seating_speed_m_s,omitempty"`
	SeatingSpeedRadS  *float64       `json:"seating_speed_rad_s,omitempty"`
	Closed            bool           `json:"closed" jsonschema_description:"False where the run was given up with the element still off its seat"`
	Failed            int            `json:"failed_draws,omitempty" jsonschema_description:"Draws that make no valve that can be computed; they are in no percentile"`
}

// Doubt is one number that is known only within a range, and the reverse velocity with
// it at either end.
type Doubt struct {
	Name   string  `json:"name"`
	LowMS  float64 `json:"reverse_velocity_at_low_m_s"`
	HighMS float64 `json:"reverse_velocity_at_high_m_s"`
}

// RunPoint is the station's own stop beside the curve: read off a run with the station's
// pipes and pumps, not off the curve.
type RunPoint struct {
	Event             string         `json:"event"`
	DecelerationMS2   float64        `json:"deceleration_m_s2" jsonschema_description:"Of the flow without the valve, at reversal"`
	ReverseVelocityMS study.BandJSON `json:"reverse_velocity_m_s"`
}

// Measured is one point of a measured closing curve.
type Measured struct {
	DecelerationMS2   float64 `json:"deceleration_m_s2"`
	ReverseVelocityMS float64 `json:"reverse_velocity_m_s"`
}

// Closing is the computed closing curve of a valve: reverse velocity against an even
// deceleration, between two long pipes. It compares valves; what a valve does in a station is
// the Run.
type Closing struct {
	Schema          string          `json:"schema"`
	Program         program.Program `json:"program"`
	Valve           string          `json:"valve"`
	Position        string          `json:"position"`
	Station         string          `json:"station,omitempty"`
	Run             *RunPoint       `json:"run,omitempty" jsonschema_description:"The station's worst stop"`
	StartVelocityMS study.BandJSON  `json:"start_velocity_m_s"`
	StartOpening    float64         `json:"start_opening" jsonschema_description:"At the best start velocity"`
	Draws           int             `json:"draws" jsonschema_description:"Draws behind each median and band"`
	QuietMS         float64         `json:"quiet_below_m_s"`
	HarmfulMS       float64         `json:"harmful_above_m_s"`
	Points          []ClosingPoint  `json:"points"`
	Doubts          []Doubt         `json:"doubts" jsonschema_description:"What makes the band, the greatest first, at the deceleration of the run or the middle one"`
	DoubtsAtMS2     float64         `json:"doubts_at_m_s2"`
	Measured        []Measured      `json:"measured,omitempty"`
	MeasuredSource  string          `json:"measured_source,omitempty"`
}

// Stop is what is asked of a closing curve. Zero values mean the usual.
type Stop struct {
	Start              basis.Value // velocity in the bore before the stop, m/s, with its range
	RatesMS2           []float64   // decelerations, rising
	QuietMS, HarmfulMS float64     // limits of the slam classes
	Run                *RunPoint   // the station's worst stop; see RunOf
}

// The decelerations of a closing curve unless some are asked for, m/s²: from a long
// main to a trip beside a running pump.
const (
	gentleMS2 = 0.5
	sharpMS2  = 20
)

// roundTheRun is how far a curve goes beyond the deceleration of the station's stop, as a
// factor.
const roundTheRun = 1.5

// leastStartMS is the least velocity from which a valve is closed that opens at less.
const leastStartMS = 0.5

// openMargin is how far above the full-open velocity a stop begins, so that the
// element stands at its stop for certain.
const openMargin = 1.02

// A stop may begin at less or more than the velocity that just opens the valve in full: one
// pump or all of them, low or high wet well. Assumed, for a valve that is looked at alone.
const (
	leastStart = 0.75
	mostStart  = 1.25
)

// NewClosing closes draws of the valve under each deceleration. The stop begins at the
// velocity asked for, or that before the station's worst stop, or the one that opens the
// valve in full. The error wraps ErrNotOpen where that flow does not open it, or is that of
// the closing runs.
func NewClosing(v *Valve, ask Stop, sys quantity.System) (*Closing, error) {
	out := &Closing{
		Schema: ClosingSchema, Program: program.This(), Valve: v.Item.ID, Position: v.Position.String(),
		Station: v.station(), Run: ask.Run,
		Draws: valve.CurveDraws, QuietMS: ask.QuietMS, HarmfulMS: ask.HarmfulMS,
	}
	start := v.start(ask.Start)
	out.StartVelocityMS = study.BandJSON{Low: start.Low, Best: start.SI, High: start.High}
	rest := v.Mechanism.Settle(start.SI)
	if rest.Standing == valve.Closed {
		return nil, fmt.Errorf("a velocity of %s %w %s", sys.Format(quantity.Velocity, start.SI), ErrNotOpen, v.Item.ID)
	}
	out.StartOpening = rest.Share
	rates := ask.RatesMS2
	if len(rates) == 0 {
		low, high := float64(gentleMS2), float64(sharpMS2)
		if ask.Run != nil { // the station's own stop lies within the curve
			low, high = math.Min(low, ask.Run.DecelerationMS2/roundTheRun), math.Max(high,
				ask.Run.DecelerationMS2*roundTheRun)
		}
		rates = Round(sys, quantity.Acceleration, low, high)
	}
	draws, err := v.Item.Draw(v.Setting, valve.CurveDraws)
	if err != nil {
		return nil, err
	}
	at := out.doubtsAt(rates)
	for i, rate := range rates {
		if err := out.add(v, draws, start, rate, i == at); err != nil {
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

// RunOf is the worst stop of the valve's station, from the record of its runs; nil without
// one.
func RunOf(v *Valve) *RunPoint {
	a := v.Assessment()
	if a == nil || !a.Slam.Deceleration.Known() || !a.Slam.ReverseVelocity.Known() {
		return nil
	}
	r := a.Slam.ReverseVelocity
	return &RunPoint{
		Event: a.Slam.Event, DecelerationMS2: a.Slam.Deceleration.SI,
		ReverseVelocityMS: study.BandJSON{Low: r.Low, Best: r.SI, High: r.High},
	}
}

// start is the velocity before the stop: the one asked for, that of the station's worst stop
// with the range of its normal flow, or one that opens the valve in full.
func (v *Valve) start(asked basis.Value) basis.Value {
	const name = "velocity before the stop"
	if asked.Known() {
		return asked
	}
	if a := v.Assessment(); a != nil && a.Answer != nil && a.Answer.Worst != nil && a.Answer.Worst.StartMS > 0 {
		u, normal := a.Answer.Worst.StartMS, a.Governing.Velocity
		out := basis.NewSimulated(name, quantity.Velocity, u, "in the valve's bore, before the station's worst stop")
		if normal.Ranged() && normal.SI > 0 {
			out = out.WithRange(u*normal.Low/normal.SI, u*normal.High/normal.SI)
		}
		return out
	}
	best := math.Max(openMargin*v.Mechanism.FullOpenVelocity().VelocityMS, leastStartMS)
	return basis.NewAssumed(name, quantity.Velocity, best, leastStart*best, mostStart*best,
		"just fully open; a station stops from less and from more", basis.DerivedHere)
}

// doubtsAt is the place of the deceleration at which doubts are listed: the nearest to the
// run's, or the middle one.
func (c *Closing) doubtsAt(rates []float64) int {
	at := len(rates) / 2
	if c.Run != nil {
		for i, r := range rates {
			if math.Abs(math.Log(r/c.Run.DecelerationMS2)) < math.Abs(math.Log(rates[at]/c.Run.DecelerationMS2)) {
				at = i
			}
		}
	}
	c.DoubtsAtMS2 = rates[at]
	return at
}

// add closes the valve under one deceleration, with the band of what is not known.
func (c *Closing) add(v *Valve, draws *valve.Draws, start basis.Value, rateMS2 float64, doubts bool) error {
	duty := valve.Duty{
		Start:        start,
		Deceleration: basis.NewSimulated("deceleration", quantity.Acceleration, rateMS2, "chosen for the curve"),
	}
	band, err := draws.Close(duty)
	if err != nil {
		return err
	}
	bare, err := draws.WithoutPull(duty)
	if err != nil {
		return err
	}
	p := ClosingPoint{
		DecelerationMS2: rateMS2, ReverseVelocityMS: study.BandJSON{Low: band.Low, Best: band.Best, High: band.High},
		MedianMS: band.Median, WithoutPullMS: bare,
		TimeS: band.Closing.TimeS, Closed: band.Closing.Outcome == valve.ClosedShut, Failed: band.Failed,
	}
	if speed := band.Closing.SeatingSpeed; v.Mechanism.Rotary {
		p.SeatingSpeedRadS = &speed
	} else {
		p.SeatingSpeedMS = &speed
	}
	c.Points = append(c.Points, p)
	if doubts {
		for _, d := range band.Doubts() {
			c.Doubts = append(c.Doubts, Doubt{d.Value.Name, d.LowMS, d.HighMS})
		}
	}
	return nil
}
