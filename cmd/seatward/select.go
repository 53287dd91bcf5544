package main

import (
	"encoding/json"
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"

	"seatward/internal/render/text"
	"seatward/study"
)

// selectCommand judges every valve of the catalog near the pipe's size.
func (a *app) selectCommand() *cobra.Command {
	var in inputs
	var all bool
	c := &cobra.Command{
		Use:   "select FILE",
		Short: "Judge every catalog valve for a station, and rank",
		Long: "Judge every valve of the catalog in the pipe's size and the sizes next to it,\n" +
			"with the station solved round each, and print the answer with its reasons.",
		Example: "  seatward select examples/layout.station.yaml",
		Args:    oneFile,
		RunE: func(c *cobra.Command, args []string) error {
			s, sys, err := a.study(c.Context(), args[0], &in)
			if err != nil {
				return err
			}
			if err := a.answer(s, in, text.Options{Units: sys, Bold: terminal(a.out), All: all}); err != nil {
				return err
			}
			if len(s.Assessments) == 0 || s.Assessments[0].Rank == 0 {
				return fmt.Errorf("%w: no valve of the catalog can be used as the station is described; the reasons stand in the report", errNoAnswer)
			}
			return nil
		},
	}
	in.flags(c)
	c.Flags().BoolVar(&all, "all", false, "list every size looked at, not only each family's best")
	return c
}

func (a *app) answer(s *study.Study, in inputs, opt text.Options) error {
	switch {
	case in.json:
		return a.printJSON(s)
	case in.valve != "":
		return text.Valve(a.out, s, opt)
	}
	return text.Select(a.out, s, opt)
}

func (a *app) printJSON(v any) error {
	e := json.NewEncoder(a.out)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}

// terminal is true when w shows to a person, who did not ask for plain text.
func terminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	if !ok || os.Getenv("NO_COLOR") != "" || os.Getenv("TERM") == "dumb" {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}
