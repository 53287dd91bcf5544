package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"seatward/basis"
	"seatward/internal/levels"
	"seatward/internal/render/text"
	"seatward/internal/site"
	"seatward/leakback"
	"seatward/quantity"
)

// leakFlags are what was measured at the wet well.
type leakFlags struct {
	inputs
	size               wellSize
	step, head, record string
	open, shut, drop   []string
}

// leakCommand reads a leak off the level of the wet well.
func (a *app) leakCommand() *cobra.Command {
	var in leakFlags
	c := &cobra.Command{
		Use:   "leak [FILE]",
		Short: "Read leak-back and pump flow off the level of the wet well",
		Long: "Read a leak through a check valve off the level of the wet well: how fast it\n" +
			"rises with the isolating valve behind the check valve shut and open, no pump\n" +
			"running, within the same hour. The answer is the leak as a flow with its error,\n" +
			"the least leak that this test could show, and whether it is a leak through the\n" +
			"seat, a main that drains back or an inflow that changed. A drop of the level\n" +
			"while a pump runs gives that pump's flow. With a station FILE (or -): the hole\n" +
			"that would leak as much, starts and cost per year, the pump's flow by its curve,\n" +
			"and how fast a pump spins backward behind a valve stuck open.\n" +
			"The record of --record is a table with a heading: time (min), level (ft), pump\n" +
			"(on, off), valve (open, shut). docs/field.md has the test, step by step.",
		Example: "seatward leak --diameter '8 ft' --record examples/levels.csv\n" +
			"seatward leak --area 4m2 --step 1mm --shut '6cm in 9min' --open '9cm in 9min'",
		Args:              between(0, 1, "at most one station file"),
		ValidArgsFunction: stationFiles,
	}
	c.RunE = func(_ *cobra.Command, args []string) error { return a.leak(args, &in) }
	f := c.Flags()
	in.size.flags(f)
	f.StringVar(&in.step, "step", "", "smallest step that the level reading shows, `LENGTH`, such as '0.1 in'")
	f.StringArrayVar(&in.shut, "shut", nil,
		"`RISE` with the isolating valve shut, such as '2.4 in in 10 min'; twice for one before and one after")
	f.StringArrayVar(&in.open, "open", nil, "`RISE` with the isolating valve open")
	f.StringArrayVar(&in.drop, "drop", nil, "`DROP` of the level while one pump runs, such as '14 in in 2 min'")
	f.StringVar(&in.record, "record", "", "`FILE` of levels, CSV or XLSX, in place of rises and drops")
	f.StringVar(&in.head, "head", "", "`HEAD` across the closed valve, for the hole; the station file's without it")
	in.formFlags(c)
	return c
}

// leak answers the command.
func (a *app) leak(args []string, in *leakFlags) error {
	test, sys, numbers, err := a.leakTest(args, in)
	if err != nil {
		return err
	}
	answer := test.Answer()
	l := &text.LeakAnswer{Test: test, Answer: &answer, Site: numbers}
	if in.json {
		return a.printJSON(leakJSON(l))
	}
	return text.Leak(&a.out, l, a.print(sys))
}

// leakTest gathers what was measured and what the station says.
func (a *app) leakTest(args []string, in *leakFlags) (*leakback.Test, quantity.System, *site.Numbers, error) {
	test := &leakback.Test{Place: "the command line"}
	var numbers *site.Numbers
	otherwise := quantity.US
	if len(args) == 1 {
		st, err := a.station(args[0])
		if err != nil {
			return nil, 0, nil, err
		}
		if numbers, err = site.Of(st); err != nil {
			return nil, 0, nil, fmt.Errorf("%w: %w", errNoAnswer, err)
		}
		otherwise, test.Site = st.Units, numbers.Site
	}
	sys, err := in.system(otherwise)
	if err != nil {
		return nil, 0, nil, err
	}
	if err := in.well(test); err != nil {
		return nil, 0, nil, err
	}
	if in.record != "" {
		return test, sys, numbers, a.leakRecord(test, in, sys)
	}
	return test, sys, numbers, in.rises(test)
}

