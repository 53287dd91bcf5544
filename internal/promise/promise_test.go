package promise

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"
)

func parsed(t *testing.T, text string) Schema {
	t.Helper()
	var s Schema
	if err := json.Unmarshal([]byte(text), &s); err != nil {
		t.Fatalf("%v: %s", err, text)
	}
	return s
}

// form is a schema of an object with some of everything.
const form = `{
	"type": "object", "additionalProperties": false, "required": ["a"],
	"properties": {
		"a": {"type": "string"},
		"n": {"type": "integer", "minimum": 0, "maximum": 9},
		"word": {"enum": ["x", "y"]},
		"either": {"oneOf": [{"type": "string"}, {"type": "number"}]},
		"list": {"type": "array", "items": {"$ref": "#/$defs/inner"}, "maxItems": 3},
		"pair": {"type": "array", "prefixItems": [{"type": "string"}, {"type": "string"}]},
		"map": {"type": "object", "additionalProperties": {"type": "number"}},
		"any": true
	},
	"$defs": {"inner": {"type": "object", "additionalProperties": false, "properties": {"z": {"type": "string"}, "again": {"$ref": "#/$defs/inner"}}}}
}`

// TestBreaks changes the form in one place each, and tells which promise that breaks.
func TestBreaks(t *testing.T) {
	for _, tt := range []struct {
		name, from, to    string
		written, answered string // part of what is said; empty where nothing is
	}{
		{"nothing", ``, ``, "", ""},
		{"field added", `"a": {"type": "string"},`, `"a": {"type": "string"}, "b": {"type": "string"},`, "", ""},
		{"field gone", `"any": true`, `"other": true`, "/any: any type", `field "any" is gone`},
		{"field required", `["a"]`, `["a", "n"]`, `field "n" was not required`, ""},
		{"field optional", `["a"]`, `[]`, "", `field "a" was always there`},
		{"type changed", `"a": {"type": "string"}`, `"a": {"type": "boolean"}`, "/a: type string", "/a: type boolean"},
		{"type widened", `"type": "integer"`, `"type": "number"`, "", "/n: type number"},
		{"type narrowed", `{"type": "number"}}`, `{"type": "integer"}}`, "/map/*: type number", ""},
		{"null may come", `"a": {"type": "string"}`, `"a": {"type": ["string", "null"]}`, "", "/a: type null"},
		{"word gone", `["x", "y"]`, `["x"]`, "/word: y was legal before", ""},
		{"word added", `["x", "y"]`, `["x", "y", "z"]`, "", ""},
		{"words limited", `"a": {"type": "string"}`, `"a": {"enum": ["p"]}`, "/a: any word was legal", ""},
		{
			"alternative gone", `[{"type": "string"}, {"type": "number"}]`, `[{"type": "string"}]`,
			"/either: alternative 2 of 2", "",
		},
		{
			"alternative added", `[{"type": "string"}, {"type": "number"}]`,
			`[{"type": "string"}, {"type": "number"}, {"type": "array"}]`, "", "/either: alternative 3 of 3",
		},
		{
			"alternatives folded", `{"oneOf": [{"type": "string"}, {"type": "number"}]}`, `{"type": ["string", "number"]}`,
			"", "/either: alternative 1 of 1",
		},
		{"limit closer", `"maximum": 9`, `"maximum": 8`, "/n: maximum is 8 now", ""},
		{"limit wider", `"minimum": 0`, `"minimum": -1`, "", ""},
		{
			"limit new", `"additionalProperties": {"type": "number"}`,
			`"additionalProperties": {"type": "number", "minimum": 1}`, "/map/*: minimum is 1", "",
		},
		{"pattern new", `"a": {"type": "string"}`, `"a": {"type": "string", "pattern": "^q"}`, "/a: pattern is ^q", ""},
		{"shorter list", `"maxItems": 3`, `"maxItems": 2`, "/list: maxItems is 2", ""},
		{
			"in a reference", `"z": {"type": "string"}`, `"z": {"type": "number"}`, "/list/-/z: type string",
			"/list/-/z: type number",
		},
		{
			"in a pair", `{"type": "string"}, {"type": "string"}]`, `{"type": "string"}, {"type": "number"}]`,
			"/pair/1: type string", "/pair/1: type number",
		},
		{"any no more", `"any": true`, `"any": {"type": "string"}`, "/any: any type", ""},
		{"never", `"any": true`, `"any": false`, "/any: any type", ""},
		{
			"map given a named field", `"type": "object", "additionalProperties": {"type": "number"}`,
			`"type": "object", "properties": {"q": {"type": "string"}}, "additionalProperties": {"type": "number"}`,
			"/map/q: type number", "",
		},
		{
			"a word that is not known here", `"any": true`, `"any": {"not": {"type": "string"}}`,
			`keyword "not" cannot be compared`, `keyword "not" cannot be compared`,
		},
	} {
		if !strings.Contains(form, tt.from) {
			t.Fatalf("%s: the form has no %s", tt.name, tt.from)
		}
		older, newer := parsed(t, form), parsed(t, strings.Replace(form, tt.from, tt.to, 1))
		holds(t, tt.name+", written", Written(older, newer, older, newer), tt.written)
		holds(t, tt.name+", answered", Answered(older, newer, older, newer), tt.answered)
	}
}

