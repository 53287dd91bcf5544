package web

import (
	"reflect"
	"strings"

	"github.com/invopop/jsonschema"
)

// nulls lets a schema say where null may stand: for what may be nil and is not left out
// then. The reflector does not look at that. A request may have null for an empty list; a
// reply has [] and {}, since whole makes them.
type nulls struct {
	defs  jsonschema.Definitions
	seen  map[reflect.Type]bool
	lists bool // may be null
}

// allow walks a type and the definitions of what it holds.
func (n nulls) allow(t reflect.Type) {
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	if n.seen[t] {
		return
	}
	n.seen[t] = true
	switch t.Kind() {
	case reflect.Slice, reflect.Array, reflect.Map:
		n.allow(t.Elem())
	case reflect.Struct:
		for i := range t.NumField() {
			n.allow(t.Field(i).Type)
		}
		if def := n.defs[typeName(t)]; def != nil && def.Properties != nil {
			n.fields(t, def)
		}
	}
}

// fields opens the properties of a struct, with those of what is embedded in it.
func (n nulls) fields(t reflect.Type, def *jsonschema.Schema) {
	for i := range t.NumField() {
		f := t.Field(i)
		name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		if f.Anonymous && name == "" {
			inner := f.Type
			if inner.Kind() == reflect.Pointer {
				inner = inner.Elem()
			}
			if inner.Kind() == reflect.Struct {
				n.fields(inner, def)
			}
			continue
		}
		p, found := def.Properties.Get(or(name, f.Name))
		if !found {
			continue
		}
		n.inner(f.Type, p)
		if n.canBeNil(f.Type) && !strings.Contains(options, "omit") &&
			!strings.Contains(f.Tag.Get("jsonschema"), "nullable") {
			def.Properties.Set(or(name, f.Name), orNull(p))
		}
	}
}

// inner opens the items of a slice.
func (n nulls) inner(t reflect.Type, s *jsonschema.Schema) {
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	if t.Kind() != reflect.Slice && t.Kind() != reflect.Array || s.Items == nil {
		return
	}
	n.inner(t.Elem(), s.Items)
	if n.canBeNil(t.Elem()) {
		s.Items = orNull(s.Items)
	}
}

func (n nulls) canBeNil(t reflect.Type) bool {
	return t.Kind() == reflect.Pointer || n.lists && isList(t)
}

func isList(t reflect.Type) bool { return t.Kind() == reflect.Slice || t.Kind() == reflect.Map }

func orNull(s *jsonschema.Schema) *jsonschema.Schema {
	return &jsonschema.Schema{AnyOf: []*jsonschema.Schema{s, {Type: "null"}}}
}
