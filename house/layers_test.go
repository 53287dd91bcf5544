package house

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
)

// lastCalculating is the highest layer that only calculates: above it stand
// the packages that people and machines look at.
const lastCalculating = 7

// place is where a package stands in the house.
type place struct {
	layer   int
	upTo    int      // it may import every package of the layers 0 to upTo
	also    []string // and these
	modules []string // and from these outside modules; layers 8 and up may use any
	files   bool     // its job is to read a file, so it may use os
	why     string   // why it may import no more
}

// none says that a package imports nothing of ours.
const none = -1

// numerics may be used by the physics and the solvers.
const numerics = "gonum.org/v1/gonum"

// plan is the house. Imports run down only; a package that is not listed here
// fails, so that its place is thought about before it is built.
var plan = map[string]place{
	"quantity": {0, none, nil, nil, false, "everything stands on units, so units stand on nothing"},

	"internal/trade": {0, none, nil, nil, false, "what people say is a list of words; who reads them is not its business"},

	"basis": {1, 0, nil, nil, false, "a value's record must be readable without any physics"},
	"diag":  {1, 0, nil, nil, false, "a message is data; who raises it is not its business"},

	"fluid": {2, 1, nil, []string{numerics}, false, "fluid properties serve strangers without stations or valves"},
	"pipe":  {2, 1, []string{"fluid"}, []string{numerics}, false, "pipes serve strangers without stations or valves"},
	"pump": {
		2, 1,
		[]string{"fluid", "internal/root"},
		[]string{numerics},
		false,
		"pumps serve strangers without stations or valves",
	},
	"valve": {
		2, 1,
		[]string{"fluid", "internal/root", "internal/draw"},
		[]string{numerics},
		false,
		"a valve's mechanics must not know who sells it or where it stands",
	},

	"dimension": {2, 1, nil, nil, false, "what standards fix of flanges and lengths depends on no product"},
	"internal/clause": {
		2, 1, nil, nil, false,
		"what a specification asks is text and numbers; what is offered against it is not its business",
	},
	"lift": {2, 1, nil, nil, false, "what a person may lift depends on no valve"},

	"internal/notices": {0, none, nil, nil, false, "the licenses of what is linked in are one text"},
	"internal/promise": {0, none, nil, nil, false, "two schemas are held against each other, whatever they are of"},
	"internal/program": {
		0, none, nil, nil, false,
		"every answer names the program that gave it, so the name stands under all of them",
	},

	"internal/root": {0, none, nil, nil, false, "where a function is zero depends on nothing that it stands for"},
	"internal/pool": {
		0, none, nil,
		[]string{"golang.org/x/sync"},
		false,
		"doing things side by side depends on none of them",
	},
	"internal/lsq": {
		2, none, nil,
		[]string{numerics},
		false,
		"least squares are numbers in, numbers out, whatever they fit",
	},
	"internal/moc": {
		2, none, nil,
		[]string{"golang.org/x/sys"},
		false,
		"the hot loop of the transient solver is numbers in arrays and knows no pipe",
	},

	"steady": {
		3, 1,
		[]string{"internal/root"},
		[]string{numerics},
		false,
		"the solver meets devices through interfaces only, so that closed forms alone can test it",
	},
	"transient": {
		3, 1,
		[]string{"internal/moc", "internal/root"},
		[]string{numerics},
		false,
		"the solver meets devices through interfaces only, so that closed forms alone can test it",
	},

	"internal/yamlfile": {
		2, 1,
		[]string{"internal/trade"},
		[]string{"go.yaml.in/yaml/v4", "github.com/invopop/jsonschema"},
		true,
		"it reads files for the layers above and knows none of their contents; the YAML and schema libraries stay behind it",
	},

	"internal/table": {
		2, 1, nil,
		[]string{"github.com/xuri/excelize/v2", "golang.org/x/text"},
		true,
		"cells of a spreadsheet are texts; what they mean is not its business",
	},
	"internal/exchange": {
		5, 4,
		[]string{"internal/table", "internal/yamlfile"},
		nil, false,
		"tables and catalog files say the same in two forms; the reading of either stands elsewhere",
	},
	"internal/curve": {
		3, 1,
		[]string{"internal/table"},
		nil, false,
		"a pasted curve is a table whose columns are quantities; whose curve it is is not its business",
	},
	"internal/fieldlog": {
		3, 1,
		[]string{"internal/table", "internal/yamlfile"},
		nil, false,
		"a log is a table of times and values; what happened in it is for the layers above",
	},
	"internal/trace": {
		3, 1, nil, nil, false,
		"events are found in readings at times, whatever file or run they come from",
	},
	"internal/inquiry": {
		6, 5,
		[]string{"internal/trade"},
		nil, false,
		"a letter becomes fields of a station file; what follows from them is for the layers above",
	},
	"internal/condition": {
		3, 1,
		[]string{"internal/yamlfile"},
		[]string{"cel.dev/cel-go"},
		false,
		"conditions of data files are read in one place; the CEL library stays behind it",
	},
	"internal/draw": {
		2, none, nil,
		[]string{numerics},
		false,
		"how uncertain numbers are drawn depends on none of the things they measure",
	},
	"internal/legal": {2, none, nil, nil, false, "which choices go together is a matter of numbers, not of valves"},

	"leakback": {
		3, 2, nil, nil, false,
		"what comes back is read off levels and pump quadrants; whose station it is is not its business",
	},
	"diagnosis": {
		4, 1,
		[]string{"internal/yamlfile", "internal/condition"},
		nil, false,
		"causes and tests are data: they do not know how a station's numbers come about",
	},
	"internal/levels": {
		3, 1,
		[]string{"internal/table", "leakback"},
		nil, false,
		"a record of levels is a table; what follows from it stands elsewhere",
	},
	"internal/site": {
		8, 7, nil, nil, false,
		"numbers that the field asks of a station are read from its study",
	},

	"catalog": {
		4, 2,
		[]string{"internal/yamlfile", "internal/condition", "internal/legal", "internal/pool"},
		nil, true,
		"products are data: they do not know stations or verdicts",
	},
	"rules": {
		4, 1,
		[]string{"internal/yamlfile", "internal/condition"},
		nil, true,
		"rules are data: they do not know what they will judge",
	},

	"station": {
		5, 2,
		[]string{"catalog", "rules", "internal/yamlfile"},
		nil, true,
		"a station is facts: it does not solve and does not judge",
	},

	"standards": {
		5, 4,
		[]string{"internal/yamlfile", "internal/condition", "internal/clause"},
		nil, false,
		"whether a standard covers a valve depends on the product and where it stands",
	},

	"fit": {5, 4, nil, nil, false, "whether a valve goes in depends on dimensions and products, not on stations"},

	"plant": {
		6, 5,
		[]string{"internal/draw", "internal/pool"},
		nil, false,
		"what a station does in time depends on no verdict",
	},

	"judge": {6, 5, []string{"plant"}, nil, false, "a verdict is reached from facts and results, whoever asked for it"},

	"study": {
		7, 6,
		[]string{"internal/pool"},
		[]string{"github.com/invopop/jsonschema"},
		false,
		"a study is what everything shown is made from, so it shows nothing itself",
	},

	"internal/calibrate": {
		7, 6,
		[]string{"internal/lsq", "internal/draw", "internal/pool"},
		[]string{numerics},
		false,
		"a fit gives numbers and curves; who draws and keeps them is above it",
	},

	"internal/figure": {8, none, nil, nil, true, "a line chart on paper knows lines and labels, not stations"},
	"internal/chart":  {8, 7, []string{"internal/figure"}, nil, true, "a figure is drawn from a study"},
	"internal/document": {
		8, 7,
		[]string{"internal/chart", "internal/figure", "internal/yamlfile"},
		nil, true,
		"a document says what a study holds, whatever the format",
	},
	"internal/logpage": {
		8, 7,
		[]string{"internal/chart"},
		nil, false,
		"a log as a page says what was found in it, and finds nothing itself",
	},
	"internal/render/text": {
		8, 7,
		[]string{"internal/chart", "internal/document", "internal/site"},
		nil, true,
		"a format writes what a document says",
	},
	"internal/render": {
		8, 7,
		[]string{
			"internal/document", "internal/render/pdf", "internal/render/docx", "internal/render/xlsx",
			"internal/render/markup",
		},
		nil, true, "it names the formats and writes none itself",
	},
	"internal/render/pdf": {
		8, 7,
		[]string{"internal/document", "internal/figure", "internal/render/code", "internal/render/wording"},
		nil, true,
		"a format writes what a document says",
	},
	"internal/render/markup": {
		8, 7,
		[]string{"internal/document", "internal/figure", "internal/render/code", "internal/render/wording"},
		nil, true,
		"a format writes what a document says",
	},
	"internal/render/docx": {
		8, 7,
		[]string{"internal/document", "internal/figure", "internal/render/code", "internal/render/wording"},
		nil, true,
		"a format writes what a document says",
	},
	"internal/render/xlsx": {
		8, 7,
		[]string{"internal/document", "internal/figure", "internal/render/code", "internal/render/wording"},
		nil, true,
		"a format writes what a document says",
	},
	"internal/render/wording": {
		8, 7,
		[]string{"internal/document"},
		nil, false,
		"what the formats have in common is in the document alone",
	},
	"internal/render/code": {8, none, nil, nil, false, "a square code holds any text"},
	"internal/render/sample": {
		8, 7,
		[]string{"internal/document", "internal/figure"},
		nil, false,
		"the samples of the tests are documents, whatever the format",
	},
	"internal/generate": {
		8, 2, nil, nil, false,
		"the stations of the tests are files; what is answered for them is not its business",
	},
	"internal/soak": {
		8, 7,
		[]string{"internal/generate"},
		nil, true,
		"many stations are asked; nothing is shown to a user",
	},
	"internal/store": {8, 7, nil, nil, true, "kept studies know no page and no command"},
	"internal/desk": {
		8, 7,
		[]string{"internal/chart", "internal/figure", "internal/site"},
		nil, false,
		"what the workbench asks is answered from studies; it knows no page and no network",
	},

	"examples": {0, none, nil, nil, false, "example files are texts; who reads them stands above"},

	"internal/web": {9, 8, nil, nil, true, "the pages show what the layers below have made"},
	"cmd/seatward": {9, 8, []string{"internal/web"}, nil, true, "a command only calls"},

	"test/stations": {9, 8, nil, nil, true, "a command only calls"},
	"test/hostile":  {9, 8, nil, nil, true, "a command only calls; it asks the program from outside, as a user does"},

	"truth": {8, 7, nil, nil, true, "outside numbers are held against the calculating packages, not against pages"},
	"house": {0, none, nil, nil, true, "the rules read the source and run none of it"},
}

