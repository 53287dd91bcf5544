package text

import (
	"fmt"
	"io"
	"math"

	"seatward/internal/chart"
	"seatward/quantity"
)

// Calibrated prints a station fitted to logged stops: the stops, what each number is after them,
// and what they cannot hold apart.
func Calibrated(w io.Writer, x *chart.Calibration, opt Options) error {
	p := newPage(opt)
	p.para("", fmt.Sprintf("%s with %s, fitted to %s. %d runs.", Clean(x.Station), x.Valve, chart.Many(len(x.Stops), "stop"), x.Runs))
	if x.Poor {
		p.gap()
		p.item(rust, "", "!", "The run does not follow the readings: something is not as in the station file (another valve, another event, a device, air), or the sensor stands elsewhere. Nothing is taken as measured. Look at the picture (--svg), and name --event, --valve or --at-header.")
	}
	p.heading("STOPS")
	for i := range x.Stops {
		p.calibrationStop(&x.Stops[i])
	}
	p.heading("NUMBERS")
	p.calibrationNumbers(x)
	if len(x.Alike) > 0 {
		p.heading("HELD TOGETHER")
		for _, a := range x.Alike {
			p.item(amber, "", "~", fmt.Sprintf("%s and %s (correlation %s): the stops tell only something joint.", a.First, a.Second,
				quantity.Figures(a.Correlation, 2)))
		}
	}
	p.heading("CLOSING CURVE")
	if x.NoCurve != "" {
		p.para("", sentenceStart(x.NoCurve)+".")
	}
	for _, c := range x.Curve {
		p.para("  ", fmt.Sprintf("%s at %s, from %s", p.interval(quantity.Velocity, c.Reverse), p.interval(quantity.Acceleration,
			c.Deceleration), chart.Many(c.Stops, "stop")))
	}
	for _, n := range x.Notes {
		p.gap()
		p.item(faint, "", "-", Clean(n))
	}
	p.heading("CAUTIONS")
	p.para("", "Intervals are those of the readings and of this model; a wrong event, valve or place of the sensor is not in them. Numbers hold for the state in which the station was logged. For review by a licensed engineer; the maker's instructions and local codes go before them.")
	return p.flush(w)
}

// interval prints a number with its 95 % interval.
func (p *page) interval(kind quantity.Kind, v chart.Interval) string {
	return fmt.Sprintf("%s (%s to %s)", p.si(kind, v.Best), p.number(kind, v.Low), p.number(kind, v.High))
}

func (p *page) calibrationStop(s *chart.CalibrationStop) {
	p.put("  " + Clean(s.File) + ", " + s.When)
	text := "taken as " + s.Event + ". "
	switch {
	case !s.Closed:
		text += "The valve did not close in the run."
	default:
		text += "Reverse velocity at closing " + p.interval(quantity.Velocity, *s.Reverse)
		if s.Deceleration != nil {
			text += ", deceleration " + p.interval(quantity.Acceleration, *s.Deceleration)
		}
		text += "."
	}
	text += fmt.Sprintf(" The run leaves %s over (standard deviation of %d readings, spikes aside; scatter of the logger %s); sensor zero %s, stop %s s after the log.",
		p.si(quantity.Head, s.LeftM), s.Readings, p.si(quantity.Head, s.NoiseM), p.si(quantity.Head, s.ZeroM),
		quantity.Figures(s.LateS, 2))
	p.para("    ", text)
}

func (p *page) calibrationNumbers(x *chart.Calibration) {
	t := &table{indent: "  ", cols: []column{
		{head: "", gives: true},
		{head: "after", right: true},
		{head: "95 %", right: true},
		{head: "before", right: true},
		{head: "told", right: true},
	}}
	rest := 0
	for i := range x.Numbers {
		n := &x.Numbers[i]
		if n.Told < leastTold {
			rest++
			continue
		}
		v := x.Fit.Numbers[i].Value
		name := Clean(n.Name)
		if n.AtEnd {
			name += " (at its end!)"
		}
		span := func(v chart.Interval) string {
			at := func(y float64) string {
				return quantity.Figures(p.opt.Units.In(x.Fit.Numbers[i].Value.Kind, y), shownFigures)
			}
			return at(v.Low) + " to " + at(v.High)
		}
		best := quantity.Figures(p.opt.Units.In(v.Kind, v.SI), shownFigures) + " " + p.opt.Units.Unit(v.Kind)
		t.add(name, best, span(n.Value), span(n.Before),
			fmt.Sprintf("%.0f %%", 100*math.Min(1, n.Told)))
	}
	p.table(t)
	if rest > 0 {
		p.paraIn(faint, "", fmt.Sprintf("Told: the share of the spread before that is gone. %d more numbers lost less than %.0f %%; they are in --json.",
			rest, 100*leastTold))
	}
}

const shownFigures = 4

// leastTold is the share from which a number is printed.
const leastTold = 0.1
