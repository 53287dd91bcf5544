package promise

import (
	"strings"
)

// API lists what the new OpenAPI document takes from those who ask as the old one says: an
// address, a status or a form of answer that is gone, a body or parameter that is refused.
func API(older, newer Schema) []string {
	c := &comparison{old: older, new: newer}
	paths := at(newer, "paths")
	for path, item := range sorted(at(older, "paths")) {
		for method, op := range sorted(item.(object)) {
			where := strings.ToUpper(method) + " " + path
			now := at(paths, path, method)
			if now == nil {
				c.fault(where, "it is gone")
				continue
			}
			before := op.(object)
			c.parameters(where, list(before["parameters"]), list(now["parameters"]))
			c.media(where+" body", at(before, "requestBody", "content"), at(now, "requestBody", "content"), Written)
			if before["requestBody"] == nil && at(now, "requestBody")["required"] == true {
				c.fault(where, "a body is required now")
			}
			for status, answer := range sorted(at(before, "responses")) {
				c.media(where+" "+status, at(answer, "content"), at(now, "responses", status, "content"), Answered)
			}
		}
	}
	return c.faults
}

// at is the object at a place, nil where there is none.
func at(s Schema, keys ...string) object {
	for _, k := range keys {
		o, _ := s.(object)
		s = o[k]
	}
	o, _ := s.(object)
	return o
}

// media compares the forms of a body or an answer, by media type.
func (c *comparison) media(
	where string, before, now object, compare func(oldRoot, newRoot, older, newer Schema) []string,
) {
	for media, form := range sorted(before) {
		new, found := now[media]
		if !found {
			c.fault(where, "%s is gone", media)
			continue
		}
		if older := form.(object)["schema"]; older != nil {
			for _, f := range compare(c.old, c.new, older, new.(object)["schema"]) {
				c.fault(where, "%s", f)
			}
		}
	}
}

// parameters compares what the address carries.
func (c *comparison) parameters(where string, before, now []any) {
	had := map[any]object{}
	for _, p := range before {
		had[name(p)] = p.(object)
	}
	for _, p := range now {
		old, found := had[name(p)]
		required := p.(object)["required"] == true
		if required && (!found || old["required"] != true) {
			c.fault(where, "parameter %q is required now", p.(object)["name"])
		}
		if found {
			for _, f := range Written(c.old, c.new, old["schema"], p.(object)["schema"]) {
				c.fault(where, "parameter %q, %s", p.(object)["name"], f)
			}
		}
		delete(had, name(p))
	}
	for _, p := range before {
		if had[name(p)] != nil {
			c.fault(where, "parameter %q is gone", p.(object)["name"])
		}
	}
}

// name tells a parameter from others: where it stands, and its name.
func name(p any) any {
	o, _ := p.(object)
	return [2]any{o["in"], o["name"]}
}
