package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"seatward/internal/levels"
	"seatward/internal/render/text"
	"seatward/internal/site"
	"seatward/leakback"
	"seatward/quantity"
)

// leakFlags are what was measured at the wet well.
type leakFlags struct {
	inputs
	size               levels.Well
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
	wellFlags(f, &in.size)
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
	l := &site.Leak{Test: test, Answer: &answer, Site: numbers}
	if in.json {
		return a.printJSON(leakJSON(l))
	}
	return text.Leak(&a.out, l, a.print(sys))
}

// leakTest gathers what was measured and what the station says.
func (a *app) leakTest(args []string, in *leakFlags) (*leakback.Test, quantity.System, *site.Numbers, error) {
	test := &leakback.Test{}
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
	told := levels.Told{
		Well: in.size, How: in.how(), Step: in.step, Head: in.head, Shut: in.shut, Open: in.open, Drop: in.drop,
	}
	if in.record != "" {
		if told.Record, err = a.read(in.record); err != nil {
			return nil, 0, nil, err
		}
		told.File = shown(in.record)
	}
	_, err = told.Test(test)
	return test, sys, numbers, ofFlag(err)
}
