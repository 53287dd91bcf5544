package main

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"seatward/catalog"
	"seatward/diag"
	"seatward/fluid"
	"seatward/internal/chart"
	"seatward/quantity"
	"seatward/valve"
)

// place are the flags that say which valve a curve is asked for, and where it stands.
type place struct {
	inputs
	position string
	stops    bool // the pump stops of the station are run with the valve
}

func (p *place) flags(c *cobra.Command) {
	p.valveFlag(c, "the valve by its `ID`, such as swing/6in; with a station file the best one without it")
	c.Flags().StringVar(&p.position, "position", "",
		"`position` of a valve without a station: horizontal, flow up or flow down")
	_ = c.RegisterFlagCompletionFunc("position",
		cobra.FixedCompletions(positionNames(), cobra.ShellCompDirectiveNoFileComp))
	p.dataFlags(c)
	p.formFlags(c)
}

// water in which a valve without a station is looked at: 15 °C, some 3 bar.
const (
	waterK  = 288.15
	waterPa = 4e5
)

// placed finds the valve asked for and puts it into the station of the file, or alone
// into water. The system is that of the answer.
func (a *app) placed(ctx context.Context, args []string, p *place) (*chart.Valve, quantity.System, error) {
	switch {
	case len(args) == 1 && p.position != "":
		return nil, 0, errors.New("--position goes with a valve without a station; the station file says the position")
	case len(args) == 1:
		return a.inStation(ctx, args[0], p)
	case p.valve == "":
		return nil, 0, errors.New("say which valve: a station file, or --valve ID; see: seatward catalog list")
	}
	catalogs, err := a.catalogs(p.catalogs)
	if err != nil {
		return nil, 0, err
	}
	v := &chart.Valve{}
	if v.Item, err = catalog.Find(catalogs, p.valve); err != nil {
		return nil, 0, err
	}
	if v.Position, err = p.positionOf(v.Item); err != nil {
		return nil, 0, err
	}
	water, err := fluid.Water(waterK, waterPa)
	if err != nil {
		return nil, 0, err
	}
	sys, err := p.system(quantity.US)
	if err != nil {
		return nil, 0, err
	}
	return v, sys, build(v, water.DensityKgM3)
}

// inStation is the valve asked for, or the best one, in the station.
func (a *app) inStation(ctx context.Context, file string, p *place) (*chart.Valve, quantity.System, error) {
	p.quick = p.valve != "" && !p.stops // the loss of a named valve needs no ranking
	s, err := a.study(ctx, file, &p.inputs)
	if err != nil {
		return nil, 0, err
	}
	a.warnings(s.Station.Warnings)
	if p.valve == "" && s.Assessments[0].Rank == 0 {
		return nil, 0, fmt.Errorf("%w: no valve can be used at this station; name one with --valve ID", errNoAnswer)
	}
	v := &chart.Valve{Item: s.Assessments[0].Item, Position: s.Station.Valve.Position, Study: s}
	return v, s.Station.Units, build(v, s.Station.Fluid.Density.SI)
}

// positionOf is the position asked for, or the first that the maker allows.
func (p *place) positionOf(it *catalog.Item) (valve.Position, error) {
	if p.position == "" {
		return it.Positions[0], nil
	}
	return positionFlag(p.position)
}

// positionNames are the words of the flag --position.
func positionNames() []string {
	var out []string
	for _, p := range valve.Positions() {
		out = append(out, p.String())
	}
	return out
}

// positionFlag reads the flag --position.
func positionFlag(said string) (valve.Position, error) {
	position, err := valve.PositionNamed(strings.ReplaceAll(said, "-", " "))
	if err != nil {
		hint := "write " + strings.Join(positionNames(), ", ")
		if near := diag.DidYouMean(said, positionNames()); near != "" {
			hint = fmt.Sprintf("did you mean %q?", near)
		}
		return 0, fmt.Errorf("--position %q is not a choice; %s", said, hint)
	}
	return position, nil
}

// build makes the moving element for the position and the density of the liquid.
func build(v *chart.Valve, densityKgM3 float64) error {
	v.Setting = valve.In(densityKgM3, v.Position)
	var err error
	if v.Mechanism, err = v.Item.Build(v.Setting); err != nil {
		return fmt.Errorf("%w: %s cannot be built: %w", errNoAnswer, v.Item.ID, err)
	}
	return nil
}
