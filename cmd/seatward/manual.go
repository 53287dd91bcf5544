package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"seatward/internal/program"
)

// manualCommand writes the manual pages from the commands. It is for packagers, so the list
// of commands does not show it.
func (a *app) manualCommand() *cobra.Command {
	var folder string
	c := &cobra.Command{
		Use: "manual [COMMAND]", Hidden: true,
		Short:   "Print the manual page of a command",
		Long:    "Print the manual page of a command, or write those of all commands into a\nfolder. They say what --help says.",
		Example: "seatward manual select",
		Args:    cobra.ArbitraryArgs,
	}
	c.RunE = func(_ *cobra.Command, args []string) error {
		if folder != "" {
			return a.writeManual(c.Root(), folder)
		}
		of, err := named(c.Root(), args)
		if err != nil {
			return err
		}
		_, err = a.out.WriteString(manualPage(of))
		return err
	}
	c.Flags().StringVarP(&folder, "output", "o", "", "`folder` to write all pages into")
	return c
}

// writeManual writes a page for the program and for each command below it.
func (a *app) writeManual(c *cobra.Command, folder string) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return fmt.Errorf("%w: %w", errNoAnswer, unwritable(folder, err))
	}
	name := filepath.Join(folder, pageName(c)+".1")
	if err := replace(name, []byte(manualPage(c))); err != nil {
		return fmt.Errorf("%w: %w", errNoAnswer, err)
	}
	fmt.Fprintln(&a.out, name)
	for _, sub := range c.Commands() {
		if sub.IsAvailableCommand() {
			if err := a.writeManual(sub, folder); err != nil {
				return err
			}
		}
	}
	return nil
}

// pageName is the name of a command's page, such as seatward-catalog-check.
func pageName(c *cobra.Command) string { return strings.ReplaceAll(c.CommandPath(), " ", "-") }

// manualPage is the page of a command in the macros of man(7).
func manualPage(c *cobra.Command) string {
	var w strings.Builder
	fmt.Fprintf(&w, ".TH %q 1 \"\" %q \"Seatward manual\"\n", strings.ToUpper(pageName(c)), program.Title())
	fmt.Fprintf(&w, ".SH NAME\n%s \\- %s\n", roff(pageName(c)), roff(c.Short))
	use := c.UseLine()
	if c.HasAvailableSubCommands() {
		use = c.CommandPath() + " COMMAND"
	}
	fmt.Fprintf(&w, ".SH SYNOPSIS\n.B %s\n.SH DESCRIPTION\n", roff(use))
	for _, paragraph := range strings.Split(c.Long, "\n\n") {
		// Where a line is set in, lines are kept as they are.
		if strings.HasPrefix(paragraph, " ") || strings.Contains(paragraph, "\n ") {
			fmt.Fprintf(&w, ".PP\n.nf\n%s\n.fi\n", roff(paragraph))
		} else {
			fmt.Fprintf(&w, ".PP\n%s\n", roff(paragraph))
		}
	}
	manualCommands(&w, c)
	if list := flags(c); len(list) > 0 {
		w.WriteString(".SH OPTIONS\n")
		for _, f := range list {
			fmt.Fprintf(&w, ".TP\n.B %s\n%s\n", roff(strings.TrimSpace(f.lead)), roff(f.usage))
		}
	}
	fmt.Fprintf(&w, ".SH EXAMPLE\n.nf\n%s\n.fi\n.SH EXIT STATUS\n", roff(c.Example))
	for _, code := range strings.Split(exitCodes(c), "; ") {
		number, meaning, _ := strings.Cut(code, " ")
		fmt.Fprintf(&w, ".TP\n.B %s\n%s\n", roff(number), roff(meaning))
	}
	if parent := c.Parent(); parent != nil {
		fmt.Fprintf(&w, ".SH SEE ALSO\n.BR %s (1)\n", roff(pageName(parent)))
	}
	return w.String()
}

// manualCommands lists what stands below a command.
func manualCommands(w *strings.Builder, c *cobra.Command) {
	if !c.HasAvailableSubCommands() {
		return
	}
	w.WriteString(".SH COMMANDS\n")
	for _, sub := range c.Commands() {
		if sub.IsAvailableCommand() {
			fmt.Fprintf(w, ".TP\n.BR %s (1)\n%s\n", roff(pageName(sub)), roff(sub.Short))
		}
	}
}

// roff writes text so that it is read as text: no line of it as a macro, no hyphen as a dash.
func roff(s string) string {
	lines := strings.Split(strings.NewReplacer(`\`, `\e`, "-", `\-`).Replace(s), "\n")
	for i, l := range lines {
		if strings.HasPrefix(l, ".") || strings.HasPrefix(l, "'") {
			lines[i] = `\&` + l
		}
	}
	return strings.Join(lines, "\n")
}
