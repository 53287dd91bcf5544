package study

import (
	"fmt"
	"slices"
	"strings"

	"seatward/catalog"
	"seatward/diag"
	"seatward/quantity"
	"seatward/station"
)

// sizeSteps is how many nominal sizes up and down from the pipe are looked at.
const sizeSteps = 1

// candidates picks the items worth judging: every family in the pipe's size, or in the next
// one up and down too. Families made in none of these are named with the sizes that they
// are made in.
func candidates(st *station.Station, opt Options, wide bool) (items []*catalog.Item, notMade []NotMade, err error) {
	if opt.Valve != "" {
		it, err := catalog.Find(opt.Catalogs, opt.Valve)
		if err != nil {
			return nil, nil, err
		}
		return []*catalog.Item{it}, nil, nil
	}
	near := map[quantity.Size]bool{st.Valve.Size: true}
	if wide {
		near = nearSizes(opt.Catalogs, st.Valve.Size)
	}
	for _, c := range opt.Catalogs {
		for _, f := range c.Families {
			found := false
			for _, it := range f.Items {
				if near[it.Size] {
					items = append(items, it)
					found = true
				}
			}
			if !found {
				notMade = append(notMade, NotMade{f, fmt.Sprintf("not made in %s; made in %s",
					st.Valve.Size.Format(st.Units), made(f, st.Units))})
			}
		}
	}
	if opt.Also != "" {
		asked, err := catalog.Find(opt.Catalogs, opt.Also)
		if err != nil {
			return nil, nil, err
		}
		if !slices.Contains(items, asked) {
			items = append(items, asked)
		}
	}
	return items, notMade, nil
}

// SizeMade is nil where some family is made in the size of the station's pipe; else a list
// with what there is.
func SizeMade(catalogs []*catalog.Catalog, st *station.Station) diag.List {
	sizes := sizesOf(catalogs)
	if sizes[st.Valve.Size] {
		return nil
	}
	var names []string
	for _, s := range quantity.Sizes() {
		if sizes[s] {
			names = append(names, s.Format(st.Units))
		}
	}
	return diag.List{{
		ID: "size-not-made", Place: st.Valve.SizeAt, Path: "valve.size",
		Text:     fmt.Sprintf("no family of the catalog is made in %s", st.Valve.Size.Format(st.Units)),
		Expected: "one of: " + strings.Join(names, ", "), Mend: "mend the size, or ask for a valve by its ID",
	}}
}

// sizesOf are the sizes that any family is made in.
func sizesOf(catalogs []*catalog.Catalog) map[quantity.Size]bool {
	made := map[quantity.Size]bool{}
	for _, c := range catalogs {
		for _, f := range c.Families {
			for _, it := range f.Items {
				made[it.Size] = true
			}
		}
	}
	return made
}

// nearSizes are the pipe's size and those next to it among the sizes that any family
// is made in: nominal sizes that nobody makes are not steps.
func nearSizes(catalogs []*catalog.Catalog, size quantity.Size) map[quantity.Size]bool {
	made := sizesOf(catalogs)
	near := map[quantity.Size]bool{size: true}
	below, above := 0, 0
	sizes := quantity.Sizes()
	for i := len(sizes) - 1; i >= 0; i-- {
		if sizes[i].DN < size.DN && made[sizes[i]] && below < sizeSteps {
			near[sizes[i]] = true
			below++
		}
	}
	for _, s := range sizes {
		if s.DN > size.DN && made[s] && above < sizeSteps {
			near[s] = true
			above++
		}
	}
	return near
}

// made lists a family's sizes as a span, with its gaps told by their number.
func made(f *catalog.Family, sys quantity.System) string {
	var names []string
	last := quantity.Size{}
	for _, it := range f.Items {
		if it.Size != last {
			names = append(names, it.Size.Format(sys))
			last = it.Size
		}
	}
	return strings.Join(names, ", ")
}
