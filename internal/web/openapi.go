package web

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/http"
	"path"
	"reflect"
	"strings"

	"github.com/invopop/jsonschema"

	"seatward/internal/program"
)

// object is a JSON object of the OpenAPI document.
type object = map[string]any

// Form names the form of the interface. It changes only when what was asked or answered in
// the old way no longer is.
const Form = "seatward.api/1"

// Description is the OpenAPI document of the interface.
func Description() ([]byte, error) { return openAPI((&Server{}).routes(), program.Title()) }

// openAPI makes the OpenAPI document from the table and the Go types in it.
func openAPI(table []route, version string) ([]byte, error) {
	defs := jsonschema.Definitions{}
	paths := map[string]object{}
	for i := range table {
		rt := &table[i]
		if paths[rt.path] == nil {
			paths[rt.path] = object{}
		}
		paths[rt.path][strings.ToLower(rt.method)] = operation(rt, defs)
	}
	doc := object{
		"openapi":           "3.1.0",
		"jsonSchemaDialect": jsonschema.Version,
		"info": object{
			"title": "Seatward, form " + Form, "version": version,
			"description": "What the page asks of the server. Numbers are SI, the unit stands in the key; texts are in the units of the station. A server with a token wants it as Authorization: Bearer TOKEN, or the cookie of /login.",
		},
		"paths": paths,
		"components": object{
			"schemas":         defs,
			"securitySchemes": object{"token": object{"type": "http", "scheme": "bearer"}},
		},
	}
	data, err := json.MarshalIndent(doc, "", " ")
	return bytes.ReplaceAll(data, []byte(`"#/$defs/`), []byte(`"#/components/schemas/`)), err
}

func operation(rt *route, defs jsonschema.Definitions) object {
	good := object{rt.media: object{}}
	if rt.out != nil {
		good[rt.media] = object{"schema": answered(rt.out, defs)}
		if rt.stream != nil {
			good[mediaLines] = object{"schema": lines(rt.out, defs)}
		}
	}
	responses := object{
		fmt.Sprint(rt.status): object{"description": http.StatusText(rt.status), "content": good},
		"default": object{
			"description": "No answer, and why",
			"content":     object{mediaJSON: object{"schema": answered(reflect.TypeFor[problem](), defs)}},
		},
	}
	if rt.conflicts {
		responses["409"] = object{
			"description": "Someone else has saved in the meantime",
			"content":     object{mediaJSON: object{"schema": answered(reflect.TypeFor[conflict](), defs)}},
		}
	}
	out := object{
		"operationId": strings.ToLower(rt.method) + strings.NewReplacer("/", "-", "{", "", "}", "", ".",
			"-").Replace(rt.path),
		"summary": rt.summary, "responses": responses, "security": []object{{}, {"token": []string{}}},
	}
	if rt.open {
		out["security"] = []object{}
	}
	if list := parameters(rt); len(list) > 0 {
		out["parameters"] = list
	}
	if (rt.method == http.MethodPost || rt.method == http.MethodPut) && hasBody(rt.in) {
		content := object{mediaJSON: object{"schema": schema(rt.in, defs, true)}}
		if rt.forms {
			content[mediaForm] = object{"schema": object{
				"type": "object", "required": []string{formField},
				"properties": object{formField: object{
					"type": "string", "contentMediaType": mediaJSON,
					"description": "The JSON, from a form whose target is a frame",
				}},
			}}
		}
		out["requestBody"] = object{"required": true, "content": content}
	}
	return out
}

// parameters are what the address carries.
func parameters(rt *route) []object {
	var out []object
	for _, f := range reflect.VisibleFields(rt.in) {
		kind := object{"type": "string"}
		switch f.Type.Kind() {
		case reflect.Int:
			kind = object{"type": "integer"}
		case reflect.Bool:
			kind = object{"enum": []string{"0", "1"}}
		}
		if name := f.Tag.Get("path"); name != "" {
			out = append(out, object{"name": name, "in": "path", "required": true, "schema": kind})
		}
		if name := f.Tag.Get("query"); name != "" {
			out = append(out, object{"name": name, "in": "query", "schema": kind})
		}
	}
	if rt.stream != nil {
		out = append(out, object{
			"name": rt.streamBy, "in": "query", "schema": object{"enum": []string{"0", "1"}},
			"description": "1 answers in lines: how far the work has come, as {done, total}, and at the end {answer} or {error}",
		})
	}
	return out
}

// schema is the JSON Schema of a type; what it refers to goes into defs. In a request lists
// may be null.
func schema(t reflect.Type, defs jsonschema.Definitions, lists bool) *jsonschema.Schema {
	r := &jsonschema.Reflector{Anonymous: true, Namer: typeName}
	s := r.ReflectFromType(t)
	nulls{s.Definitions, map[reflect.Type]bool{}, lists}.allow(t)
	for name, d := range s.Definitions {
		defs[name] = d // of the same type, wherever it comes up
	}
	s.Definitions, s.Version = nil, ""
	return s
}

// answered is the schema of a reply.
func answered(t reflect.Type, defs jsonschema.Definitions) *jsonschema.Schema {
	return schema(t, defs, false)
}

// lines is the schema of the lines of a stream, whose last has the reply under answer.
func lines(t reflect.Type, defs jsonschema.Definitions) object {
	integer := object{"type": "integer"}
	return object{"oneOf": []any{
		object{
			"type": "object", "required": []string{"done", "total"},
			"properties": object{"done": integer, "total": integer}, "additionalProperties": false,
		},
		object{
			"type": "object", "required": []string{"answer"}, "properties": object{"answer": answered(t, defs)},
			"additionalProperties": false,
		},
		answered(reflect.TypeFor[problem](), defs),
	}}
}

// typeName names a type in the document: types of other packages by their package too.
func typeName(t reflect.Type) string {
	if t.Name() == "" || t.PkgPath() == "" {
		return ""
	}
	if pkg := path.Base(t.PkgPath()); pkg != "web" {
		return pkg + "." + t.Name()
	}
	return t.Name()
}
