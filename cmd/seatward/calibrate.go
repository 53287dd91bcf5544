package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"seatward/catalog"
	"seatward/diag"
	"seatward/internal/calibrate"
	"seatward/internal/chart"
	"seatward/internal/render/text"
	"seatward/internal/site"
	"seatward/plant"
	"seatward/quantity"
	"seatward/station"
)

// calibration are the flags of a fit.
type calibration struct {
	inputs
	mapFile, channel, sensor string
	events                   []string
	stops                    []int
	header, save, anonymous  bool
	curve, licence           string
	pictures                 pictures
}

// calibrateCommand fits a station to logged stops.
func (a *app) calibrateCommand() *cobra.Command {
	var in calibration
	c := &cobra.Command{
		Use:   "calibrate STATION LOG...",
		Short: "Fit a station to logged stops, and make a measured closing curve",
		Long: "Fit the model of a STATION to stops in one or more LOGs of the head at the\n" +
			"valve: inertia, wave speed, friction, the numbers of the valve, free gas, by\n" +
			"least squares within the ranges that the station file holds. The answer gives\n" +
			"each number with its interval, what the stops cannot hold apart, and the\n" +
			"reverse velocity of each stop with its error. --save writes what was measured\n" +
			"into the station file, with day and log; all else in it stays. Stops of several\n" +
			"strengths make a measured closing curve: --curve writes it as a catalog file,\n" +
			"which select takes with --catalog. docs/measure-a-stop.md tells a crew how.\n" +
			"Such as: seatward calibrate my.station.yaml stops.csv --valve swing/6in --save\n" +
			"The form of what --json prints:",
		Example: "seatward schema calibration",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) < 2 {
				return errors.New("calibrate takes a station file and at least one log")
			}
			return nil
		},
		ValidArgsFunction: func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			if len(args) == 0 {
				return []string{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt
			}
			return []string{"csv", "xlsx", "txt"}, cobra.ShellCompDirectiveFilterFileExt
		},
	}
	c.RunE = func(c *cobra.Command, args []string) error { return a.calibrate(c.Context(), args, &in) }
	f := c.Flags()
	f.StringVar(&in.mapFile, "map", "", "log map `FILE`: how the logs are to be read")
	f.StringVar(&in.channel, "channel", "", "`NAME` of the pressure or head at the valve, where a log has several")
	f.StringVar(&in.sensor, "sensor", "", "`elevation` of the sensor, by the datum of the station file; that of the valve without it")
	f.BoolVar(&in.header, "at-header", false, "the sensor is at the header, not close behind the valve")
	f.StringArrayVar(&in.events, "event", nil, "which `EVENT` of the station the stops are, as trip has them; the nearest without it; may be repeated")
	f.IntSliceVar(&in.stops, "stop", nil, "take only the stops of these `NUMBERS`, counted over all logs from 1")
	f.BoolVar(&in.save, "save", false, "write the measured numbers into the station file")
	f.StringVar(&in.curve, "curve", "", "write the measured closing curve to a new catalog `FILE`")
	f.StringVar(&in.licence, "licence", "", "`licence` under which the curve may be used, such as 'CC BY 4.0'")
	f.BoolVar(&in.anonymous, "anonymous", false, "leave the station and the day out of the curve")
	_ = c.MarkFlagFilename("map", "yaml", "yml")
	in.valveFlag(c, "the valve that was logged, by its `ID`; by the station file's words without it")
	in.dataFlags(c)
	in.formFlags(c)
	in.pictures.flags(c)
	return c
}

// calibrate answers the command.
func (a *app) calibrate(ctx context.Context, args []string, in *calibration) error {
	if in.curve != "" && in.licence == "" {
		return errors.New("--curve needs --licence: nobody may use a curve without one; 'CC0 1.0' gives it to all")
	}
	data, err := a.read(args[0])
	if err != nil {
		return err
	}
	st, list := station.Load(shown(args[0]), data)
	if st == nil {
		return list
	}
	m, err := a.calibrated(st, in)
	if err != nil {
		return err
	}
	stops, notes, err := a.loggedStops(args[1:], in)
	if err != nil {
		return err
	}
	bar := a.progress()
	fit, err := calibrate.Of(ctx, m, stops, calibrate.Options{Progress: func(runs int) {
		bar.show(fmt.Sprintf("%d runs", runs))
	}})
	bar.clear()
	if err != nil && ctx.Err() == nil {
		return fmt.Errorf("%w: %w", errNoAnswer, err)
	} else if err != nil {
		return err
	}
	x := chart.NewCalibration(st.Name, m.Item.ID, fit)
	x.Notes = append(x.Notes, notes...)
	for _, file := range args[1:] {
		if calibrate.NotedBefore(st, filepath.Base(file)) {
			if in.save {
				return fmt.Errorf("the notes of %s say that its numbers were measured from %s already; take those numbers out first, or the log counts twice", args[0], filepath.Base(file))
			}
			x.Notes = append(x.Notes, "The station file holds numbers from "+filepath.Base(file)+" already: the log counts twice, and the intervals are too narrow.")
		}
	}
	if err := a.keep(args, data, m, x, in); err != nil {
		return err
	}
	sys, err := in.system(st.Units)
	if err != nil {
		return err
	}
	if err := in.pictures.write(x.Figure(sys)); err != nil {
		return err
	}
	if in.json {
		return a.printJSON(x)
	}
	return text.Calibrated(&a.out, x, a.print(sys))
}

