package chart

import (
	"fmt"
	"math"
	"strings"

	"seatward/diag"
	"seatward/internal/calibrate"
	"seatward/internal/figure"
	"seatward/internal/program"
	"seatward/quantity"
)

// CalibrationSchema names the machine form of a Calibration.
const CalibrationSchema = "seatward.calibration/1"

// Calibration is a station fitted to logged stops.
type Calibration struct {
	Schema  string              `json:"schema"`
	Program program.Program     `json:"program"`
	Station string              `json:"station"`
	Valve   string              `json:"valve"`
	Stops   []CalibrationStop   `json:"stops"`
	Numbers []CalibrationNumber `json:"numbers" jsonschema_description:"Of the station and the valve, in SI, what the stops tell most first"`
	Alike   []CalibrationPair   `json:"not_told_apart"`
	Curve   []CalibrationPoint  `json:"closing_curve"`
	NoCurve string              `json:"no_closing_curve,omitempty" jsonschema_description:"Why there is no curve"`
	Poor    bool                `json:"poor" jsonschema_description:"The run does not follow the readings: nothing is taken as measured"`
	Gas     bool                `json:"free_gas_taken_in"`
	Runs    int                 `json:"runs"`
	Notes   []string            `json:"notes"`

	Fit *calibrate.Fit `json:"-"`
}

// Interval is a number with its 95 % interval.
type Interval struct {
	Low  float64 `json:"low"`
	Best float64 `json:"best"`
	High float64 `json:"high"`
}

// CalibrationStop is one stop.
type CalibrationStop struct {
	File         string    `json:"file"`
	Channel      string    `json:"channel"`
	When         string    `json:"when"`
	Event        string    `json:"event" jsonschema_description:"Of the station, as which the stop was run"`
	Closed       bool      `json:"closed"`
	Reverse      *Interval `json:"reverse_velocity,omitempty" jsonschema_description:"m/s, 95 % interval"`
	Deceleration *Interval `json:"deceleration,omitempty" jsonschema_description:"m/s2, of the flow as it turns, without the valve"`
	StepM        float64   `json:"measured_step_m"`
	GridMS       float64   `json:"grid_m_s" jsonschema_description:"By which a grid twice as fine moves the reverse velocity"`
	WellShare    float64   `json:"wet_well_level" jsonschema_description:"0 high, 1 low"`
	LateS        float64   `json:"late_s" jsonschema_description:"The stop, after what the log says"`
	ZeroM        float64   `json:"sensor_zero_m"`
	LeftM        float64   `json:"left_over_m" jsonschema_description:"Standard deviation of readings less run, spikes aside"`
	Astray       float64   `json:"astray" jsonschema_description:"Share of the readings that the run misses"`
	NoiseM       float64   `json:"logger_noise_m"`
	Readings     int       `json:"readings"`
}

// CalibrationNumber is one number.
type CalibrationNumber struct {
	Name     string   `json:"name"`
	Unit     string   `json:"unit"`
	Value    Interval `json:"value" jsonschema_description:"95 % interval"`
	Before   Interval `json:"before" jsonschema_description:"Range before, 5 to 95 %"`
	Told     float64  `json:"told" jsonschema_description:"Share of the spread before that is gone"`
	Off      float64  `json:"off" jsonschema_description:"Standard deviations from the estimate before"`
	Measured bool     `json:"measured"`
	AtEnd    bool     `json:"at_end" jsonschema_description:"It ran to the end of what it may be"`
	OfValve  bool     `json:"of_valve"`
	Paths    []string `json:"paths" jsonschema_description:"Where a station file holds it"`
}

// CalibrationPair are two numbers that the stops do not tell apart.
type CalibrationPair struct {
	First       string  `json:"first"`
	Second      string  `json:"second"`
	Correlation float64 `json:"correlation"`
}

// CalibrationPoint is a point of the measured closing curve.
type CalibrationPoint struct {
	Deceleration Interval `json:"deceleration"`
	Reverse      Interval `json:"reverse_velocity"`
	Stops        int      `json:"stops"`
}

// NewCalibration is the machine form of a fit.
func NewCalibration(stationName, valveID string, f *calibrate.Fit) *Calibration {
	x := &Calibration{
		Schema: CalibrationSchema, Program: program.This(), Station: stationName, Valve: valveID, Fit: f,
		Stops: []CalibrationStop{}, Numbers: []CalibrationNumber{}, Alike: []CalibrationPair{},
		Curve: []CalibrationPoint{}, Notes: []string{}, Poor: f.Poor, Gas: f.Gas, Runs: f.Runs,
	}
	for i := range f.Points {
		p := &f.Points[i]
		s := CalibrationStop{
			File: p.Stop.File, Channel: p.Stop.Channel, When: p.Stop.When, Event: p.Event.ID, Closed: p.Closed,
			StepM: p.Stop.StepM, GridMS: p.GridMS, WellShare: p.WellShare, LateS: p.LateS, ZeroM: p.ZeroM,
			LeftM: p.LeftM, Astray: p.Astray,
			NoiseM: p.Stop.NoiseM, Readings: len(p.TimeS),
		}
		if p.Closed {
			s.Reverse = &Interval{p.Reverse.Low, p.Reverse.Best, p.Reverse.High}
			if !math.IsNaN(p.Deceleration.Best) {
				s.Deceleration = &Interval{p.Deceleration.Low, p.Deceleration.Best, p.Deceleration.High}
			}
		}
		x.Stops = append(x.Stops, s)
	}
	for i := range f.Numbers {
		n := &f.Numbers[i]
		x.Numbers = append(x.Numbers, CalibrationNumber{
			Name: n.Name, Unit: n.Value.Kind.Symbol(), Value: Interval{n.Low, n.Value.SI, n.High},
			Before: Interval{n.Before.Low, n.Before.SI, n.Before.High}, Told: n.Told, Off: n.Off,
			Measured: n.Measured() && !f.Poor, AtEnd: n.AtEnd, OfValve: n.OfValve,
			Paths: append([]string{}, n.Paths...),
		})
	}
	for _, p := range f.Pairs {
		x.Alike = append(x.Alike, CalibrationPair(p))
	}
	points, err := f.Curve()
	if err != nil {
		x.NoCurve = err.Error()
	}
	for _, p := range points {
		x.Curve = append(x.Curve, CalibrationPoint{Interval(p.Deceleration), Interval(p.Reverse), p.Stops})
	}
	return x
}

