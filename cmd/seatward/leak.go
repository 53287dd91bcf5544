package main

import (
	"errors"
	"fmt"
	"math"

	"github.com/spf13/cobra"

	"seatward/basis"
	"seatward/internal/levels"
	"seatward/internal/program"
	"seatward/internal/render/text"
	"seatward/internal/site"
	"seatward/leakback"
	"seatward/quantity"
)

// leakFlags are what was measured at the wet well.
type leakFlags struct {
	inputs
	area, diameter, step, head, record string
	open, shut, drop                   []string
}

// leakCommand reads a leak off the level of the wet well.
func (a *app) leakCommand() *cobra.Command {
	var in leakFlags
	c := &cobra.Command{
		Use:   "leak [FILE]",
		Short: "Read leak-back and pump flow off the level of the wet well",
		Long: "Read a leak through a check valve off the level of the wet well: how fast it\n" +
			"rises with the isolating valve behind the check valve shut and open, no pump\n" +
			"running, within the same hour. The answer is the leak as a flow with its error,\n" +
			"the least leak that this test could show, and whether it is a leak through the\n" +
			"seat, a main that drains back or an inflow that changed. A drop of the level\n" +
			"while a pump runs gives that pump's flow. With a station FILE (or -): the hole\n" +
			"that would leak as much, starts and cost per year, the pump's flow by its curve,\n" +
			"and how fast a pump spins backward behind a valve stuck open.\n" +
			"The record of --record is a table with a heading: time (min), level (ft), pump\n" +
			"(on, off), valve (open, shut). docs/field.md has the test, step by step.",
		Example: "seatward leak --diameter '8 ft' --record examples/levels.csv\n" +
			"seatward leak --area 4m2 --step 1mm --shut '6cm in 10min' --open '9cm in 10min'",
		Args:              between(0, 1, "at most one station file"),
		ValidArgsFunction: stationFiles,
	}
	c.RunE = func(_ *cobra.Command, args []string) error { return a.leak(args, &in) }
	f := c.Flags()
	f.StringVar(&in.area, "area", "", "`AREA` of the water surface in the wet well")
	f.StringVar(&in.diameter, "diameter", "", "inside `DIAMETER` of a round wet well, in place of its area")
	f.StringVar(&in.step, "step", "", "smallest step that the level reading shows, `LENGTH`, such as '0.1 in'")
	f.StringArrayVar(&in.shut, "shut", nil,
		"`RISE` with the isolating valve shut, such as '2.4 in in 10 min'; twice for one before and one after")
	f.StringArrayVar(&in.open, "open", nil, "`RISE` with the isolating valve open")
	f.StringArrayVar(&in.drop, "drop", nil, "`DROP` of the level while one pump runs, such as '14 in in 2 min'")
	f.StringVar(&in.record, "record", "", "`FILE` of levels, CSV or XLSX, in place of rises and drops")
	f.StringVar(&in.head, "head", "", "`HEAD` across the closed valve, for the hole; the station file's without it")
	in.formFlags(c)
	return c
}

// leak answers the command.
func (a *app) leak(args []string, in *leakFlags) error {
	test, sys, numbers, err := a.leakTest(args, in)
	if err != nil {
		return err
	}
	answer := test.Answer()
	l := &text.LeakAnswer{Test: test, Answer: &answer, Site: numbers}
	if in.json {
		return a.printJSON(leakJSON(l))
	}
	return text.Leak(&a.out, l, a.print(sys))
}

// leakTest gathers what was measured and what the station says.
func (a *app) leakTest(args []string, in *leakFlags) (*leakback.Test, quantity.System, *site.Numbers, error) {
	test := &leakback.Test{Place: "the command line"}
	var numbers *site.Numbers
	otherwise := quantity.US
	if len(args) == 1 {
		st, err := a.station(args[0])
		if err != nil {
			return nil, 0, nil, err
		}
		if numbers, err = site.Of(st); err != nil {
			return nil, 0, nil, fmt.Errorf("%w: %w", errNoAnswer, err)
		}
		otherwise, test.Site = st.Units, numbers.Site
	}
	sys, err := in.system(otherwise)
	if err != nil {
		return nil, 0, nil, err
	}
	if err := in.well(test); err != nil {
		return nil, 0, nil, err
	}
	if in.record != "" {
		return test, sys, numbers, a.leakRecord(test, in, sys)
	}
	return test, sys, numbers, in.rises(test)
}

