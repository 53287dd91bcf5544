package main

import (
	"github.com/spf13/cobra"

	"seatward/catalog"
	"seatward/fluid"
	"seatward/internal/program"
	"seatward/internal/render/text"
	"seatward/quantity"
	"seatward/valve"
)

// catalogCommand checks and lists catalogs.
func (a *app) catalogCommand() *cobra.Command {
	c := &cobra.Command{
		Use: "catalog", Short: "Check, list, import, export and compare product catalogs",
		Long:    "Check catalog files, list the valves of a catalog, make catalog files of\nspreadsheets and spreadsheets of catalog files, or compare two versions.",
		Example: "seatward catalog list",
		Args:    cobra.ArbitraryArgs,
	}
	c.RunE = func(c *cobra.Command, args []string) error {
		if len(args) > 0 {
			return unknownCommand(c, args[0])
		}
		return c.Help()
	}
	c.AddCommand(a.catalogCheckCommand(), a.catalogListCommand(), a.importCommand(), a.exportCommand(), a.diffCommand())
	return c
}

func (a *app) catalogCheckCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "check FILE...",
		Short: "Prove that catalog files can be used",
		Long: "Prove that catalog files can be read, that every size can be built and closes in\n" +
			"the positions it is offered for, and that its numbers fit together and the\n" +
			"mechanics of its type.",
		Example:     "seatward catalog check catalog/demo/swing.yaml catalog/demo/flap.yaml",
		Args:        between(1, -1, "the names of catalog files"),
		Annotations: map[string]string{exitNote: "0 no fault was found; 2 faults, told on standard error"},
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return []string{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt
		},
	}
	c.RunE = func(_ *cobra.Command, args []string) error {
		catalogs, err := a.catalogFiles(args)
		if err != nil {
			return err
		}
		list := catalog.Check(catalogs)
		if list.Err() != nil {
			return list
		}
		a.warnings(list)
		return text.Checked(&a.out, catalogs, a.print(quantity.US))
	}
	return c
}

func (a *app) catalogListCommand() *cobra.Command {
	var in inputs
	var all bool
	c := &cobra.Command{
		Use:   "list",
		Short: "List the families and sizes of a catalog",
		Long: "List the families of the demonstration catalog, or of those named by --catalog,\n" +
			"with the sizes that each is made in. --all lists every valve by its ID, as\n" +
			"--valve takes it.",
		Example: "seatward catalog list\nseatward catalog list --all",
		Args:    exactly(0, "no arguments (write --catalog FILE to name a catalog)"),
	}
	c.RunE = func(*cobra.Command, []string) error {
		sys, err := in.system(quantity.US)
		if err != nil {
			return err
		}
		catalogs, err := a.catalogs(in.catalogs)
		if err != nil {
			return err
		}
		switch {
		case in.json:
			return a.printJSON(listed(catalogs))
		case all:
			for _, id := range valveIDs(catalogs) {
				a.out.WriteString(text.Clean(id) + "\n")
			}
			return nil
		}
		return text.Catalogs(&a.out, catalogs, a.print(sys))
	}
	c.Flags().BoolVar(&all, "all", false, "list every valve by its ID")
	in.dataFlags(c)
	in.formFlags(c)
	return c
}

// catalogList is the machine form of a list of catalogs.
type catalogList struct {
	Schema   string          `json:"schema"`
	Program  program.Program `json:"program"`
	Families []familyListing `json:"families"`
}

type familyListing struct {
	ID        string           `json:"id"`
	Title     string           `json:"title"`
	Type      string           `json:"type"`
	Maker     string           `json:"maker"`
	Version   string           `json:"version"`
	Invented  bool             `json:"invented"`
	Positions []valve.Position `json:"positions"`
	Services  []fluid.Service  `json:"services"`
	Valves    []string         `json:"valves"`
}

func listed(catalogs []*catalog.Catalog) catalogList {
	out := catalogList{Schema: "seatward.catalogs/1", Program: program.This(), Families: []familyListing{}}
	for _, c := range catalogs {
		for _, f := range c.Families {
			l := familyListing{
				ID: f.ID, Title: f.Title, Type: f.Type.Key, Maker: c.Maker, Version: c.Version,
				Invented: c.Invented, Positions: f.Positions, Services: f.Services,
			}
			for _, it := range f.Items {
				l.Valves = append(l.Valves, it.ID)
			}
			out.Families = append(out.Families, l)
		}
	}
	return out
}
