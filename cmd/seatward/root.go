package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"seatward/diag"
	"seatward/internal/program"
	"seatward/quantity"
)

// Exit codes.
const (
	answered = 0
	noAnswer = 1
	badInput = 2
)

// errNoAnswer is wrapped by errors that say that good input has no answer.
var errNoAnswer = errors.New("no answer")

// errUnwritable is wrapped by errors of the disk: nothing is wrong with the input.
var errUnwritable = errors.New("cannot be written")

// app is one run of the program: where it reads and writes. What goes to out is held
// back until the command is over.
type app struct {
	in    io.Reader
	out   bytes.Buffer
	err   io.Writer
	color bool // out shows to a person who may have color
}

// run executes the command line and gives the exit code.
func run(args []string, in io.Reader, out, errOut io.Writer) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	context.AfterFunc(ctx, stop) // a second Ctrl-C ends what does not look at the first, such as reading
	a := &app{in: in, err: errOut, color: showsColor(out)}
	root := a.root()
	root.SetArgs(args)
	root.SetOut(&a.out)
	root.SetErr(errOut)
	code := a.report(root.ExecuteContext(ctx))
	if code == badInput {
		return code
	}
	if _, err := out.Write(a.out.Bytes()); err != nil {
		a.complain(fmt.Sprintf("the result cannot be written: %v", err))
		return noAnswer
	}
	return code
}

// root builds the command tree.
func (a *app) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "seatward",
		Short: "Choose check valves for pumping stations, with reasons",
		Long: "Seatward answers which check valve to put on a pump's discharge. It reads a\n" +
			"station file, solves the station with each valve in it, judges every valve of\n" +
			"the catalog, ranks them, and says why, with the source of every number.",
		Example:       "seatward select examples/layout.station.yaml",
		SilenceErrors: true, SilenceUsage: true,
		Version: program.Version(),
		Args:    cobra.ArbitraryArgs,
	}
	root.Flags().Bool("version", false, "print the version")
	root.SetVersionTemplate("seatward {{.Version}}\n")
	root.RunE = func(c *cobra.Command, args []string) error {
		if len(args) > 0 {
			return unknownCommand(root, args[0])
		}
		return c.Help()
	}
	root.AddCommand(a.newCommand(), a.selectCommand(), a.tripCommand(), a.lossCommand(), a.closingCommand(),
		a.explainCommand(), a.writeCommand(),
		a.configureCommand(), a.leakCommand(), a.diagnoseCommand(), a.logCommand(), a.calibrateCommand(),
		a.fitCommand(),
		a.standardsCommand(), a.materialsCommand(), a.catalogCommand(),
		a.rulesCommand(), a.schemaCommand(), a.serveCommand(), a.versionCommand(), a.manualCommand())
	root.PersistentPreRunE = func(c *cobra.Command, _ []string) error { return emptyFlag(c) }
	root.SetHelpCommand(helpCommand(root))
	root.SetHelpFunc(func(c *cobra.Command, _ []string) { a.help(c) })
	root.SetFlagErrorFunc(flagError)
	root.CompletionOptions.HiddenDefaultCmd = true
	return root
}

func unknownCommand(parent *cobra.Command, word string) error {
	var names []string
	for _, c := range parent.Commands() {
		if c.IsAvailableCommand() {
			names = append(names, c.Name())
		}
	}
	return fmt.Errorf("%s has no command %q; %s", parent.CommandPath(), word, diag.Meant(word, names))
}

// flagError words a fault in the flags, with the flag that may have been meant.
func flagError(c *cobra.Command, err error) error {
	hint := fmt.Sprintf("see: %s --help", c.CommandPath())
	var missing *pflag.NotExistError
	if errors.As(err, &missing) {
		var names []string
		c.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
		if near := diag.DidYouMean(missing.GetSpecifiedName(), names); near != "" {
			hint = fmt.Sprintf("did you mean --%s?", near)
		}
	}
	return fmt.Errorf("%w; %s", err, hint)
}

// emptyFlag says which flag was given without a word: a variable of a script that is empty
// would else be taken for a flag that is not there.
func emptyFlag(c *cobra.Command) error {
	var fault error
	c.Flags().Visit(func(f *pflag.Flag) {
		values := []string{f.Value.String()}
		if list, ok := f.Value.(pflag.SliceValue); ok {
			values = list.GetSlice()
		} else if f.Value.Type() != "string" {
			return
		}
		for _, v := range values {
			if strings.TrimSpace(v) == "" && fault == nil {
				fault = fmt.Errorf("--%s is empty; write its value, or leave the flag out", f.Name)
			}
		}
	})
	return fault
}

// report prints an error and picks the exit code.
func (a *app) report(err error) int {
	var list diag.List
	var value *quantity.ParseError
	switch {
	case err == nil:
		return answered
	case errors.As(err, &list):
		a.messages(list)
		return badInput
	case errors.As(err, &value):
		prefix, _, _ := strings.Cut(err.Error(), value.Error())
		a.messages(diag.List{{
			Text: fmt.Sprintf("%s%q is not %s", prefix, value.Text, value.Kind.One()), Found: value.Found,
			Expected: value.Expected, Mend: value.Mend,
		}})
		return badInput
	case errors.Is(err, errNoAnswer), errors.Is(err, errUnwritable), errors.Is(err, context.Canceled):
		a.complain(err.Error())
		return noAnswer
	}
	a.complain(err.Error())
	return badInput
}
