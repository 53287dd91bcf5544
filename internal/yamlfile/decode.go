package yamlfile

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"

	"seatward/diag"
	"seatward/internal/trade"
	"seatward/quantity"
)

type decoder struct {
	file  string
	list  diag.List
	nodes int
	// reading is how numbers are read: bare ones are taken where the file names its units.
	reading quantity.Reading
	// places are where values stand that no file of this form was written for; nil where the
	// nodes say it themselves.
	places map[*yaml.Node]diag.Place
}

func (d *decoder) add(n *yaml.Node, path string, m diag.Message) { d.addAt(d.place(n), path, m) }

// addAt tells a fault. A file with very many is of another format, or damaged in one
// place: the rest would bury the cause.
func (d *decoder) addAt(place diag.Place, path string, m diag.Message) {
	if len(d.list) > maxFaults {
		return
	}
	if len(d.list) == maxFaults {
		path = "" // whatever follows is not known to be good
		m = diag.Message{
			ID:   "too-many-faults",
			Text: fmt.Sprintf("more than %d faults: the rest is not listed", maxFaults), Mend: "mend those above first",
		}
	}
	m.Place, m.Path = place, path
	d.list.Add(m)
}

func (d *decoder) place(n *yaml.Node) diag.Place {
	if n == nil {
		return diag.Place{File: d.file, Line: 1, Col: 1}
	}
	if d.places != nil {
		return d.places[n]
	}
	return diag.Place{File: d.file, Line: n.Line, Col: n.Column}
}

func (d *decoder) at(n *yaml.Node, path string) At {
	return At{Set: true, Place: d.place(n), Path: path}
}

// value reads one node into one Go value by the Go value's type.
func (d *decoder) value(n *yaml.Node, path string, v reflect.Value, tag reflect.StructTag, depth int) {
	d.nodes++
	switch {
	case depth > maxDepth:
		d.add(n, path, diag.Message{
			ID: "file-too-deep", Text: "nested too deeply",
			Expected: fmt.Sprintf("at most %d levels", maxDepth), Mend: "remove the extra levels",
		})
		return
	case d.nodes > maxNodes:
		if d.nodes == maxNodes+1 {
			d.add(n, "", diag.Message{
				ID: "file-too-large", Text: "too many values",
				Expected: fmt.Sprintf("at most %d", maxNodes), Mend: "split the file",
			})
		}
		return
	case n.Kind == yaml.AliasNode:
		d.add(n, path, aliasMessage)
		return
	}
	if v.Kind() == reflect.Pointer {
		if v.IsNil() {
			v.Set(reflect.New(v.Type().Elem()))
		}
		d.value(n, path, v.Elem(), tag, depth)
		return
	}
	switch target := v.Addr().Interface().(type) {
	case *Q, *Num, *Word, *Size:
		d.scalar(n, path, target, tag)
	case *Raw:
		*target = Raw{d.tree(n, depth), d.at(n, path)}
	case *Tuple:
		d.tuple(n, path, target, tag, depth)
	case *[]Pair:
		d.pairs(n, path, target)
	default:
		switch v.Kind() {
		case reflect.Struct:
			d.mapping(n, path, v, depth)
		case reflect.Slice:
			d.sequence(n, path, v, tag, depth)
		default:
			panic("yamlfile: no reader for " + v.Type().String())
		}
	}
}

// read gives the decoder the reading of numbers: that of the system which the root names
// under the key whose tag says so.
func (d *decoder) read(root *yaml.Node, t reflect.Type) {
	for i := range t.NumField() {
		f := t.Field(i)
		if f.Tag.Get("bare") != "true" || root.Kind != yaml.MappingNode {
			continue
		}
		for k := 0; k+1 < len(root.Content); k += 2 {
			if root.Content[k].Value != f.Tag.Get("yaml") || root.Content[k+1].Kind != yaml.ScalarNode {
				continue
			}
			word := strings.TrimSpace(root.Content[k+1].Value)
			if sys, err := quantity.SystemNamed(word, quantity.SI); err == nil && word != "" {
				d.reading = quantity.For(sys)
			}
		}
	}
}

