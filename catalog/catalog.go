// Package catalog holds product data: families, sizes, variants, materials, ends
// and the mechanical data from which the valve package builds the moving element.
//
// Catalogs are open YAML files; anyone can write one. A file names its maker, version,
// date, source and licence, and holds families. A family is of one valve type, and tells
// where it may stand, what it is made of and how it is connected; each of its sizes tells
// lengths, masses, rating and flow coefficient. Mechanical data are the numbers that the
// valve type asks for, by the type's own keys: those under the family hold for all sizes,
// those of a size go before them, and those of a variant (ball density, weight on the
// lever) before both. Measured curves, each with its source and licence, take the place
// of what is computed. File declares the keys with their meaning; the JSON Schema for
// editors is made from it.
//
// An item, a size and variant of a family, is named family/size/variant: swing/6in,
// ball-cage/6in/sinking. Sizes may be written as DN too.
//
// The catalog that comes with Seatward is invented for demonstration.
package catalog

import (
	"slices"

	"seatward/basis"
	"seatward/fluid"
	"seatward/quantity"
	"seatward/valve"
)

// Catalog is the product data of one maker.
type Catalog struct {
	Maker, Version, Date, Source, Licence string
	Invented                              bool
	Families                              []*Family

	loose []loose // curves of families that stand elsewhere
}

// Material is a material with its standard and grade.
type Material struct{ Material, Standard string }

// End is one kind of end connection over a span of sizes.
type End struct {
	ID, Standard string
	Rating       basis.Value // unknown where not given
	Least, Most  quantity.Size
}

// Family is one product family.
type Family struct {
	Catalog                               *Catalog
	ID, Title, Summary                    string
	Type                                  *valve.Type
	Services                              []fluid.Service
	Elastomers                            []string
	Positions                             []valve.Position
	FullBore                              bool
	Rags, Grit, Oil, DrinkingWater        string
	Body, Element, Seat, Bolting, Coating Material
	Ends                                  []End
	ShellTest, SeatTest                   basis.Value                    // factors on the rating
	BackHead                              map[valve.Position]basis.Value // by position; absent where no datum
	StraightBefore, StraightAfter         basis.Value                    // in diameters; unknown where not given
	Spares, Standards                     []string
	Indication                            string
	LengthStandard                        string  // that the face-to-face lengths follow; "" or "own" for none
	Items                                 []*Item // by size, then variant

	Options []Option // what can be chosen; the standing ones first
	Rules   []OptionRule

	file   *FamilyFile        // as written, for the places of faults
	bySize map[string][]*Item // by the size as IDs have it
}

// Item is one valve that can be ordered: a family, a size and a variant.
type Item struct {
	Family       *Family
	ID           string // family/size/variant, as --valve takes it: swing/6in or ball-cage/6in/sinking
	Size         quantity.Size
	Variant      string // "" where the family has none
	VariantTitle string
	Positions    []valve.Position

	// Of the size; unknown where the catalog does not say.
	FaceToFace      basis.Value
	Clearance       basis.Value
	Mass            basis.Value
	ElementMass     basis.Value
	CoverMass       basis.Value
	Rating          basis.Value
	Bore            basis.Value
	Passage         basis.Value
	FlowCoefficient basis.Value // fully open
	Price           basis.Value

	Params   valve.Params // mechanical data, read and checked
	Measured []Measured

	size    *SizeFile // as written, for the places of faults
	variant *VariantFile
	tested  valve.Params // of the valve on which the curves were measured; nil for Params
}

// Covers is true when the ends are offered in the size.
func (e End) Covers(s quantity.Size) bool {
	return (e.Least.DN == 0 || s.DN >= e.Least.DN) && (e.Most.DN == 0 || s.DN <= e.Most.DN)
}

// Allows is true when the maker allows the position for this item.
func (it *Item) Allows(position valve.Position) bool { return slices.Contains(it.Positions, position) }
