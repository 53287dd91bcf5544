package catalog

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"seatward/diag"
)

// good reads the catalog without a fault.
func good(t testing.TB) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("testdata", "good.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// loaded reads a catalog and, where reading finds no error, checks it.
func loaded(text string) ([]*Catalog, diag.List) {
	catalogs, list := LoadFiles(fstest.MapFS{"catalog.yaml": {Data: []byte(text)}}, "catalog.yaml")
	if list.Err() != nil {
		return nil, list
	}
	return catalogs, append(list, Check(catalogs)...)
}

// faults are those of reading and checking a catalog.
func faults(text string) diag.List {
	_, list := loaded(text)
	return list
}

// golden holds the text to the file in testdata; SEATWARD_UPDATE=1 renews it.
func golden(t *testing.T, name, got string) {
	t.Helper()
	name = filepath.Join("testdata", name)
	if os.Getenv("SEATWARD_UPDATE") == "1" {
		if err := os.WriteFile(name, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("%s (SEATWARD_UPDATE=1 renews it; read the difference first):\n%s", name, diff)
	}
}

func TestGoodHasNoFault(t *testing.T) {
	if list := faults(good(t)); len(list) > 0 {
		t.Errorf("%v", list)
	}
}

// badCatalogs are slips of the pen in the good catalog: what is replaced, by what, and
// the one message that must come of it.
var badCatalogs = []struct{ name, old, new, id string }{
	// Reading.
	{"no colon", "maker: Test Works", "maker Test Works", "yaml-syntax"},
	{"nothing after the key", "maker: Test Works", "maker:", "value-missing"},
	{"key missing", "licence: CC0-1.0\ninvented", "invented", "key-missing"},
	{"key of a size mistyped", "        price: 900", "        prize: 900", "key-unknown"},
	{"key twice", "    title: Swing check\n", "    title: Swing check\n    title: Swing check\n", "key-twice"},
	{"word mistyped", "services: [raw water]", "services: [raw watter]", "word-unknown"},
	{"length without a unit", "bore: 150 mm", "bore: 150", "value-unreadable"},
	{"bore in a unit of mass", "bore: 152.4 mm", "bore: 152.4 kg", "value-unreadable"},
	{"negative bore", "bore: 152.4 mm", "bore: -152.4 mm", "value-out-of-range"},
	{"mass in a unit of length", "mass: 62 kg", "mass: 62 mm", "value-unreadable"},
	{"negative mass", "mass: 62 kg", "mass: -62 kg", "value-out-of-range"},
	{"no number", "rating: 10 bar\n", "rating: NaN bar\n", "value-unreadable"},
	{"no nominal size", "size: DN150", "size: DN151", "value-unreadable"},
	{"list where a word stands", "type: swing", "type: [swing]", "yaml-shape"},
	{"alias", "title: Ball check", "title: *name", "yaml-alias"},
	{"list holds nothing", "positions: [horizontal, flow up]", "positions: []", "list-empty"},

	// Joining.
	{"date the other way round", "date: 2026-01-31", "date: 31.1.2026", "date-unreadable"},
	{"type mistyped", "type: swing", "type: swign", "type-unknown"},
	{"type of no valve", "type: ball-cage", "type: gate", "type-unknown"},
	{"family twice", "id: ball\n", "id: hinged\n", "family-twice"},
	{"family with a blank", "id: ball\n", "id: my ball\n", "id-unusable"},
	{"size twice", "size: 8 in\n        bore", "size: DN150\n        bore", "size-twice"},
	{"variant twice", "{id: floating,", "{id: sinking,", "variant-twice"},
	{"variant with a slash", "{id: floating,", "{id: float/ing,", "id-unusable"},
	{
		"variant in a position of no family", "floating ball, positions: [flow down]",
		"floating ball, positions: [horizontal]", "position-not-offered",
	},
	{
		"back head in another position", "{position: horizontal, head: 2 ft, source: test}",
		"{position: flow down, head: 2 ft, source: test}", "position-not-offered",
	},
	{
		"back head twice", "      - {position: horizontal, head: 2 ft, source: test}\n",
		"      - {position: horizontal, head: 2 ft}\n      - {position: horizontal, head: 3 ft}\n", "back-head-twice",
	},
	{"ends from large to small", "from: 6 in, to: 8 in", "from: 8 in, to: 6 in", "ends-order"},
	{"mechanics mistyped", "disc_mass: 3.79 kg", "disk_mass: 3.79 kg", "mechanics-unknown"},
	{"mechanics of another type", "stroke: 120 mm", "spring_force: 120 N, stroke: 120 mm", "mechanics-unknown"},
	{"mechanics in the wrong unit", "disc_mass: 3.79 kg", "disc_mass: 3.79 m", "value-unreadable"},
	{"mechanics without a unit", "ball_density: 0.72 SG", "ball_density: 0.72", "value-unreadable"},
	{"mechanics missing", ", chamber_diameter: 242 mm", "", "mechanics-unusable"},
	{"mechanics missing in one variant", ", mechanics: {ball_density: 0.72 SG}", "", "mechanics-unusable"},
	{"mechanics out of range", "stroke_angle: 65 deg", "stroke_angle: 165 deg", "mechanics-unusable"},
	{"neither loss nor flow coefficient", "        flow_coefficient: 1074 Cv\n", "", "mechanics-unusable"},

	// Measured curves.
	{
		"curve for no size", "      - kind: reverse velocity against deceleration\n        size: 6 in",
		"      - kind: reverse velocity against deceleration\n        size: 10 in", "measured-for-nothing",
	},
	{
		"curve of another kind", "        loss: [[0.2, 7], [0.5, 1.5], [1, 1.1]]",
		"        closing: [[1 m/s2, 0.1 m/s], [4 m/s2, 0.4 m/s]]", "measured-stray",
	},
	{"curve of one point", "[[0.2, 7], [0.5, 1.5], [1, 1.1]]", "[[0.2, 7]]", "measured-empty"},
	{"curve out of order", "[0.2, 7], [0.5, 1.5]", "[0.5, 1.5], [0.2, 7]", "measured-order"},
	{"loss that rises", "[1, 1.1]", "[1, 2.1]", "measured-turns"},
	{"opening that falls", "[1.4 m/s, 1]]", "[1.4 m/s, 0.5]]", "measured-turns"},
	{"reverse velocity that falls", "[8 m/s2, 0.7 m/s]", "[8 m/s2, 0.2 m/s]", "measured-turns"},
	{"opening above all", "[1, 1.1]", "[1.5, 1.1]", "measured-range"},
	{"negative reverse velocity", "[1 m/s2, 0.1 m/s]", "[1 m/s2, -0.1 m/s]", "measured-range"},
	{"point of three", "[1, 1.1]", "[1, 1.1, 2]", "yaml-shape"},
	{
		"curve without its licence", "        source: invented test\n        licence: CC0-1.0\n        loss",
		"        source: invented test\n        loss", "key-missing",
	},
	{
		"broken condition", "    mechanics: {stroke_angle: 65 deg, seat_angle: 5 deg}\n",
		"    mechanics: {stroke_angle: 65 deg, seat_angle: 5 deg}\n    options:\n      - {id: coat, title: Coating, choices: [{id: thin}, {id: thick}]}\n    rules:\n      - {require: 'coat == \"thin\" &&', message: no, reason: it is so}\n", "condition-unreadable",
	},
	{
		"condition on an unknown option", "    mechanics: {stroke_angle: 65 deg, seat_angle: 5 deg}\n",
		"    mechanics: {stroke_angle: 65 deg, seat_angle: 5 deg}\n    options:\n      - {id: coat, title: Coating, choices: [{id: thin}, {id: thick}]}\n    rules:\n      - {require: 'coating == \"thin\"', message: no, reason: it is so}\n", "condition-unreadable",
	},
	{
		"condition that is no question", "    mechanics: {stroke_angle: 65 deg, seat_angle: 5 deg}\n",
		"    mechanics: {stroke_angle: 65 deg, seat_angle: 5 deg}\n    options:\n      - {id: coat, title: Coating, choices: [{id: thin}, {id: thick}]}\n    rules:\n      - {require: 'coat', message: no, reason: it is so}\n", "condition-no-answer",
	},
	{
		"rule on a choice that is none", "    mechanics: {stroke_angle: 65 deg, seat_angle: 5 deg}\n",
		"    mechanics: {stroke_angle: 65 deg, seat_angle: 5 deg}\n    options:\n      - {id: coat, title: Coating, choices: [{id: thin}, {id: thick}]}\n    rules:\n      - {require: 'coat != \"thik\"', message: no, reason: it is so}\n", "choice-unknown",
	},
	{
		"rule of nothing", "    mechanics: {stroke_angle: 65 deg, seat_angle: 5 deg}\n",
		"    mechanics: {stroke_angle: 65 deg, seat_angle: 5 deg}\n    options:\n      - {id: coat, title: Coating, choices: [{id: thin}, {id: thick}]}\n    rules:\n      - {require: 'true', message: no, reason: it is so}\n", "rule-of-nothing",
	},
	{
		"rule that bars all", "    mechanics: {stroke_angle: 65 deg, seat_angle: 5 deg}\n",
		"    mechanics: {stroke_angle: 65 deg, seat_angle: 5 deg}\n    options:\n      - {id: coat, title: Coating, choices: [{id: thin}, {id: thick}]}\n    rules:\n      - {require: 'coat != \"thin\" && coat != \"thick\"', message: no, reason: it is so}\n", "rule-bars-all",
	},
	{
		"rule that bars nothing", "    mechanics: {stroke_angle: 65 deg, seat_angle: 5 deg}\n",
		"    mechanics: {stroke_angle: 65 deg, seat_angle: 5 deg}\n    options:\n      - {id: coat, title: Coating, choices: [{id: thin}, {id: thick}]}\n    rules:\n      - {require: 'coat == \"thin\" || coat == \"thick\"', message: no, reason: it is so}\n", "rule-bars-nothing",
	},
	{
		"size without a legal configuration", "    mechanics: {stroke_angle: 65 deg, seat_angle: 5 deg}\n",
		"    mechanics: {stroke_angle: 65 deg, seat_angle: 5 deg}\n    options:\n      - {id: coat, title: Coating, choices: [{id: thin}, {id: thick}]}\n    rules:\n      - {require: 'size < 200', message: no, reason: it is so}\n", "no-legal-configuration",
	},
	{
		"choice out of reach", "    mechanics: {stroke_angle: 65 deg, seat_angle: 5 deg}\n",
		"    mechanics: {stroke_angle: 65 deg, seat_angle: 5 deg}\n    options:\n      - {id: coat, title: Coating, choices: [{id: thin}, {id: thick}]}\n    rules:\n      - {require: 'coat != \"thick\"', message: no, reason: it is so}\n", "choice-unreachable",
	},
	{
		"option of a taken name", "    mechanics: {stroke_angle: 65 deg, seat_angle: 5 deg}\n",
		"    mechanics: {stroke_angle: 65 deg, seat_angle: 5 deg}\n    options:\n      - {id: ends, title: Ends, choices: [{id: a}]}\n", "option-twice",
	},
	{
		"option of an unusable name", "    mechanics: {stroke_angle: 65 deg, seat_angle: 5 deg}\n",
		"    mechanics: {stroke_angle: 65 deg, seat_angle: 5 deg}\n    options:\n      - {id: ball-core, title: Core, choices: [{id: a}]}\n", "id-unusable",
	},
	{
		"choice twice", "    mechanics: {stroke_angle: 65 deg, seat_angle: 5 deg}\n",
		"    mechanics: {stroke_angle: 65 deg, seat_angle: 5 deg}\n    options:\n      - {id: core, title: Core, choices: [{id: a}, {id: a}]}\n", "choice-twice",
	},
	{
		"option without choices", "    mechanics: {stroke_angle: 65 deg, seat_angle: 5 deg}\n",
		"    mechanics: {stroke_angle: 65 deg, seat_angle: 5 deg}\n    options:\n      - {id: core, title: Core, choices: []}\n", "list-empty",
	},
	{
		"force that is negative", "      - kind: opening against velocity\n",
		"      - {kind: force against opening in reverse flow, size: 6 in, source: a, licence: b, force: [[0.5, -2], [1, 1]]}\n      - kind: opening against velocity\n", "measured-range",
	},
	{
		"force twice", "      - kind: opening against velocity\n",
		"      - {kind: force against opening, size: 6 in, source: a, licence: b, force: [[0.5, 2], [1, 1]]}\n      - kind: opening against velocity\n", "measured-unusable",
	},
	{"opening in no position", "        position: horizontal\n", "", "measured-position"},
	{
		"curve twice", "      - kind: opening against velocity\n",
		"      - {kind: loss against opening, size: 6 in, source: a, licence: b, loss: [[0.5, 2], [1, 1]]}\n      - kind: opening against velocity\n", "measured-twice",
	},

	{
		"curve of a type with two resistances", "stroke: 120 mm}\n",
		"stroke: 120 mm}\n    measured:\n      - {kind: loss against opening, size: 6 in, variant: sinking, source: a, licence: b, loss: [[0.5, 2], [1, 1]]}\n", "measured-unusable",
	},

	// Checking.
	{"bore of another size", "size: DN150", "size: 10 in", "bore-and-size"},
	{"hardly heavier when larger", "        mass: 135 kg", "        mass: 71 kg", "mass-scaling"},
	{"no jet in the gap", "stroke: 120 mm", "stroke: 120 mm, contraction: 0", "mechanics-unusable"},
	{"ball through its seat", "ball_diameter: 190 mm", "ball_diameter: 140 mm", "does-not-build"},
	{"floating ball in rising flow", "ball_density: 1.5 SG", "ball_density: 0.8 SG", "does-not-close"},
	{"element heavier than the valve", "cover_mass: 20.8 kg", "cover_mass: 130 kg", "mass-of-parts"},
	{"element of another mass", "element_mass: 3.79 kg", "element_mass: 4.79 kg", "element-mass"},
	{"passage wider than the bore", "passage: 144 mm", "passage: 160 mm", "passage-above-bore"},
	{"full bore that is not", "passage: 144 mm", "passage: 100 mm", "not-full-bore"},
	{"length of another standard", "face_to_face: 14 in", "face_to_face: 400 mm", "face-to-face"},
	{"rated above its ends", "rating: 10 bar\n", "rating: 25 bar\n", "rating-above-ends"},
	{"ends above their standard", "flanges, rating: 16 bar", "flanges, rating: 25 bar", "end-rating"},
	{"size without ends", "from: 6 in, to: 8 in", "from: 6 in, to: 6 in", "no-ends"},
	{"cheaper when larger", "price: 1470", "price: 147", "falls-with-size"},
	{"two losses", "disc_mass: 3.79 kg,", "disc_mass: 3.79 kg, full_open_loss: 1.2,", "flow-coefficient"},
	{
		"full open too early", "full_open_velocity: 1.62 m/s", "full_open_velocity: 0.9 m/s",
		"unlikely-opening-efficiency",
	},
	{"datum missing", "        cover_clearance: 290 mm\n", "", "data-missing"},
	{
		"flow coefficient that the drag does not bear out", "flow_coefficient: 817 Kv", "flow_coefficient: 1100 Kv",
		"flow-coefficient",
	},
}

// TestBadCatalogs: each slip gives one message, with an ID, a place, and what to do.
func TestBadCatalogs(t *testing.T) {
	text := good(t)
	var all strings.Builder
	for _, tt := range badCatalogs {
		if !strings.Contains(text, tt.old) {
			t.Fatalf("%s: the good catalog does not hold %q", tt.name, tt.old)
		}
		list := faults(strings.Replace(text, tt.old, tt.new, 1))
		fmt.Fprintf(&all, "%s\n\t%s\n", tt.name, strings.ReplaceAll(list.Error(), "\n", "\n\t"))
		if len(list) != 1 || list[0].ID != tt.id {
			t.Errorf("%s: want one message %s, got %d:\n%v", tt.name, tt.id, len(list), list)
			continue
		}
		if m := list[0]; m.Place.File != "catalog.yaml" || m.Place.Line == 0 || m.Mend == "" {
			t.Errorf("%s: no place, or no way to mend it: %v", tt.name, m)
		}
	}
	golden(t, "bad.golden", all.String())
}

// TestAllFaultsInOneGo: faults of reading and of joining are reported together, each once,
// without what only follows from them.
func TestAllFaultsInOneGo(t *testing.T) {
	text := good(t)
	for old, now := range map[string]string{
		"bore: 152.4 mm": "bore: 152.4", "type: ball-cage": "type: ball-cgae",
		"disc_mass: 8.36 kg": "disk_mass: 8.36 kg", "price: 900": "prize: 900",
	} {
		text = strings.Replace(text, old, now, 1)
	}
	list := faults(text)
	var ids []string
	for _, m := range list {
		ids = append(ids, m.ID)
	}
	want := []string{"value-unreadable", "key-unknown", "mechanics-unknown", "type-unknown"}
	if diff := cmp.Diff(want, ids); diff != "" {
		t.Errorf("%s\n%v", diff, list)
	}
}

// TestFilesThatDiffer: what two files of one catalog say of it must be the same.
func TestFilesThatDiffer(t *testing.T) {
	one := good(t)
	two := strings.NewReplacer("id: hinged", "id: hinged-two", "id: ball", "id: ball-two", "source: invented for tests",
		"source: elsewhere").Replace(one)
	_, list := LoadFiles(fstest.MapFS{"a.yaml": {Data: []byte(one)}, "b.yaml": {Data: []byte(two)}}, "*.yaml")
	if len(list) != 1 || list[0].ID != "catalog-differs" || list[0].Place.File != "b.yaml" {
		t.Errorf("%v", list)
	}
	if _, list := LoadFiles(fstest.MapFS{}, "a.yaml"); len(list) != 1 || list[0].ID != "catalog-unreadable" {
		t.Errorf("%v", list)
	}
}

// TestOneIDInTwoCatalogs: an ID that stands in two catalogs names no one valve.
func TestOneIDInTwoCatalogs(t *testing.T) {
	one := good(t)
	catalogs, list := LoadFiles(fstest.MapFS{
		"a.yaml": {Data: []byte(one)},
		"b.yaml": {Data: []byte(strings.Replace(one, "Test Works", "Other Works", 1))},
	}, "*.yaml")
	if len(list) > 0 || len(catalogs) != 2 {
		t.Fatalf("%d catalogs, %v", len(catalogs), list)
	}
	found := Check(catalogs)
	if len(found) != 2 || found[0].ID != "family-in-two-catalogs" || found[0].Place.Line == 0 {
		t.Errorf("%v", found)
	}
}

// TestLikeTheDemo: a file that would be one more of the demonstration catalog says of itself
// what that says; with another version it is a catalog of its own.
func TestLikeTheDemo(t *testing.T) {
	demo := demoCatalogs(t)[0]
	mine := strings.NewReplacer("maker: Test Works", "maker: "+demo.Maker, `version: "1"`,
		`version: "`+demo.Version+`"`).Replace(good(t))
	list := faults(mine)
	text := list.Error()
	if len(list) != 2 || list.Err() == nil || !strings.Contains(text, "date") || !strings.Contains(text, demo.Date) ||
		!strings.Contains(text, "source") || list[0].Place.Line == 0 {
		t.Errorf("%v", list)
	}
	same := strings.NewReplacer("date: 2026-01-31", "date: "+demo.Date, "source: invented for tests",
		"source: "+demo.Source).Replace(mine)
	if list := faults(same); len(list) > 0 {
		t.Errorf("with the same date and source: %v", list)
	}
	if list := faults(strings.Replace(mine, demo.Version, "7", 1)); len(list) > 0 {
		t.Errorf("with a version of its own: %v", list)
	}
}

// TestUnreadNumbers: a number in whose place another stands is reported at its line.
func TestUnreadNumbers(t *testing.T) {
	list := faults(strings.Replace(good(t), "mechanics: {stroke_angle: 65 deg,",
		"mechanics: {opening_efficiency: 1, stroke_angle: 65 deg,", 1))
	found := 0
	for _, m := range list {
		if m.ID == "mechanics-unread" && m.Severity == diag.Warning && strings.Contains(m.Text, "full_open_velocity") &&
			m.Place.Line > 0 {
			found++
		}
	}
	if found != 2 {
		t.Errorf("%v", list)
	}
}

// FuzzParse: any text is read, joined and checked, or refused in words.
func FuzzParse(f *testing.F) {
	text := good(f)
	f.Add(text)
	for _, tt := range badCatalogs {
		f.Add(strings.Replace(text, tt.old, tt.new, 1))
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, m := range faults(text) {
			if m.ID == "" || m.Text == "" {
				t.Errorf("a message without ID or text: %+v", m)
			}
		}
	})
}

// FuzzDatum: any value of any datum is used or refused in words, and what is used gives
// numbers.
func FuzzDatum(f *testing.F) {
	text := good(f)
	var values [][]int // where a value stands in the text
	for _, at := range regexp.MustCompile(`: ([^][{}\n,]+)`).FindAllStringSubmatchIndex(text, -1) {
		values = append(values, at[2:4])
	}
	for i, value := range []string{
		"0", "-1 m", "1e308 kg", "1e-300 m", "12..15 mm", "1.3 (1.0..2.0)", "NaN",
		"3 psi ± 200 %", "", "90 deg", "swing", "'", "1e9 mm",
	} {
		f.Add(uint16(7*i), value)
	}
	f.Fuzz(func(t *testing.T, which uint16, value string) {
		at := values[int(which)%len(values)]
		changed := text[:at[0]] + value + text[at[1]:]
		catalogs, list := LoadFiles(fstest.MapFS{"catalog.yaml": {Data: []byte(changed)}}, "catalog.yaml")
		if list.Err() != nil {
			return
		}
		for _, m := range Check(catalogs) {
			if m.ID == "" || m.Text == "" {
				t.Errorf("a message without ID or text: %+v", m)
			}
		}
		for _, family := range catalogs[0].Families {
			for _, it := range family.Items {
				for _, v := range []float64{
					it.FlowCoefficient.SI, it.ElementMass.SI, it.Bore.SI, it.Mass.SI,
					it.Rating.SI,
				} {
					if math.IsNaN(v) || math.IsInf(v, 0) {
						t.Errorf("%s: %g after %q", it.ID, v, value)
					}
				}
			}
		}
	})
}
