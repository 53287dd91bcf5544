package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"seatward/catalog"
	"seatward/internal/yamlfile"
	"seatward/quantity"
	"seatward/rules"
	"seatward/station"
	"seatward/study"
)

// newCommand writes a commented station file to start from.
func (a *app) newCommand() *cobra.Command {
	var units, out string
	c := &cobra.Command{
		Use:     "new",
		Short:   "Write a commented station file to start from",
		Long:    "Write a commented station file to start from: to standard output, or to the\nfile named by -o, which must not exist yet.",
		Example: "  seatward new --units SI -o mine.station.yaml",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				return fmt.Errorf("new takes no arguments; write -o %s to name the file", args[0])
			}
			return nil
		},
		RunE: func(*cobra.Command, []string) error {
			in := inputs{units: units}
			sys, err := in.system(quantity.US)
			if err != nil {
				return err
			}
			text := station.Starter(sys)
			if out == "" {
				_, err = fmt.Fprint(a.out, text)
				return err
			}
			if err := write(out, []byte(text)); err != nil {
				return err
			}
			fmt.Fprintf(a.err, "seatward: wrote %s; fill it in, then: seatward select %s\n", out, out)
			return nil
		},
	}
	c.Flags().StringVar(&units, "units", "US", "units of the examples in it: `US or SI`")
	c.Flags().StringVarP(&out, "output", "o", "", "`FILE` to write; it must not exist")
	return c
}

// schemaCommand prints the JSON Schema of a file or of the answer.
func (a *app) schemaCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "schema station|catalog|rules|study",
		Short: "Print a JSON Schema, for editors and machines",
		Long: "Print the JSON Schema of a station, catalog or rules file, with which editors\n" +
			"complete and check it, or of the answer that select --json prints.",
		Example:   "  seatward schema station",
		ValidArgs: []string{"station", "catalog", "rules", "study"},
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return fmt.Errorf("schema takes one word: station, catalog, rules or study")
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			var data []byte
			var err error
			switch args[0] {
			case "station":
				data, err = yamlfile.Schema(station.File{}, "Seatward station file")
			case "catalog":
				data, err = yamlfile.Schema(catalog.File{}, "Seatward catalog file")
			case "rules":
				data, err = yamlfile.Schema(rules.File{}, "Seatward rules file")
			case "study":
				data, err = study.JSONSchema()
			default:
				return fmt.Errorf("no schema is called %q; there are station, catalog, rules and study", args[0])
			}
			if err != nil {
				return err
			}
			_, err = a.out.Write(append(data, '\n'))
			return err
		},
	}
}

// catalogCommand checks and lists catalogs.
func (a *app) catalogCommand() *cobra.Command {
	c := &cobra.Command{
		Use: "catalog", Short: "Check and list catalogs", Long: "Check catalog files, or list the valves of a catalog.",
		Example: "  seatward catalog check mine.yaml\n  seatward catalog list",
		RunE:    func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	check := &cobra.Command{
		Use: "check FILE...", Short: "Check catalog files", Example: "  seatward catalog check catalog/demo/swing.yaml",
		Long: "Check that catalog files can be read, that every size can be built, and that the\nnumbers fit together and the mechanics of the type." + "\n" + exitCodes,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return fmt.Errorf("catalog check takes the names of catalog files")
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			catalogs, err := a.catalogFiles(args)
			if err != nil {
				return err
			}
			if list := catalog.Check(catalogs); len(list) > 0 {
				return list
			}
			for _, c := range catalogs {
				items := 0
				for _, f := range c.Families {
					items += len(f.Items)
				}
				fmt.Fprintf(a.out, "%s %s: %d families, %d valves, no faults\n", c.Maker, c.Version, len(c.Families), items)
			}
			return nil
		},
	}
	list := &cobra.Command{
		Use: "list [FILE...]", Short: "List the valves of a catalog", Example: "  seatward catalog list",
		Long: "List the families and sizes of the demonstration catalog, or of catalog files." + "\n" + exitCodes,
		RunE: func(_ *cobra.Command, args []string) error {
			catalogs, faults := catalog.Demo()
			if faults.Err() != nil {
				return faults
			}
			if len(args) > 0 {
				own, err := a.catalogFiles(args)
				if err != nil {
					return err
				}
				catalogs = own
			}
			for _, c := range catalogs {
				fmt.Fprintf(a.out, "%s %s (%s)\n", c.Maker, c.Version, c.Source)
				for _, f := range c.Families {
					fmt.Fprintf(a.out, "  %-22s %s\n", f.ID, f.Title)
					for _, it := range f.Items {
						fmt.Fprintf(a.out, "    %s\n", it.ID)
					}
				}
			}
			return nil
		},
	}
	c.AddCommand(check, list)
	return c
}

// rulesCommand lists the limits by which is judged.
func (a *app) rulesCommand() *cobra.Command {
	var in inputs
	c := &cobra.Command{
		Use: "rules", Short: "List the limits by which is judged", Example: "  seatward rules",
		Long: "List every limit by which valves are judged, with its source and how sure it is.\nA rules file given with --rules replaces single limits.",
		RunE: func(*cobra.Command, []string) error {
			opt, err := a.options(&in)
			if err != nil {
				return err
			}
			sys, err := in.system(quantity.US)
			if err != nil {
				return err
			}
			for _, id := range opt.Rules.IDs() {
				l := opt.Rules.Limit(id)
				fmt.Fprintf(a.out, "%s = %s\n    %s\n    %s [%s]\n", id, l.Value.Format(sys), l.Title, l.Value.Source, l.Status)
			}
			return nil
		},
	}
	in.flags(c)
	return c
}
