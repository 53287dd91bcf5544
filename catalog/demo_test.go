package catalog

import (
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"testing"

	"seatward/fluid"
	"seatward/quantity"
	"seatward/valve"
)

func demoCatalogs(t testing.TB) []*Catalog {
	t.Helper()
	catalogs, faults := Demo()
	if len(faults) > 0 {
		t.Fatalf("the demonstration catalog has faults:\n%v", faults)
	}
	return catalogs
}

// eachDemo runs the check on every item of the demonstration catalog.
func eachDemo(t *testing.T, check func(t *testing.T, it *Item)) {
	t.Helper()
	for _, c := range demoCatalogs(t) {
		for _, f := range c.Families {
			for _, it := range f.Items {
				check(t, it)
			}
		}
	}
}

// TestDemoChecks: the demonstration catalog passes the check that others' must pass,
// without a warning: its numbers fit together, its standards and its mechanics.
func TestDemoChecks(t *testing.T) {
	if list := Check(demoCatalogs(t)); len(list) > 0 {
		t.Errorf("%v", list)
	}
}

// sizesOf lists the sizes of a family.
func sizesOf(f *Family) string {
	var sizes []string
	for _, it := range f.Items {
		sizes = append(sizes, sizeID(it.Size))
	}
	return strings.Join(slices.Compact(sizes), " ")
}

// TestDemoList holds what the catalog offers to a list that people read.
func TestDemoList(t *testing.T) {
	var b strings.Builder
	for _, f := range demoCatalogs(t)[0].Families {
		var variants []string
		for _, it := range f.Items {
			if it.Variant != "" && !slices.Contains(variants, it.Variant) {
				variants = append(variants, it.Variant)
			}
		}
		fmt.Fprintf(&b, "%s (%s): %s\n  %s\n", f.ID, f.Type.Key, f.Title, sizesOf(f))
		if len(variants) > 0 {
			fmt.Fprintf(&b, "  each %s\n", strings.Join(variants, " or "))
		}
		fmt.Fprintf(&b, "  %s; %s\n", valve.PositionWords(f.Positions, ", "),
			strings.Join(fluid.ServiceWords(f.Services), ", "))
	}
	golden(t, "demo.golden", b.String())
}

// TestDemoIsOneInventedCatalog: one maker who does not exist, at least nine families of
// eight kinds, from 2 to 36 in, no two with the same sizes and every one with its data.
func TestDemoIsOneInventedCatalog(t *testing.T) {
	catalogs := demoCatalogs(t)
	if len(catalogs) != 1 || !catalogs[0].Invented || catalogs[0].Maker != "Demonstration Works" {
		t.Fatalf("want one invented catalog of Demonstration Works, got %d", len(catalogs))
	}
	types, spans := map[string]bool{}, map[string]string{}
	least, most := quantity.Size{DN: 1 << 20}, quantity.Size{}
	for _, f := range catalogs[0].Families {
		types[f.Type.Key] = true
		if f.Body.Standard == "" || f.Element.Standard == "" || f.Seat.Standard == "" || f.Bolting.Standard == "" ||
			f.Coating.Standard == "" || len(f.Spares) == 0 || len(f.BackHead) != len(f.Positions) {
			t.Errorf("%s: materials, spares or back heads are missing", f.ID)
		}
		if other := spans[sizesOf(f)]; other != "" {
			t.Errorf("%s and %s are made in the same sizes", other, f.ID)
		}
		spans[sizesOf(f)] = f.ID
		for _, it := range f.Items {
			least.DN, most.DN = min(least.DN, it.Size.DN), max(most.DN, it.Size.DN)
			if !it.Price.Known() || !it.FlowCoefficient.Known() || !it.FaceToFace.Known() || !it.Passage.Known() ||
				!it.ElementMass.Known() {
				t.Errorf("%s: price, flow coefficient, length, passage or mass of the element is missing", it.ID)
			}
		}
	}
	if len(catalogs[0].Families) < 9 || len(types) < 9 || least.NPS() != 2 || most.NPS() != 36 {
		t.Errorf("%d families of %d types from %v to %v; want 9 from 2 in to 36 in", len(catalogs[0].Families),
			len(types), least, most)
	}
}

// TestDemoFiles: one family a file, named like it, so that a newcomer adds a product as
// one data file.
func TestDemoFiles(t *testing.T) {
	names, err := fs.Glob(demoFiles, "demo/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		catalogs, list := LoadFiles(demoFiles, name)
		if len(list) > 0 || len(catalogs) != 1 || len(catalogs[0].Families) != 1 ||
			"demo/"+catalogs[0].Families[0].ID+".yaml" != name {
			t.Errorf("%s does not hold the one family of its name: %v", name, list)
		}
	}
	if len(names) != len(demoCatalogs(t)[0].Families) {
		t.Errorf("%d files, %d families", len(names), len(demoCatalogs(t)[0].Families))
	}
}

func TestFind(t *testing.T) {
	catalogs := demoCatalogs(t)
	for id, want := range map[string]string{
		"swing/6in": "swing/6in", "swing/DN150": "swing/6in", " Swing/6in ": "swing/6in", "swing/6 in": "swing/6in",
		"swing/6":               "swing/6in",
		"ball-cage/6in/sinking": "ball-cage/6in/sinking", "ball-cage/dn 150/floating": "ball-cage/6in/floating",
		"ball-pocket/2.5in": "ball-pocket/2.5in",
	} {
		it, err := Find(catalogs, id)
		if err != nil || it.ID != want {
			t.Errorf("%q: %v, %v", id, it, err)
		}
	}
	for id, hint := range map[string]string{
		"swng/6in": `did you mean "swing/6in"?`, "ball-cage/6in": `did you mean "ball-cage/6in/`,
		"swing/7in": `did you mean "swing/6in"?`, "swing/DN125": `did you mean "swing/4in"?`,
		"swing-cushioned/4in": `did you mean "swing-cushioned/6in"?; there are swing-cushioned/6in, swing-cushioned/8in`, "ball-cage/12in/floatng": `did you mean "ball-cage/8in/floating"?`,
		"swing": "there are swing/2in, swing/2.5in", "zebra": "one of the families: axial-spring, ", "": "families",
		"swing/1e999in": "there are", "///": "families",
	} {
		if _, err := Find(catalogs, id); err == nil || !strings.Contains(err.Error(), hint) {
			t.Errorf("%q: %v lacks %q", id, err, hint)
		}
	}
}

func TestEveryIDFindsItsItem(t *testing.T) {
	catalogs := demoCatalogs(t)
	eachDemo(t, func(t *testing.T, it *Item) {
		metric := strings.Replace(it.ID, sizeID(it.Size), fmt.Sprintf("DN%d", it.Size.DN), 1)
		for _, id := range []string{it.ID, metric, strings.ToUpper(it.ID)} {
			if got, err := Find(catalogs, id); err != nil || got != it {
				t.Errorf("%s finds %v, %v", id, got, err)
			}
		}
	})
}

func BenchmarkDemo(b *testing.B) {
	for b.Loop() {
		if _, faults := LoadFiles(demoFiles, "demo/*.yaml"); len(faults) > 0 {
			b.Fatal(faults)
		}
	}
}

func BenchmarkCheckDemo(b *testing.B) {
	catalogs := demoCatalogs(b)
	for b.Loop() {
		Check(catalogs)
	}
}
