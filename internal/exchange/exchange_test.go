package exchange

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"seatward/catalog"
	"seatward/diag"
	"seatward/internal/table"
	"seatward/internal/yamlfile"
)

func tree(t testing.TB, name string, data []byte) *yamlfile.Tree {
	t.Helper()
	out, list := yamlfile.ParseTree(name, data)
	if list.Err() != nil {
		t.Fatal(list)
	}
	return out
}

// plainTree is a tree without places, for comparing.
func plainTree(t *yamlfile.Tree) any {
	switch t.Shape {
	case yamlfile.TextTree:
		return strings.Join(strings.Fields(t.Text), " ")
	case yamlfile.ListTree:
		var out []any
		for _, x := range t.Items {
			out = append(out, plainTree(x))
		}
		return out
	}
	out := map[string]any{}
	for i, k := range t.Keys {
		out[k] = plainTree(t.Items[i])
	}
	return out
}

func through(t testing.TB, from *yamlfile.Tree, xlsx bool) *yamlfile.Tree {
	t.Helper()
	if err := Lossless(from); err != nil {
		t.Fatal(err)
	}
	sheets := Export(from)
	var back []table.Sheet
	if xlsx {
		data, err := table.WriteXLSX(sheets)
		if err != nil {
			t.Fatal(err)
		}
		var list diag.List
		if back, list = table.Read("book.xlsx", data, table.Options{}); list.Err() != nil {
			t.Fatal(list)
		}
	} else {
		for _, s := range sheets {
			one, list := table.Read(s.Name+".csv", table.WriteCSV(s), table.Options{Delimiter: ','})
			if list.Err() != nil {
				t.Fatal(list)
			}
			back = append(back, one...)
		}
	}
	out, list := Import("book", back)
	if list.Err() != nil {
		t.Fatal(list)
	}
	return out
}

// TestRoundTripLosesNothing: every demonstration catalog, and the test catalog with its
// measured curves, comes back word by word from a workbook and from CSV files, and reads
// as a catalog.
func TestRoundTripLosesNothing(t *testing.T) {
	files, _ := filepath.Glob("../../catalog/demo/*.yaml")
	for _, name := range append(files, "../../catalog/testdata/good.yaml") {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		from := tree(t, name, data)
		for _, xlsx := range []bool{true, false} {
			back := through(t, from, xlsx)
			if diff := cmp.Diff(plainTree(from), plainTree(back)); diff != "" {
				t.Errorf("%s, workbook %v:\n%s", name, xlsx, diff)
			}
			written, err := yamlfile.WriteTree(back)
			if err != nil {
				t.Fatal(err)
			}
			f, list := catalog.Parse("back.yaml", written)
			if list.Err() != nil {
				t.Fatalf("%s: %v", name, list)
			}
			if _, list = catalog.Resolve(f); list.Err() != nil {
				t.Fatalf("%s: %v", name, list)
			}
		}
		if changes := Diff(from, through(t, from, true)); len(changes) > 0 {
			t.Errorf("%s: a round trip changes %v", name, changes)
		}
	}
}

// TestAnyTextSurvives: import then export is the identity for any texts that a catalog can
// hold.
func TestAnyTextSurvives(t *testing.T) {
	word := rapid.Custom(func(t *rapid.T) string {
		return strings.TrimSpace(rapid.StringMatching(`[a-zA-Z0-9=+@'";:,.%°Δ½ ()/\-]{1,14}`).Draw(t, "word")) + "x"
	})
	rapid.Check(t, func(t *rapid.T) {
		text := func(name string) *yamlfile.Tree { return yamlfile.NewText(word.Draw(t, name), diag.Place{}) }
		list := func(name string) *yamlfile.Tree {
			l := &yamlfile.Tree{Shape: yamlfile.ListTree}
			for range rapid.IntRange(1, 3).Draw(t, "entries") {
				l.Items = append(l.Items, text(name))
			}
			return l
		}
		root := &yamlfile.Tree{}
		root.Set("maker", text("maker"))
		families := &yamlfile.Tree{Shape: yamlfile.ListTree}
		for i := range rapid.IntRange(1, 3).Draw(t, "families") {
			f := &yamlfile.Tree{}
			f.Set("id", yamlfile.NewText(string(rune('a'+i)), diag.Place{}))
			f.Set("title", text("title"))
			f.Set("services", list("service"))
			body := &yamlfile.Tree{}
			body.Set("material", text("material"))
			f.Set("body", body)
			sizes := &yamlfile.Tree{Shape: yamlfile.ListTree}
			for range rapid.IntRange(1, 3).Draw(t, "sizes") {
				s := &yamlfile.Tree{}
				s.Set("size", text("size"))
				mechanics := &yamlfile.Tree{}
				mechanics.Set("disc_mass", text("mass"))
				s.Set("mechanics", mechanics)
				sizes.Items = append(sizes.Items, s)
			}
			f.Set("sizes", sizes)
			families.Items = append(families.Items, f)
		}
		root.Set("families", families)
		for _, xlsx := range []bool{true, false} {
			if diff := cmp.Diff(plainTree(root), plainTree(through(asTB{t: t}, root, xlsx))); diff != "" {
				t.Fatal(diff)
			}
		}
	})
}

