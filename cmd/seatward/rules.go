package main

import (
	"github.com/spf13/cobra"

	"seatward/internal/render/text"
	"seatward/quantity"
)

// rulesCommand lists the limits by which is judged.
func (a *app) rulesCommand() *cobra.Command {
	var in inputs
	c := &cobra.Command{
		Use:   "rules",
		Short: "List the limits by which valves are judged",
		Long: "List every limit by which valves are judged, with its source and how sure it is.\n" +
			"A file of your own, given with --rules, replaces single limits.",
		Example: "seatward rules",
		Args:    exactly(0, "no arguments (write --rules FILE to see what a file changes)"),
	}
	c.RunE = func(*cobra.Command, []string) error {
		sys, err := in.system(quantity.US)
		if err != nil {
			return err
		}
		book, err := a.book(in.rules)
		if err != nil {
			return err
		}
		if in.json {
			out := limitList{Schema: "seatward.rules/1"}
			for _, id := range book.IDs() {
				l := book.Limit(id)
				out.Limits = append(out.Limits, limitLine{l.ID, l.Title, l.Value.SI, l.Value.Kind.Symbol(), l.Value.Source, l.Edition, l.Status, l.Note})
			}
			return a.printJSON(out)
		}
		return text.Rules(&a.out, book, a.print(sys))
	}
	in.ruleFlags(c)
	in.formFlags(c)
	return c
}

// limitList is the machine form of the limits.
type limitList struct {
	Schema string      `json:"schema"`
	Limits []limitLine `json:"limits"`
}

type limitLine struct {
	ID      string  `json:"id"`
	Title   string  `json:"title"`
	Value   float64 `json:"value"`
	Unit    string  `json:"unit"`
	Source  string  `json:"source"`
	Edition string  `json:"edition,omitempty"`
	Status  string  `json:"status"`
	Note    string  `json:"note,omitempty"`
}