func (d *decoder) mapping(n *yaml.Node, path string, v reflect.Value, depth int) {
	if n.Kind != yaml.MappingNode {
		d.add(n, path, diag.Message{
			ID: "yaml-shape", Text: "expected keys and values here", Found: describe(n),
			Expected: "one of the keys: " + strings.Join(keysOf(v.Type()),
				", "), Mend: "write indented key: value lines",
		})
		return
	}
	if at := v.FieldByName("At"); at.IsValid() && at.Type() == reflect.TypeFor[At]() {
		at.Set(reflect.ValueOf(d.at(n, path)))
	}
	seen := map[string]bool{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, val := n.Content[i], n.Content[i+1]
		p := join(path, key.Value)
		if !d.key(key, p, seen) {
			continue
		}
		index, ok := fieldOf(v.Type(), key.Value)
		if !ok {
			seen[d.unknownKey(key, p, v.Type())] = true
			continue
		}
		field := v.Type().Field(index)
		if isNull(val) {
			d.add(val, p, diag.Message{
				ID: "value-missing", Text: "nothing stands after the key",
				Expected: field.Tag.Get("doc"), Mend: "write the value, or remove the line: a missing fact is estimated and listed",
			})
			continue
		}
		d.value(val, p, v.Field(index), field.Tag, depth+1)
	}
	for i := range v.NumField() {
		f := v.Type().Field(i)
		if k := f.Tag.Get("yaml"); f.Tag.Get("need") == "true" && !seen[k] {
			d.add(n, join(path, k), diag.Message{
				ID: "key-missing", Text: fmt.Sprintf("the key %q is missing", k),
				Expected: f.Tag.Get("doc"), Mend: fmt.Sprintf("add a line %s: ...", k),
			})
		}
	}
}

// key tells a key that is no word or stands twice; false when it cannot be used.
func (d *decoder) key(key *yaml.Node, path string, seen map[string]bool) bool {
	switch {
	case key.Kind == yaml.AliasNode:
		d.add(key, path, aliasMessage)
		return false
	case key.Kind != yaml.ScalarNode:
		d.add(key, path, diag.Message{
			ID: "yaml-shape", Text: "a key is one word", Found: describe(key),
			Mend: "write key: value",
		})
		return false
	case seen[key.Value]:
		d.add(key, path, diag.Message{
			ID: "key-twice", Text: fmt.Sprintf("the key %q stands twice", short(key.Value)),
			Mend: "keep one of the two",
		})
		return false
	}
	seen[key.Value] = true
	return true
}

// unknownKey tells a key that the struct does not have, and gives the one meant, if
// it can be guessed: that one is then not missing.
func (d *decoder) unknownKey(key *yaml.Node, path string, t reflect.Type) string {
	m := diag.Message{
		ID: "key-unknown", Text: fmt.Sprintf("unknown key %q", short(key.Value)),
		Expected: "one of: " + strings.Join(keysOf(t), ", "), Mend: "remove it or mend its spelling",
	}
	meant := diag.DidYouMean(key.Value, keysOf(t))
	for _, m := range trade.Find("key", key.Value) {
		if slices.Contains(keysOf(t), m) {
			meant = m
		}
	}
	if meant != "" {
		m.Mend = fmt.Sprintf("did you mean %q?", meant)
	}
	d.add(key, path, m)
	return meant
}

func (d *decoder) sequence(n *yaml.Node, path string, v reflect.Value, tag reflect.StructTag, depth int) {
	if n.Kind != yaml.SequenceNode {
		d.add(n, path, diag.Message{
			ID: "yaml-shape", Text: "expected a list here", Found: describe(n),
			Expected: tag.Get("doc"), Mend: "put each entry on its own line after a dash, or all in [ ]",
		})
		return
	}
	if most := mostOf(v.Type(), tag); len(n.Content) > most {
		d.add(n, path, diag.Message{
			ID: "list-too-long", Text: "the list is too long", Found: describe(n),
			Expected: fmt.Sprintf("at most %d entries",
				most), Mend: "leave out what the answer does not need: of a curve or a profile, points that lie on a straight line between others",
		})
		return
	}
	if v.Type() == reflect.TypeFor[[]Tuple]() && d.flat(n, path, tag) {
		return
	}
	out := reflect.MakeSlice(v.Type(), len(n.Content), len(n.Content))
	for i, item := range n.Content {
		d.value(item, fmt.Sprintf("%s[%d]", path, i), out.Index(i), tag, depth+1)
	}
	v.Set(out)
}

