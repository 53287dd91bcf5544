package desk

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"seatward/catalog"
	"seatward/internal/calibrate"
	"seatward/internal/chart"
	"seatward/internal/site"
	"seatward/plant"
	"seatward/quantity"
	"seatward/station"
)

// FitRequest asks for a station fitted to the stops of a log.
type FitRequest struct {
	LogRequest
	Valve    string   `json:"valve,omitempty"`     // that was logged; by the file's words without it
	Sensor   string   `json:"sensor,omitempty"`    // elevation of the sensor; that of the valve without it
	AtHeader bool     `json:"at_header,omitempty"` // the sensor is at the header
	Events   []string `json:"events,omitempty"`    // which the stops may be; the nearest without it
	Stops    []int    `json:"stops,omitempty"`     // the first ones without it
}

// FitReply is what the stops tell.
type FitReply struct {
	About    string     `json:"about"`
	Poor     string     `json:"poor"` // why nothing is taken as measured; empty where it is
	Stops    []FitStop  `json:"stops"`
	Heads    []string   `json:"number_heads"`
	Numbers  [][]string `json:"numbers"`
	Rest     string     `json:"rest"`  // what told means, and what is left out; empty where nothing is
	Alike    []string   `json:"alike"` // numbers that the stops do not hold apart
	Curve    []string   `json:"curve"` // points of the measured closing curve
	NoCurve  string     `json:"no_curve"`
	Notes    []string   `json:"notes"`
	Writes   []FitWrite `json:"writes"` // what the station file takes
	Saved    string     `json:"saved"`  // the station file with them; empty where it takes none
	NoWrites string     `json:"no_writes"`
	Chart    Chart      `json:"chart"`
	Cautions string     `json:"cautions"`
}

// FitStop is one stop after the fit.
type FitStop struct {
	When string `json:"when"`
	Text string `json:"text"`
}

// FitWrite is a measured number with its range, as it goes into the station file.
type FitWrite struct {
	Name  string `json:"name"`
	Value string `json:"value"`
}

// Fit fits a station to logged stops.
func (d *Desk) Fit(ctx context.Context, in FitRequest) (*FitReply, error) {
	return d.FitTold(ctx, in, nil)
}

// FitTold is Fit that says how many runs have been made; how many it takes nobody knows before.
func (d *Desk) FitTold(ctx context.Context, in FitRequest, progress func(done, total int)) (*FitReply, error) {
	st, err := load(in.Text, in.Units)
	if err != nil {
		return nil, err
	}
	m, err := d.fitted(st, in)
	if err != nil {
		return nil, err
	}
	x, _, err := readLog(in.LogRequest, st)
	if err != nil {
		return nil, err
	}
	stops, notes, err := takenStops(x, in)
	if err != nil {
		return nil, err
	}
	var opt calibrate.Options
	if progress != nil {
		opt.Progress = func(runs int) { progress(runs, 0) }
	}
	fit, err := calibrate.Of(ctx, m, stops, opt)
	if errors.Is(err, context.DeadlineExceeded) {
		return nil, &Error{
			ID: "too-long", Text: "the fit took longer than this server gives it",
			Mend: "fit fewer stops at once, name which stops they were, or fit by the command line: seatward calibrate",
		}
	}
	if err != nil {
		return nil, NoAnswer(err)
	}
	c := chart.NewCalibration(st.Name, m.Item.ID, fit)
	c.Notes = append(c.Notes, notes...)
	return fitReply(c, st, in)
}

// fitted is the model that is fitted.
func (d *Desk) fitted(st *station.Station, in FitRequest) (*calibrate.Model, error) {
	m := &calibrate.Model{Station: st, Header: in.AtHeader}
	var err error
	if in.Valve == "" {
		if m.Item = site.Present(st, d.catalogs); m.Item == nil {
			return nil, atField(&Error{
				ID: "valve-missing", Text: "which valve was logged is not known",
				Mend: "name it, or write on the sheet which valve is there now",
			}, "valve")
		}
	} else if m.Item, err = catalog.Find(d.catalogs, in.Valve); err != nil {
		return nil, atField(err, "valve")
	}
	if in.Sensor != "" {
		v, err := quantity.Reading{System: st.Units, Stated: true}.Parse(quantity.Length, in.Sensor)
		if err != nil {
			return nil, atField(err, "sensor")
		}
		above := st.AboveDatum(v.SI)
		m.SensorM = &above
	}
	p, err := plant.New(st)
	if err != nil {
		return nil, NoAnswer(err)
	}
	if m.Events, err = calibrate.Events(p, in.Events); err != nil {
		return nil, NoAnswer(err)
	}
	return m, nil
}

