package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"seatward/basis"
	"seatward/internal/chart"
	"seatward/internal/render/text"
	"seatward/quantity"
)

// sharpestMS2 is the greatest deceleration that is closed under: far beyond any pump
// stop.
const sharpestMS2 = 1000

// closingCommand prints the computed closing curve of a valve.
func (a *app) closingCommand() *cobra.Command {
	at := place{stops: true}
	var pictures pictures
	var rates, start string
	var all everyFamily
	c := &cobra.Command{
		Use:   "closing [FILE] [--valve ID | --all]",
		Short: "Print reverse velocity against deceleration of one valve",
		Long: "Print the computed closing curve of a valve: reverse velocity at closing against\n" +
			"an even deceleration of the flow, between two long pipes. Median and 5 to 95 %\n" +
			"band come from draws of all that is not known of the valve; the best numbers\n" +
			"stand beside them. The curve compares valves. With a station FILE (or -) the\n" +
			"station's worst stop is marked beside it; without one --valve names the valve,\n" +
			"in the first position that it allows. --all sets a valve of every family beside\n" +
			"the others on one chart, each with the law behind its curve: computed, measured\n" +
			"or assumed.",
		Example:           "seatward closing --valve flap/6in --position 'flow up'\nseatward closing --valve swing/6in --deceleration '1 m/s2, 8 m/s2'\nseatward closing --all --svg kinds.svg\nseatward closing examples/layout.station.yaml",
		Args:              between(0, 1, "at most one station file"),
		ValidArgsFunction: stationFiles,
	}
	c.RunE = func(c *cobra.Command, args []string) error {
		if all.on {
			return a.closings(args, &at, all, rates, start, &pictures)
		}
		v, sys, err := a.placed(c.Context(), args, &at)
		if err != nil {
			return err
		}
		ask, err := a.stop(&at.inputs, rates, start, sys)
		if err != nil {
			return err
		}
		ask.Run = chart.RunOf(v)
		curve, err := chart.NewClosing(v, ask, sys)
		if err != nil && !errors.Is(err, chart.ErrNotOpen) {
			err = fmt.Errorf("%w: %w", errNoAnswer, err)
		}
		if err != nil {
			return err
		}
		if err := pictures.write(curve.Figure(v, sys)); err != nil {
			return err
		}
		if at.json {
			return a.printJSON(curve)
		}
		return text.Closing(&a.out, v, curve, a.print(sys))
	}
	c.Flags().StringVar(&rates, "deceleration", "",
		"decelerations: a `LIST` such as \"1 m/s2, 4 m/s2\", or a range such as \"2..40 ft/s2\"")
	c.Flags().StringVar(&start, "velocity", "",
		"`velocity` in the bore before the stop, such as \"6 ft/s\" or, with its range, \"6 (5..7) ft/s\"")
	c.Flags().BoolVar(&all.on, "all", false, "a valve of every family on one chart")
	c.Flags().StringVar(&all.size, "size", "8 in", "`size` of the valves of --all, such as \"8 in\" or DN200")
	at.flags(c)
	pictures.flags(c)
	at.ruleFlags(c)
	return c
}

// stop reads what is asked of a closing curve.
func (a *app) stop(in *inputs, rates, start string, sys quantity.System) (chart.Stop, error) {
	var ask chart.Stop
	book, err := a.book(in.rules)
	if err != nil {
		return ask, err
	}
	ask.QuietMS, ask.HarmfulMS = book.Limit("slam-quiet").Value.SI, book.Limit("slam-harmful").Value.SI
	if rates != "" {
		if ask.RatesMS2, err = span("--deceleration", rates, quantity.Acceleration, sys, in.reading()); err != nil {
			return ask, err
		}
		if ask.RatesMS2[len(ask.RatesMS2)-1] > sharpestMS2 {
			return ask, fmt.Errorf("--deceleration %q: at most %s is expected", rates,
				sys.Format(quantity.Acceleration, sharpestMS2))
		}
	}
	if start != "" {
		r, err := in.reading().ParseRange(quantity.Velocity, start)
		if err != nil {
			return ask, fmt.Errorf("--velocity: %w", err)
		}
		if !(r.Low.SI > 0 && r.High.SI < 100) {
			return ask, fmt.Errorf("--velocity %q: a velocity above zero and below %s is expected", start,
				sys.Format(quantity.Velocity, 100))
		}
		ask.Start = basis.NewGiven("velocity before the stop", quantity.Velocity, r.Best.SI,
			"--velocity").WithRange(r.Low.SI, r.High.SI)
	}
	return ask, nil
}