// TestLayers reads what every shipped file imports.
func TestLayers(t *testing.T) {
	for _, s := range sources(t) {
		p, listed := plan[s.dir]
		if !listed {
			t.Errorf("%s: package folder %q is not in the plan of the house: decide its layer and add it to house/layers_test.go and ARCHITECTURE.md", s.name, s.dir)
			continue
		}
		for _, imported := range s.imports() {
			if fault := p.forbids(s, imported); fault != "" {
				t.Errorf("%s imports %q: %s", s.name, imported, fault)
			}
		}
	}
}

// forbids says why a file of p must not import the path; empty when it may.
// Tests may use any outside module: the pins in go.mod hold those.
func (p place) forbids(s source, imported string) string {
	own, isOwn := strings.CutPrefix(imported, module+"/")
	switch {
	case isOwn && s.test:
		return p.testForbids(s, own)
	case isOwn && !p.reaches(s.dir, own):
		return fmt.Sprintf("%s. Move what is needed down to %s, or hand it in from above", p.why, downTo(p.upTo))
	case !isOwn && !s.test && p.layer <= lastCalculating && strings.Contains(strings.Split(imported, "/")[0], ".") &&
		!p.allowsModule(imported):
		return "the calculating packages stay free of outside modules, so that whoever imports them gets nothing else; if it must be, allow it in house/layers_test.go with its reason"
	}
	return ""
}

