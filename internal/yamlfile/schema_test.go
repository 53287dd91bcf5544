package yamlfile

import (
	"bytes"
	"slices"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"go.yaml.in/yaml/v4"

	"seatward/quantity"
)

func compile(t *testing.T) *jsonschema.Schema {
	t.Helper()
	data, err := Schema(sample{}, "Sample")
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("sample.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("sample.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The schema takes what the reader takes, and refuses what it can see to be wrong.
func TestSchemaAgreesWithTheReader(t *testing.T) {
	schema := compile(t)
	for text, good := range map[string]bool{
		"word: red": true,
		"word: red\nflow: 450 gpm\nshare: 0.7\ncount: 3\nfactor: 2..3\nsaid: yes\nsize: DN150": true,
		"word: red\nshare: 70 %\nsaid: true\ncurve: [[450 gpm, 62 ft]]\nfree: {90 elbow: 2}":   true,
		"word: red\nparts: [{name: 5}]\ninside: {text: true}":                                  true,
		"flow: 450 gpm":                          false,
		"word: blue":                             false,
		"word: red\nflow: 450":                   false,
		"word: red\ncount: 2.5":                  false,
		"word: red\ncount: 12":                   false,
		"word: red\ncurve: [[450 gpm]]":          false,
		"word: red\nzebra: 1":                    false,
		"word: red\nparts: [{}]":                 false,
		"word: red\nparts: [{name: a, Set: no}]": false,
		"word: red\ninside: {Place: {}}":         false,
	} {
		var value any
		if err := yaml.Load([]byte(text), &value); err != nil {
			t.Fatal(err)
		}
		if err := schema.Validate(value); (err == nil) != good {
			t.Errorf("%q: the schema says %v", text, err)
		}
		var s sample
		if list := Decode("a.yaml", []byte(text), &s); (list == nil) != good {
			t.Errorf("%q: the reader says %v", text, list)
		}
	}
}

func TestSchemaSaysMeaningAndUnits(t *testing.T) {
	flow := compile(t).Properties["flow"]
	if flow.Description != "A flow; flow in gpm, L/s, m³/h, MGD" {
		t.Errorf("flow is described as %q", flow.Description)
	}
	if !slices.Contains(flow.Examples, any("450 gpm")) {
		t.Errorf("flow has the examples %v", flow.Examples)
	}
}

func TestWrittenExamplesCanBeRead(t *testing.T) {
	for kind, texts := range written {
		for _, text := range texts {
			if _, err := quantity.ParseRange(kind, text); err != nil {
				t.Errorf("%s: %v", kind, err)
			}
		}
	}
}
