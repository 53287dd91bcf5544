package web

import (
	"encoding/json"
	"fmt"
	"reflect"
	"testing"

	"github.com/invopop/jsonschema"
)

// TestWhole: a reply has [] and {} where Go has made no list, as its schema promises; what
// is left out stays out, and the value itself is not touched.
func TestWhole(t *testing.T) {
	type inner struct {
		List  []string       `json:"list"`
		Map   map[string]int `json:"map"`
		Out   []int          `json:"out,omitempty"`
		Zero  []int          `json:"zero,omitzero"`
		Table [][]float64    `json:"table"`
	}
	type outer struct {
		inner
		Pointer *inner           `json:"pointer"`
		None    *inner           `json:"none"`
		Many    []inner          `json:"many"`
		Named   map[string]inner `json:"named"`
		Raw     json.RawMessage  `json:"raw,omitempty"`
		private []int
	}
	v := outer{
		inner: inner{Table: [][]float64{nil, {1}}}, Pointer: &inner{}, Many: []inner{{}},
		Named: map[string]inner{"a": {}},
	}
	judge := compile(t, func(defs jsonschema.Definitions) any { return answered(reflect.TypeFor[outer](), defs) })
	data, err := marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	const empty = `{"list":[],"map":{},"table":[]}`
	want := fmt.Sprintf(`{"list":[],"map":{},"table":[[],[1]],"pointer":%s,"none":null,"many":[%s],"named":{"a":%s}}`,
		empty, empty, empty)
	if string(data) != want {
		t.Errorf("%s, want %s", data, want)
	}
	if err := judge(string(data)); err != nil {
		t.Errorf("the schema does not take %s: %v", data, err)
	}
	if err := judge(asJSON(v)); err == nil {
		t.Error("the schema of a reply takes null for a list")
	}
	if v.List != nil || v.Table[0] != nil || v.Pointer.List != nil || v.Many[0].List != nil ||
		v.Named["a"].List != nil || v.private != nil {
		t.Errorf("the value was changed: %+v", v)
	}
	if data, err := marshal(map[string]any{"answer": &outer{}, "nothing": nil}); err != nil ||
		judge(string(data)) == nil || string(data[:19]) != `{"answer":{"list":[` {
		t.Errorf("%s, %v", data, err)
	}
}

// TestDefinitions: a type that is asked and answered is described once, so it must be the
// same both ways.
func TestDefinitions(t *testing.T) {
	in, out := jsonschema.Definitions{}, jsonschema.Definitions{}
	for _, rt := range (&Server{}).routes() {
		schema(rt.in, in, true)
		if rt.out != nil {
			answered(rt.out, out)
		}
	}
	answered(reflect.TypeFor[conflict](), out)
	both := 0
	for name, s := range in {
		if other, found := out[name]; found {
			both++
			if a, b := asJSON(s), asJSON(other); a != b {
				t.Errorf("%s is asked as %s and answered as %s", name, a, b)
			}
		}
	}
	if both == 0 {
		t.Error("no type is both asked and answered: this test holds nothing")
	}
}
