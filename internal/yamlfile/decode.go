package yamlfile

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"

	"seatward/diag"
	"seatward/quantity"
)

// Decode reads data into the struct that into points to and returns every fault
// found. Keys that the struct does not have, keys written twice, aliases and
// files that are too large or too deep are faults.
func Decode(file string, data []byte, into any) diag.List {
	d := &decoder{file: file}
	if len(data) > MaxBytes {
		d.add(nil, "", diag.Message{ID: "file-too-large", Text: "the file is too large", Found: fmt.Sprintf("%d bytes", len(data)), Expected: fmt.Sprintf("at most %d", MaxBytes), Mend: "keep one station or one product family in a file; put long tables in a CSV"})
		return d.list
	}
	if depth := nesting(data); depth > 4*maxDepth {
		d.add(nil, "", diag.Message{ID: "file-too-deep", Text: "the file is nested too deeply", Found: fmt.Sprintf("about %d levels", depth), Expected: fmt.Sprintf("at most %d", maxDepth), Mend: "remove the brackets or the indentation that open level in level"})
		return d.list
	}
	var doc yaml.Node
	if err := yaml.Unmarshal(data, &doc); err != nil {
		d.syntax(err)
		return d.list
	}
	if len(doc.Content) == 0 {
		d.add(nil, "", diag.Message{ID: "file-empty", Text: "the file says nothing", Expected: "keys and values", Mend: "start from: seatward new"})
		return d.list
	}
	d.value(doc.Content[0], "", reflect.ValueOf(into).Elem(), "", 0)
	d.list.Sort()
	return d.list
}

type decoder struct {
	file  string
	list  diag.List
	nodes int
}

// nesting bounds the depth of flow brackets before the parser sees them.
func nesting(data []byte) int {
	depth, deepest := 0, 0
	for _, b := range data {
		switch b {
		case '[', '{':
			depth++
			deepest = max(deepest, depth)
		case ']', '}':
			depth--
		}
	}
	return deepest
}

func (d *decoder) syntax(err error) {
	m := diag.Message{ID: "yaml-syntax", Place: diag.Place{File: d.file, Line: 1, Col: 1}, Text: "the file is not readable YAML", Found: strings.TrimPrefix(err.Error(), "yaml: "), Expected: "key: value lines, indented with spaces", Mend: "look at this line and the one above it for a missing colon, quote or bracket, or a tab"}
	var list *yaml.LoadErrors
	if errors.As(err, &list) && len(list.Errors) > 0 {
		first := list.Errors[0]
		m.Place.Line, m.Place.Col = max(first.Mark.Line, 1), max(first.Mark.Column, 1)
		m.Found = first.Message
	}
	d.list.Add(m)
}

func (d *decoder) add(n *yaml.Node, path string, m diag.Message) {
	m.Place = d.place(n)
	m.Path = path
	d.list.Add(m)
}

