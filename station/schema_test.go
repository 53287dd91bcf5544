package station

import (
	"bytes"
	"os"
	"reflect"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"go.yaml.in/yaml/v4"

	"seatward/fluid"
	"seatward/internal/yamlfile"
	"seatward/quantity"
	"seatward/valve"
)

// schemaFile is the published form of a station file, for editors.
const schemaFile = "station.schema.json"

// The published schema is that of the Go types.
func TestSchemaFileIsFresh(t *testing.T) {
	got, err := yamlfile.Schema(File{}, "Seatward station file, form "+Form)
	if err != nil {
		t.Fatal(err)
	}
	golden(t, schemaFile, string(got)+"\n")
}

// The schema takes the examples and the starters, and refuses what it can see to be wrong.
func TestSchemaTakesTheExamples(t *testing.T) {
	schema := stationSchema(t)
	texts := map[string]string{"starter, US": Starter(quantity.US), "starter, SI": Starter(quantity.SI), "good": good}
	for name, data := range examples(t) {
		texts[name] = string(data)
	}
	for name, text := range texts {
		if err := schema.Validate(asAny(t, text)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, text := range []string{
		"units: US",
		"station: x\nunits: imperial",
		"station: x\nduty: {flow: 450}",
		"station: x\nzebra: 1",
		"station: x\nvalve: {size: 6 in, position: upwards}",
		"station: x\npumps: [{curve: [[1 gpm]]}]",
		"station: x\npumps: [{count: 2.5}]",
		"station: x\npumps: [{count: 0}]",
		"station: x\nevents: [{name: stop}]",
	} {
		if schema.Validate(asAny(t, text)) == nil {
			t.Errorf("the schema takes %q", text)
		}
	}
}

func stationSchema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	data, err := os.ReadFile(schemaFile)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource(schemaFile, doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile(schemaFile)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func asAny(t *testing.T, text string) any {
	t.Helper()
	var value any
	if err := yaml.Load([]byte(text), &value); err != nil {
		t.Fatal(err)
	}
	return value
}

// The words that a file may write are those of the types that the station holds.
func TestWordsAreThoseOfTheirTypes(t *testing.T) {
	for _, c := range []struct {
		of    reflect.Type
		field string
		words []string
	}{
		{reflect.TypeFor[FluidFile](), "Kind", fluid.ServiceWords(fluid.Services())},
		{reflect.TypeFor[ValveFile](), "Position", strings.Split(valve.PositionWords(valve.Positions(), "|"), "|")},
		{reflect.TypeFor[File](), "Units", []string{quantity.US.String(), quantity.SI.String()}},
	} {
		f, ok := c.of.FieldByName(c.field)
		if got := f.Tag.Get("one"); !ok || got != strings.Join(c.words, "|") {
			t.Errorf("%s may be %q, want %q", c.field, got, c.words)
		}
	}
}
