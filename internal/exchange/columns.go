// Package exchange turns catalog files into tables and tables into catalog files: export
// and import of spreadsheets, column maps for tables of any form, and the difference of two
// catalogs. What a catalog says as texts is carried over word by word.
package exchange

import (
	"reflect"
	"strings"

	"seatward/catalog"
	"seatward/internal/yamlfile"
)

// form is how a key of a catalog file stands in a table.
type form uint8

const (
	cell  form = iota // one text
	lines             // a list of texts, one in a line of the cell
	rows              // a list of short lists, one in a line of the cell, parted by commas
	keyed             // free keys, a column for each: mechanics.disc_mass
	group             // fixed keys, a column for each: body.material
	sheet             // a list of mappings: a sheet of its own
)

// key is one key of a mapping of a catalog file.
type key struct {
	name string
	form form
	of   []key // of a group or sheet
}

// keysOf reads the keys out of the declaration of the file.
func keysOf(t reflect.Type) []key {
	var out []key
	for i := range t.NumField() {
		f := t.Field(i)
		k := key{name: f.Tag.Get("yaml")}
		if k.name == "" {
			continue
		}
		switch f.Type {
		case reflect.TypeFor[[]yamlfile.Word]():
			k.form = lines
		case reflect.TypeFor[[]yamlfile.Tuple]():
			k.form = rows
		case reflect.TypeFor[[]yamlfile.Pair]():
			k.form = keyed
		default:
			switch {
			case f.Type.Kind() == reflect.Slice:
				k.form, k.of = sheet, keysOf(f.Type.Elem())
			case f.Type.Kind() == reflect.Struct && !scalar(f.Type):
				k.form, k.of = group, keysOf(f.Type)
			}
		}
		out = append(out, k)
	}
	return out
}

func scalar(t reflect.Type) bool {
	switch t {
	case reflect.TypeFor[yamlfile.Word](), reflect.TypeFor[yamlfile.Q](), reflect.TypeFor[yamlfile.Num](),
		reflect.TypeFor[yamlfile.Size]():
		return true
	}
	return false
}

// catalogKeys are the keys of a catalog file.
var catalogKeys = keysOf(reflect.TypeFor[catalog.File]())

// find is the key of the name; false where there is none.
func find(keys []key, name string) (key, bool) {
	for _, k := range keys {
		if k.name == name {
			return k, true
		}
	}
	return key{}, false
}

// column finds what a column heading stands for: a key, a key of a group (body.material)
// or a free one (mechanics.disc_mass).
func column(keys []key, heading string) (k key, sub string, ok bool) {
	name, rest, dotted := strings.Cut(heading, ".")
	k, ok = find(keys, name)
	switch {
	case !ok:
		return key{}, "", false
	case k.form == keyed:
		return k, rest, dotted && rest != ""
	case k.form == group:
		_, found := find(k.of, rest)
		return k, rest, dotted && found
	}
	return k, "", !dotted && k.form != sheet
}

// headings are the columns that a mapping may fill, for messages.
func headings(keys []key) []string {
	var out []string
	for _, k := range keys {
		switch k.form {
		case group:
			for _, s := range k.of {
				out = append(out, k.name+"."+s.name)
			}
		case keyed:
			out = append(out, k.name+".KEY")
		case sheet:
		default:
			out = append(out, k.name)
		}
	}
	return out
}
