package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"go.yaml.in/yaml/v4"
)

// published compiles a schema as the command publishes it.
func published(t *testing.T, name string) *jsonschema.Schema {
	t.Helper()
	out, errOut, code := called(t, "seatward schema "+name)
	if code != answered {
		t.Fatal(errOut)
	}
	doc, err := jsonschema.UnmarshalJSON(strings.NewReader(out))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource(name+".json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile(name + ".json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestAnswersFitTheirSchemas: what --json prints parses, fits the schema that is
// published for it, and holds finite numbers only.
func TestAnswersFitTheirSchemas(t *testing.T) {
	t.Chdir("../..")
	files, err := filepath.Glob("examples/*.station.yaml")
	if err != nil || len(files) < 4 {
		t.Fatalf("%d examples, %v", len(files), err)
	}
	lines := map[string][]string{}
	for _, f := range files {
		lines["study"] = append(lines["study"], "seatward select --json "+f,
			"seatward select --json --units SI --valve swing/6in "+f)
		lines["loss"] = append(lines["loss"], "seatward loss --json --valve flap/6in "+f)
		lines["closing"] = append(lines["closing"], "seatward closing --json --valve flap/6in "+f)
		lines["leak"] = append(lines["leak"], "seatward leak --json --diameter '8 ft' --record examples/levels.csv "+f)
		lines["diagnosis"] = append(lines["diagnosis"], "seatward diagnose --json --seen starts-up --valve flap/6in "+f)
		lines["explain"] = append(lines["explain"], "seatward explain --json "+f+" 'flap/6in head_rise'")
	}
	lines["loss"] = append(lines["loss"], "seatward loss --json --valve ball-cage/6in/floating --position horizontal")
	lines["closing"] = append(lines["closing"], "seatward closing --json --valve axial-spring/6in")
	lines["leak"] = append(lines["leak"], "seatward leak --json --area 4m2 --step 1mm --shut '6cm in 10min'")
	lines["diagnosis"] = append(lines["diagnosis"], "seatward diagnose --json --found spin=backward")
	lines["closings"] = []string{
		"seatward closing --json --all",
		"seatward closing --json --all --size 'DN900' --deceleration '6 m/s2'",
	}
	lines["log"] = []string{
		"seatward log --json examples/stop.log.csv",
		"seatward log --json examples/stop.log.csv --station examples/layout.station.yaml",
	}
	lines["configure"] = []string{
		"seatward configure --json ball-cage/4in variant=floating",
		"seatward configure --json swing 'service=drinking water' --temperature '20 C' --reach '3 m'",
	}
	lines["materials"] = []string{"seatward materials --json --service sludge", "seatward materials --json"}
	lines["fit"] = []string{
		"seatward fit --json --bolt-circle '295 mm' --bolts 12 --face-to-face '500 mm'",
		"seatward fit --json --flange-od '9 mm'",
	}
	lines["standards"] = []string{
		"seatward standards --json ball-pocket/6in",
		"seatward standards --json swing/30in --position horizontal",
	}
	lines["packs"] = []string{"seatward rules --packs --json"}
	lines["diff"] = []string{"seatward catalog diff --json catalog/demo/swing.yaml catalog/demo/flap.yaml --station examples/first-call.station.yaml"}
	lines["clause"] = []string{"seatward standards --json ball-pocket/6in --text README.md"}
	lines["papers"] = []string{"seatward write test-form --json --quick -o " + t.TempDir() +
		" examples/layout.station.yaml"}
	for name, calls := range lines {
		schema := published(t, name)
		for _, line := range calls {
			out, errOut, code := called(t, line)
			if code == badInput {
				t.Errorf("%s: %s", line, errOut)
				continue
			}
			var doc any
			if err := json.Unmarshal([]byte(out), &doc); err != nil {
				t.Errorf("%s: %v", line, err)
				continue
			}
			if err := schema.Validate(doc); err != nil {
				t.Errorf("%s: %v", line, err)
			}
			if at := notFinite("", doc); at != "" {
				t.Errorf("%s: the number at %s is not finite", line, at)
			}
		}
	}
}

// notFinite gives the place of the first number that is none.
func notFinite(at string, doc any) string {
	switch v := doc.(type) {
	case float64:
		most := 1e15
		if strings.HasSuffix(at, "_ns") { // instants, since 1970
			most = 1e19
		}
		if math.IsNaN(v) || math.IsInf(v, 0) || math.Abs(v) > most {
			return at
		}
	case []any:
		for i, x := range v {
			if found := notFinite(fmt.Sprintf("%s[%d]", at, i), x); found != "" {
				return found
			}
		}
	case map[string]any:
		for k, x := range v {
			if found := notFinite(at+"."+k, x); found != "" {
				return found
			}
		}
	}
	return ""
}

// TestMachineContract: the keys that other programs rely on are there.
func TestMachineContract(t *testing.T) {
	t.Chdir("../..")
	out, errOut, code := called(t, "seatward select --json examples/study.station.yaml")
	if code == badInput {
		t.Fatal(errOut)
	}
	var doc map[string]any
	if err := json.Unmarshal([]byte(out), &doc); err != nil {
		t.Fatal(err)
	}
	if doc["schema"] != "seatward.study/2" {
		t.Errorf("schema is %v", doc["schema"])
	}
	for _, path := range []string{
		"station.name", "assumed[0].path", "assumed[0].value", "assumed[0].unit", "assumed[0].low", "assumed[0].high",
		"assumed[0].reason",
		"operating_points[0].pumps_running", "operating_points[0].level", "operating_points[0].flow_m3_s",
		"operating_points[0].head_m", "operating_points[0].power_kw",
		"candidates[0].id", "candidates[0].family", "candidates[0].size", "candidates[0].verdict",
		"candidates[0].findings[0].id", "candidates[0].findings[0].severity", "candidates[0].findings[0].text",
		"candidates[0].findings[0].basis",
		"candidates[0].loss_m", "candidates[0].velocity_m_s", "candidates[0].full_open_velocity_m_s",
		"candidates[0].energy_kwh_per_year",
		"candidates[0].slam.class", "candidates[0].slam.method", "candidates[0].slam.deceleration_m_s2",
		"candidates[0].slam.reverse_velocity_m_s.low", "candidates[0].slam.reverse_velocity_m_s.best",
		"candidates[0].slam.reverse_velocity_m_s.high", "candidates[0].slam.head_rise_m.low",
		"candidates[0].slam.head_rise_m.best", "candidates[0].slam.head_rise_m.high",
		"candidates[0].slam.decisive_input",
		"candidates[0].slam.event", "candidates[0].slam.event_title", "candidates[0].slam.median_m_s",
		"candidates[0].slam.chances.quiet", "candidates[0].slam.chances.audible",
		"candidates[0].slam.chances.harmful", "candidates[0].slam.resolved", "candidates[0].slam.comes_to_rest",
		"candidates[0].slam.runs",
		"rank[0]", "references[0]", "cautions[0].text",
	} {
		if !stands(doc, path) {
			t.Errorf("%s is not there", path)
		}
	}
	if ids := doc["rank"].([]any); ids[0] != doc["candidates"].([]any)[0].(map[string]any)["id"] {
		t.Errorf("rank begins with %v, candidates do not", ids[0])
	}
}

// stands follows a path of keys and first elements.
func stands(doc any, path string) bool {
	for _, key := range strings.Split(strings.ReplaceAll(path, "[0]", ".0"), ".") {
		switch v := doc.(type) {
		case map[string]any:
			doc = v[key]
		case []any:
			if len(v) == 0 {
				return false
			}
			doc = v[0]
		}
		if doc == nil {
			return false
		}
	}
	return true
}

// TestFilesFitTheirSchemas: the examples, the starters and the demonstration catalog fit
// the schemas by which editors complete them; a misspelled key does not.
func TestFilesFitTheirSchemas(t *testing.T) {
	t.Chdir("../..")
	texts := map[string][]string{}
	for name, pattern := range map[string]string{
		"station": "examples/*.station.yaml", "map": "examples/*.map.yaml",
		"catalog": "catalog/demo/*.yaml", "rules": "rules/*.yaml",
	} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			t.Fatalf("%s: %d files, %v", pattern, len(files), err)
		}
		for _, f := range files {
			data, err := (&app{}).read(f)
			if err != nil {
				t.Fatal(err)
			}
			texts[name] = append(texts[name], string(data))
		}
	}
	for _, sys := range []string{"US", "SI"} {
		out, _, _ := called(t, "seatward new --units "+sys)
		texts["station"] = append(texts["station"], out)
	}
	for name, list := range texts {
		schema := published(t, name)
		for _, text := range list {
			if err := schema.Validate(decoded(t, text)); err != nil {
				t.Errorf("%s:\n%.200s\n%v", name, text, err)
			}
		}
	}
	if err := published(t, "station").Validate(decoded(t, "station: x\nvalv: {size: 6 in}")); err == nil {
		t.Error("a misspelled key fits the schema of station files")
	}
}

// decoded reads YAML as an editor does before it looks at the schema.
func decoded(t *testing.T, text string) any {
	t.Helper()
	var doc any
	if err := yaml.Unmarshal([]byte(text), &doc); err != nil {
		t.Fatal(err)
	}
	data, err := json.Marshal(doc)
	if err != nil {
		t.Fatal(err)
	}
	out, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	return out
}
