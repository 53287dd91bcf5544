package catalog

import (
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"sync"
	"time"

	"seatward/basis"
	"seatward/diag"
	"seatward/fluid"
	"seatward/internal/pool"
	"seatward/internal/yamlfile"
	"seatward/quantity"
	"seatward/valve"
)

// Parse reads one catalog file. The list holds every fault of the reading; if it holds an
// error, it also holds what else is wrong with the file by itself, so that all is reported in
// one go. Such a file is not for Resolve.
func Parse(filename string, data []byte) (*File, diag.List) {
	f := &File{}
	list := yamlfile.Decode(filename, data, f)
	if list.Err() != nil {
		r := resolver{told: map[diag.Message]bool{}, broken: true}
		r.file(f)
		r.resolve()
		list = append(list, r.list...)
		list.Sort()
	}
	return f, list
}

// Source is a catalog file before it is read.
type Source struct {
	Name string
	Data []byte
}

// Parsed is a catalog file as Parse gives it.
type Parsed struct {
	File   *File
	Faults diag.List
}

// ParseAll reads several files at a time, on all cores, and gives them in their order.
func ParseAll(sources []Source) []Parsed {
	out := make([]Parsed, len(sources))
	pool.Each(len(sources), func(i int) {
		out[i].File, out[i].Faults = Parse(sources[i].Name, sources[i].Data)
	})
	return out
}

// LoadFiles reads the files of fsys that match the patterns, as fs.Glob has them, and
// joins them into catalogs. The list holds every fault of reading and of joining. The
// catalogs are nil if it holds an error.
func LoadFiles(fsys fs.FS, patterns ...string) ([]*Catalog, diag.List) {
	var files []*File
	var sources []Source
	var list diag.List
	for _, pattern := range patterns {
		names, err := fs.Glob(fsys, pattern)
		if err == nil && len(names) == 0 {
			err = fmt.Errorf("no file is called %s", pattern)
		}
		if err != nil {
			list.Add(diag.Message{
				ID: "catalog-unreadable", Place: diag.Place{File: pattern}, Text: err.Error(),
				Mend: "check the name",
			})
		}
		for _, name := range names {
			data, err := fs.ReadFile(fsys, name)
			if err != nil {
				list.Add(diag.Message{
					ID: "catalog-unreadable", Place: diag.Place{File: name}, Text: err.Error(),
					Mend: "check name and rights of the file",
				})
				continue
			}
			sources = append(sources, Source{name, data})
		}
	}
	for _, p := range ParseAll(sources) {
		list = append(list, p.Faults...)
		if p.Faults.Err() == nil {
			files = append(files, p.File)
		}
	}
	catalogs, faults := Resolve(files...)
	list = append(list, faults...)
	list.Sort()
	if list.Err() != nil {
		return nil, list
	}
	return catalogs, list
}

// Resolve joins files into catalogs: files of one maker and version are one catalog.
// The catalogs are nil if the list holds an error.
func Resolve(files ...*File) ([]*Catalog, diag.List) {
	r := resolver{told: map[diag.Message]bool{}}
	for _, f := range files {
		r.file(f)
	}
	r.resolve()
	r.list.Sort()
	if r.list.Err() != nil {
		return nil, r.list
	}
	return r.out, r.list
}

type resolver struct {
	out        []*Catalog
	list       diag.List
	told       map[diag.Message]bool
	pending    []pending
	read       sync.Map  // conditions that were read already, by facts and text
	conditions *sync.Map // those of the resolver that this one works for
	broken     bool      // the file at hand has faults of reading: what is not there may have been reported
}

func (r *resolver) add(at yamlfile.At, id, text, expected, mend string) {
	r.message(diag.Message{ID: id, Place: at.Place, Path: at.Path, Text: text, Expected: expected, Mend: mend})
}

// message tells a fault once: one line of a file may count for many items.
func (r *resolver) message(m diag.Message) {
	if !r.told[m] {
		r.told[m] = true
		r.list.Add(m)
	}
}

// filled tells the lists that hold nothing.
func (r *resolver) filled(at yamlfile.At, lengths map[string]int) {
	for _, name := range slices.Sorted(maps.Keys(lengths)) {
		if lengths[name] == 0 && !r.broken {
			r.add(at, "list-empty", "the list "+name+" holds nothing", "at least one entry", "add one")
		}
	}
}

func (r *resolver) file(f *File) {
	c := r.catalog(f)
	r.filled(f.Maker.At, map[string]int{"families": len(f.Families) + len(f.Measured)})
	r.loose(c, f)
	if _, err := time.Parse(time.DateOnly, f.Date.Text); f.Date.Set && err != nil {
		r.add(f.Date.At, "date-unreadable", fmt.Sprintf("%q is not a date", f.Date.Text), "year-month-day",
			"write for example 2026-05-31")
	}
	for i := range f.Families {
		ff := &f.Families[i]
		if slices.ContainsFunc(r.pending,
			func(x pending) bool { return x.catalog == c && x.file.ID.Set && x.file.ID.Text == ff.ID.Text }) {
			r.add(ff.ID.At, "family-twice", fmt.Sprintf("the family %q stands twice", ff.ID.Text),
				"each ID once in a catalog", "rename one of them")
			continue
		}
		r.pending = append(r.pending, pending{c, ff})
	}
}

