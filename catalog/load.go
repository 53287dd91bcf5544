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

// Parse reads one catalog file. The list holds every fault of the reading.
func Parse(filename string, data []byte) (*File, diag.List) {
	f := &File{}
	return f, yamlfile.Decode(filename, data, f)
}

// Resolve joins files into catalogs: files of one maker and version are one catalog.
// The catalogs are nil if and only if the list holds an error.
func Resolve(files ...*File) ([]*Catalog, diag.List) {
	r := resolver{}
	for _, f := range files {
		r.file(f)
	}
	r.list.Sort()
	if r.list.Err() != nil {
		return nil, r.list
	}
	return r.out, r.list
}

type resolver struct {
	out  []*Catalog
	list diag.List
}

func (r *resolver) add(at yamlfile.At, id, text, expected, mend string) {
	r.list.Add(diag.Message{ID: id, Place: at.Place, Path: at.Path, Text: text, Expected: expected, Mend: mend})
}

func (r *resolver) file(f *File) {
	c := r.catalog(f)
	for i := range f.Families {
		ff := &f.Families[i]
		if other := slices.IndexFunc(c.Families, func(x *Family) bool { return x.ID == ff.ID.Text }); other >= 0 {
			r.add(ff.ID.At, "family-twice", fmt.Sprintf("the family %q stands twice", ff.ID.Text), "each ID once in a catalog", "rename one of them")
			continue
		}
		if family := r.family(c, ff); family != nil {
			c.Families = append(c.Families, family)
		}
	}
	slices.SortStableFunc(c.Families, func(a, b *Family) int { return strings.Compare(a.ID, b.ID) })
}

// catalog finds or makes the catalog that the file belongs to.
func (r *resolver) catalog(f *File) *Catalog {
	for _, c := range r.out {
		if c.Maker == f.Maker.Text && c.Version == f.Version.Text {
			return c
		}
	}
	c := &Catalog{Maker: f.Maker.Text, Version: f.Version.Text, Date: f.Date.Text, Source: f.Source.Text, Licence: f.Licence.Text, Invented: f.Invented.Yes()}
	r.out = append(r.out, c)
	return c
}

func (r *resolver) family(c *Catalog, ff *FamilyFile) *Family {
	if ff.ID.Text == "" || strings.Trim(ff.ID.Text, "abcdefghijklmnopqrstuvwxyz0123456789-") != "" {
		r.add(ff.ID.At, "id-unusable", fmt.Sprintf("%q cannot be an ID", ff.ID.Text), "small letters, digits and dashes", "rename it, such as swing-light")
		return nil
	}
	t, err := valve.TypeNamed(ff.Type.Text)
	if err != nil {
		var keys []string
		for _, t := range valve.Types() {
			keys = append(keys, t.Key)
		}
		mend := "pick one of these"
		if near := diag.DidYouMean(ff.Type.Text, keys); near != "" {
			mend = fmt.Sprintf("did you mean %q?", near)
		}
		r.add(ff.Type.At, "type-unknown", fmt.Sprintf("no valve type is called %q", ff.Type.Text), "one of: "+strings.Join(keys, ", "), mend)
		return nil
	}
	f := &Family{
		Catalog: c, ID: ff.ID.Text, Title: ff.Title.Text, Summary: ff.Summary.Text, Type: t,
		Services: words(ff.Services), Positions: words(ff.Positions), Elastomers: words(ff.Elastomers), Spares: words(ff.Spares), Standards: words(ff.Standards),
		FullBore: ff.FullBore.Yes(), Rags: ff.Rags.Text, Grit: ff.Grit.Text, Oil: ff.Oil.Text, DrinkingWater: ff.DrinkingWater.Text, Indication: ff.Indication.Text,
		Body: material(ff.Body), Element: material(ff.Element), Seat: material(ff.Seat), Bolting: material(ff.Bolting), Coating: material(ff.Coating),
		BackHead: map[string]basis.Value{},
	}
	r.factors(f, ff)
	for _, e := range ff.Ends {
		f.Ends = append(f.Ends, End{Standard: e.Standard.Text, Rating: r.datum(f, "rating of the ends, "+e.Standard.Text, e.Rating), Least: e.Least.Size, Most: e.Most.Size})
	}
	for _, b := range ff.BackHead {
		v := r.datum(f, "least back head, "+b.Position.Text, b.Head)
		if b.Source.Set {
			v.Source = b.Source.Text
		}
		f.BackHead[b.Position.Text] = v
	}
	r.items(f, ff)
	r.measured(f, ff)
	return f
}

func (r *resolver) factors(f *Family, ff *FamilyFile) {
	factor := func(name string, n yamlfile.Num, best float64) basis.Value {
		if n.Set {
			return basis.NewCatalog(name, quantity.Number, n.Value, f.source())
		}
		return basis.NewAssumed(name, quantity.Number, best, best, best, "not in the catalog", basis.CommonPractice)
	}
	f.ShellTest, f.SeatTest = factor("shell test pressure over rated pressure", ff.ShellTest, 1.5), factor("seat test pressure over rated pressure", ff.SeatTest, 1.0)
	straight := func(name string, n yamlfile.Num) basis.Value {
		if !n.Set {
			return basis.Value{}
		}
		return basis.NewCatalog(name, quantity.Number, n.Value, f.source())
	}
	f.StraightBefore, f.StraightAfter = straight("straight pipe asked for before the valve, diameters", ff.StraightUp), straight("straight pipe asked for after the valve, diameters", ff.StraightDown)
}

func (f *Family) source() string {
	return fmt.Sprintf("catalog %s %s, %s", f.Catalog.Maker, f.Catalog.Version, f.Title)
}

