package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"

	"github.com/spf13/cobra"

	"seatward/catalog"
	"seatward/diag"
)

// version is the program's version, as it goes into records.
const version = "0.1.0"

// Exit codes.
const (
	answered = 0
	noAnswer = 1
	badInput = 2
)

const exitCodes = "\nExit codes: 0 answered, 1 no answer, 2 bad input."

// errNoAnswer is wrapped by errors that say that there is no answer to good input.
var errNoAnswer = errors.New("no answer")

// app is one run of the program: where it reads and writes.
type app struct {
	in       io.Reader
	out, err io.Writer
}

// run executes the command line and gives the exit code. Results go to out, all else
// to err with the prefix "seatward: ". Nothing is printed to out when the input is bad.
func run(args []string, in io.Reader, out, errOut io.Writer) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	a := &app{in, out, errOut}
	root := a.root()
	root.SetArgs(args)
	root.SetOut(out)
	root.SetErr(errOut)
	err := root.ExecuteContext(ctx)
	return a.report(err)
}

// report prints an error and picks the exit code.
func (a *app) report(err error) int {
	var list diag.List
	var missing *catalog.NotFoundError
	switch {
	case err == nil:
		return answered
	case errors.As(err, &list):
		for _, m := range list {
			if m.Severity == diag.Error {
				fmt.Fprintln(a.err, "seatward:", m.Error())
			}
		}
		return badInput
	case errors.Is(err, errNoAnswer), errors.Is(err, context.Canceled):
		fmt.Fprintln(a.err, "seatward:", err)
		return noAnswer
	case errors.As(err, &missing):
		fmt.Fprintln(a.err, "seatward:", err)
		return badInput
	}
	fmt.Fprintln(a.err, "seatward:", err)
	return badInput
}

func (a *app) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "seatward",
		Short: "Choose, check and explain check valves for pumping stations",
		Long: "Seatward answers which check valve to put on a pump's discharge: it reads a\n" +
			"station file, solves the station with each valve in it, judges every valve of\n" +
			"the catalog, and says why, with the source of every number.\n" + exitCodes,
		Example:       "  seatward new -o mine.station.yaml\n  seatward select mine.station.yaml",
		SilenceErrors: true, SilenceUsage: true, Version: version,
	}
	root.CompletionOptions.HiddenDefaultCmd = true
	root.SetVersionTemplate("seatward {{.Version}}\n")
	root.AddCommand(a.newCommand(), a.selectCommand(), a.lossCommand(), a.closingCommand(), a.explainCommand(), a.catalogCommand(), a.rulesCommand(), a.schemaCommand())
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		return fmt.Errorf("%w; see: %s --help", err, c.CommandPath())
	})
	root.RunE = func(c *cobra.Command, args []string) error {
		if len(args) > 0 {
			return fmt.Errorf("no command is called %q; see: seatward --help", args[0])
		}
		return c.Help()
	}
	root.Args = cobra.ArbitraryArgs
	for _, c := range root.Commands() {
		c.Long += "\n" + exitCodes
	}
	return root
}

// oneFile checks that a command got exactly one file.
func oneFile(c *cobra.Command, args []string) error {
	if len(args) != 1 {
		return fmt.Errorf("%s takes one station file, got %d arguments; see: %s --help", c.Name(), len(args), c.CommandPath())
	}
	return nil
}

func valveIDs(catalogs []*catalog.Catalog, prefix string) []string {
	var out []string
	for _, c := range catalogs {
		for _, f := range c.Families {
			for _, it := range f.Items {
				if strings.HasPrefix(it.ID, prefix) {
					out = append(out, it.ID)
				}
			}
		}
	}
	return out
}
