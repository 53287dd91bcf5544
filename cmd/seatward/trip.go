package main

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"strconv"

	"github.com/spf13/cobra"

	"seatward/catalog"
	"seatward/internal/chart"
	"seatward/internal/draw"
	"seatward/internal/render/text"
	"seatward/plant"
	"seatward/quantity"
	"seatward/study"
	"seatward/valve"
)

// tripFlags are the flags of trip beside those in common.
type tripFlags struct {
	inputs
	pictures
	valves, whatIf                []string
	event, flywheel, vessel, ramp string
	csv                           string
	samples                       int
	events, bare                  bool
}

// mostSamples is the full sample: more runs change no interval.
const mostSamples = draw.FullSample

// tripCommand runs pump stops through with one valve.
func (a *app) tripCommand() *cobra.Command {
	var in tripFlags
	c := &cobra.Command{
		Use:   "trip FILE --valve ID [--event NAME]",
		Short: "Run a pump trip through, with a valve that moves in the flow",
		Long: "Run the stops and starts of a station through in time: pumps in four quadrants,\n" +
			"waves in the branch and the main, vapor cavities, and the valve's element moved\n" +
			"by the flow, until it rests. Tells the worst stop: the first and the hardest\n" +
			"closing, the slam with its chances and what decides it, heads against ratings\n" +
			"and vapor, and which remedies the runs bear out. Without --event every event is\n" +
			"run; --events lists them. FILE is a station file, or - for standard input.",
		Example: "seatward trip examples/layout.station.yaml --valve flap/6in\n" +
			"seatward trip examples/layout.station.yaml --valve swing/6in --event one-trips\n" +
			"seatward trip examples/study.station.yaml --valve flap/6in --samples 64",
		Args:              exactly(1, "one station file"),
		ValidArgsFunction: stationFiles,
		Annotations:       map[string]string{exitNote: "0 answered; 1 the run gave no answer; 2 bad input, and nothing is written"},
	}
	c.RunE = func(c *cobra.Command, args []string) error { return a.trip(c, args[0], &in) }
	f := c.Flags()
	f.StringArrayVar(&in.valves, "valve", nil, "the valve by its `ID`, such as flap/6in; several are set side by side")
	_ = c.RegisterFlagCompletionFunc("valve", completeValves)
	f.StringVar(&in.event, "event", "", "run only this `EVENT`, such as one-trips-high; without its level, at both")
	f.BoolVar(&in.events, "events", false, "list the events of the station, and stop")
	f.StringVar(&in.flywheel, "flywheel", "",
		"what if each pump had a flywheel of this `INERTIA`, such as \"10 lb ft2\"")
	f.StringVar(&in.vessel, "air-vessel", "", "what if an air vessel stood at the header, with this `VOLUME` of air")
	f.StringVar(&in.ramp, "ramp", "", "what if normal stops took this `TIME` by a speed ramp")
	f.StringArrayVar(&in.whatIf, "what-if", nil,
		"what if a number of the station or of the valve's mechanics were other: `PATH=VALUE`, such as \"mechanics.ball_density=1.2 SG\"")
	f.BoolVar(&in.bare, "no-remedies", false, "leave out the table of remedies")
	f.IntVar(&in.samples, "samples", 0,
		"draw all ranges at once in so many `RUNS` of the worst stop; without it as many as the answer needs")
	f.StringVar(&in.csv, "csv", "", "write the histories of the event that is shown in full to a new CSV `FILE`")
	_ = c.MarkFlagFilename("csv", "csv")
	in.pictures.flags(c)
	in.dataFlags(c)
	in.ruleFlags(c)
	in.formFlags(c)
	return c
}

