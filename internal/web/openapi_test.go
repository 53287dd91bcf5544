package web

import (
	"bytes"
	"fmt"
	"net/http"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"github.com/invopop/jsonschema"
	valid "github.com/santhosh-tekuri/jsonschema/v6"

	"seatward/examples"
)

// specification is the OpenAPI document, by which answers are judged.
type specification struct {
	doc map[string]any
	c   *valid.Compiler
}

const specName = "mem:///openapi.json"

func compiled(t testing.TB, f *fixture) *specification {
	t.Helper()
	_, answer := f.asked("GET", "/api/openapi.json", "")
	doc, err := valid.UnmarshalJSON(strings.NewReader(answer))
	if err != nil {
		t.Fatal(err)
	}
	c := valid.NewCompiler()
	c.AssertFormat()
	if err := c.AddResource(specName, doc); err != nil {
		t.Fatal(err)
	}
	return &specification{doc.(map[string]any), c}
}

var escaper = strings.NewReplacer("~", "~0", "/", "~1")

// at is the part of the document at a place.
func (s *specification) at(keys ...string) any {
	var v any = s.doc
	for _, k := range keys {
		m, ok := v.(map[string]any)
		if !ok {
			return nil
		}
		v = m[k]
	}
	return v
}

// schemaAt compiles the schema at a place.
func (s *specification) schemaAt(t testing.TB, keys ...string) *valid.Schema {
	t.Helper()
	p := specName + "#"
	for _, k := range keys {
		p += "/" + escaper.Replace(k)
	}
	out, err := s.c.Compile(strings.ReplaceAll(strings.ReplaceAll(p, "{", "%7B"), "}", "%7D"))
	if err != nil {
		t.Fatalf("%s: %v", p, err)
	}
	return out
}

// holds judges an answer by what the document says of that status and type.
func (s *specification) holds(t testing.TB, rt *route, status int, media, answer string) {
	t.Helper()
	media, _, _ = strings.Cut(media, ";")
	where := []string{"paths", rt.path, strings.ToLower(rt.method), "responses", fmt.Sprint(status)}
	if s.at(where...) == nil {
		where[4] = "default"
	}
	content, _ := s.at(append(where, "content")...).(map[string]any)
	key := ""
	for k := range content {
		if plain, _, _ := strings.Cut(k, ";"); plain == media || k == "*/*" {
			key = k
		}
	}
	if key == "" {
		t.Errorf("%s %s answers %d with %s, which is not documented: %v", rt.method, rt.path, status, media, content)
		return
	}
	if s.at(append(where, "content", key, "schema")...) == nil {
		return // a file
	}
	schema := s.schemaAt(t, append(where, "content", key, "schema")...)
	lines := []string{answer}
	if media == mediaLines {
		lines = strings.Split(strings.TrimSpace(answer), "\n")
	}
	for _, l := range lines {
		v, err := valid.UnmarshalJSON(strings.NewReader(l))
		if err == nil {
			err = schema.Validate(v)
		}
		if err != nil {
			t.Errorf("%s %s, %d: the answer is not as documented: %v\n%.500s", rt.method, rt.path, status, err, l)
		}
	}
}