// pending is a family that is still to be resolved.
type pending struct {
	catalog *Catalog
	file    *FamilyFile
}

// resolve resolves the families that are pending, on all cores, each with a resolver of
// its own.
func (r *resolver) resolve() {
	made := make([]*Family, len(r.pending))
	lists := make([]diag.List, len(r.pending))
	pool.Each(len(r.pending), func(i int) {
		own := resolver{told: map[diag.Message]bool{}, broken: r.broken, conditions: &r.read}
		made[i] = own.family(r.pending[i].catalog, r.pending[i].file)
		lists[i] = own.list
	})
	for i, p := range r.pending {
		for _, m := range lists[i] {
			r.message(m)
		}
		if made[i] != nil {
			p.catalog.Families = append(p.catalog.Families, made[i])
		}
	}
	for _, c := range r.out {
		slices.SortStableFunc(c.Families, func(a, b *Family) int { return strings.Compare(a.ID, b.ID) })
	}
}

// catalog finds or makes the catalog that the file belongs to.
func (r *resolver) catalog(f *File) *Catalog {
	for _, c := range r.out {
		if c.Maker != f.Maker.Text || c.Version != f.Version.Text {
			continue
		}
		for _, same := range []struct {
			one string
			now yamlfile.Word
		}{{c.Date, f.Date}, {c.Source, f.Source}, {c.Licence, f.Licence}} {
			if same.now.Set && same.one != same.now.Text {
				r.add(same.now.At, "catalog-differs",
					fmt.Sprintf("another file of %s %s says %q", c.Maker, c.Version,
						same.one), "the same in all files of one maker and version",
					"give this file a version of its own, or mend one of the two")
			}
		}
		if c.Invented != f.Invented.Yes() {
			r.add(f.Maker.At, "catalog-differs",
				fmt.Sprintf("of %s %s one file is invented and one is not", c.Maker,
					c.Version), "invented: the same in all files of one maker and version", "mend one of the two")
		}
		return c
	}
	c := &Catalog{
		Maker: f.Maker.Text, Version: f.Version.Text, Date: f.Date.Text, Source: f.Source.Text,
		Licence: f.Licence.Text, Invented: f.Invented.Yes(),
	}
	r.out = append(r.out, c)
	return c
}

// usable says whether a word can be part of an item's ID, and tells why not.
func (r *resolver) usable(id yamlfile.Word) bool {
	if !id.Set {
		return false // the reader has told it
	}
	if id.Text == "" || strings.Trim(id.Text, "abcdefghijklmnopqrstuvwxyz0123456789-") != "" {
		r.add(id.At, "id-unusable", fmt.Sprintf("%q cannot be an ID", id.Text), "small letters, digits and dashes",
			"rename it, such as swing-light")
		return false
	}
	return true
}

// family resolves one family; nil when its ID or type cannot be used.
func (r *resolver) family(c *Catalog, ff *FamilyFile) *Family {
	t := r.valveType(ff.Type)
	if !r.usable(ff.ID) || t == nil {
		return nil
	}
	f := &Family{
		Catalog: c, ID: ff.ID.Text, Title: ff.Title.Text, Summary: ff.Summary.Text, Type: t, file: ff,
		Services: services(ff.Services), Positions: positions(ff.Positions), Elastomers: words(ff.Elastomers),
		Spares: words(ff.Spares), Standards: words(ff.Standards),
		FullBore: ff.FullBore.Yes(), Rags: ff.Rags.Text, Grit: ff.Grit.Text, Oil: ff.Oil.Text,
		DrinkingWater: ff.DrinkingWater.Text,
		Indication:    ff.Indication.Text, LengthStandard: ff.LengthBy.Text,
		Body: material(ff.Body), Element: material(ff.Element), Seat: material(ff.Seat), Bolting: material(ff.Bolting),
		Coating:  material(ff.Coating),
		BackHead: map[valve.Position]basis.Value{},
	}
	r.filled(ff.ID.At, map[string]int{
		"positions": len(f.Positions), "services": len(f.Services),
		"elastomers": len(f.Elastomers), "ends": len(ff.Ends), "sizes": len(ff.Sizes),
	})
	r.factors(f)
	r.ends(f)
	r.backHeads(f)
	r.items(f)
	r.options(f)
	if !r.broken {
		r.measured(f)
	}
	return f
}

