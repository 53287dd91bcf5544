package catalog

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"seatward/basis"
	"seatward/diag"
	"seatward/internal/yamlfile"
	"seatward/quantity"
	"seatward/valve"
)

// items makes one item of each size and variant.
func (r *resolver) items(f *Family) {
	variants := r.variants(f)
	common := r.mechanics(f, f.file.Common)
	own := make([]mechanics, len(variants))
	for i, v := range variants {
		own[i] = r.mechanics(f, v.Mechanics)
	}
	seen := map[quantity.Size]bool{}
	for i := range f.file.Sizes {
		s := &f.file.Sizes[i]
		if !s.Size.Set {
			continue // the reader has told it
		}
		if seen[s.Size.Size] {
			r.add(s.Size.At, "size-twice", "the size "+s.Size.Size.String()+" stands twice",
				"each size once in a family", "remove one")
			continue
		}
		seen[s.Size.Size] = true
		ofSize := r.mechanics(f, s.Mechanics)
		for j, v := range variants {
			it := f.item(s, v)
			data := join(common, ofSize, own[j])
			it.Params = data.params
			if _, said := data.params["bore"]; !said && it.Bore.Known() && f.Type.Param("bore") != nil {
				data.params["bore"] = it.Bore
			}
			it.derive()
			if r.complete(it, data.faulty) {
				f.Items = append(f.Items, it)
			}
		}
	}
	f.bySize = map[string][]*Item{}
	for _, it := range f.Items {
		f.bySize[sizeID(it.Size)] = append(f.bySize[sizeID(it.Size)], it)
	}
	slices.SortStableFunc(f.Items, func(a, b *Item) int {
		if a.Size != b.Size {
			return a.Size.DN - b.Size.DN
		}
		return strings.Compare(a.Variant, b.Variant)
	})
}

// variants are those of the family that can be used; one without a name where the
// family has none.
func (r *resolver) variants(f *Family) []*VariantFile {
	if len(f.file.Variants) == 0 {
		return []*VariantFile{{}}
	}
	var out []*VariantFile
	seen := map[string]bool{}
	for i := range f.file.Variants {
		v := &f.file.Variants[i]
		if !r.usable(v.ID) {
			continue
		}
		if seen[v.ID.Text] {
			r.add(v.ID.At, "variant-twice", fmt.Sprintf("the variant %q stands twice", v.ID.Text),
				"each ID once in a family", "rename one of them")
			continue
		}
		seen[v.ID.Text] = true
		for _, p := range v.Positions {
			r.offered(f, p)
		}
		out = append(out, v)
	}
	return out
}

// mechanics is mechanical data as read: the numbers, and the keys that faults were reported
// of already.
type mechanics struct {
	params valve.Params
	faulty map[string]bool
}

// join lays later data over earlier ones.
func join(all ...mechanics) mechanics {
	out := mechanics{valve.Params{}, map[string]bool{}}
	for _, m := range all {
		maps.Copy(out.params, m.params)
		maps.Copy(out.faulty, m.faulty)
	}
	return out
}

// mechanics reads mechanical data by the specifications of the valve type.
func (r *resolver) mechanics(f *Family, pairs []yamlfile.Pair) mechanics {
	out := mechanics{valve.Params{}, map[string]bool{}}
	for _, p := range pairs {
		spec := f.Type.Param(p.Key.Text)
		if spec == nil {
			keys := make([]string, len(f.Type.Params))
			for i := range f.Type.Params {
				keys[i] = f.Type.Params[i].Key
			}
			out.faulty[diag.DidYouMean(p.Key.Text, keys)] = true
			r.add(p.Key.At, "mechanics-unknown", fmt.Sprintf("the type %s knows no %q", f.Type.Key, p.Key.Text),
				"one of: "+strings.Join(keys, ", "), meant(p.Key.Text, keys, "remove it"))
			continue
		}
		v, err := spec.Read(p.Value.Text, f.Source())
		var q *quantity.ParseError
		switch {
		case errors.As(err, &q):
			out.faulty[spec.Key] = true
			r.message(diag.Message{
				ID: "value-unreadable", Place: p.Value.Place, Path: p.Value.Path,
				Text:  fmt.Sprintf("%q is not %s", q.Text, q.Kind.One()),
				Found: q.Found, Expected: q.Expected, Mend: q.Mend,
			})
		case err != nil:
			out.faulty[spec.Key] = true
			r.add(p.Value.At, "value-unreadable", err.Error(), spec.Doc, "mend the value")
		default:
			out.params[spec.Key] = v
		}
	}
	return out
}

// item is the size and variant of the family, without its mechanics.
func (f *Family) item(s *SizeFile, v *VariantFile) *Item {
	it := &Item{
		Family: f, Size: s.Size.Size, Variant: v.ID.Text, VariantTitle: v.Title.Text, Positions: f.Positions,
		ID: f.ID + "/" + sizeID(s.Size.Size), size: s, variant: v,
		FaceToFace: f.datum("laying length", s.FaceToFace),
		Clearance:  f.datum("height needed above the axis", s.Height),
		Mass:       f.datum("mass of the valve", s.Mass), ElementMass: f.datum(elementMass, s.Element),
		CoverMass: f.datum("mass of the cover", s.Cover),
		Rating:    f.datum("pressure rating of the valve", s.Rating), Bore: f.datum("bore of the valve", s.Bore),
		Passage:         f.datum("largest sphere that passes the valve", s.Passage),
		FlowCoefficient: f.datum(flowCoefficient, s.Flow),
	}
	if s.Price.Set {
		it.Price = basis.NewCatalog("price of the valve", quantity.Cost, s.Price.Value, f.Source())
	}
	if it.Variant != "" {
		it.ID += "/" + it.Variant
	}
	if len(v.Positions) > 0 {
		it.Positions = positions(v.Positions)
	}
	return it
}

// complete says whether the type has all that it needs, and tells each number that is
// missing or out of range, but for those that faults told already have left out.
func (r *resolver) complete(it *Item, faulty map[string]bool) bool {
	_, err := it.Family.Type.Complete(it.Params)
	if err == nil {
		return true
	}
	told := r.broken || len(faulty) > 0
	var ofDefaults []*valve.ParamError
	for _, e := range flatten(err) {
		var p *valve.ParamError
		if !errors.As(e, &p) {
			continue
		}
		spec := it.Family.Type.Param(p.Key)
		switch _, said := it.Params[p.Key]; {
		case said:
			r.unusable(it, p)
			told = true
		case spec != nil && !spec.Required:
			ofDefaults = append(ofDefaults, p) // worked out from numbers that are missing or wrong themselves
		case !faulty[p.Key] && !r.broken:
			r.unusable(it, p)
			told = true
		}
	}
	if !told {
		for _, p := range ofDefaults {
			r.unusable(it, p)
		}
	}
	return false
}

func (r *resolver) unusable(it *Item, p *valve.ParamError) {
	at, mend := it.where(p.Key), p.Mend
	if _, said := it.Params[p.Key]; p.Key == "full_open_loss" && !said {
		mend = "add flow_coefficient to the size, or full_open_loss to its mechanics"
	}
	r.message(diag.Message{
		ID: "mechanics-unusable", Place: at.Place, Path: at.Path, Text: p.Key + " of type " + p.Type,
		Found: p.Found, Expected: p.Expected, Mend: mend,
	})
}

func flatten(err error) []error {
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		return joined.Unwrap()
	}
	return []error{err}
}

// sizeID is the size as IDs have it: 6in, 1.5in.
func sizeID(s quantity.Size) string { return strings.ReplaceAll(s.Format(quantity.US), " ", "") }
