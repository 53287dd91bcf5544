package fieldlog

import (
	"fmt"
	"math"
	"slices"

	"seatward/diag"
)

// finish puts the rows in order and says what was found on the way.
func (r *reading) finish() {
	l := r.log
	good := l.Rows - r.badTimes
	if good == 0 || float64(r.badTimes) > badShare*float64(l.Rows) {
		m := r.firstBad
		if m.ID == "" {
			m = diag.Message{
				ID: "values-missing", Place: diag.Place{Line: 1, Col: 1},
				Text: "the log holds no rows of values",
			}
		} else {
			m.Text = fmt.Sprintf("%d of %d rows have no time that can be read; this is the first", r.badTimes, l.Rows)
		}
		r.fault(m)
		return
	}
	if r.badTimes > 0 {
		l.Notes = append(l.Notes, fmt.Sprintf("%d rows have no time that can be read and are left out, first line %d",
			r.badTimes, r.firstBad.Place.Line))
	}
	r.settleTwice()
	notes := map[string]bool{}
	note := func(s string) {
		if s != "" && !notes[s] && len(l.Notes) < 40 {
			notes[s] = true
			l.Notes = append(l.Notes, s)
		}
	}
	for _, n := range r.p.notes {
		note(n)
	}
	for _, a := range r.axes {
		for _, c := range a.changes {
			note("the clock is " + c)
		}
		s, ok := a.order(l.Channels)
		if !ok {
			r.fault(diag.Message{
				ID: "time-back", Place: diag.Place{Line: a.backLine, Col: 1}, Text: "the time goes back",
				Expected: "rows in order of time", Mend: "sort the log by time, or cut it here",
			})
			return
		}
		note(s)
	}
	l.Channels = slices.DeleteFunc(l.Channels, func(c *Channel) bool { return !c.based })
	if len(l.Channels) == 0 {
		r.fault(diag.Message{
			ID: "values-missing", Place: diag.Place{Line: r.p.First, Col: 1}, Text: "no channel holds a value",
			Expected: "numbers beside the times", Mend: "check decimal, quality and read in the map",
		})
		return
	}
	if l.Bad > 0 {
		note(fmt.Sprintf("%d values are left out for their quality code", l.Bad))
	}
	l.Questions = append(l.Questions, r.p.questions...)
	r.ask()
	m := r.p.Map
	l.Map = &m
}

// ask asks what only the whole log shows.
func (r *reading) ask() {
	l := r.log
	if slices.ContainsFunc(r.axes, func(a *axis) bool { return len(a.changes) > 0 }) && !r.m.Time.Clock.Set {
		l.Questions = append(l.Questions, Question{
			ID:    "clock-change",
			Text:  "The clock seems to be changed in spring or autumn; it may be a gap or rows that overlap.",
			Taken: "local", Choices: []string{"local", "fixed"}, Key: "time.clock",
		})
	}
	if q := r.repeated(); q != nil {
		l.Questions = append(l.Questions, *q)
	}
	for _, c := range l.Channels {
		step, regular := c.Step()
		if c.Sample == Unsaid && regular >= regularShare && step >= slowStepS && c.Measures != State {
			l.Questions = append(l.Questions, Question{
				ID: "means-or-instants", Column: c.Name,
				Text:  fmt.Sprintf("A value each %.4g s may be a mean of the interval or a single reading.", step),
				Taken: "not known; no short event is excluded by it", Choices: []string{
					"mean", "instant", "max",
					"min",
				},
				Key: "channels.sample",
			})
		}
	}
}

// slowStepS is the step from which on loggers store means as a rule (common practice, no source).
const slowStepS = 10

// repeated asks for the step where many rows share each time: then the times were cut.
func (r *reading) repeated() *Question {
	if r.p.StepS > 0 || r.p.Form == Cut {
		return nil
	}
	for _, a := range r.axes {
		n := a.times.n
		if n < 20 || float64(a.repeats) < 0.7*float64(n) {
			continue
		}
		each := float64(n) / float64(n-a.repeats)
		return &Question{
			ID: "time-repeated", Text: fmt.Sprintf("About %.0f rows share each time: the times seem to be cut.",
				each),
			Taken: "the rows stay at the time that is written", Choices: []string{
				fmt.Sprintf("step: %.4g s", roundStep(float64(a.step)/float64(second)/each)),
			}, Key: "time.step",
		}
	}
	return nil
}

func roundStep(s float64) float64 {
	if !(s > 0) {
		return 0
	}
	p := math.Pow(10, math.Floor(math.Log10(s))-2)
	return math.Round(s/p) * p
}
