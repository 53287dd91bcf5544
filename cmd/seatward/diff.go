package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"seatward/internal/exchange"
	"seatward/internal/program"
	"seatward/internal/render/text"
	"seatward/quantity"
	"seatward/study"
)

// diffCommand compares two versions of a catalog.
func (a *app) diffCommand() *cobra.Command {
	var stations []string
	var in inputs
	c := &cobra.Command{
		Use:   "diff OLD NEW [--station FILE]...",
		Short: "Compare two versions of a catalog, and the answers with them",
		Long: "List what differs between two catalog files, row by row and cell by cell. With\n" +
			"--station the station is answered with either, and what changes in verdicts,\n" +
			"ranks and slam is reported.",
		Example: "seatward catalog diff catalog/demo/swing.yaml catalog/demo/swing.yaml",
		Args:    exactly(2, "the names of two catalog files"),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return []string{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt
		},
	}
	c.Flags().StringArrayVar(&stations, "station", nil, "station `FILE` to answer with either; may be repeated")
	c.Flags().BoolVar(&in.quick, "quick", false, "answer without slam: leave the pump stops out")
	c.Flags().BoolVar(&in.json, "json", false, "print JSON for machines")
	in.ruleFlags(c)
	c.RunE = func(c *cobra.Command, args []string) error {
		before, err := a.tree(args[0])
		if err != nil {
			return err
		}
		after, err := a.tree(args[1])
		if err != nil {
			return err
		}
		out := text.CatalogDiff{Before: args[0], After: args[1], Changes: exchange.Diff(before, after)}
		for _, name := range stations {
			s, err := a.answers(c.Context(), name, args, &in)
			if err != nil {
				return err
			}
			out.Stations = append(out.Stations, s)
		}
		if in.json {
			return a.printJSON(diffJSON(&out))
		}
		return text.Diff(&a.out, &out, a.print(quantity.US))
	}
	return c
}

// answers answers a station with the old catalog and with the new one.
func (a *app) answers(ctx context.Context, station string, catalogs []string, in *inputs) (text.StationDiff, error) {
	out := text.StationDiff{Station: station}
	var both [2]*study.Study
	for i, name := range catalogs {
		with := *in
		with.catalogs = []string{name}
		s, err := a.study(ctx, station, &with)
		if err != nil {
			return out, fmt.Errorf("%s with %s: %w", station, name, err)
		}
		both[i] = s
	}
	out.Moves = study.Compare(both[0], both[1])
	return out, nil
}

// diffSchema names the machine form of the difference of two catalogs.
const diffSchema = "seatward.catalog-diff/1"

type diffForm struct {
	Schema   string            `json:"schema"`
	Program  program.Program   `json:"program"`
	Changes  []changeForm      `json:"changes"`
	Stations []stationDiffForm `json:"stations"`
}

type changeForm struct {
	Sheet  string `json:"sheet"`
	Row    string `json:"row"`
	Column string `json:"column,omitempty"`
	Before string `json:"before"`
	After  string `json:"after"`
}

type stationDiffForm struct {
	Station string     `json:"station"`
	Moves   []moveForm `json:"moves"`
}

type moveForm struct {
	Valve  string `json:"valve"`
	About  string `json:"about"`
	Before string `json:"before"`
	After  string `json:"after"`
}

func diffJSON(d *text.CatalogDiff) diffForm {
	out := diffForm{Schema: diffSchema, Program: program.This(), Changes: []changeForm{}, Stations: []stationDiffForm{}}
	for _, c := range d.Changes {
		out.Changes = append(out.Changes, changeForm{c.Sheet, c.Row, c.Column, c.Before, c.After})
	}
	for _, s := range d.Stations {
		f := stationDiffForm{Station: s.Station, Moves: []moveForm{}}
		for _, m := range s.Moves {
			f.Moves = append(f.Moves, moveForm{m.Valve, m.About, m.Before, m.After})
		}
		out.Stations = append(out.Stations, f)
	}
	return out
}
