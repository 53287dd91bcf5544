package main

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"seatward/catalog"
	"seatward/fluid"
	"seatward/internal/render/text"
	"seatward/quantity"
	"seatward/study"
	"seatward/valve"
)

// bench is one valve in a position, with the station that it stands in if there is one.
type bench struct {
	item      *catalog.Item
	mechanism *valve.Mechanism
	position  string
	study     *study.Study // nil without a station file
	units     quantity.System
}

// coldWaterK is the temperature of the water in which a valve without a station is looked at.
const coldWaterK = 288.15

// bench builds the valve asked for: in the station of a file, or alone in cold water.
func (a *app) bench(ctx context.Context, c *cobra.Command, args []string, in *inputs, position string) (*bench, error) {
	if in.valve == "" {
		return nil, fmt.Errorf("%s needs --valve ID; see: seatward catalog list", c.Name())
	}
	if len(args) == 1 {
		return a.benchInStation(ctx, args[0], in)
	}
	opt, err := a.options(in)
	if err != nil {
		return nil, err
	}
	b := &bench{}
	if b.item, err = catalog.Find(opt.Catalogs, in.valve); err != nil {
		return nil, err
	}
	if b.units, err = in.system(quantity.US); err != nil {
		return nil, err
	}
	if b.position = position; position == "" {
		b.position = b.item.Positions[0]
	}
	place, err := valve.PositionNamed(b.position)
	if err != nil {
		return nil, fmt.Errorf("--position %q is not a choice; write horizontal, \"flow up\" or \"flow down\"", position)
	}
	water, err := fluid.Water(coldWaterK, 4e5)
	if err != nil {
		return nil, err
	}
	b.mechanism, err = b.item.Family.Type.Build(b.item.Params, valve.In(water.DensityKgM3, place))
	return b, err
}

func (a *app) benchInStation(ctx context.Context, file string, in *inputs) (*bench, error) {
	s, sys, err := a.study(ctx, file, in)
	if err != nil {
		return nil, err
	}
	b := &bench{item: s.Assessments[0].Item, position: s.Station.Valve.Position, study: s, units: sys}
	place, err := valve.PositionNamed(b.position)
	if err != nil {
		return nil, err
	}
	b.mechanism, err = b.item.Family.Type.Build(b.item.Params, valve.In(s.Station.Fluid.Density.SI, place))
	return b, err
}

func atMostOneFile(c *cobra.Command, args []string) error {
	if len(args) > 1 {
		return fmt.Errorf("%s takes at most one station file, got %d arguments; see: %s --help", c.Name(), len(args), c.CommandPath())
	}
	return nil
}

// lossCommand prints what a valve loses over its flows.
func (a *app) lossCommand() *cobra.Command {
	var in inputs
	var position string
	c := &cobra.Command{
		Use:   "loss [FILE] --valve ID",
		Short: "Print head loss against flow of one valve",
		Long: "Print the head that a valve loses from its least to its greatest flow, at the\n" +
			"opening that each flow gives it. With a station file the station's liquid,\n" +
			"position and operating points are used; else cold water.",
		Example: "  seatward loss --valve swing/6in --position horizontal",
		Args:    atMostOneFile,
		RunE: func(c *cobra.Command, args []string) error {
			b, err := a.bench(c.Context(), c, args, &in, position)
			if err != nil {
				return err
			}
			curve := study.LossCurve(b.item, b.mechanism)
			if in.json {
				return a.printJSON(curve)
			}
			return text.Loss(a.out, text.Curve{Item: b.item, Position: b.position, Units: b.units, Study: b.study}, curve)
		},
	}
	in.flags(c)
	c.Flags().StringVar(&position, "position", "", "position without a station file: `horizontal`, \"flow up\" or \"flow down\"")
	return c
}

// closingCommand prints the computed closing curve of a valve.
func (a *app) closingCommand() *cobra.Command {
	var in inputs
	var position, list, start string
	c := &cobra.Command{
		Use:   "closing [FILE] --valve ID",
		Short: "Print reverse velocity against deceleration of one valve",
		Long: "Print the computed closing curve of a valve: the greatest reverse velocity\n" +
			"against a steady deceleration of the flow. Two bounds are told: with the pull\n" +
			"of accelerating water on the element (best estimate) and without (conservative).\n" +
			"With a station file its worst stop is marked.",
		Example: "  seatward closing --valve ball-pocket/6in --position 'flow up'",
		Args:    atMostOneFile,
		RunE: func(c *cobra.Command, args []string) error {
			b, err := a.bench(c.Context(), c, args, &in, position)
			if err != nil {
				return err
			}
			rates, err := decelerations(list)
			if err != nil {
				return err
			}
			var startMS float64
			if start != "" {
				q, err := quantity.Parse(quantity.Velocity, start)
				if err != nil {
					return fmt.Errorf("--velocity: %w", err)
				}
				startMS = q.SI
			}
			curve, err := study.ClosingCurve(b.item, b.mechanism, b.study, startMS, rates)
			if err != nil {
				return fmt.Errorf("%w: %w", errNoAnswer, err)
			}
			if in.json {
				return a.printJSON(curve)
			}
			return text.Closing(a.out, text.Curve{Item: b.item, Position: b.position, Units: b.units, Study: b.study}, curve)
		},
	}
	in.flags(c)
	c.Flags().StringVar(&position, "position", "", "position without a station file: `horizontal`, \"flow up\" or \"flow down\"")
	c.Flags().StringVar(&list, "deceleration", "", "decelerations, `LIST` such as \"1 m/s2, 4 m/s2\"")
	c.Flags().StringVar(&start, "velocity", "", "velocity in the bore before the stop, such as \"6 ft/s\"")
	return c
}

// decelerations reads the list of --deceleration; the usual span without one.
func decelerations(list string) ([]float64, error) {
	if list == "" {
		return []float64{0.5, 1, 2, 3, 4, 6, 8, 10, 12, 15, 20}, nil
	}
	var out []float64
	for _, part := range strings.Split(list, ",") {
		q, err := quantity.Parse(quantity.Acceleration, part)
		if err != nil {
			return nil, fmt.Errorf("--deceleration: %w", err)
		}
		if q.SI <= 0 || q.SI > 1000 {
			return nil, fmt.Errorf("--deceleration %q: a deceleration above 0 and up to 1000 m/s² is expected", strings.TrimSpace(part))
		}
		out = append(out, q.SI)
	}
	return out, nil
}
