package yamlfile

import (
	"encoding/json"
	"reflect"
	"strings"

	"github.com/invopop/jsonschema"

	"seatward/quantity"
)

// Schema makes the JSON Schema (draft 2020-12) of a file from its Go type, with the
// meanings, words and units of its tags, so that editors can complete and check it.
func Schema(file any, title string) ([]byte, error) {
	r := &jsonschema.Reflector{
		FieldNameTag: "yaml", RequiredFromJSONSchemaTags: true, ExpandedStruct: true, Anonymous: true, DoNotReference: true,
		Mapper: scalarSchema,
	}
	t := reflect.TypeOf(file)
	s := r.ReflectFromType(t)
	s.Title = title
	annotate(s, t)
	return json.MarshalIndent(s, "", "  ")
}

// scalarSchema gives the shape of the types that hold what was written.
func scalarSchema(t reflect.Type) *jsonschema.Schema {
	scalar := &jsonschema.Schema{OneOf: []*jsonschema.Schema{{Type: "string"}, {Type: "number"}, {Type: "boolean"}}}
	switch t {
	case reflect.TypeFor[Q](), reflect.TypeFor[Size]():
		return &jsonschema.Schema{Type: "string"}
	case reflect.TypeFor[Num](), reflect.TypeFor[Word]():
		return scalar
	case reflect.TypeFor[Tuple]():
		return &jsonschema.Schema{Type: "array", Items: scalar}
	case reflect.TypeFor[[]Pair]():
		return &jsonschema.Schema{Type: "object", AdditionalProperties: scalar}
	}
	return nil
}

// annotate carries the tags over: meaning, words, units and what must be written.
func annotate(s *jsonschema.Schema, t reflect.Type) {
	for t.Kind() == reflect.Slice || t.Kind() == reflect.Pointer {
		t = t.Elem()
		if s.Items != nil {
			s = s.Items
		}
	}
	if t.Kind() != reflect.Struct || s.Properties == nil {
		return
	}
	s.Properties.Delete("At")
	for i := range t.NumField() {
		f := t.Field(i)
		key := f.Tag.Get("yaml")
		p, ok := s.Properties.Get(key)
		if !ok {
			continue
		}
		describeField(p, f.Tag)
		if f.Tag.Get("need") == "true" {
			s.Required = append(s.Required, key)
		}
		annotate(p, f.Type)
	}
}

func describeField(p *jsonschema.Schema, tag reflect.StructTag) {
	p.Description = tag.Get("doc")
	words := p
	if p.Type == "array" && p.Items != nil {
		words = p.Items
	}
	if one := tag.Get("one"); one != "" {
		var choices []any
		for _, w := range strings.Split(one, "|") {
			choices = append(choices, w)
			if w == "yes" || w == "no" {
				choices = append(choices, w == "yes") // YAML 1.1 editors read yes and no as booleans
			}
		}
		*words = jsonschema.Schema{Enum: choices, Description: words.Description}
	}
	for _, name := range strings.Split(tag.Get("kind"), ",") {
		if kind, ok := quantity.KindNamed(name); ok && len(kind.Units()) > 1 {
			p.Description += "; " + name + " in " + strings.Join(kind.Units()[:min(4, len(kind.Units()))], ", ")
		}
	}
}
