package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"seatward/internal/render/text"
)

// selectCommand judges every valve of the catalog near the pipe's size.
func (a *app) selectCommand() *cobra.Command {
	var in inputs
	c := &cobra.Command{
		Use:   "select FILE",
		Short: "Judge every catalog valve for a station, and rank them",
		Long: "Judge every valve of the catalog in the pipe's size, with the station solved\n" +
			"round each and every pump stop run, and print the answer: which valve, how it\n" +
			"goes in, why, what that depends on, and why not the others. The sizes next to\n" +
			"the pipe's are judged where none of its own can be used, or with --all. FILE is\n" +
			"a station file, or - for standard input. With --valve, print one valve in full.",
		Example:           "seatward select examples/layout.station.yaml\nseatward select examples/first-call.station.yaml --valve flap/6in --units SI",
		Args:              exactly(1, "one station file"),
		ValidArgsFunction: stationFiles,
		Annotations:       map[string]string{exitNote: "0 a valve can be used; 1 none can: the report says why; 2 bad input, and nothing is written"},
	}
	c.RunE = func(c *cobra.Command, args []string) error {
		in.rows = in.valve == "" && !in.quick
		s, err := a.study(c.Context(), args[0], &in)
		if err != nil {
			return err
		}
		opt := a.print(s.Station.Units)
		opt.All = in.all
		switch {
		case in.json:
			err = a.printJSON(s.JSON())
		case in.valve != "":
			err = text.Valve(&a.out, s, opt)
		default:
			err = text.Select(&a.out, s, opt)
		}
		if err == nil && s.Assessments[0].Rank == 0 {
			err = fmt.Errorf("%w: no valve that was looked at can be used as the station is described", errNoAnswer)
		}
		return err
	}
	in.valveFlag(c, "tell one valve in full, by its `ID`, such as swing/6in")
	c.Flags().BoolVar(&in.all, "all", false, "judge and list the sizes next to the pipe's too")
	c.Flags().BoolVar(&in.quick, "quick", false, "answer without slam: leave the pump stops out")
	in.dataFlags(c)
	in.ruleFlags(c)
	in.formFlags(c)
	return c
}