// calibrated is the model that is fitted.
func (a *app) calibrated(st *station.Station, in *calibration) (*calibrate.Model, error) {
	catalogs, err := a.catalogs(in.catalogs)
	if err != nil {
		return nil, err
	}
	m := &calibrate.Model{Station: st, Header: in.header}
	if in.valve == "" {
		if m.Item = site.Present(st, catalogs); m.Item == nil {
			return nil, errors.New("which valve was logged is not known; name it with --valve, or write valve: existing in the station file")
		}
	} else if m.Item, err = catalog.Find(catalogs, in.valve); err != nil {
		return nil, err
	}
	if in.sensor != "" {
		v, err := in.reading().Parse(quantity.Length, in.sensor)
		if err != nil {
			return nil, fmt.Errorf("--sensor: %w", err)
		}
		above := st.AboveDatum(v.SI)
		m.SensorM = &above
	}
	p, err := plant.New(st)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", errNoAnswer, err)
	}
	if m.Events, err = calibrate.Events(p, in.events); err != nil {
		return nil, fmt.Errorf("--event: %w", err)
	}
	return m, nil
}

// loggedStops reads the stops of all logs, and says which are not taken.
func (a *app) loggedStops(files []string, in *calibration) (out []calibrate.Stop, notes []string, err error) {
	for _, name := range files {
		l, err := a.readLog(name, in.mapFile)
		if err != nil {
			return nil, nil, err
		}
		x := chart.NewLog(l, nil)
		for _, q := range x.Questions {
			notes = append(notes, fmt.Sprintf("Not clear in %s: %s Taken: %s.", x.File, q.Text, q.Taken))
		}
		stops, err := x.Stopped(in.channel)
		if err != nil {
			return nil, nil, err
		}
		out = append(out, stops...)
	}
	all := len(out)
	if len(in.stops) > 0 {
		var some []calibrate.Stop
		for _, n := range in.stops {
			if n < 1 || n > all {
				return nil, nil, fmt.Errorf("--stop %d: the logs hold %d", n, all)
			}
			some = append(some, out[n-1])
		}
		return some, notes, nil
	}
	if all > calibrate.MostStops {
		notes = append(notes, fmt.Sprintf("The first %d of %d stops are taken; --stop names others.", calibrate.MostStops, all))
		out = out[:calibrate.MostStops]
	}
	return out, notes, nil
}

// keep writes what was asked for into the station file and the catalog file of the curve.
func (a *app) keep(args []string, data []byte, m *calibrate.Model, x *chart.Calibration, in *calibration) error {
	if in.curve != "" {
		points, err := x.Fit.Curve()
		if err != nil {
			return fmt.Errorf("%w: %w", errNoAnswer, err)
		}
		o := calibrate.Origin{
			Station: m.Station.Name, Date: x.Fit.Day(), Licence: in.licence, Item: m.Item, At: m.Station.Valve.Position,
			Stops: len(x.Stops), Nameless: in.anonymous,
		}
		if err := write(in.curve, calibrate.CurveFile(points, o)); err != nil {
			return err
		}
	}
	if !in.save {
		return nil
	}
	if args[0] == "-" {
		return errors.New("--save needs a station file with a name")
	}
	measured := x.Fit.Measured(m.Station.Units)
	if len(measured) == 0 {
		return fmt.Errorf("%w: the stops tell no number well enough that a station file holds; the file stays as it was", errNoAnswer)
	}
	out, err := calibrate.Save(shown(args[0]), data, measured, x.Fit.By(bases(args[1:])...))
	var list diag.List
	switch {
	case errors.As(err, &list):
		return list
	case err != nil:
		return err
	}
	for _, w := range measured {
		x.Notes = append(x.Notes, fmt.Sprintf("Written into %s: %s: %s", args[0], w.Path, w.Value))
	}
	return replace(args[0], out)
}

// bases are the names of files without their folders.
func bases(files []string) []string {
	var out []string
	for _, f := range files {
		out = append(out, filepath.Base(f))
	}
	return out
}