func (r *resolver) valveType(word yamlfile.Word) *valve.Type {
	if !word.Set {
		return nil // the reader has told it
	}
	t, err := valve.TypeNamed(word.Text)
	if err == nil {
		return t
	}
	var keys []string
	for _, t := range valve.Types() {
		keys = append(keys, t.Key)
	}
	r.add(word.At, "type-unknown", fmt.Sprintf("no valve type is called %q", word.Text),
		"one of: "+strings.Join(keys, ", "), meant(word.Text, keys, "pick one of these"))
	return nil
}

// meant is how to mend a word that is none of the candidates.
func meant(word string, candidates []string, otherwise string) string {
	if near := diag.DidYouMean(word, candidates); near != "" {
		return fmt.Sprintf("did you mean %q?", near)
	}
	return otherwise
}

func (r *resolver) factors(f *Family) {
	ff := f.file
	factor := func(name string, n yamlfile.Num, best float64) basis.Value {
		if n.Set {
			return basis.NewCatalog(name, quantity.Number, n.Value, f.Source())
		}
		return basis.NewAssumed(name, quantity.Number, best, best, best, "not in the catalog", basis.CommonPractice)
	}
	f.ShellTest, f.SeatTest = factor("shell test pressure over rated pressure", ff.ShellTest,
		1.5), factor("seat test pressure over rated pressure", ff.SeatTest, 1.0)
	straight := func(name string, n yamlfile.Num) basis.Value {
		if !n.Set {
			return basis.Value{}
		}
		return basis.NewCatalog(name, quantity.Number, n.Value, f.Source())
	}
	f.StraightBefore, f.StraightAfter = straight("straight pipe required upstream, diameters",
		ff.StraightUp), straight("straight pipe required downstream, diameters", ff.StraightDown)
}

func (r *resolver) ends(f *Family) {
	for _, e := range f.file.Ends {
		if e.Least.Set && e.Most.Set && e.Least.DN > e.Most.DN {
			r.add(e.Least.At, "ends-order", "the ends begin at a larger size than they end", "from no larger than to",
				"exchange from and to")
		}
		id := e.ID.Text
		if !e.ID.Set {
			id = slug(e.Standard.Text)
		}
		f.Ends = append(f.Ends, End{
			ID: id, Standard: e.Standard.Text,
			Rating: f.datum("rating of the ends, "+e.Standard.Text, e.Rating), Least: e.Least.Size, Most: e.Most.Size,
		})
	}
}

func (r *resolver) backHeads(f *Family) {
	for _, b := range f.file.BackHead {
		if !b.Position.Set {
			continue // the reader has told it
		}
		position, err := valve.PositionNamed(b.Position.Text)
		if err != nil {
			continue // likewise
		}
		if _, twice := f.BackHead[position]; twice {
			r.add(b.Position.At, "back-head-twice", "the minimum back head of this position is given twice",
				"each position once", "remove one")
			continue
		}
		r.offered(f, b.Position)
		v := f.datum("minimum back head to seal, "+b.Position.Text, b.Head)
		if b.Source.Set {
			v.Source = b.Source.Text
		}
		f.BackHead[position] = v
	}
}

// offered tells a position that the family is not offered for.
func (r *resolver) offered(f *Family, position yamlfile.Word) {
	if p, err := valve.PositionNamed(position.Text); !r.broken && len(f.Positions) > 0 &&
		(err != nil || !slices.Contains(f.Positions, p)) {
		r.add(position.At, "position-not-offered", "the family is not offered for "+position.Text,
			"one of: "+valve.PositionWords(f.Positions,
				", "), "add it to the positions of the family, or remove it here")
	}
}

// Source cites the family as the source of its data.
func (f *Family) Source() string {
	return fmt.Sprintf("catalog %s %s, %s", f.Catalog.Maker, f.Catalog.Version, f.Title)
}

// datum is a catalog value; unknown where not given.
func (f *Family) datum(name string, q yamlfile.Q) basis.Value {
	if !q.Set {
		return basis.Value{}
	}
	return basis.NewCatalog(name, q.Best.Kind, q.SI(), f.Source()).WithRange(q.Low.SI, q.High.SI)
}

// positions are those of the words that the reader took.
func positions(in []yamlfile.Word) []valve.Position {
	var out []valve.Position
	for _, w := range in {
		if p, err := valve.PositionNamed(w.Text); err == nil {
			out = append(out, p)
		}
	}
	return out
}

// services are those of the words that the reader took.
func services(in []yamlfile.Word) []fluid.Service {
	var out []fluid.Service
	for _, w := range in {
		if s, ok := fluid.ServiceNamed(w.Text); ok {
			out = append(out, s)
		}
	}
	return out
}

func words(in []yamlfile.Word) []string {
	var out []string
	for _, w := range in {
		if w.Set {
			out = append(out, w.Text)
		}
	}
	return out
}

func material(m MaterialFile) Material { return Material{m.Material.Text, m.Standard.Text} }
