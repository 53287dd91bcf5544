package pipe

import (
	"fmt"
	"slices"
	"sync"

	"seatward/quantity"
)

// Dimension is a pipe of a standard, class and nominal size.
type Dimension struct {
	Standard, Material, Class string
	Size                      quantity.Size
	ODM                       float64 // outer diameter
	WallM                     float64 // as the standard tabulates it: nominal for metal, least for plastics
	MeanWallM                 float64 // as made on average: sets the bore
	LiningM                   float64 // in effect; 0 unless Lined was called

	// Pressures above atmosphere; 0 where the standard gives none.
	RatedPressurePa      float64 // working pressure, without surge
	RecurringPressurePa  float64 // with surge of every start and stop
	OccasionalPressurePa float64 // with surge of a rare event, such as a power failure
	SurgeRule            string  // where the three come from
	RatingSource         string

	Status string // how the row came here: seen, computed or from memory
	Source string

	standardLiningM float64
}

// IDM returns the true inner diameter in m: outer diameter less twice the mean
// wall and the lining.
func (d Dimension) IDM() float64 { return d.ODM - 2*(d.MeanWallM+d.LiningM) }

// Lined returns the pipe with the standard cement-mortar lining in place (AWWA
// C104 or EN 545, thicknesses from memory), and false where its standard has none.
func (d Dimension) Lined() (Dimension, bool) {
	if d.standardLiningM == 0 {
		return d, false
	}
	d.LiningM = d.standardLiningM
	return d, true
}

// dimensionTables are read once; the tables do not change.
var dimensionTables = sync.OnceValues(readTables)

// Materials lists the materials that have dimension tables.
func Materials() []string { return []string{ductileIron, pvc, steel, hdpe} }

// Classes lists the classes of a material in the order of its standards. An
// unknown material gives a *LookupError.
func Classes(material string) ([]string, error) {
	tables, err := tablesOf(material)
	if err != nil {
		return nil, err
	}
	var classes []string
	for _, t := range tables {
		classes = append(classes, t.classes()...)
	}
	return distinct(classes), nil
}

// Lookup returns the pipe of a material, class and nominal size. Materials and
// classes may be written in the ways of the trade: "DI" and "class 53", "PVC"
// and "C900 DR18", "steel" and "sch 40". What there is not gives a *LookupError
// that says what is nearest and what there is.
func Lookup(material, class string, size quantity.Size) (Dimension, error) {
	tables, name, err := tablesWith(material, class)
	if err != nil {
		return Dimension{}, err
	}
	var sizes []quantity.Size
	for _, t := range tables {
		for _, r := range t.rows {
			if r.class == name && r.dn == size.DN {
				return t.dimension(r), nil
			}
		}
		sizes = append(sizes, t.sizes(name)...)
	}
	slices.SortFunc(sizes, func(a, b quantity.Size) int { return a.DN - b.DN })
	near := slices.MinFunc(sizes, func(a, b quantity.Size) int {
		return max(a.DN-size.DN, size.DN-a.DN) - max(b.DN-size.DN, size.DN-b.DN)
	})
	return Dimension{}, &LookupError{
		What: "size", Given: sizeName(size), Of: tables[0].material + " " + name,
		Known: sizeNames(sizes), Near: sizeName(near),
	}
}

// sizeName prints a size; sizes without an inch name have only the metric one.
func sizeName(s quantity.Size) string {
	if s.NPS() == 0 {
		return fmt.Sprintf("DN%d", s.DN)
	}
	return s.String()
}

func sizeNames(sizes []quantity.Size) []string {
	names := make([]string, len(sizes))
	for i, s := range sizes {
		names[i] = sizeName(s)
	}
	return names
}

// tablesOf returns the tables of a material.
func tablesOf(material string) ([]*table, error) {
	all, err := dimensionTables()
	if err != nil {
		return nil, err
	}
	list := Materials()
	i, err := named("material", material, len(list), func(i int) []string {
		return append([]string{list[i]}, materialAliases[list[i]]...)
	})
	if err != nil {
		return nil, err
	}
	return slices.DeleteFunc(slices.Clone(all), func(t *table) bool { return t.material != list[i] }), nil
}

// tablesWith returns the tables of a material that have the class, of which one may have the
// small sizes and another the large ones, and the class's proper name.
func tablesWith(material, class string) (with []*table, name string, err error) {
	tables, err := tablesOf(material)
	if err != nil {
		return nil, "", err
	}
	wanted := readClass(class)
	var known []string
	for _, t := range tables {
		for _, c := range t.classes() {
			if c == name || name == "" && wanted.matches(c) {
				with, name = append(with, t), c
			}
			known = append(known, c)
		}
	}
	if with != nil {
		return with, name, nil
	}
	known = distinct(known)
	return nil, "", &LookupError{
		What: "class", Given: class, Of: tables[0].material, Known: known, Near: wanted.nearest(known),
	}
}
