package station

import (
	"errors"
	"fmt"
	"reflect"
	"regexp"
	"strings"

	"seatward/diag"
	"seatward/internal/yamlfile"
	"seatward/quantity"
)

// Change is one edit of a station file: the value at the path as a person writes it, or
// nil to remove it.
type Change struct {
	Path  string
	Value *string
}

// Written is the value of a change with what its writer left out because the field shows it:
// the unit of a bare number, in the units of the system. What may mean two things is refused
// with a *quantity.ParseError that has the choices; what cannot be read for another reason
// stays, for the reader of the file to report with its place.
func Written(path, value string, sys quantity.System) (string, error) {
	t, tag, known := typeAt(fileType, path)
	if !known {
		return value, nil
	}
	reading := quantity.For(sys)
	reading.Unit = tag.Get("unit")
	complete := func(kind quantity.Kind, text string) (string, error) {
		whole, err := reading.Complete(kind, text)
		var p *quantity.ParseError
		if errors.As(err, &p) && p.Choices == nil {
			return text, nil
		}
		return whole, err
	}
	switch t {
	case reflect.TypeFor[yamlfile.Q]():
		kind, ok := quantity.KindNamed(kindAt(path, tag))
		if !ok {
			return value, nil
		}
		return complete(kind, value)
	case reflect.TypeFor[yamlfile.Size]():
		if s, err := reading.ParseSize(value); err == nil && strings.Trim(value, "0123456789 ./-½¼¾") == "" {
			return s.Format(sys), nil
		}
	case reflect.TypeFor[[]yamlfile.Tuple]():
		return writtenPoints(value, strings.Split(tag.Get("kind"), ","), complete)
	}
	return value, nil
}

// kindAt is the kind of a quantity: of a point, by its place in it.
func kindAt(path string, tag reflect.StructTag) string {
	kinds := strings.Split(tag.Get("kind"), ",")
	var i int
	if _, err := fmt.Sscanf(path[strings.LastIndexByte(path, '[')+1:], "%d]", &i); len(kinds) > 1 && err == nil &&
		i < len(kinds) {
		return kinds[i]
	}
	return kinds[0]
}

// onePoint is a point of a list in brackets.
var onePoint = regexp.MustCompile(`\[([^\[\]]*)\]`)

// writtenPoints completes each number of a list of points.
func writtenPoints(value string, kinds []string, complete func(quantity.Kind, string) (string, error)) (string, error) {
	var fault error
	out := onePoint.ReplaceAllStringFunc(value, func(point string) string {
		parts := strings.Split(strings.Trim(point, "[]"), ",")
		if len(parts) != len(kinds) {
			return point
		}
		for i := range parts {
			kind, _ := quantity.KindNamed(kinds[i])
			whole, err := complete(kind, strings.Trim(strings.TrimSpace(parts[i]), `"`))
			if err != nil {
				fault = err
				return point
			}
			if strings.ContainsAny(whole, `"'`) {
				whole = strings.TrimSpace(parts[i])
			}
			parts[i] = whole
		}
		return "[" + strings.Join(parts, ", ") + "]"
	})
	return out, fault
}

// Edit makes the changes in the text of a station file, which keeps its comments and its
// order, and gives the new text. The list holds the faults of paths and values that no
// station file has; whether the facts go together, Load tells.
func Edit(filename string, data []byte, changes []Change) ([]byte, diag.List) {
	var all []yamlfile.Change
	for _, c := range changes {
		t, _, known := typeAt(fileType, c.Path)
		if !known {
			return nil, diag.List{{
				ID: "edit-impossible", Place: diag.Place{File: filename, Line: 1, Col: 1},
				Path: c.Path, Text: fmt.Sprintf("a station file has no key %q",
					c.Path), Expected: "a path such as levels.outlet or main.runs[0].length",
				Mend: "see: seatward schema station",
			}}
		}
		list := t.Kind() == reflect.Slice || t == reflect.TypeFor[yamlfile.Tuple]() || t.Kind() == reflect.Struct &&
			shapeOf(t) == "" && t != reflect.TypeFor[yamlfile.Pair]()
		all = append(all, yamlfile.Change{Path: c.Path, Value: c.Value, List: list})
	}
	return yamlfile.Edit(filename, data, all)
}

// typeAt is what stands at a path of a file of type t, with the tag of its key.
func typeAt(t reflect.Type, path string) (reflect.Type, reflect.StructTag, bool) {
	var tag reflect.StructTag
	for path != "" {
		switch {
		case path[0] == '[':
			_, rest, ok := strings.Cut(path, "]")
			if !ok || t.Kind() != reflect.Slice && t != reflect.TypeFor[yamlfile.Tuple]() {
				return nil, "", false
			}
			if t.Kind() == reflect.Slice {
				t = t.Elem()
			} else {
				t = reflect.TypeFor[yamlfile.Q]()
			}
			path = strings.TrimPrefix(rest, ".")
		case t == reflect.TypeFor[[]yamlfile.Pair]():
			return reflect.TypeFor[yamlfile.Word](), "", true // keys of pairs are free
		case t.Kind() != reflect.Struct || shapeOf(t) != "":
			return nil, "", false
		default:
			end := strings.IndexAny(path, ".[")
			if end < 0 {
				end = len(path)
			}
			found := false
			for i := range t.NumField() {
				if f := t.Field(i); f.Tag.Get("yaml") == path[:end] && end > 0 {
					t, tag, found = f.Type, f.Tag, true
					break
				}
			}
			if !found {
				return nil, "", false
			}
			path = strings.TrimPrefix(path[end:], ".")
		}
	}
	return t, tag, t != fileType
}