// well reads what the well and the reading are like.
func (in *leakFlags) well(test *leakback.Test) error {
	var err error
	if test.Area, err = in.size.read(&in.inputs); err != nil {
		return err
	}
	if !test.Area.Known() {
		return errors.New("the area of the wet well is missing; give --area, or --diameter of a round one")
	}
	if in.head != "" {
		r, err := in.positive("head", in.head, quantity.Head, mostHeadM)
		if err != nil {
			return err
		}
		test.Site.Head = basis.NewGiven("head across the closed valve", quantity.Head, r.Best.SI, "--head").
			WithRange(r.Low.SI, r.High.SI)
	}
	if in.step == "" {
		return nil
	}
	r, err := in.positive("step", in.step, quantity.Length, mostStepM)
	test.Step = basis.NewGiven("step of the level reading", quantity.Length, r.Best.SI, "--step")
	return err
}

// rises reads fills and drops off the command line, in the order shut, open, shut.
func (in *leakFlags) rises(test *leakback.Test) error {
	switch {
	case len(in.open)+len(in.shut)+len(in.drop) == 0:
		return errors.New("nothing was measured; give --shut and --open, or --record FILE")
	case !test.Step.Known():
		return errors.New("the step of the level reading is missing; give --step, such as --step '0.1 in'")
	case len(in.open) > 1 || len(in.shut) > 2 || len(in.drop) > 1:
		return errors.New("one --open, one --drop and at most two --shut are read; put more into a file for --record")
	case len(in.open)+len(in.shut) == 0:
		return errors.New("the inflow is missing; give --shut, the rise of the level while no pump runs")
	}
	at := 0.0
	add := func(flag string, all []string, open bool) ([]leakback.Fill, error) {
		var out []leakback.Fill
		for _, said := range all {
			rise, lasts, err := levels.ParseRise(said, in.reading())
			if err != nil {
				return nil, fmt.Errorf("--%s: %w", flag, err)
			}
			f := leakback.Measured(open, rise, lasts, test.Step.SI)
			f.FromS = at
			at += lasts
			out = append(out, f)
		}
		return out, nil
	}
	first := min(1, len(in.shut))
	for _, part := range []struct {
		flag string
		said []string
		open bool
	}{{"shut", in.shut[:first], false}, {"open", in.open, true}, {"shut", in.shut[first:], false}} {
		fills, err := add(part.flag, part.said, part.open)
		if err != nil {
			return err
		}
		test.Fills = append(test.Fills, fills...)
	}
	var err error
	test.Drops, err = add("drop", in.drop, true)
	for i := range test.Drops {
		test.Drops[i].RiseM = -test.Drops[i].RiseM
	}
	return err
}

// leakRecord reads fills and drops off a file.
func (a *app) leakRecord(test *leakback.Test, in *leakFlags, sys quantity.System) error {
	if len(in.open)+len(in.shut)+len(in.drop) > 0 {
		return errors.New("--record goes without --open, --shut and --drop")
	}
	data, err := a.read(in.record)
	if err != nil {
		return err
	}
	reading := in.reading()
	if in.units == "" {
		reading = quantity.Reading{}
	}
	record, list := levels.Read(shown(in.record), data, reading)
	if list.Err() != nil {
		return list
	}
	test.Place = shown(in.record)
	if !test.Step.Known() {
		step := leakback.Step(record)
		if step == 0 {
			return fmt.Errorf("%s: the level never changes; a record of a well that fills is expected", test.Place)
		}
		test.Step = basis.NewAssumed("step of the level reading", quantity.Length, step, step, step,
			"the smallest change between two levels of the record", basis.OwnChoice)
	}
	test.Fills, test.Drops = leakback.Fills(record, test.Step.SI), leakback.Drawdowns(record, test.Step.SI)
	if len(test.Fills) == 0 {
		return fmt.Errorf("%s: there is no spell of three readings in which no pump ran; read the level every half minute or so",
			test.Place)
	}
	return nil
}