func (d *decoder) place(n *yaml.Node) diag.Place {
	if n == nil {
		return diag.Place{File: d.file, Line: 1, Col: 1}
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
		d.add(n, path, diag.Message{ID: "file-too-deep", Text: "nested too deeply", Expected: fmt.Sprintf("at most %d levels", maxDepth), Mend: "remove the extra levels"})
		return
	case d.nodes > maxNodes:
		if d.nodes == maxNodes+1 {
			d.add(n, path, diag.Message{ID: "file-too-large", Text: "too many values", Expected: fmt.Sprintf("at most %d", maxNodes), Mend: "split the file"})
		}
		return
	case n.Kind == yaml.AliasNode:
		d.add(n, path, diag.Message{ID: "yaml-alias", Text: "references (*name) are not read", Mend: "write the value out"})
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

func (d *decoder) mapping(n *yaml.Node, path string, v reflect.Value, depth int) {
	if n.Kind != yaml.MappingNode {
		d.add(n, path, diag.Message{ID: "yaml-shape", Text: "expected keys and values here", Found: describe(n), Expected: "one of the keys: " + strings.Join(keysOf(v.Type()), ", "), Mend: "write indented key: value lines"})
		return
	}
	if at := v.FieldByName("At"); at.IsValid() && at.Type() == reflect.TypeFor[At]() {
		at.Set(reflect.ValueOf(d.at(n, path)))
	}
	seen := map[string]bool{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, val := n.Content[i], n.Content[i+1]
		p := join(path, key.Value)
		if seen[key.Value] {
			d.add(key, p, diag.Message{ID: "key-twice", Text: fmt.Sprintf("the key %q stands twice", short(key.Value)), Mend: "keep one of the two"})
			continue
		}
		seen[key.Value] = true
		index, ok := fieldOf(v.Type(), key.Value)
		if !ok {
			d.unknownKey(key, p, v.Type())
			continue
		}
		field := v.Type().Field(index)
		if isNull(val) {
			d.add(val, p, diag.Message{ID: "value-missing", Text: "nothing stands after the key", Expected: field.Tag.Get("doc"), Mend: "write the value, or remove the line: a missing fact is estimated and listed"})
			continue
		}
		d.value(val, p, v.Field(index), field.Tag, depth+1)
	}
	for i := range v.NumField() {
		f := v.Type().Field(i)
		if k := f.Tag.Get("yaml"); f.Tag.Get("need") == "true" && !seen[k] {
			d.add(n, path, diag.Message{ID: "key-missing", Text: fmt.Sprintf("the key %q is missing", k), Expected: f.Tag.Get("doc"), Mend: fmt.Sprintf("add a line %s: ...", k)})
		}
	}
}

func (d *decoder) unknownKey(key *yaml.Node, path string, t reflect.Type) {
	m := diag.Message{ID: "key-unknown", Text: fmt.Sprintf("unknown key %q", short(key.Value)), Expected: "one of: " + strings.Join(keysOf(t), ", "), Mend: "remove it or mend its spelling"}
	if meant := diag.DidYouMean(key.Value, keysOf(t)); meant != "" {
		m.Mend = fmt.Sprintf("did you mean %q?", meant)
	}
	d.add(key, path, m)
}

func (d *decoder) sequence(n *yaml.Node, path string, v reflect.Value, tag reflect.StructTag, depth int) {
	if n.Kind != yaml.SequenceNode {
		d.add(n, path, diag.Message{ID: "yaml-shape", Text: "expected a list here", Found: describe(n), Expected: tag.Get("doc"), Mend: "put each entry on its own line after a dash, or all in [ ]"})
		return
	}
	out := reflect.MakeSlice(v.Type(), len(n.Content), len(n.Content))
	for i, item := range n.Content {
		d.value(item, fmt.Sprintf("%s[%d]", path, i), out.Index(i), tag, depth+1)
	}
	v.Set(out)
}

func (d *decoder) tuple(n *yaml.Node, path string, t *Tuple, tag reflect.StructTag, depth int) {
	kinds := strings.Split(tag.Get("kind"), ",")
	if n.Kind != yaml.SequenceNode || len(n.Content) != len(kinds) {
		d.add(n, path, diag.Message{ID: "yaml-shape", Text: "expected a short list here", Found: describe(n), Expected: fmt.Sprintf("%d values: [%s]", len(kinds), strings.Join(kinds, ", ")), Mend: "write for example [450 gpm, 62 ft]"})
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
		d.add(n, path, diag.Message{ID: "yaml-shape", Text: "expected name: value lines here", Found: describe(n), Mend: "write one name: value a line"})
		return
	}
	seen := map[string]bool{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, val := n.Content[i], n.Content[i+1]
		p := join(path, key.Value)
		switch {
		case seen[key.Value]:
			d.add(key, p, diag.Message{ID: "key-twice", Text: fmt.Sprintf("the key %q stands twice", short(key.Value)), Mend: "keep one of the two"})
		case val.Kind != yaml.ScalarNode || isNull(val):
			d.add(val, p, diag.Message{ID: "yaml-shape", Text: "expected one value here", Found: describe(val), Mend: "write name: value"})
		default:
			*out = append(*out, Pair{Word{key.Value, d.at(key, p)}, Word{val.Value, d.at(val, p)}})
		}
		seen[key.Value] = true
	}
}

func (d *decoder) scalar(n *yaml.Node, path string, target any, tag reflect.StructTag) {
	if n.Kind != yaml.ScalarNode {
		d.add(n, path, diag.Message{ID: "yaml-shape", Text: "expected one value here", Found: describe(n), Expected: tag.Get("doc"), Mend: "write one value after the key"})
		return
	}
	switch t := target.(type) {
	case *Word:
		d.word(n, path, t, tag)
	case *Size:
		s, err := quantity.ParseSize(n.Value)
		if d.quantityFault(n, path, err) {
			*t = Size{s, d.at(n, path)}
		}
	case *Num:
		r, err := quantity.ParseRange(quantity.Number, n.Value)
		if d.quantityFault(n, path, err) && d.within(n, path, r, tag) {
			*t = Num{r.Best.SI, d.at(n, path)}
		}
	case *Q:
		kind, ok := quantity.KindNamed(tag.Get("kind"))
		if !ok {
			panic("yamlfile: no kind on " + path)
		}
		r, err := quantity.ParseRange(kind, n.Value)
		if d.quantityFault(n, path, err) && d.within(n, path, r, tag) {
			*t = Q{r, d.at(n, path)}
		}
	}
}

func (d *decoder) word(n *yaml.Node, path string, t *Word, tag reflect.StructTag) {
	text := strings.TrimSpace(n.Value)
	if allowed := tag.Get("one"); allowed != "" {
		words := strings.Split(allowed, "|")
		found := false
		for _, w := range words {
			if strings.EqualFold(w, text) {
				text, found = w, true
			}
		}
		if !found {
			m := diag.Message{ID: "word-unknown", Text: fmt.Sprintf("%q is not a choice here", short(text)), Expected: "one of: " + strings.Join(words, ", "), Mend: "pick one of these words"}
			if meant := diag.DidYouMean(text, words); meant != "" {
				m.Mend = fmt.Sprintf("did you mean %q?", meant)
			}
			d.add(n, path, m)
			return
		}
	}
	*t = Word{text, d.at(n, path)}
}

func (d *decoder) quantityFault(n *yaml.Node, path string, err error) bool {
	var p *quantity.ParseError
	if errors.As(err, &p) {
		d.add(n, path, diag.Message{ID: "value-unreadable", Text: fmt.Sprintf("%q is not a %s", p.Text, p.Kind), Found: p.Found, Expected: p.Expected, Mend: p.Mend})
		return false
	}
	return true
}

func (d *decoder) within(n *yaml.Node, path string, r quantity.Range, tag reflect.StructTag) bool {
	low, strict := strings.CutPrefix(tag.Get("min"), ">")
	least := limit(low, math.Inf(-1))
	most := limit(tag.Get("max"), math.Inf(1))
	bad := r.Low.SI < least || r.High.SI > most || (strict && r.Low.SI <= least)
	if !bad {
		return true
	}
	expected := fmt.Sprintf("a value from %g to %g %s", least, most, r.Best.Kind.Symbol())
	switch {
	case math.IsInf(most, 1) && strict && least == 0:
		expected = "a value above zero"
	case math.IsInf(most, 1) && least == 0:
		expected = "zero or more"
	case math.IsInf(most, 1):
		expected = fmt.Sprintf("at least %g %s", least, r.Best.Kind.Symbol())
	case math.IsInf(least, -1):
		expected = fmt.Sprintf("at most %g %s", most, r.Best.Kind.Symbol())
	}
	d.add(n, path, diag.Message{ID: "value-out-of-range", Text: fmt.Sprintf("%q cannot be", short(n.Value)), Found: short(n.Value), Expected: strings.TrimSpace(expected), Mend: "mend the number or its sign"})
	return false
}

func limit(text string, otherwise float64) float64 {
	if text == "" {
		return otherwise
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		panic("yamlfile: bad limit " + text)
	}
	return v
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

func join(path, key string) string {
	if path == "" {
		return short(key)
	}
	return path + "." + short(key)
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
