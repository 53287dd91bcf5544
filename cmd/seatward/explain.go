package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"seatward/basis"
	"seatward/diag"
	"seatward/internal/render/text"
)

// explainCommand prints the calculation tree of a number.
func (a *app) explainCommand() *cobra.Command {
	var in inputs
	c := &cobra.Command{
		Use:   "explain FILE [NAME]",
		Short: "Print where a number comes from, down to inputs and sources",
		Long: "Print the calculation of a number of the answer as a tree: each value with its\n" +
			"formula and source, down to what was given, assumed or taken from a catalog.\n" +
			"Without a name, list the names.",
		Example: "  seatward explain examples/layout.station.yaml 'flap/6in reverse_velocity'",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) < 1 || len(args) > 2 {
				return fmt.Errorf("explain takes a station file and the name of a number, got %d arguments; see: seatward explain --help", len(args))
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error {
			s, sys, err := a.study(c.Context(), args[0], &in)
			if err != nil {
				return err
			}
			values := s.Values()
			if len(args) == 1 {
				for _, v := range values {
					fmt.Fprintf(a.out, "%-48s %s\n", v.Path, v.Value.Format(sys))
				}
				return nil
			}
			v, ok := s.Value(args[1])
			if !ok {
				paths := make([]string, len(values))
				for i := range values {
					paths[i] = values[i].Path
				}
				hint := "for the list: seatward explain " + args[0]
				if near := diag.DidYouMean(args[1], paths); near != "" {
					hint = fmt.Sprintf("did you mean %q?", near)
				}
				return fmt.Errorf("no number is called %q; %s", args[1], hint)
			}
			return text.Wrapped(a.out, basis.Explain(v, sys))
		},
	}
	in.flags(c)
	return c
}