// most and least that a wet well and a reading may be: beyond, a unit is wrong.
const (
	mostWellM2 = 1e5
	mostStepM  = 1.0
	mostHeadM  = 1000.0
)

// positive reads a flag whose value lies above zero and up to a limit.
func (in *leakFlags) positive(flag, said string, kind quantity.Kind, most float64) (quantity.Range, error) {
	r, err := in.reading().ParseRange(kind, said)
	if err != nil {
		return r, fmt.Errorf("--%s: %w", flag, err)
	}
	if !(r.Low.SI > 0 && r.High.SI <= most) {
		return r, fmt.Errorf("--%s %q: a %s above zero, at most %s, is expected", flag, said, kind, quantity.SI.Format(kind, most))
	}
	return r, nil
}

// well reads what the well and the reading are like.
func (in *leakFlags) well(test *leakback.Test) error {
	switch {
	case in.area != "" && in.diameter != "":
		return errors.New("--area and --diameter are both given; leave one out")
	case in.area != "":
		r, err := in.positive("area", in.area, quantity.Area, mostWellM2)
		if err != nil {
			return err
		}
		test.Area = basis.NewGiven("area of the wet well", quantity.Area, r.Best.SI, "--area").WithRange(r.Low.SI, r.High.SI)
	case in.diameter != "":
		r, err := in.positive("diameter", in.diameter, quantity.Length, math.Sqrt(mostWellM2))
		if err != nil {
			return err
		}
		circle := func(d float64) float64 { return math.Pi / 4 * d * d }
		test.Area = basis.NewGiven("area of the wet well", quantity.Area, circle(r.Best.SI), "--diameter").
			WithRange(circle(r.Low.SI), circle(r.High.SI))
	default:
		return errors.New("the area of the wet well is missing; give --area, or --diameter of a round one")
	}
	if in.head != "" {
		r, err := in.positive("head", in.head, quantity.Head, mostHeadM)
		if err != nil {
			return err
		}
		test.Site.Head = basis.NewGiven("head across the closed valve", quantity.Head, r.Best.SI, "--head").
			WithRange(r.Low.SI, r.High.SI)
	}
	if in.step == "" {
		return nil
	}
	r, err := in.positive("step", in.step, quantity.Length, mostStepM)
	test.Step = basis.NewGiven("step of the level reading", quantity.Length, r.Best.SI, "--step")
	return err
}

// rises reads fills and drops off the command line, in the order shut, open, shut.
func (in *leakFlags) rises(test *leakback.Test) error {
	switch {
	case len(in.open)+len(in.shut)+len(in.drop) == 0:
		return errors.New("nothing was measured; give --shut and --open, or --record FILE")
	case !test.Step.Known():
		return errors.New("the step of the level reading is missing; give --step, such as --step '0.1 in'")
	case len(in.open) > 1 || len(in.shut) > 2 || len(in.drop) > 1:
		return errors.New("one --open, one --drop and at most two --shut are read; put more into a file for --record")
	case len(in.open)+len(in.shut) == 0:
		return errors.New("the inflow is missing; give --shut, the rise of the level while no pump runs")
	}
	at := 0.0
	add := func(flag string, all []string, open bool) ([]leakback.Fill, error) {
		var out []leakback.Fill
		for _, said := range all {
			rise, lasts, err := levels.ParseRise(said, in.reading())
			if err != nil {
				return nil, fmt.Errorf("--%s: %w", flag, err)
			}
			f := leakback.Measured(open, rise, lasts, test.Step.SI)
			f.FromS = at
			at += lasts
			out = append(out, f)
		}
		return out, nil
	}
	first := min(1, len(in.shut))
	for _, part := range []struct {
		flag string
		said []string
		open bool
	}{{"shut", in.shut[:first], false}, {"open", in.open, true}, {"shut", in.shut[first:], false}} {
		fills, err := add(part.flag, part.said, part.open)
		if err != nil {
			return err
		}
		test.Fills = append(test.Fills, fills...)
	}
	var err error
	test.Drops, err = add("drop", in.drop, true)
	for i := range test.Drops {
		test.Drops[i].RiseM = -test.Drops[i].RiseM
	}
	return err
}