// asTB lets rapid's T stand for a testing.TB.
type asTB struct {
	testing.TB
	t *rapid.T
}

func (asTB) Helper() {}

func (b asTB) Fatal(args ...any) { b.t.Fatal(args...) }

const mapText = `catalog: {maker: Test Works, version: "3", date: 2026-05-01, source: price list, licence: CC0-1.0, invented: yes}
heading_row: 2
family: Series
names: {"Series 100": hinged}
columns:
  - {column: NPS, to: size, unit: in}
  - {column: "L mm", to: face_to_face, unit: mm}
  - {column: Bore, to: bore, unit: mm}
  - {column: Rating, to: rating}
  - {column: "Disc kg", to: mechanics.disc_mass, unit: kg}
  - {column: Remarks}
families:
  - id: hinged
    title: Swing check
    type: swing
    services: [raw water]
    positions: [horizontal]
    elastomers: [NBR]
    ends: [{standard: ASME B16.1 Class 125 flanges}]
    mechanics: {hinge_to_center: 95 mm, hinge_to_gravity_center: 90 mm, full_open_loss: 1.1, disc_diameter: 167 mm}
`

const priceList = "Price list 2026;;;;;;\nSeries;NPS;L  mm;Bore;Rating;Disc kg;Remarks\nSeries 100;6;355,6 mm;152.4;200 psi;3.8;new\nSeries 100;8;495;203,2 mm;200 psi;8.4;\n"

func byMap(t *testing.T, mapped, list string) (*yamlfile.Tree, diag.List) {
	t.Helper()
	m, faults := ReadMap("map.yaml", []byte(mapped))
	if faults.Err() != nil {
		return nil, faults
	}
	o, faults := m.Options()
	if faults.Err() != nil {
		return nil, faults
	}
	sheets, more := table.Read("list.csv", []byte(list), o)
	if more.Err() != nil {
		return nil, more
	}
	out, faults := ImportBy(m, "list.csv", sheets)
	return out, append(more, faults...)
}

// TestImportByMap: a price list of its own form becomes a catalog, and a value that cannot
// be is reported at its cell.
func TestImportByMap(t *testing.T) {
	good := strings.ReplaceAll(strings.ReplaceAll(priceList, "355,6 mm", "355.6"), "203,2 mm", "203.2")
	out, list := byMap(t, mapText, good)
	if list.Err() != nil {
		t.Fatal(list)
	}
	f := &catalog.File{}
	if faults := yamlfile.DecodeTree(out, f); faults.Err() != nil {
		t.Fatal(faults)
	}
	if len(f.Families) != 1 || len(f.Families[0].Sizes) != 2 || f.Families[0].Sizes[1].FaceToFace.SI() != 0.495 ||
		f.Families[0].Sizes[0].Mechanics[0].Value.Text != "3.8 kg" {
		t.Errorf("%+v", f.Families)
	}
	out, list = byMap(t, mapText, priceList)
	if list.Err() != nil {
		t.Fatal(list)
	}
	faults := yamlfile.DecodeTree(out, &catalog.File{})
	if len(faults) != 0 {
		t.Errorf("decimal commas: %v", faults)
	}
	out, list = byMap(t, mapText, strings.ReplaceAll(priceList, ",", ",,"))
	if list.Err() != nil {
		t.Fatal(list)
	}
	faults = yamlfile.DecodeTree(out, &catalog.File{})
	if len(faults) != 2 || faults[0].Place != (diag.Place{File: "list.csv", Line: 3, Col: 3}) {
		t.Errorf("%v", faults)
	}
}