// NoHeadError is a log without a channel in which stops could be looked for.
type NoHeadError struct {
	File, Asked string
	Known       []string
}

// Error names the channels.
func (e *NoHeadError) Error() string {
	switch {
	case e.Asked != "" && len(e.Known) > 0:
		return fmt.Sprintf("%s has no pressure or head called %q; %s", e.File, e.Asked, diag.Meant(e.Asked, e.Known))
	case len(e.Known) > 0:
		return fmt.Sprintf("%s has several pressures; name the one at the valve with --channel: %s", e.File,
			strings.Join(e.Known, ", "))
	}
	return fmt.Sprintf("%s has no pressure or head logged as single readings; a fit takes one at the valve, 10 readings per second or more", e.File)
}

// Stopped are the stops in the log's head at the valve: in the channel that is named, or in the
// only one.
func (x *Log) Stopped(channel string) ([]calibrate.Stop, error) {
	var at *LogTrace
	var known []string
	for i := range x.Traces {
		t := &x.Traces[i]
		if !t.Fast || channel == "" && isSuction(t.Channel) {
			continue
		}
		known = append(known, t.Channel)
		if channel == "" || strings.EqualFold(channel, t.Channel) {
			at = t
		}
	}
	if at == nil || channel == "" && len(known) > 1 {
		return nil, &NoHeadError{x.File, channel, known}
	}
	out := calibrate.Stops(at.source, at.Report)
	for i := range out {
		out[i].File, out[i].Channel, out[i].When = x.File, at.Channel, x.When(out[i].AtNS)
		if x.Clock {
			out[i].Date = out[i].When[:len("2006-01-02")]
		}
	}
	return out, nil
}

// Figure draws for each stop the readings and the run over one another, whole and about the
// closing, and the closing curve where there is one.
func (x *Calibration) Figure(sys quantity.System) *figure.Figure {
	f := &figure.Figure{
		Title: "Measured and computed: " + x.Station + ", " + x.Valve,
		Note:  "The run has the numbers of the fit; zero and drift of the sensor are in it.",
	}
	for i := range x.Fit.Points {
		if i == mostTraces {
			f.Note += fmt.Sprintf(" %d more stops are not drawn.", len(x.Fit.Points)-i)
			break
		}
		p := &x.Fit.Points[i]
		first, last := p.TimeS[0], p.TimeS[len(p.TimeS)-1]
		title := p.Stop.Channel + ", stop of " + p.Stop.When
		f.Panels = append(f.Panels, stopPanel(p, title, first, last, sys))
		if c := p.Stop.ClosingS; !math.IsNaN(c) && p.Closed {
			room := math.Max(25*p.Stop.StepS, 0.05*(last-first))
			f.Panels = append(f.Panels, stopPanel(p, "about the closing", c-room, c+2*room, sys))
		}
	}
	if len(x.Curve) > 0 {
		f.Panels = append(f.Panels, x.curvePanel(sys))
	}
	return f
}

// stopPanel draws a stop between two times.
func stopPanel(p *calibrate.Point, title string, from, to float64, sys quantity.System) figure.Panel {
	out := figure.Panel{
		Title: title, XLabel: "time from the stop by the log, s", YLabel: "head over the gauge, " + sys.Unit(quantity.Head),
	}
	measured, run := figure.Series{Name: "measured", Style: figure.Water}, figure.Series{
		Name: "computed", Style: figure.Rust, Dash: true,
	}
	for i, t := range p.TimeS {
		if t < from || t > to {
			continue
		}
		measured.X, run.X = append(measured.X, t), append(run.X, t)
		measured.Y = append(measured.Y, sys.In(quantity.Head, p.HeadM[i]))
		run.Y = append(run.Y, sys.In(quantity.Head, p.RunM[i]))
	}
	out.Series = []figure.Series{measured, run}
	return out
}

// curvePanel draws the closing curve with its errors.
func (x *Calibration) curvePanel(sys quantity.System) figure.Panel {
	p := figure.Panel{
		Title: "measured closing curve", YFromZero: true,
		XLabel: "deceleration, " + sys.Unit(quantity.Acceleration), YLabel: "reverse velocity, " + sys.Unit(quantity.Velocity),
	}
	line := figure.Series{Name: "measured", Style: figure.Water}
	for _, c := range x.Curve {
		a := sys.In(quantity.Acceleration, c.Deceleration.Best)
		line.X, line.Y = append(line.X, a), append(line.Y, sys.In(quantity.Velocity, c.Reverse.Best))
		bar := figure.Series{Style: figure.Ink, X: []float64{a, a}, Y: []float64{
			sys.In(quantity.Velocity, math.Max(0, c.Reverse.Low)), sys.In(quantity.Velocity, c.Reverse.High),
		}}
		p.Series = append(p.Series, bar)
	}
	p.Series = append(p.Series, line)
	return p
}
