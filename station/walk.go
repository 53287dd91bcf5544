package station

import (
	"fmt"
	"reflect"
	"strings"
	"unicode"

	"seatward/basis"
)

var valueType = reflect.TypeFor[basis.Value]()

// Walk visits every known value of the station with its path, such as
// main.runs[0].wave_speed, and after each the assumed values that it rests on and
// that stand nowhere else, with the path of the value and the assumption's name:
// "main.runs[0].wave_speed < Young's modulus of the main". A value that stands in two
// places, such as the speed of a pump of fixed speed, is visited in the first. Fields
// come in the order of the type, so that the walk is the same each time.
func Walk(st *Station, visit func(path string, v basis.Value)) {
	seen := map[basis.Same]bool{}
	direct := func(path string, v basis.Value) {
		if key := v.Same(); !seen[key] {
			seen[key] = true
			visit(path, v)
		}
	}
	walkFields(reflect.ValueOf(*st), "", direct)
	walkFields(reflect.ValueOf(*st), "", func(path string, v basis.Value) {
		for _, a := range basis.Assumptions(v) {
			direct(Within(path, a), a)
		}
	})
}

// Within is the path of an assumption on which the value at the path rests.
func Within(path string, a basis.Value) string { return path + " < " + a.Name }

func walkFields(v reflect.Value, path string, visit func(string, basis.Value)) {
	if v.Type() == valueType {
		if value := v.Interface().(basis.Value); value.Known() {
			visit(path, value)
		}
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() {
				walkFields(v.Field(i), join(path, snake(f.Name)), visit)
			}
		}
	case reflect.Slice:
		for i := range v.Len() {
			at := i
			if p, ok := v.Index(i).Interface().(Pump); ok {
				at = p.Index // paths are those of the file
			}
			walkFields(v.Index(i), fmt.Sprintf("%s[%d]", path, at), visit)
		}
	}
}

func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

// snake turns a field's name into the style of the file's keys.
func snake(name string) string {
	var b strings.Builder
	for i, r := range name {
		if unicode.IsUpper(r) && i > 0 {
			b.WriteByte('_')
		}
		b.WriteRune(unicode.ToLower(r))
	}
	return b.String()
}