// reaches reports whether a package in folder dir may import our package own.
func (p place) reaches(dir, own string) bool {
	target, listed := plan[own]
	return own == dir || slices.Contains(p.also, own) || listed && own != "house" && target.layer <= p.upTo
}

// testForbids holds a test to the layers as well, but lets it stand on any
// package of its own layer or below.
func (p place) testForbids(s source, own string) string {
	target, listed := plan[own]
	if p.reaches(s.dir, own) || listed && target.layer <= p.layer {
		return ""
	}
	return "a test may use packages of its own layer or below; move it to the higher package that it really tests"
}

func (p place) allowsModule(imported string) bool {
	return slices.ContainsFunc(p.modules,
		func(m string) bool { return imported == m || strings.HasPrefix(imported, m+"/") })
}

func downTo(layer int) string {
	if layer == none {
		return "this package"
	}
	return fmt.Sprintf("layer %d", layer)
}

// TestPlan holds the plan itself to its own rule: imports run down only.
func TestPlan(t *testing.T) {
	for dir, p := range plan {
		if p.why == "" {
			t.Errorf("plan %q gives no reason: say why it may import no more", dir)
		}
		if p.upTo >= p.layer {
			t.Errorf("plan %q stands in layer %d and may import layer %d: imports run down only", dir, p.layer, p.upTo)
		}
		for _, also := range p.also {
			if target, listed := plan[also]; !listed || target.layer > p.layer {
				t.Errorf("plan %q may also import %q, which is not listed or stands higher", dir, also)
			}
		}
	}
	if cycle := firstCycle(); cycle != nil {
		t.Errorf("the plan allows a cycle: %v", cycle)
	}
}

