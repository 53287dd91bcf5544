package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"seatward/internal/render/text"
)

// exitNote is the annotation with what the exit codes of a command mean.
const exitNote = "exit"

const usualExit = "0 answered; 1 no answer; 2 bad input, and nothing is written"

// help prints the help of a command: what it does, how it is called, an example that
// runs as it stands in a checkout, and the exit codes.
func (a *app) help(c *cobra.Command) {
	w := &a.out
	long := c.Long
	if long == "" {
		long = c.Short + "."
	}
	fmt.Fprintf(w, "%s\n\nUsage:\n", long)
	if c.HasAvailableSubCommands() {
		fmt.Fprintf(w, "  %s COMMAND\n\nCommands:\n", c.CommandPath())
		for _, sub := range c.Commands() {
			if sub.IsAvailableCommand() {
				fmt.Fprintf(w, "  %-10s %s\n", sub.Name(), sub.Short)
			}
		}
	} else {
		fmt.Fprintf(w, "  %s\n", c.UseLine())
	}
	if flags := flagLines(c); len(flags) > 0 {
		fmt.Fprintf(w, "\nFlags:\n%s\n", strings.Join(flags, "\n"))
	}
	if c.Example != "" {
		fmt.Fprint(w, "\nExample:\n")
		for _, l := range strings.Split(c.Example, "\n") {
			fmt.Fprintf(w, "  %s\n", l)
		}
	}
	fmt.Fprintf(w, "\nExit codes:\n  %s\n", strings.ReplaceAll(exitCodes(c), "; ", "\n  "))
}

// exitCodes says what the exit codes of a command mean.
func exitCodes(c *cobra.Command) string {
	if note := c.Annotations[exitNote]; note != "" {
		return note
	}
	return usualExit
}

// flagHelp is a flag as help shows it.
type flagHelp struct{ lead, usage string }

// flags lists the flags of a command that people see.
func flags(c *cobra.Command) []flagHelp {
	var out []flagHelp
	c.Flags().VisitAll(func(f *pflag.Flag) {
		if f.Hidden || f.Name == "help" {
			return
		}
		name, usage := pflag.UnquoteUsage(f)
		lead := "  --" + f.Name
		if f.Shorthand != "" {
			lead = "  -" + f.Shorthand + ", --" + f.Name
		}
		if f.Value.Type() != "bool" {
			lead += " " + strings.ReplaceAll(strings.ToUpper(name), " OR ", "|")
		}
		out = append(out, flagHelp{lead, usage})
	})
	return out
}

// flagLines lists the flags of a command, each with what it is for.
func flagLines(c *cobra.Command) []string {
	const column = 24
	var out []string
	for _, f := range flags(c) {
		lead := f.lead
		if len(lead) > column-2 {
			out, lead = append(out, lead), ""
		}
		for i, l := range text.Wrap(f.usage, text.Width-column) {
			if i > 0 {
				lead = ""
			}
			out = append(out, fmt.Sprintf("%-*s%s", column, lead, l))
		}
	}
	return out
}

// helpCommand answers "seatward help COMMAND".
func helpCommand(root *cobra.Command) *cobra.Command {
	return &cobra.Command{
		Use: "help [COMMAND]", Short: "Print the help of a command", Hidden: true, Example: "seatward help select",
		RunE: func(_ *cobra.Command, args []string) error {
			at, err := named(root, args)
			if err != nil {
				return err
			}
			return at.Help()
		},
	}
}

// named finds the command that words name.
func named(root *cobra.Command, words []string) (*cobra.Command, error) {
	at := root
	for _, word := range words {
		next, _, err := at.Find([]string{word})
		if err != nil || next == at {
			return nil, unknownCommand(at, word)
		}
		at = next
	}
	return at, nil
}

// exactly checks the number of arguments.
func exactly(n int, what string) cobra.PositionalArgs { return between(n, n, what) }

// between checks the number of arguments, and says what is wanted; most < 0 means any.
func between(least, most int, what string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) >= least && (most < 0 || len(args) <= most) {
			return nil
		}
		got := fmt.Sprintf("got %d arguments", len(args))
		switch len(args) {
		case 0:
			got = "got none"
		case 1:
			got = "got one argument"
		}
		return fmt.Errorf("%s takes %s, %s; see: %s --help", c.CommandPath(), what, got, c.CommandPath())
	}
}
