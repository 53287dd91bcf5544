package main

import (
	"fmt"
	"strings"

	"seatward/basis"
	"seatward/catalog"
	"seatward/quantity"
	"seatward/station"
	"seatward/study"
)

// whatIf puts the numbers that are tried in their places: PATH=VALUE, the path of a number
// of the station, or of the valve's mechanics.
func whatIf(st *station.Station, valve string, tried []string, opt *study.TripOptions) (*station.Station, error) {
	units := st.Units
	for _, t := range tried {
		path, text, ok := strings.Cut(t, "=")
		if !ok {
			return nil, fmt.Errorf("--what-if %q: PATH=VALUE is expected, such as %sball_density=1.2 SG", t,
				study.MechanicsPath)
		}
		kind, err := kindOf(st, valve, path, opt.Catalogs)
		if err != nil {
			return nil, fmt.Errorf("--what-if %q: %w", t, err)
		}
		q, err := quantity.For(units).Parse(kind, text)
		if err != nil {
			return nil, fmt.Errorf("--what-if %q: %w", t, err)
		}
		if key, own := strings.CutPrefix(path, study.MechanicsPath); own {
			if opt.Mechanics == nil {
				opt.Mechanics = map[string]float64{}
			}
			opt.Mechanics[key] = q.SI
			continue
		}
		if st, err = st.Vary(path, q.SI); err != nil {
			return nil, fmt.Errorf("--what-if %q: %w", t, err)
		}
	}
	shown := *st
	shown.Units = units
	return &shown, nil
}

// kindOf is the kind of the number at the path. Whoever varies it tells a path that is not
// there.
func kindOf(st *station.Station, valve, path string, catalogs []*catalog.Catalog) (quantity.Kind, error) {
	kind := quantity.Number
	if key, own := strings.CutPrefix(path, study.MechanicsPath); own {
		it, err := catalog.Find(catalogs, valve)
		if err != nil {
			return kind, err
		}
		if spec := it.Family.Type.Param(key); spec != nil {
			return spec.Kind, nil
		}
		_, err = it.WhatIf(map[string]float64{key: 0})
		return kind, err
	}
	found := false
	station.Walk(st, func(p string, v basis.Value) {
		if p == path {
			kind, found = v.Kind, true
		}
	})
	if !found {
		_, err := st.Vary(path, 0)
		return kind, err
	}
	return kind, nil
}