// flat tells once of points that are written in one row, and how they are written in pairs.
func (d *decoder) flat(n *yaml.Node, path string, tag reflect.StructTag) bool {
	const shown = 4
	kinds := strings.Split(tag.Get("kind"), ",")
	nested := func(c *yaml.Node) bool { return c.Kind != yaml.ScalarNode }
	if len(n.Content) < len(kinds) || slices.ContainsFunc(n.Content, nested) {
		return false
	}
	var points []string
	for i := 0; i+len(kinds) <= len(n.Content) && len(points) < shown; i += len(kinds) {
		var one []string
		for _, c := range n.Content[i : i+len(kinds)] {
			one = append(one, c.Value)
		}
		points = append(points, "["+strings.Join(one, ", ")+"]")
	}
	d.add(n, path, diag.Message{
		ID: "yaml-shape", Text: "the points stand in one row", Found: describe(n),
		Expected: fmt.Sprintf("a list of points, each [%s]", strings.Join(kinds, ", ")),
		Mend:     "write [" + strings.Join(points, ", ") + "]",
	})
	return true
}

// mostOf is how many entries a list may have: by its tag, or what no list that a person or a
// survey makes comes near to.
func mostOf(t reflect.Type, tag reflect.StructTag) int {
	const points, entries = 2000, 5000
	if most, err := strconv.Atoi(tag.Get("most")); err == nil {
		return most
	}
	if t == reflect.TypeFor[[]Tuple]() {
		return points
	}
	return entries
}

func (d *decoder) tuple(n *yaml.Node, path string, t *Tuple, tag reflect.StructTag, depth int) {
	kinds := strings.Split(tag.Get("kind"), ",")
	if n.Kind != yaml.SequenceNode || len(n.Content) != len(kinds) {
		d.add(n, path, diag.Message{
			ID: "yaml-shape", Text: "expected a short list here", Found: describe(n),
			Expected: fmt.Sprintf("%d values: [%s]", len(kinds),
				strings.Join(kinds, ", ")), Mend: "write for example [450 gpm, 62 ft]",
		})
		return
	}
	t.At = d.at(n, path)
	t.Items = make([]Q, len(kinds))
	for i, item := range n.Content {
		one := reflect.StructTag(fmt.Sprintf(`kind:%q min:%q`, kinds[i], tag.Get("min")))
		d.value(item, fmt.Sprintf("%s[%d]", path, i), reflect.ValueOf(&t.Items[i]).Elem(), one, depth+1)
	}
}

func (d *decoder) pairs(n *yaml.Node, path string, out *[]Pair) {
	if n.Kind != yaml.MappingNode {
		d.add(n, path, diag.Message{
			ID: "yaml-shape", Text: "expected name: value lines here", Found: describe(n),
			Mend: "write one name: value a line",
		})
		return
	}
	seen := map[string]bool{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, val := n.Content[i], n.Content[i+1]
		p := join(path, key.Value)
		if !d.key(key, p, seen) {
			continue
		}
		var pair Pair
		if val.Kind != yaml.ScalarNode || isNull(val) {
			d.add(val, p, diag.Message{
				ID: "yaml-shape", Text: "expected one value here", Found: describe(val),
				Mend: "write name: value",
			})
			continue
		}
		d.word(key, p, &pair.Key, "")
		d.word(val, p, &pair.Value, "")
		if pair.Key.Set && pair.Value.Set {
			*out = append(*out, pair)
		}
	}
}

func describe(n *yaml.Node) string {
	switch n.Kind {
	case yaml.MappingNode:
		return "keys and values"
	case yaml.SequenceNode:
		return fmt.Sprintf("a list of %d", len(n.Content))
	}
	return strconv.Quote(short(n.Value))
}

func isNull(n *yaml.Node) bool {
	return n.Kind == yaml.ScalarNode && n.Style == 0 && (n.Value == "" || n.Value == "null" || n.Value == "~")
}

func short(s string) string {
	if len(s) > 40 {
		return strings.ToValidUTF8(s[:40], "") + "..."
	}
	return s
}

// join makes the path of a key. What cannot be printed is escaped.
func join(path, key string) string {
	quoted := strconv.Quote(short(key))
	key = quoted[1 : len(quoted)-1]
	if path == "" {
		return key
	}
	return path + "." + key
}

func fieldOf(t reflect.Type, key string) (int, bool) {
	for i := range t.NumField() {
		if key != "" && t.Field(i).Tag.Get("yaml") == key {
			return i, true
		}
	}
	return 0, false
}

func keysOf(t reflect.Type) []string {
	var out []string
	for i := range t.NumField() {
		if k := t.Field(i).Tag.Get("yaml"); k != "" {
			out = append(out, k)
		}
	}
	return out
}