// TestOpenAPI: the document names every route with all it takes, every schema in it can be
// used, and good requests are as documented.
func TestOpenAPI(t *testing.T) {
	f := newFixture(t, nil)
	s := compiled(t, f)
	ids := map[string]bool{}
	for i := range f.table {
		rt := &f.table[i]
		op, ok := s.at("paths", rt.path, strings.ToLower(rt.method)).(map[string]any)
		if !ok {
			t.Errorf("%s %s is not documented", rt.method, rt.path)
			continue
		}
		id := fmt.Sprint(op["operationId"])
		if ids[id] || !regexp.MustCompile(`^[a-z0-9-]+$`).MatchString(id) || op["summary"] == "" {
			t.Errorf("operation %q, %v", id, op["summary"])
		}
		ids[id] = true
		for _, name := range regexp.MustCompile(`\{(\w+)\}`).FindAllStringSubmatch(rt.path, -1) {
			if !strings.Contains(fmt.Sprint(op["parameters"]), "name:"+name[1]) {
				t.Errorf("%s does not document %s: %v", id, name[1], op["parameters"])
			}
		}
		if op["requestBody"] == nil {
			continue
		}
		where := []string{"paths", rt.path, strings.ToLower(rt.method), "requestBody", "content", mediaJSON, "schema"}
		v, err := valid.UnmarshalJSON(strings.NewReader(f.samples()[rt.method+" "+rt.path].body))
		if err == nil {
			err = s.schemaAt(t, where...).Validate(v)
		}
		if err != nil {
			t.Errorf("%s: the good request is not as documented: %v", id, err)
		}
	}
	names, _ := s.at("components", "schemas").(map[string]any)
	for name := range names {
		s.schemaAt(t, "components", "schemas", name)
	}
	if len(names) < 8 || bytes.Contains(f.spec, []byte("$defs")) {
		t.Errorf("%d schemas, or references of another document", len(names))
	}
}

// compile makes a schema ready to judge JSON by.
func compile(t *testing.T, make func(jsonschema.Definitions) any) func(text string) error {
	t.Helper()
	defs := jsonschema.Definitions{}
	s := make(defs)
	doc, err := valid.UnmarshalJSON(strings.NewReader(strings.ReplaceAll(asJSON(map[string]any{
		"schemas": defs,
		"root":    s,
	}), "#/$defs/", "#/schemas/")))
	if err != nil {
		t.Fatal(err)
	}
	c := valid.NewCompiler()
	if err := c.AddResource("mem:///x.json", doc); err != nil {
		t.Fatal(err)
	}
	judge, err := c.Compile("mem:///x.json#/root")
	if err != nil {
		t.Fatal(err)
	}
	return func(text string) error {
		v, err := valid.UnmarshalJSON(strings.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		return judge.Validate(v)
	}
}

// TestNulls: the schema of a request takes what Go writes for values that are not there.
func TestNulls(t *testing.T) {
	type inner struct {
		List []*float64 `json:"list"`
	}
	type outer struct {
		inner
		Pointer *inner         `json:"pointer"`
		Left    *inner         `json:"left,omitempty"`
		Map     map[string]int `json:"map"`
		Rows    [][]float64    `json:"rows"`
		Deep    []inner        `json:"deep"`
		Number  float64        `json:"number"`
	}
	judge := compile(t, func(defs jsonschema.Definitions) any { return schema(reflect.TypeFor[outer](), defs, true) })
	one := 1.0
	for _, tt := range []struct {
		v    any
		good bool
	}{
		{outer{}, true},
		{
			outer{
				inner: inner{[]*float64{nil, &one}}, Rows: [][]float64{nil, {1}}, Deep: []inner{{}},
				Pointer: &inner{},
			},
			true,
		},
		{map[string]any{"list": nil, "pointer": nil, "map": nil, "rows": nil, "deep": nil, "number": nil}, false},
		{map[string]any{"list": nil, "pointer": nil, "map": nil, "rows": nil, "deep": []any{nil}, "number": 1}, false},
		{map[string]any{"list": []any{"x"}, "pointer": nil, "map": nil, "rows": nil, "deep": nil, "number": 1}, false},
	} {
		if err := judge(asJSON(tt.v)); (err == nil) != tt.good {
			t.Errorf("%s: %v, want good %v", asJSON(tt.v), err, tt.good)
		}
	}
}

// TestExamplesAsDocumented: what the page asks first is as documented for every example.
func TestExamplesAsDocumented(t *testing.T) {
	f := newFixture(t, nil)
	s := compiled(t, f)
	for _, e := range examples.Stations() {
		for _, path := range []string{"/api/sheet", "/api/rows"} {
			status, answer := f.asked("POST", path, asJSON(map[string]any{"text": string(e.Data)}))
			if status != http.StatusOK {
				t.Errorf("%s of %s: %d %.200s", path, e.Name, status, answer)
			}
			s.holds(t, f.route("POST", path), status, mediaJSON, answer)
		}
	}
}
