package main

import (
	"errors"
	"fmt"
	"slices"

	"seatward/catalog"
	"seatward/fluid"
	"seatward/internal/chart"
	"seatward/internal/render/text"
	"seatward/quantity"
	"seatward/valve"
)

// everyFamily are the flags of a chart of every family.
type everyFamily struct {
	on   bool
	size string
}

// closings prints the closing curves of one valve of each family of the size.
func (a *app) closings(args []string, at *place, all everyFamily, rates, start string, pictures *pictures) error {
	if len(args) > 0 || at.valve != "" || at.position != "" {
		return errors.New("--all looks at every family by itself: leave out the station file, --valve and --position")
	}
	size, err := at.reading().ParseSize(all.size)
	if err != nil {
		return fmt.Errorf("--size: %w", err)
	}
	sys, err := at.system(quantity.US)
	if err != nil {
		return err
	}
	ask, err := a.stop(&at.inputs, rates, start, sys)
	if err != nil {
		return err
	}
	valves, without, err := a.everyKind(at, size)
	if err != nil {
		return err
	}
	if len(valves) == 0 {
		return fmt.Errorf("%w: no family is made in %s", errNoAnswer, size)
	}
	c, err := chart.NewClosings(size, valves, ask, sys)
	if err != nil && !errors.Is(err, chart.ErrNotOpen) {
		err = fmt.Errorf("%w: %w", errNoAnswer, err)
	}
	if err != nil {
		return err
	}
	c.Without = without
	if err := pictures.write(c.Figure(sys)); err != nil {
		return err
	}
	if at.json {
		return a.printJSON(c)
	}
	return text.Closings(&a.out, c, a.print(sys))
}

// everyKind is a valve of each family in the size, lying where it may, and the families that
// have none.
func (a *app) everyKind(at *place, size quantity.Size) (valves []*chart.Valve, without []string, err error) {
	catalogs, err := a.catalogs(at.catalogs)
	if err != nil {
		return nil, nil, err
	}
	water, err := fluid.Water(waterK, waterPa)
	if err != nil {
		return nil, nil, err
	}
	for _, c := range catalogs {
		for _, f := range c.Families {
			it := sized(f, size)
			if it == nil {
				without = append(without, f.ID)
				continue
			}
			v := &chart.Valve{Item: it, Position: it.Positions[0]}
			if err := build(v, water.DensityKgM3); err != nil {
				return nil, nil, err
			}
			valves = append(valves, v)
		}
	}
	return valves, without, nil
}

// sized is the family's valve of the size, the variant that lies or else stands in flow up
// where there are several; nil without one.
func sized(f *catalog.Family, size quantity.Size) *catalog.Item {
	var found *catalog.Item
	usual := func(it *catalog.Item) int { // the less, the more usual
		return slices.Index(valve.Positions(), it.Positions[0])
	}
	for _, it := range f.Items {
		if it.Size == size && (found == nil || usual(it) < usual(found)) {
			found = it
		}
	}
	return found
}
