package study

import (
	"encoding/json"

	"github.com/invopop/jsonschema"
)

// JSONSchema is the JSON Schema (draft 2020-12) of the machine form of a Study.
func JSONSchema() ([]byte, error) {
	r := &jsonschema.Reflector{Anonymous: true, ExpandedStruct: true}
	s := r.Reflect(&JSON{})
	s.Title = "Answer of seatward select, form " + Schema
	return json.MarshalIndent(s, "", "  ")
}
