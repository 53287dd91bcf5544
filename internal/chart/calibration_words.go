package chart

import (
	"fmt"
	"math"

	"seatward/quantity"
)

// What every fit ends with, and what a poor one begins with.
const (
	CalibrationCautions = "Intervals are those of the readings and of this model; a wrong event, valve or place of the sensor is not in them. Numbers hold for the state in which the station was logged. For review by a licensed engineer; the maker's instructions and local codes go before them."
	PoorFit             = "The run does not follow the readings: something is not as in the station file (another valve, another event, a device, air), or the sensor stands elsewhere. Nothing is taken as measured."
)

// LeastTold is the share of the spread before from which a number is shown.
const LeastTold = 0.1

const shownFigures = 4

// About says what was fitted.
func (x *Calibration) About() string {
	return fmt.Sprintf("%s with %s, fitted to %s. %d runs.", x.Station, x.Valve, Many(len(x.Stops), "stop"), x.Runs)
}

// said is a number with its 95 % interval.
func (v Interval) said(kind quantity.Kind, sys quantity.System) string {
	return fmt.Sprintf("%s (%s to %s)", sys.Format(kind, v.Best), sys.Number(kind, v.Low), sys.Number(kind, v.High))
}

// Said is what came of a stop, with the event as which it was run as the reader knows it.
func (s *CalibrationStop) Said(event string, sys quantity.System) string {
	text := "taken as " + event + ". "
	switch {
	case !s.Closed:
		text += "The valve did not close in the run."
	default:
		text += "Reverse velocity at closing " + s.Reverse.said(quantity.Velocity, sys)
		if s.Deceleration != nil {
			text += ", deceleration " + s.Deceleration.said(quantity.Acceleration, sys)
		}
		text += "."
	}
	return text + fmt.Sprintf(" The run leaves %s over (standard deviation of %d readings, spikes aside; scatter of the logger %s); sensor zero %s, stop %s s after the log.",
		sys.Format(quantity.Head, s.LeftM), s.Readings, sys.Format(quantity.Head, s.NoiseM),
		sys.Format(quantity.Head, s.ZeroM), quantity.Figures(s.LateS, 2))
}

// NumberHeads are the heads of NumberRows.
func NumberHeads() []string { return []string{"", "after", "95 %", "before", "told"} }

// NumberRows are the numbers that the stops tell something of, and how many they do not.
func (x *Calibration) NumberRows(sys quantity.System) (rows [][]string, rest int) {
	for i := range x.Numbers {
		n := &x.Numbers[i]
		if n.Told < LeastTold {
			rest++
			continue
		}
		kind := x.Fit.Numbers[i].Value.Kind
		figures := func(y float64) string { return quantity.Figures(sys.In(kind, y), shownFigures) }
		name := n.Name
		if n.AtEnd {
			name += " (at its end!)"
		}
		span := func(v Interval) string { return figures(v.Low) + " to " + figures(v.High) }
		rows = append(rows, []string{
			name, figures(x.Fit.Numbers[i].Value.SI) + " " + sys.Unit(kind), span(n.Value), span(n.Before),
			fmt.Sprintf("%.0f %%", 100*math.Min(1, n.Told)),
		})
	}
	return rows, rest
}

// RestSaid says what told means, and how many numbers are left out.
func RestSaid(rest int) string {
	return fmt.Sprintf("Told: the share of the spread before that is gone. %d more numbers lost less than %.0f %%", rest,
		100*LeastTold)
}

// Said says of which numbers the stops tell only something joint.
func (a CalibrationPair) Said() string {
	return fmt.Sprintf("%s and %s (correlation %s): the stops tell only something joint.", a.First, a.Second,
		quantity.Figures(a.Correlation, 2))
}

// Said is a point of the closing curve.
func (c CalibrationPoint) Said(sys quantity.System) string {
	return fmt.Sprintf("%s at %s, from %s", c.Reverse.said(quantity.Velocity, sys),
		c.Deceleration.said(quantity.Acceleration, sys), Many(c.Stops, "stop"))
}
