package main

import (
	"fmt"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"seatward/internal/chart"
	"seatward/internal/render/text"
	"seatward/quantity"
)

// lossCommand prints what a valve loses over its flows.
func (a *app) lossCommand() *cobra.Command {
	var at place
	var pictures pictures
	var flow string
	c := &cobra.Command{
		Use:   "loss [FILE] [--valve ID]",
		Short: "Print head loss against flow of one valve",
		Long: "Print the head that a valve loses against flow, at the opening that each flow\n" +
			"gives it, as a table and on logarithmic axes. Part open the loss does not fall\n" +
			"with the square of the flow: those flows are marked. With a station FILE (or -)\n" +
			"its liquid, position and operating points are used; without one --valve names\n" +
			"the valve, and it stands in cold water in the first position that it allows.",
		Example:           "seatward loss --valve swing/6in --position horizontal\nseatward loss --valve flap/DN150 --flow '5..80 L/s' --units SI\nseatward loss examples/layout.station.yaml",
		Args:              between(0, 1, "at most one station file"),
		ValidArgsFunction: stationFiles,
	}
	c.RunE = func(c *cobra.Command, args []string) error {
		v, sys, err := a.placed(c.Context(), args, &at)
		if err != nil {
			return err
		}
		var flows []float64
		if flow != "" {
			if flows, err = span("--flow", flow, quantity.Flow, sys, at.reading()); err != nil {
				return err
			}
		}
		curve := chart.NewLoss(v, flows, sys)
		if err := pictures.write(curve.Figure(v, sys)); err != nil {
			return err
		}
		if at.json {
			return a.printJSON(curve)
		}
		return text.Loss(&a.out, v, curve, a.print(sys))
	}
	c.Flags().StringVar(&flow, "flow", "",
		"flows: a `RANGE` such as \"50..800 gpm\", or a list such as \"100 gpm, 450 gpm\"")
	at.flags(c)
	pictures.flags(c)
	return c
}

// mostNumbers is how many numbers a list on the command line may have.
const mostNumbers = 100

// span reads a range or a list of positive quantities. A range is filled with round
// numbers of the system. The result rises.
func span(flag, text string, kind quantity.Kind, sys quantity.System, as quantity.Reading) ([]float64, error) {
	if strings.Contains(text, "..") {
		r, err := as.ParseRange(kind, text)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", flag, err)
		}
		if !(r.Low.SI > 0 && r.High.SI > r.Low.SI) || math.IsInf(r.High.SI, 0) || r.High.SI > 1e6*r.Low.SI {
			return nil, fmt.Errorf("%s %q: a range from above zero up to a larger %s is expected", flag, text, kind)
		}
		return ends(chart.Round(sys, kind, r.Low.SI, r.High.SI), r.Low.SI, r.High.SI), nil
	}
	var out []float64
	for _, part := range parted(text) {
		q, err := as.Parse(kind, strings.TrimSpace(part))
		if err != nil {
			return nil, fmt.Errorf("%s: %w", flag, err)
		}
		if !(q.SI > 0) || len(out) > 0 && q.SI <= out[len(out)-1] {
			return nil, fmt.Errorf("%s %q: numbers above zero, each larger than the one before, are expected", flag,
				text)
		}
		if out = append(out, q.SI); len(out) > mostNumbers {
			return nil, fmt.Errorf("%s: at most %d numbers are read", flag, mostNumbers)
		}
	}
	return out, nil
}

// parted takes a list apart: at commas with a blank behind where there are any, so that one in
// a number stays in it.
func parted(text string) []string {
	if strings.Contains(text, ", ") {
		return strings.Split(text, ", ")
	}
	return strings.Split(text, ",")
}

// ends puts both ends of a range round its round numbers.
func ends(round []float64, low, high float64) []float64 {
	if len(round) == 0 || round[0] > low*(1+1e-9) {
		round = append([]float64{low}, round...)
	}
	if round[len(round)-1] < high*(1-1e-9) {
		round = append(round, high)
	}
	return round
}
