// Package promise holds a JSON Schema against the one that was released before it, and says
// where the newer breaks what the older promised (docs/compatibility.md). It is for tests.
package promise

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
)

// Schema is a JSON Schema as it is decoded: an object, true or false.
type Schema = any

// Written lists why a document that people have written, legal under the old schema, may be
// illegal under the new one. Roots are where references begin.
func Written(oldRoot, newRoot, older, newer Schema) []string {
	c := &comparison{old: oldRoot, new: newRoot, seen: map[[2]string]bool{}}
	c.written("", older, newer)
	return c.faults
}

// Answered lists why a program that reads answers of the old schema may not find in those of
// the new one what it relies on. Fields may be added, and words to a list of words.
func Answered(oldRoot, newRoot, older, newer Schema) []string {
	c := &comparison{old: oldRoot, new: newRoot, seen: map[[2]string]bool{}}
	c.answered("", older, newer)
	return c.faults
}

type comparison struct {
	old, new Schema
	seen     map[[2]string]bool // pairs of references under comparison
	faults   []string
}

type object = map[string]any

func (c *comparison) fault(at, format string, args ...any) {
	c.faults = append(c.faults, fmt.Sprintf("%s: %s", cmp.Or(at, "the document"), fmt.Sprintf(format, args...)))
}

// notes are the keywords that bind nobody.
var notes = []string{
	"$schema", "$id", "$defs", "title", "description", "examples", "default", "contentEncoding",
	"contentMediaType", "deprecated",
}

// known are the keywords that the comparison understands.
var known = []string{
	"$ref", "type", "enum", "const", "oneOf", "anyOf", "properties", "required", "additionalProperties", "items",
	"prefixItems",
	"minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum", "minItems", "maxItems", "minLength", "maxLength",
	"pattern", "format",
}

// meet resolves references of both sides. It is false where the pair is compared already, or
// where a side is not an object: then what there is to say is said.
func (c *comparison) meet(at string, older, newer Schema) (before, now object, goOn bool) {
	before, before1 := resolve(c.old, older)
	now, now1 := resolve(c.new, newer)
	pair := [2]string{before1, now1}
	if before1 != "" && now1 != "" && c.seen[pair] {
		return nil, nil, false
	}
	c.seen[pair] = true
	for key := range now {
		if !slices.Contains(known, key) && !slices.Contains(notes, key) {
			c.fault(at, "keyword %q cannot be compared: teach internal/promise what it means", key)
		}
	}
	return before, now, true
}

// resolve gives the object behind a schema, with the reference that led there. True is the
// empty schema; false is one that takes no type.
func resolve(root, s Schema) (object, string) {
	ref := ""
	for range 20 {
		switch v := s.(type) {
		case object:
			to, ok := v["$ref"].(string)
			if !ok {
				return v, ref
			}
			ref, s = to, lookUp(root, to)
		case bool:
			if v {
				return object{}, ref
			}
			return object{"type": []any{}}, ref
		default:
			return object{}, ref
		}
	}
	return object{}, ref
}

func lookUp(root Schema, ref string) Schema {
	s := root
	for _, key := range strings.Split(strings.TrimPrefix(ref, "#/"), "/") {
		at, _ := s.(object)
		s = at[strings.NewReplacer("~1", "/", "~0", "~").Replace(key)]
	}
	return s
}

// written demands that everything legal before is legal now.
func (c *comparison) written(at string, older, newer Schema) {
	before, now, goOn := c.meet(at, older, newer)
	if !goOn {
		return
	}
	if choices(before) != nil || choices(now) != nil {
		c.covered(at, choicesOf(before), choicesOf(now), c.oneWritten)
		return
	}
	c.types(at, before, now)
	c.words(at, before, now)
	c.limits(at, before, now)
	for _, name := range texts(now["required"]) {
		if !slices.Contains(texts(before["required"]), name) {
			c.fault(at, "field %q was not required before", name)
		}
	}
	fields := properties(now)
	for name, p := range sorted(properties(before)) {
		if q, found := fields[name]; found {
			c.written(at+"/"+name, p, q)
		} else {
			c.written(at+"/"+name, p, more(now))
		}
	}
	if open := more(before); open != false && isObject(before) {
		c.written(at+"/*", open, more(now))
		for name, q := range sorted(fields) {
			if _, found := properties(before)[name]; !found {
				c.written(at+"/"+name, open, q)
			}
		}
	}
	c.elements(at, before, now, c.written)
}

// answered demands that what a reader of the old relies on is in the new.
func (c *comparison) answered(at string, older, newer Schema) {
	before, now, goOn := c.meet(at, older, newer)
	if !goOn {
		return
	}
	if choices(before) != nil || choices(now) != nil {
		c.covered(at, choicesOf(now), choicesOf(before), func(a, b Schema) bool { return c.oneAnswered(b, a) })
		return
	}
	c.types(at, now, before)
	for _, name := range texts(before["required"]) {
		if !slices.Contains(texts(now["required"]), name) {
			c.fault(at, "field %q was always there before", name)
		}
	}
	fields := properties(now)
	for name, p := range sorted(properties(before)) {
		if q, found := fields[name]; found {
			c.answered(at+"/"+name, p, q)
		} else {
			c.fault(at, "field %q is gone", name)
		}
	}
	if open, ok := before["additionalProperties"].(object); ok {
		c.answered(at+"/*", open, more(now))
	}
	c.elements(at, before, now, c.answered)
}