// holds wants one of the faults to say so, or none to be there.
func holds(t *testing.T, name string, faults []string, want string) {
	t.Helper()
	if want == "" && len(faults) > 0 || want != "" &&
		!slices.ContainsFunc(faults, func(f string) bool { return strings.Contains(f, want) }) {
		t.Errorf("%s: %q, want %q", name, faults, want)
	}
}

// TestNullable: alternatives with references that come back to themselves end.
func TestNullable(t *testing.T) {
	const text = `{"$ref": "#/$defs/node", "$defs": {"node": {"type": "object", "properties":
		{"next": {"oneOf": [{"$ref": "#/$defs/node"}, {"type": "null"}]}, "v": {"type": "number"}}}}}`
	older, newer := parsed(t, text), parsed(t, strings.Replace(text, "number", "string", 1))
	holds(t, "the same", Written(older, older, older, older), "")
	holds(t, "changed", Written(older, newer, older, newer), "/v: type number")
}

const interface1 = `{"paths": {"/a/{id}": {"post": {
	"parameters": [{"name": "id", "in": "path", "required": true, "schema": {"type": "string"}}, {"name": "q", "in": "query", "schema": {"enum": ["0", "1"]}}],
	"requestBody": {"required": true, "content": {"application/json": {"schema": {"$ref": "#/components/schemas/In"}}}},
	"responses": {"200": {"content": {"application/json": {"schema": {"$ref": "#/components/schemas/Out"}}}}, "default": {"description": "x"}}}}},
	"components": {"schemas": {
		"In": {"type": "object", "properties": {"text": {"type": "string"}}, "additionalProperties": false},
		"Out": {"type": "object", "properties": {"answer": {"type": "string"}}, "required": ["answer"]}}}}`

func TestAPI(t *testing.T) {
	for _, tt := range []struct{ name, from, to, want string }{
		{"nothing", ``, ``, ""},
		{"address added", `"paths": {`, `"paths": {"/b": {"get": {}},`, ""},
		{"address gone", `"/a/{id}"`, `"/b/{id}"`, "POST /a/{id}: it is gone"},
		{"method gone", `"post"`, `"put"`, "POST /a/{id}: it is gone"},
		{"status gone", `"200"`, `"201"`, "POST /a/{id} 200: application/json is gone"},
		{
			"body refused", `"text": {"type": "string"}`, `"text": {"type": "number"}`,
			"POST /a/{id} body: /text: type string",
		},
		{
			"answer changed", `"answer": {"type": "string"}`, `"answer": {"type": "number"}`,
			"POST /a/{id} 200: /answer: type number",
		},
		{"parameter gone", `"name": "q"`, `"name": "r"`, `parameter "q" is gone`},
		{"parameter narrowed", `["0", "1"]`, `["0"]`, `parameter "q", the document: 1 was legal before`},
		{"parameter required", `"in": "query",`, `"in": "query", "required": true,`, `parameter "q" is required now`},
	} {
		if !strings.Contains(interface1, tt.from) {
			t.Fatalf("%s: the interface has no %s", tt.name, tt.from)
		}
		holds(t, tt.name, API(parsed(t, interface1), parsed(t, strings.Replace(interface1, tt.from, tt.to, 1))),
			tt.want)
	}
	without := strings.Replace(interface1,
		`"requestBody": {"required": true, "content": {"application/json": {"schema": {"$ref": "#/components/schemas/In"}}}},`, "", 1)
	holds(t, "body required", API(parsed(t, without), parsed(t, interface1)), "a body is required now")
	holds(t, "body gone", API(parsed(t, interface1), parsed(t, without)), "body: application/json is gone")
}
