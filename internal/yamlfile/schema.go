package yamlfile

import (
	"encoding/json"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"github.com/invopop/jsonschema"

	"seatward/quantity"
)

// Schema makes the JSON Schema (draft 2020-12) of a file from its Go type, with the
// meanings, words, limits and units of its tags, so that editors can complete and
// check it.
func Schema(file any, title string) ([]byte, error) {
	r := &jsonschema.Reflector{
		FieldNameTag: "yaml", RequiredFromJSONSchemaTags: true, ExpandedStruct: true, Anonymous: true,
		DoNotReference: true,
		Mapper:         scalarSchema,
	}
	t := reflect.TypeOf(file)
	s := r.ReflectFromType(t)
	s.Title = title
	annotate(s, t)
	return json.MarshalIndent(s, "", "  ")
}

// anyScalar is a text; YAML takes some texts for numbers or truths.
func anyScalar() *jsonschema.Schema {
	return &jsonschema.Schema{OneOf: []*jsonschema.Schema{{Type: "string"}, {Type: "number"}, {Type: "boolean"}}}
}

// scalarSchema gives the shape of the types that hold what was written. The tags add
// to it in describeField.
func scalarSchema(t reflect.Type) *jsonschema.Schema {
	switch t {
	case reflect.TypeFor[Q]():
		return &jsonschema.Schema{Type: "string"}
	case reflect.TypeFor[Size]():
		return &jsonschema.Schema{Type: "string", Examples: []any{"6 in", "DN150"}}
	case reflect.TypeFor[Num]():
		return &jsonschema.Schema{OneOf: []*jsonschema.Schema{{Type: "number"}, {Type: "string"}}}
	case reflect.TypeFor[Word]():
		return anyScalar()
	case reflect.TypeFor[Tuple]():
		return &jsonschema.Schema{Type: "array"}
	case reflect.TypeFor[Raw]():
		return &jsonschema.Schema{}
	case reflect.TypeFor[[]Pair]():
		return &jsonschema.Schema{Type: "object", AdditionalProperties: anyScalar()}
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
	for _, place := range []string{"At", "Set", "Place", "Path"} { // of what was written, not of the file
		s.Properties.Delete(place)
	}
	for i := range t.NumField() {
		f := t.Field(i)
		key := f.Tag.Get("yaml")
		p, ok := s.Properties.Get(key)
		if !ok {
			continue
		}
		describeField(p, f)
		if f.Tag.Get("need") == "true" {
			s.Required = append(s.Required, key)
		}
		annotate(p, f.Type)
	}
}

// describeField writes the tags of one key into its schema.
func describeField(p *jsonschema.Schema, f reflect.StructField) {
	p.Description = f.Tag.Get("doc")
	inner, t := p, f.Type
	if t.Kind() == reflect.Slice && t != reflect.TypeFor[[]Pair]() {
		inner, t = p.Items, t.Elem()
	}
	if most, err := strconv.ParseUint(f.Tag.Get("most"), 10, 32); err == nil {
		p.MaxItems = &most
	}
	kinds := kindsOf(f.Tag)
	switch t {
	case reflect.TypeFor[Word]():
		if one := f.Tag.Get("one"); one != "" {
			inner.OneOf, inner.Enum = nil, choices(one)
		}
	case reflect.TypeFor[Num]():
		limitNumber(inner.OneOf[0], f.Tag)
	case reflect.TypeFor[Q]():
		*inner = *quantitySchema(kinds[0], inner.Description)
	case reflect.TypeFor[Tuple]():
		for _, k := range kinds {
			inner.PrefixItems = append(inner.PrefixItems, quantitySchema(k, k.String()))
		}
		n := uint64(len(kinds))
		inner.MinItems, inner.MaxItems = &n, &n
	}
	for _, k := range kinds {
		if units := slices.DeleteFunc(k.Units(), func(u string) bool { return u == "" }); len(units) > 0 {
			p.Description += "; " + k.String() + " in " + strings.Join(units[:min(4, len(units))], ", ")
		}
	}
}

func kindsOf(tag reflect.StructTag) []quantity.Kind {
	var out []quantity.Kind
	for _, name := range strings.Split(tag.Get("kind"), ",") {
		if kind, ok := quantity.KindNamed(name); ok && name != "" {
			out = append(out, kind)
		}
	}
	return out
}

// choices lists the words allowed. Editors that read YAML 1.1 take yes and no for
// truths.
func choices(one string) []any {
	var out []any
	for _, w := range strings.Split(one, "|") {
		out = append(out, w)
		if w == "yes" || w == "no" {
			out = append(out, w == "yes")
		}
	}
	return out
}

// limitNumber writes the limits of a plain number.
func limitNumber(s *jsonschema.Schema, tag reflect.StructTag) {
	if tag.Get("whole") == "true" {
		s.Type = "integer"
	}
	low, strict := strings.CutPrefix(tag.Get("min"), ">")
	switch {
	case low != "" && strict:
		s.ExclusiveMinimum = json.Number(low)
	case low != "":
		s.Minimum = json.Number(low)
	}
	s.Maximum = json.Number(tag.Get("max"))
}

// quantitySchema is a text with a unit, or a plain number where the kind needs none.
func quantitySchema(kind quantity.Kind, description string) *jsonschema.Schema {
	s := &jsonschema.Schema{Type: "string", Description: description}
	if slices.Contains(kind.Units(), "") {
		s.Type, s.OneOf = "", []*jsonschema.Schema{{Type: "string"}, {Type: "number"}}
	}
	for _, e := range written[kind] {
		s.Examples = append(s.Examples, e)
	}
	return s
}

// written shows how quantities of a kind are written, in US and SI units.
var written = map[quantity.Kind][]string{
	quantity.Fraction:        {"65 %"},
	quantity.Length:          {"3400 ft", "1040 m"},
	quantity.Diameter:        {"3 in", "80 mm"},
	quantity.Roughness:       {"0.002 in", "0.1 mm"},
	quantity.Flow:            {"450 gpm", "28 L/s", "12..15 L/s"},
	quantity.Head:            {"62 ft", "19 m", "60 ft ± 3 ft"},
	quantity.Pressure:        {"150 psi", "10 bar"},
	quantity.Velocity:        {"1200 ft/s", "370 m/s"},
	quantity.Density:         {"1020 kg/m3"},
	quantity.Temperature:     {"60 °F", "15 °C"},
	quantity.Time:            {"2200 h", "10 s"},
	quantity.Power:           {"20 hp", "15 kW"},
	quantity.Inertia:         {"8.5 lb ft2 ± 10 %", "0.36 kg m2"},
	quantity.RotationalSpeed: {"1760 rpm"},
	quantity.Tariff:          {"0.14 /kWh"},
}