// atField is an error of which the field is known.
func atField(err error, field string) *Error {
	out := Told(err)
	if out == nil {
		out = &Error{ID: field, Text: err.Error()}
	}
	if len(out.Messages) == 0 {
		out.Messages = []Message{{ID: out.ID, Text: out.Text, Mend: out.Mend}}
	}
	for i := range out.Messages {
		out.Messages[i].Path = field
	}
	return out
}

// takenStops are the stops that are fitted, and what is said of the choice.
func takenStops(x *chart.Log, in FitRequest) (out []calibrate.Stop, notes []string, err error) {
	for _, q := range x.Questions {
		notes = append(notes, fmt.Sprintf("Not clear in %s: %s Taken: %s.", x.File, q.Text, q.Taken))
	}
	all, err := x.Stopped(in.Channel)
	if err != nil {
		return nil, nil, atField(err, "channel")
	}
	if len(in.Stops) > calibrate.MostStops {
		return nil, nil, &Error{
			ID: "stops-too-many", Text: fmt.Sprintf("%d stops are named; %d are fitted at once", len(in.Stops), calibrate.MostStops),
			Mend: "leave some out",
		}
	}
	for _, n := range in.Stops {
		if n < 1 || n > len(all) {
			return nil, nil, &Error{
				ID: "stop-unknown", Text: fmt.Sprintf("there is no stop %d; the log holds %d", n, len(all)),
				Mend: "name others",
			}
		}
		out = append(out, all[n-1])
	}
	if len(in.Stops) == 0 {
		if out = all; len(all) > calibrate.MostStops {
			out = all[:calibrate.MostStops]
			notes = append(notes, fmt.Sprintf("The first %d of %d stops are taken.", len(out), len(all)))
		}
	}
	return out, notes, nil
}

// fitReply words the fit, and writes what was measured into the text of the station.
func fitReply(c *chart.Calibration, st *station.Station, in FitRequest) (*FitReply, error) {
	sys := st.Units
	out := &FitReply{
		About: c.About(), Stops: []FitStop{}, Heads: chart.NumberHeads(), Numbers: [][]string{}, Alike: []string{},
		Curve: []string{}, NoCurve: c.NoCurve, Writes: []FitWrite{}, Chart: *chartOf(c.Figure(sys)),
		Cautions: chart.CalibrationCautions,
	}
	if c.Poor {
		out.Poor = chart.PoorFit + " Look at the picture, and name the event, the valve or the place of the sensor."
	}
	for i := range c.Stops {
		out.Stops = append(out.Stops, FitStop{c.Stops[i].When, c.Stops[i].Said(eventTitle(c.Fit.Points[i].Event), sys)})
	}
	rows, rest := c.NumberRows(sys)
	out.Numbers = append(out.Numbers, rows...)
	if rest > 0 {
		out.Rest = chart.RestSaid(rest) + "."
	}
	for _, a := range c.Alike {
		out.Alike = append(out.Alike, a.Said())
	}
	for _, p := range c.Curve {
		out.Curve = append(out.Curve, p.Said(sys))
	}
	measured := c.Fit.Measured(sys)
	switch {
	case calibrate.NotedBefore(st, in.File.Name):
		c.Notes = append(c.Notes, "The station file holds numbers from "+in.File.Name+" already: the log counts twice, and the intervals are too narrow.")
		out.NoWrites = "The notes of the station say that its numbers were measured from " + in.File.Name + " already. Take those numbers out first."
	case len(measured) == 0:
		out.NoWrites = "The stops tell no number well enough that a station file holds."
	default:
		saved, err := calibrate.Save(fileName, []byte(in.Text), measured, c.Fit.By(in.File.Name))
		if err != nil {
			return nil, NoAnswer(err)
		}
		out.Saved = string(saved)
		for _, w := range measured {
			out.Writes = append(out.Writes, FitWrite{w.Name, strings.ReplaceAll(w.Value, "..", " to ")})
		}
	}
	out.Notes = append([]string{}, c.Notes...)
	return out, nil
}