// TestBadMaps: each slip gives a message that names it, with its place.
func TestBadMaps(t *testing.T) {
	good := strings.ReplaceAll(strings.ReplaceAll(priceList, "355,6 mm", "355.6"), "203,2 mm", "203.2")
	for _, c := range []struct{ name, old, new, id string }{
		{"unknown column", "column: Bore", "column: Boar", "column-missing"},
		{"unknown key", "to: rating", "to: ratting", "key-unknown"},
		{"unknown family", `"Series 100": hinged`, `"Series 200": hinged`, "family-unknown"},
		{"no headings", "heading_row: 2", "heading_row: 9", "headings-missing"},
		{"no families", "families:\n  - id: hinged", "families: none\nx:\n  - id: hinged", "key-unknown"},
		{"unused column", "  - {column: Remarks}\n", "", "column-not-read"},
		{"delimiter of two", "heading_row: 2", "heading_row: 2\ndelimiter: ';;'", "delimiter-unusable"},
		{"sheet that is not", "heading_row: 2", "heading_row: 2\nsheet: Prices", "sheet-missing"},
	} {
		if !strings.Contains(mapText, c.old) {
			t.Fatalf("%s: %q", c.name, c.old)
		}
		_, list := byMap(t, strings.Replace(mapText, c.old, c.new, 1), good)
		if !strings.Contains(list.Error(), "["+c.id+"]") {
			t.Errorf("%s: %v", c.name, list)
		}
		for _, m := range list {
			if m.Place.File == "" || m.Place.Line == 0 || m.Mend == "" {
				t.Errorf("%s: no place or mend: %v", c.name, m)
			}
		}
	}
}

// TestBadSheets: what a workbook of the own form gets wrong is reported at the cell.
func TestBadSheets(t *testing.T) {
	data, err := os.ReadFile("../../catalog/testdata/good.yaml")
	if err != nil {
		t.Fatal(err)
	}
	sheets := func() []table.Sheet { return Export(tree(t, "good.yaml", data)) }
	at := func(all []table.Sheet, name string) *table.Sheet {
		for i := range all {
			if all[i].Name == name {
				return &all[i]
			}
		}
		t.Fatal("no sheet " + name)
		return nil
	}
	for _, c := range []struct {
		name, id string
		spoil    func(all []table.Sheet) []table.Sheet
	}{
		{"no families", "sheets-missing", func(all []table.Sheet) []table.Sheet { return all[:1] }},
		{"unknown column", "column-unknown", func(all []table.Sheet) []table.Sheet {
			at(all, "sizes").Rows[0][2].Text = "boar"
			return all
		}},
		{"column twice", "column-twice", func(all []table.Sheet) []table.Sheet {
			at(all, "sizes").Rows[0][2].Text = at(all, "sizes").Rows[0][3].Text
			return all
		}},
		{"orphan", "row-without-parent", func(all []table.Sheet) []table.Sheet {
			at(all, "sizes").Rows[1][0].Text = "nobody"
			return all
		}},
		{"sheet of another", "sheet-unknown", func(all []table.Sheet) []table.Sheet {
			return append(all, table.Sheet{Name: "notes", Rows: at(all, "ends").Rows})
		}},
	} {
		_, list := Import("book.xlsx", c.spoil(sheets()))
		if !strings.Contains(list.Error(), "["+c.id+"]") {
			t.Errorf("%s: %v", c.name, list)
		}
	}
}

// TestDiff: a changed number, a new size and a missing family are listed by name.
func TestDiff(t *testing.T) {
	data, err := os.ReadFile("../../catalog/testdata/good.yaml")
	if err != nil {
		t.Fatal(err)
	}
	before := string(data)
	after := strings.Replace(before, "mass: 70.4 kg", "mass: 72 kg", 1)
	after = strings.Replace(after, "size: DN150", "size: DN200", 1)
	got := map[Change]bool{}
	for _, c := range Diff(tree(t, "a", []byte(before)), tree(t, "b", []byte(after))) {
		got[c] = true
	}
	for _, want := range []Change{
		{"sizes", "hinged 6 in", "mass", "70.4 kg", "72 kg"},
		{"sizes", "ball DN150", "", "there", ""},
		{"sizes", "ball DN200", "", "", "there"},
	} {
		if !got[want] {
			t.Errorf("%+v is not among %v", want, got)
		}
	}
	if len(got) != 3 {
		t.Errorf("%v", got)
	}
}

// FuzzImport: no table and no map, whatever they hold, makes it panic.
func FuzzImport(f *testing.F) {
	f.Add([]byte(priceList), []byte(mapText))
	f.Add([]byte("id,title\na,b\n"), []byte("columns: [{column: a, to: size}]\nfamilies: [{id: x}]"))
	f.Fuzz(func(_ *testing.T, list, mapped []byte) {
		sheets, faults := table.Read("catalog.csv", list, table.Options{})
		if faults.Err() == nil {
			for i := range sheets {
				families := sheets[i]
				families.Name = "families"
				if tree, list := Import("f", []table.Sheet{sheets[i], families}); list.Err() == nil && tree != nil {
					yamlfile.DecodeTree(tree, &catalog.File{})
				}
			}
		}
		m, faults := ReadMap("m", mapped)
		if faults.Err() != nil || len(sheets) == 0 {
			return
		}
		if tree, list := ImportBy(m, "f", sheets); list.Err() == nil {
			yamlfile.DecodeTree(tree, &catalog.File{})
		}
	})
}
