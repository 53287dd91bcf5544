package main

import (
	"github.com/spf13/cobra"

	"seatward/quantity"
	"seatward/station"
)

// newCommand writes a commented station file to start from.
func (a *app) newCommand() *cobra.Command {
	var in inputs
	var out string
	c := &cobra.Command{
		Use:   "new",
		Short: "Write a commented station file to start from",
		Long: "Write a commented station file to start from: to standard output, or to the\n" +
			"file named by -o, which must not exist yet. It can be answered as it stands;\n" +
			"what is not known may be left out.",
		Example: "seatward new --units SI",
		Args:    exactly(0, "no arguments (write -o FILE to name the file)"),
	}
	c.RunE = func(*cobra.Command, []string) error {
		sys, err := in.system(quantity.US)
		if err != nil {
			return err
		}
		text := station.Starter(sys)
		if out == "" || out == "-" {
			a.out.WriteString(text)
			return nil
		}
		if err := write(out, []byte(text)); err != nil {
			return err
		}
		a.complain("wrote " + out + "; fill it in, then: seatward select " + out)
		return nil
	}
	c.Flags().StringVar(&in.units, "units", "", "units of the numbers in it, `US or SI`; US without it")
	c.Flags().StringVarP(&out, "output", "o", "", "`FILE` to write, which must not exist yet")
	return c
}