func words(in []yamlfile.Word) []string {
	var out []string
	for _, w := range in {
		out = append(out, w.Text)
	}
	return out
}

func material(m MaterialFile) Material { return Material{m.Material.Text, m.Standard.Text} }

// datum is a catalog value; unknown where not given.
func (r *resolver) datum(f *Family, name string, q yamlfile.Q) basis.Value {
	if !q.Set {
		return basis.Value{}
	}
	return basis.NewCatalog(name, q.Best.Kind, q.SI(), f.source()).WithRange(q.Low.SI, q.High.SI)
}

// items makes one item of each size and variant.
func (r *resolver) items(f *Family, ff *FamilyFile) {
	variants := ff.Variants
	if len(variants) == 0 {
		variants = []VariantFile{{}}
	}
	common := r.params(f, ff.Common)
	perVariant := make([]valve.Params, len(variants))
	for i, v := range variants {
		perVariant[i] = r.params(f, v.Mechanics)
	}
	seen := map[quantity.Size]bool{}
	for i := range ff.Sizes {
		s := &ff.Sizes[i]
		if seen[s.Size.Size] {
			r.add(s.Size.At, "size-twice", "the size "+s.Size.Size.String()+" stands twice", "each size once in a family", "remove one")
			continue
		}
		seen[s.Size.Size] = true
		own := r.params(f, s.Mechanics)
		for j := range variants {
			params := valve.Params{}
			maps.Copy(params, common)
			maps.Copy(params, own)
			maps.Copy(params, perVariant[j])
			if _, said := params["bore"]; !said && f.Type.Param("bore") != nil {
				params["bore"] = r.datum(f, "bore of the valve", s.Bore)
			}
			if it := r.item(f, s, &variants[j], params); it != nil {
				f.Items = append(f.Items, it)
			}
		}
	}
	slices.SortStableFunc(f.Items, func(a, b *Item) int {
		if a.Size != b.Size {
			return a.Size.DN - b.Size.DN
		}
		return strings.Compare(a.Variant, b.Variant)
	})
}

// params reads mechanical data by the specifications of the valve type.
func (r *resolver) params(f *Family, pairs []yamlfile.Pair) valve.Params {
	out := valve.Params{}
	for _, p := range pairs {
		spec := f.Type.Param(p.Key.Text)
		if spec == nil {
			keys := make([]string, len(f.Type.Params))
			for i := range f.Type.Params {
				keys[i] = f.Type.Params[i].Key
			}
			mend := "remove it"
			if near := diag.DidYouMean(p.Key.Text, keys); near != "" {
				mend = fmt.Sprintf("did you mean %q?", near)
			}
			r.add(p.Key.At, "mechanics-unknown", fmt.Sprintf("the type %s knows no %q", f.Type.Key, p.Key.Text), "one of: "+strings.Join(keys, ", "), mend)
			continue
		}
		v, err := spec.Read(p.Value.Text, f.source())
		var q *quantity.ParseError
		switch {
		case errors.As(err, &q):
			r.list.Add(diag.Message{ID: "value-unreadable", Place: p.Value.Place, Path: p.Value.Path, Text: fmt.Sprintf("%q is not a %s", q.Text, q.Kind), Found: q.Found, Expected: q.Expected, Mend: q.Mend})
		case err != nil:
			r.add(p.Value.At, "value-unreadable", err.Error(), spec.Doc, "mend the value")
		default:
			out[p.Key.Text] = v
		}
	}
	return out
}

func (r *resolver) item(f *Family, s *SizeFile, v *VariantFile, params valve.Params) *Item {
	it := &Item{
		Family: f, Size: s.Size.Size, Variant: v.ID.Text, VariantTitle: v.Title.Text, Positions: f.Positions,
		ID: f.ID + "/" + sizeID(s.Size.Size), Params: params,
		FaceToFace: r.datum(f, "laying length", s.FaceToFace), Clearance: r.datum(f, "height needed above the axis", s.Height),
		Mass: r.datum(f, "mass of the valve", s.Mass), ElementMass: r.datum(f, "mass of the moving element", s.Element), CoverMass: r.datum(f, "mass of the cover", s.Cover),
		Rating: r.datum(f, "pressure rating of the valve", s.Rating), Bore: r.datum(f, "bore of the valve", s.Bore),
		Passage: r.datum(f, "largest sphere that passes the valve", s.Passage), Price: r.datum(f, "price of the valve", s.Price),
	}
	if it.Variant != "" {
		it.ID += "/" + it.Variant
	}
	if len(v.Positions) > 0 {
		it.Positions = words(v.Positions)
	}
	if _, err := f.Type.Complete(params); err != nil {
		r.unbuildable(s, it, err)
		return nil
	}
	return it
}

// unbuildable tells each number that keeps an item from being built.
func (r *resolver) unbuildable(s *SizeFile, it *Item, err error) {
	told := false
	for _, e := range flatten(err) {
		var p *valve.ParamError
		if errors.As(e, &p) {
			r.list.Add(diag.Message{ID: "mechanics-unusable", Place: s.Size.Place, Path: s.Size.Path, Text: it.ID + ": " + p.Key + " of type " + p.Type, Found: p.Found, Expected: p.Expected, Mend: p.Mend})
			told = true
		}
	}
	if !told {
		r.add(s.Size.At, "mechanics-unusable", it.ID+": "+err.Error(), "numbers that the valve type can be built from", "mend the mechanics")
	}
}

func flatten(err error) []error {
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		return joined.Unwrap()
	}
	return []error{err}
}

// sizeID is the size as IDs have it: 6in, 1.5in.
func sizeID(s quantity.Size) string { return strings.ReplaceAll(s.Format(quantity.US), " ", "") }