// oneWritten and oneAnswered ask the same of a pair of alternatives, without a record.
func (c *comparison) oneWritten(older, newer Schema) bool {
	inner := &comparison{old: c.old, new: c.new, seen: maps.Clone(c.seen)}
	inner.written("", older, newer)
	return len(inner.faults) == 0
}

func (c *comparison) oneAnswered(older, newer Schema) bool {
	inner := &comparison{old: c.old, new: c.new, seen: maps.Clone(c.seen)}
	inner.answered("", older, newer)
	return len(inner.faults) == 0
}

// covered demands that each alternative has one on the other side that takes it.
func (c *comparison) covered(at string, some, by []Schema, takes func(a, b Schema) bool) {
	for i, s := range some {
		if !slices.ContainsFunc(by, func(t Schema) bool { return takes(s, t) }) {
			c.fault(at, "alternative %d of %d has no counterpart on the other side", i+1, len(some))
		}
	}
}

// types demands that all types of the narrow are types of the wide.
func (c *comparison) types(at string, narrow, wide object) {
	allowed := typesOf(wide)
	if allowed == nil {
		return
	}
	has := typesOf(narrow)
	if has == nil {
		c.fault(at, "any type on one side, only %s on the other", strings.Join(allowed, ", "))
	}
	for _, t := range has {
		if !slices.Contains(allowed, t) && (t != "integer" || !slices.Contains(allowed, "number")) {
			c.fault(at, "type %s on one side, only %s on the other", t, cmp.Or(strings.Join(allowed, ", "), "none"))
		}
	}
}

// words demands that all words of before are words now.
func (c *comparison) words(at string, before, now object) {
	allowed, limited := enum(now)
	if !limited {
		return
	}
	had, wasLimited := enum(before)
	if !wasLimited {
		c.fault(at, "any word was legal before, now only %v", allowed)
	}
	for _, w := range had {
		if !slices.Contains(allowed, w) {
			c.fault(at, "%v was legal before", w)
		}
	}
}

// limits demands that no limit is closer than before.
func (c *comparison) limits(at string, before, now object) {
	for _, key := range []string{"minimum", "exclusiveMinimum", "minItems", "minLength"} {
		if v, ok := now[key].(float64); ok {
			if w, had := before[key].(float64); !had || v > w {
				c.fault(at, "%s is %v now", key, v)
			}
		}
	}
	for _, key := range []string{"maximum", "exclusiveMaximum", "maxItems", "maxLength"} {
		if v, ok := now[key].(float64); ok {
			if w, had := before[key].(float64); !had || v < w {
				c.fault(at, "%s is %v now", key, v)
			}
		}
	}
	for _, key := range []string{"pattern", "format"} {
		if v, ok := now[key]; ok && v != before[key] {
			c.fault(at, "%s is %v now", key, v)
		}
	}
}

// elements compares what stands in lists.
func (c *comparison) elements(at string, before, now object, compare func(at string, older, newer Schema)) {
	first, second := list(before["prefixItems"]), list(now["prefixItems"])
	for i := range max(len(first), len(second)) {
		compare(fmt.Sprintf("%s/%d", at, i), element(before, first, i), element(now, second, i))
	}
	if before["items"] != nil || now["items"] != nil {
		compare(at+"/-", element(before, nil, 0), element(now, nil, 0))
	}
}

// element is the schema of the i-th in a list.
func element(s object, first []any, i int) Schema {
	if i < len(first) {
		return first[i]
	}
	if items := s["items"]; items != nil {
		return items
	}
	return true
}

func isObject(s object) bool {
	return s["properties"] != nil || s["additionalProperties"] != nil || slices.Contains(typesOf(s), "object")
}

// more is what a schema says of fields that it does not name.
func more(s object) Schema {
	if v, found := s["additionalProperties"]; found {
		return v
	}
	return true
}

func properties(s object) object {
	p, _ := s["properties"].(object)
	return p
}

// sorted ranges over a map in the order of its keys.
func sorted(m object) func(yield func(string, any) bool) {
	return func(yield func(string, any) bool) {
		for _, k := range slices.Sorted(maps.Keys(m)) {
			if !yield(k, m[k]) {
				return
			}
		}
	}
}

// choices are the alternatives of a schema, nil where it has none.
func choices(s object) []Schema {
	for _, key := range []string{"oneOf", "anyOf"} {
		if all := list(s[key]); all != nil {
			return all
		}
	}
	return nil
}

func choicesOf(s object) []Schema {
	if all := choices(s); all != nil {
		return all
	}
	return []Schema{s}
}

func list(v any) []any {
	l, _ := v.([]any)
	return l
}

func texts(v any) []string {
	var out []string
	for _, x := range list(v) {
		if s, ok := x.(string); ok {
			out = append(out, s)
		}
	}
	return out
}

func enum(s object) (words []any, limited bool) {
	if w, found := s["const"]; found {
		return []any{w}, true
	}
	words, limited = s["enum"].([]any)
	return words, limited
}

// typesOf lists the types that a schema takes, from its words where it names none; nil is any.
func typesOf(s object) []string {
	switch t := s["type"].(type) {
	case string:
		return []string{t}
	case []any:
		return append([]string{}, texts(t)...)
	}
	words, limited := enum(s)
	if !limited {
		if s["properties"] != nil {
			return []string{"object"}
		}
		return nil
	}
	var out []string
	for _, w := range words {
		switch w.(type) {
		case string:
			out = append(out, "string")
		case bool:
			out = append(out, "boolean")
		case float64:
			out = append(out, "number")
		case nil:
			out = append(out, "null")
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}