// leakRecord reads fills and drops off a file.
func (a *app) leakRecord(test *leakback.Test, in *leakFlags, sys quantity.System) error {
	if len(in.open)+len(in.shut)+len(in.drop) > 0 {
		return errors.New("--record goes without --open, --shut and --drop")
	}
	data, err := a.read(in.record)
	if err != nil {
		return err
	}
	reading := in.reading()
	if in.units == "" {
		reading = quantity.Reading{}
	}
	record, list := levels.Read(shown(in.record), data, reading)
	if list.Err() != nil {
		return list
	}
	test.Place = shown(in.record)
	if !test.Step.Known() {
		step := leakback.Step(record)
		if step == 0 {
			return fmt.Errorf("%s: the level never changes; a record of a well that fills is expected", test.Place)
		}
		test.Step = basis.NewAssumed("step of the level reading", quantity.Length, step, step, step,
			"the smallest change between two levels of the record", basis.OwnChoice)
	}
	test.Fills, test.Drops = leakback.Fills(record, test.Step.SI), leakback.Drawdowns(record, test.Step.SI)
	if len(test.Fills) == 0 {
		return fmt.Errorf("%s: there is no spell of three readings in which no pump ran; read the level every half minute or so",
			test.Place)
	}
	return nil
}

// leakSchema names the machine form of a leak test.
const leakSchema = "seatward.leak/1"

// leakForm is the machine form of a leak test. A number that is unknown is left out.
type leakForm struct {
	Schema     string          `json:"schema"`
	Program    program.Program `json:"program"`
	Cause      string          `json:"cause" jsonschema:"enum=no leak seen,enum=leak through the check valve,enum=main draining back,enum=leak that fades,enum=changing inflow,enum=no pair"`
	Meaning    string          `json:"meaning"`
	Leak       *ranged         `json:"leak_m3_s,omitempty"`
	Least      *ranged         `json:"least_leak_seen_m3_s,omitempty"`
	Inflow     *ranged         `json:"inflow_m3_s,omitempty"`
	Hole       *ranged         `json:"hole_diameter_m,omitempty"`
	Gained     *ranged         `json:"volume_come_back_m3,omitempty"`
	Drains     *ranged         `json:"volume_that_can_drain_m3,omitempty"`
	StartsNow  *ranged         `json:"starts_per_day,omitempty"`
	StartsDry  *ranged         `json:"starts_per_day_without_leak,omitempty"`
	Returned   *ranged         `json:"pumped_again_m3_per_day,omitempty"`
	Cost       *ranged         `json:"energy_cost_per_year,omitempty"`
	PumpFlow   *ranged         `json:"pump_flow_m3_s,omitempty"`
	CurveFlow  *ranged         `json:"pump_flow_by_curve_m3_s,omitempty"`
	RunBack    *ranged         `json:"run_back_speed_rad_s,omitempty"`
	RunHeat    *ranged         `json:"restart_heat_ratio,omitempty"`
	Doubts     []string        `json:"doubts" jsonschema_description:"What in the readings does not fit"`
	References []string        `json:"references"`
}

// ranged is a number with its range.
type ranged struct {
	Value float64 `json:"value"`
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
	Basis string  `json:"basis"`
}

// rangedOf is nil for a value that is not known.
func rangedOf(v basis.Value) *ranged {
	if !v.Known() {
		return nil
	}
	return &ranged{v.SI, v.Low, v.High, v.Origin.String()}
}

func leakJSON(l *text.LeakAnswer) leakForm {
	x := l.Answer
	out := leakForm{
		Schema: leakSchema, Program: program.This(), Cause: string(x.Cause), Meaning: x.Cause.Meaning(),
		Leak: rangedOf(x.Leak), Least: rangedOf(x.Least), Inflow: rangedOf(x.Inflow), Hole: rangedOf(x.Hole),
		Gained: rangedOf(x.Gained), Drains: rangedOf(l.Test.Site.Drains), StartsNow: rangedOf(x.StartsNow),
		StartsDry: rangedOf(x.StartsDry), Returned: rangedOf(x.Returned), Cost: rangedOf(x.Cost),
		PumpFlow: rangedOf(x.PumpFlow), CurveFlow: rangedOf(l.Test.Site.PumpFlow), Doubts: noNull(l.Test.Doubts()),
		References: l.References(),
	}
	if l.Site != nil && l.Site.RunBack != nil {
		out.RunBack, out.RunHeat = rangedOf(l.Site.RunBack.Speed), rangedOf(l.Site.RunBack.Heat)
	}
	return out
}