// firstCycle looks for a circle among the extra imports of the plan.
func firstCycle() []string {
	var visit func(dir string, path []string) []string
	visit = func(dir string, path []string) []string {
		if slices.Contains(path, dir) {
			return append(path, dir)
		}
		for _, also := range plan[dir].also {
			if cycle := visit(also, append(slices.Clone(path), dir)); cycle != nil {
				return cycle
			}
		}
		return nil
	}
	for _, dir := range slices.Sorted(maps.Keys(plan)) {
		if cycle := visit(dir, nil); cycle != nil {
			return cycle
		}
	}
	return nil
}

// TestLayersCatch shows that the rule finds what it is for.
func TestLayersCatch(t *testing.T) {
	for _, tt := range []struct {
		name, imported string
		allowed        bool
	}{
		{"quantity/a.go", "strings", true},
		{"quantity/a.go", "seatward/basis", false},
		{"pipe/a.go", "seatward/fluid", true},
		{"pipe/a.go", "seatward/pump", false},
		{"pipe/a.go", "gonum.org/v1/gonum/optimize", true},
		{"basis/a.go", "gonum.org/v1/gonum/optimize", false},
		{"steady/a.go", "seatward/pipe", false},
		{"steady/a_test.go", "seatward/pipe", true},
		{"steady/a_test.go", "seatward/station", false},
		{"steady/a_test.go", "pgregory.net/rapid", true},
		{"station/a.go", "seatward/steady", false},
		{"station/a.go", "go.yaml.in/yaml/v4", false},
		{"judge/a.go", "seatward/study", false},
		{"study/a.go", "seatward/judge", true},
		{"truth/a.go", "seatward/valve", true},
		{"truth/a.go", "seatward/internal/web", false},
		{"cmd/seatward/a.go", "seatward/internal/web", true},
		{"cmd/seatward/a.go", "github.com/spf13/cobra", true},
	} {
		s := parse(t, tt.name, "package a\n")
		if fault := plan[s.dir].forbids(s, tt.imported); (fault == "") != tt.allowed {
			t.Errorf("%s importing %s: fault %q, want allowed %v", tt.name, tt.imported, fault, tt.allowed)
		}
	}
}
