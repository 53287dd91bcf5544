package catalog

import (
	"fmt"
	"slices"

	"seatward/diag"
)

// loose is a measured curve in a file of its own: whoever measured a valve is not its maker.
type loose struct {
	file  *MeasuredFile
	curve Measured
}

// loose reads the curves of a file that name their family.
func (r *resolver) loose(c *Catalog, f *File) {
	for i := range f.Measured {
		m := &f.Measured[i]
		if !m.Family.Set {
			r.add(m.Kind.At, "measured-no-family", "the curve names no family",
				"the family that was tested, such as family: swing", "add a line family: ...")
			continue
		}
		if out, ok := r.readCurve(m); ok {
			c.loose = append(c.loose, loose{m, out})
		}
	}
}

// CurvesOnly is true for catalogs that hold curves of other families and nothing else.
func CurvesOnly(catalogs []*Catalog) bool {
	return len(catalogs) > 0 && !slices.ContainsFunc(catalogs, func(c *Catalog) bool {
		return len(c.Families) > 0 || len(c.loose) == 0
	})
}

// Join hangs the curves that stand in files of their own on the families that they were measured
// on, and gives the catalogs that have families. What was there before stays as it is: a family
// with a new curve is a copy.
func Join(catalogs []*Catalog) ([]*Catalog, diag.List) {
	r := resolver{told: map[diag.Message]bool{}}
	var out []*Catalog
	var curves []loose
	for _, c := range catalogs {
		curves = append(curves, c.loose...)
		if len(c.Families) > 0 {
			out = append(out, c)
		}
	}
	for _, l := range curves {
		r.join(out, l)
	}
	r.list.Sort()
	if r.list.Err() != nil {
		return nil, r.list
	}
	return out, r.list
}

// join puts a copy of a catalog with one more curve in its place.
func (r *resolver) join(catalogs []*Catalog, l loose) {
	var known []string
	for i, c := range catalogs {
		for k, f := range c.Families {
			known = append(known, f.ID)
			if f.ID != l.file.Family.Text {
				continue
			}
			whole := *c
			whole.Families = slices.Clone(c.Families)
			for n, other := range whole.Families {
				whole.Families[n] = other.in(&whole)
			}
			r.hang(whole.Families[k], l.file, l.curve)
			catalogs[i] = &whole
			return
		}
	}
	r.add(l.file.Family.At, "measured-family-unknown", fmt.Sprintf("no family is called %q", l.file.Family.Text),
		"a family of the catalogs that are read", meant(l.file.Family.Text, known, "name its catalog too, with --catalog"))
}

// in is a copy of the family, with its items, in another catalog.
func (f *Family) in(c *Catalog) *Family {
	out := *f
	out.Catalog, out.Items, out.bySize = c, make([]*Item, len(f.Items)), map[string][]*Item{}
	copies := map[*Item]*Item{}
	for i, it := range f.Items {
		own := *it
		own.Family, own.Measured = &out, slices.Clone(it.Measured)
		out.Items[i], copies[it] = &own, &own
	}
	for size, items := range f.bySize {
		for _, it := range items {
			out.bySize[size] = append(out.bySize[size], copies[it])
		}
	}
	return &out
}
