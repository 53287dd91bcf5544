package web

import (
	"encoding/json"
	"reflect"
	"strings"
)

// marshal writes a reply. A list that Go has not made is an empty one: the description
// promises [] and {}, never null.
func marshal(v any) ([]byte, error) {
	return json.Marshal(whole(reflect.ValueOf(v)).Interface())
}

// whole is a value whose lists are all made. What may be shared with other requests is
// copied before it is changed.
func whole(v reflect.Value) reflect.Value {
	t := v.Type()
	if !hasLists(t) {
		return v
	}
	out := reflect.New(t).Elem()
	switch t.Kind() {
	case reflect.Pointer, reflect.Interface:
		if v.IsNil() {
			return v
		}
		inner := whole(v.Elem())
		if t.Kind() == reflect.Interface {
			return inner
		}
		out.Set(reflect.New(t.Elem()))
		out.Elem().Set(inner)
	case reflect.Slice:
		if v.Len() > 0 && !hasLists(t.Elem()) {
			return v
		}
		out.Set(reflect.MakeSlice(t, v.Len(), v.Len()))
		for i := range v.Len() {
			out.Index(i).Set(whole(v.Index(i)))
		}
	case reflect.Map:
		out.Set(reflect.MakeMapWithSize(t, v.Len()))
		for at, x := range v.Seq2() {
			out.SetMapIndex(at, whole(x))
		}
	case reflect.Struct:
		out.Set(v)
		wholeFields(out)
	}
	return out
}

// wholeFields makes the lists of a struct that may be written to, and of what is embedded in it.
func wholeFields(v reflect.Value) {
	for i := range v.NumField() {
		switch f := v.Type().Field(i); {
		case f.Anonymous && f.Type.Kind() == reflect.Struct:
			wholeFields(v.Field(i))
		case f.IsExported() && !leftOut(f):
			v.Field(i).Set(whole(v.Field(i)))
		}
	}
}

// leftOut is true for a field that is not written where it is nil.
func leftOut(f reflect.StructField) bool {
	_, options, _ := strings.Cut(f.Tag.Get("json"), ",")
	return strings.Contains(options, "omitzero")
}

// hasLists is true for a type in whose values a list may be nil. Types that write themselves
// know what they write.
func hasLists(t reflect.Type) bool {
	if t.Implements(reflect.TypeFor[json.Marshaler]()) {
		return false
	}
	switch t.Kind() {
	case reflect.Interface, reflect.Slice, reflect.Map:
		return true
	case reflect.Pointer:
		return hasLists(t.Elem())
	case reflect.Struct:
		for i := range t.NumField() {
			if f := t.Field(i); (f.IsExported() || f.Anonymous) && hasLists(f.Type) {
				return true
			}
		}
	}
	return false
}