func (a *app) trip(c *cobra.Command, file string, in *tripFlags) error {
	st, err := a.station(file)
	if err != nil {
		return err
	}
	shown := *st
	if shown.Units, err = in.system(st.Units); err != nil {
		return err
	}
	if in.events {
		events, err := plant.EventIDs(&shown)
		if err != nil {
			return fmt.Errorf("%w: %w", errNoAnswer, err)
		}
		for _, e := range events {
			fmt.Fprintf(&a.out, "%-24s %s\n", e.ID, text.Clean(e.Title))
		}
		return nil
	}
	switch {
	case len(in.valves) == 0:
		return errors.New("say which valve: --valve ID; see: seatward catalog list --all")
	case len(in.valves) > 1 && in.csv+in.svg+in.png != "":
		return errors.New("--csv, --svg and --png tell one valve: name one")
	case len(in.valves) > 1:
		in.bare = true
	}
	opt, err := a.tripOptions(in, quantity.For(shown.Units))
	if err != nil {
		return err
	}
	tried, err := whatIf(&shown, in.valves[0], in.whatIf, &opt)
	if err != nil {
		return err
	}
	bar := a.progress()
	opt.Progress = bar.share
	var all []*study.TripStudy
	for _, opt.Valve = range in.valves {
		s, failed := study.RunTrip(c.Context(), tried, opt)
		if err = failed; err != nil {
			break
		}
		all = append(all, s)
	}
	bar.clear()
	var unknown *catalog.NotFoundError
	var event *plant.NoEventError
	var number *valve.ParamError
	switch {
	case c.Context().Err() != nil:
		return fmt.Errorf("%w: stopped before the end; nothing is written", errNoAnswer)
	case errors.As(err, &unknown), errors.As(err, &event), errors.Is(err, study.ErrNoFlow):
		return err
	case errors.As(err, &number) && len(in.whatIf) > 0:
		return fmt.Errorf("--what-if: %w", err)
	case err != nil:
		return fmt.Errorf("%w: %w", errNoAnswer, err)
	}
	if err := in.files(all[0], shown.Units); err != nil {
		return err
	}
	switch {
	case in.json && len(all) > 1:
		return a.printJSON(study.Compared(all))
	case in.json:
		return a.printJSON(all[0].JSON())
	case len(all) > 1:
		return text.Trips(&a.out, all, a.print(shown.Units))
	}
	return text.Trip(&a.out, all[0], a.print(shown.Units))
}

// files writes what was asked for beside the answer. All is made before the first file
// is, so that nothing is left half done.
func (in *tripFlags) files(s *study.TripStudy, sys quantity.System) error {
	charts, err := in.draw(chart.NewTrip(s, sys))
	if err != nil {
		return err
	}
	return writeAll(append(charts, file{in.csv, histories(s.Told())})...)
}

// tripOptions reads the flags.
func (a *app) tripOptions(in *tripFlags, as quantity.Reading) (study.TripOptions, error) {
	base, err := a.options(&in.inputs)
	if err != nil {
		return study.TripOptions{}, err
	}
	opt := study.TripOptions{
		Catalogs: base.Catalogs, Rules: base.Rules, Event: in.event, Samples: in.samples,
		Remedies: !in.bare,
	}
	if in.samples < 0 || in.samples > mostSamples {
		return opt, fmt.Errorf("--samples %d: 0 to %d are expected", in.samples, mostSamples)
	}
	for _, f := range []struct {
		flag, text string
		kind       quantity.Kind
		to         *float64
	}{
		{"--flywheel", in.flywheel, quantity.Inertia, &opt.Size.FlywheelKgM2},
		{"--air-vessel", in.vessel, quantity.Volume, &opt.Size.VesselM3},
		{"--ramp", in.ramp, quantity.Time, &opt.Size.RampS},
	} {
		if f.text == "" {
			continue
		}
		q, err := as.Parse(f.kind, f.text)
		if err != nil {
			return opt, fmt.Errorf("%s: %w", f.flag, err)
		}
		if !(q.SI > 0) {
			return opt, fmt.Errorf("%s %q: a value above zero is expected", f.flag, f.text)
		}
		*f.to = q.SI
	}
	return opt, nil
}

// histories are the readings of a trip as CSV, SI, the unit in each heading.
func histories(t *plant.Stop) []byte {
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	head := []string{"time s"}
	for _, n := range t.Names {
		unit := study.ReadingKind(n).Symbol()
		for _, what := range []string{"", " least", " greatest"} {
			head = append(head, n+what+" "+unit)
		}
	}
	_ = w.Write(head) // a buffer takes all
	for _, r := range t.Rows {
		line := []string{number(r.TimeS)}
		for i := range r.Now {
			line = append(line, number(r.Now[i]), number(r.Least[i]), number(r.Most[i]))
		}
		_ = w.Write(line)
	}
	w.Flush()
	return out.Bytes()
}

func number(x float64) string { return strconv.FormatFloat(x, 'g', 8, 64) }
