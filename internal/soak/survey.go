package soak

import (
	"context"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"seatward/internal/generate"
)

// verdicts in the order in which they are counted.
var verdicts = []string{"suitable", "suitable with conditions", "cannot say", "unsuitable"}

// shorter fits a verdict into a column.
var shorter = map[string]string{
	"suitable": "suitable", "suitable with conditions": "conditions",
	"cannot say": "cannot say", "unsuitable": "unsuitable",
}

const surveyLine = "%-23s %-16s %-10s %5s %-8s %-13s %s\n"

// Survey prints what the program answers for the ordinary layouts: a line for each with its
// best valve, then how often each verdict was the best one, and how each family fares.
func Survey(ctx context.Context, out io.Writer) error {
	p, err := newProgram()
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "Ordinary layouts: position, pumps, main. Reverse velocity in ft/s.\n\n")
	fmt.Fprintf(out, surveyLine, "layout", "best valve", "verdict", "rev.", "slam", "worst event", "condition")
	best := map[string]int{}
	families := map[string]map[string]int{}
	layouts := generate.Layouts()
	for _, l := range layouts {
		st, err := p.read(l.Station.Text())
		if err != nil {
			return fmt.Errorf("%s: %w", l, err)
		}
		valves, err := p.choose(ctx, st, "")
		if err != nil {
			return fmt.Errorf("%s: %w", l, err)
		}
		v := valves[0]
		best[v.Verdict]++
		fmt.Fprintf(out, surveyLine, l, clip(v.ID, 16), shorter[v.Verdict], fmt.Sprintf("%.2f", v.ReverseMS[1]/0.3048),
			v.Class, clip(v.WorstEvent, 13), clip(v.Condition, 19))
		for family, verdict := range bestOf(valves) {
			if families[family] == nil {
				families[family] = map[string]int{}
			}
			families[family][verdict]++
		}
	}
	fmt.Fprintf(out, "\nBest valve of %d layouts:", len(layouts))
	for _, v := range verdicts {
		fmt.Fprintf(out, "  %s %d (%.0f %%)", shorter[v], best[v], 100*float64(best[v])/float64(len(layouts)))
	}
	fmt.Fprintf(out, "\n\n%-24s %10s %10s %10s %10s\n", "family (its best size)", "suitable", "conditions",
		"cannot say", "unsuitable")
	for _, family := range slices.Sorted(maps.Keys(families)) {
		n := families[family]
		fmt.Fprintf(out, "%-24s %10d %10d %10d %10d\n", clip(family, 24), n[verdicts[0]], n[verdicts[1]],
			n[verdicts[2]], n[verdicts[3]])
	}
	return nil
}

// bestOf is the best verdict of each family.
func bestOf(valves []ValveAnswer) map[string]string {
	out := map[string]string{}
	for _, v := range valves {
		if known, ok := out[v.Family]; !ok || slices.Index(verdicts, v.Verdict) < slices.Index(verdicts, known) {
			out[v.Family] = v.Verdict
		}
	}
	return out
}

// clip cuts a text to the column.
func clip(text string, columns int) string {
	text = strings.Join(strings.Fields(text), " ")
	if letters := []rune(text); len(letters) > columns {
		return string(letters[:columns-1]) + "…"
	}
	return text
}
