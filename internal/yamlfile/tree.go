package yamlfile

import (
	"bytes"
	"fmt"
	"reflect"
	"strings"

	"go.yaml.in/yaml/v4"

	"seatward/diag"
)

// Shape is what a Tree is.
type Shape uint8

// The shapes.
const (
	TextTree Shape = iota
	ListTree
	KeyedTree
)

// Tree is a value as written, before anything is read out of it: a text, a list, or keys
// with their values in order. It is how files change their form without losing a word.
type Tree struct {
	Shape Shape
	Text  string
	Items []*Tree // of a list, or the values of the keys
	Keys  []string
	Place diag.Place
}

// NewText makes a text.
func NewText(text string, place diag.Place) *Tree { return &Tree{Text: text, Place: place} }

// Get finds the value of a key; nil where there is none.
func (t *Tree) Get(key string) *Tree {
	if t == nil {
		return nil
	}
	for i, k := range t.Keys {
		if k == key {
			return t.Items[i]
		}
	}
	return nil
}

// Set gives a key its value, at the end where it is new.
func (t *Tree) Set(key string, value *Tree) {
	t.Shape = KeyedTree
	for i, k := range t.Keys {
		if k == key {
			t.Items[i] = value
			return
		}
	}
	t.Keys, t.Items = append(t.Keys, key), append(t.Items, value)
}

// ParseTree reads a file as a Tree. The list holds what cannot be read.
func ParseTree(file string, data []byte) (*Tree, diag.List) {
	d := &decoder{file: file}
	root := d.parse(data)
	if root == nil {
		return nil, d.list
	}
	return d.tree(root, 0), d.list
}

func (d *decoder) tree(n *yaml.Node, depth int) *Tree {
	t := &Tree{Place: d.place(n), Text: n.Value}
	if depth > maxDepth || n.Kind == yaml.AliasNode {
		d.add(n, "", aliasMessage)
		return t
	}
	switch n.Kind {
	case yaml.SequenceNode:
		t.Shape = ListTree
		for _, item := range n.Content {
			t.Items = append(t.Items, d.tree(item, depth+1))
		}
	case yaml.MappingNode:
		t.Shape = KeyedTree
		for i := 0; i+1 < len(n.Content); i += 2 {
			t.Keys, t.Items = append(t.Keys, n.Content[i].Value), append(t.Items, d.tree(n.Content[i+1], depth+1))
		}
	}
	return t
}

// DecodeTree is Decode for a Tree: faults have the places that the tree's values carry,
// which may be cells of a spreadsheet.
func DecodeTree(t *Tree, into any) diag.List {
	d := &decoder{places: map[*yaml.Node]diag.Place{}}
	if t.count() > maxNodes {
		d.addAt(t.Place, "", diag.Message{
			ID: "file-too-large", Text: "too many values",
			Expected: fmt.Sprintf("at most %d", maxNodes), Mend: "split the file",
		})
		return d.list
	}
	root := d.node(t, 0)
	d.read(root, reflect.TypeOf(into).Elem())
	d.value(root, "", reflect.ValueOf(into).Elem(), "", 0)
	d.list.Sort()
	return d.list
}

// count is the number of values in the tree.
func (t *Tree) count() int {
	n := 1
	for _, item := range t.Items {
		n += item.count()
	}
	return n
}

// node makes the library's node of a tree; lists of texts and small mappings stand in one
// line.
func (d *decoder) node(t *Tree, depth int) *yaml.Node {
	n := &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: t.Text}
	if d.places == nil && plain(t.Text) { // quotes matter only where it is written
		n.Tag = ""
	}
	flat := depth > 1
	for _, item := range t.Items {
		flat = flat && item.Shape == TextTree
	}
	switch t.Shape {
	case ListTree:
		n.Kind, n.Tag, n.Value = yaml.SequenceNode, "!!seq", ""
		for _, item := range t.Items {
			n.Content = append(n.Content, d.node(item, depth+1))
		}
	case KeyedTree:
		n.Kind, n.Tag, n.Value = yaml.MappingNode, "!!map", ""
		for i, item := range t.Items {
			key := &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: t.Keys[i]}
			if d.places != nil {
				d.places[key] = item.Place
			}
			n.Content = append(n.Content, key, d.node(item, depth+1))
		}
	}
	if t.Shape != TextTree && flat {
		n.Style = yaml.FlowStyle
	}
	if d.places != nil {
		d.places[n] = t.Place
	}
	return n
}

// plain is true for texts that files hold without quotes although YAML would read a number
// or a yes out of them: they are texts here all the same.
func plain(text string) bool {
	if !maybePlain(text) {
		return false
	}
	var n yaml.Node
	if yaml.Unmarshal([]byte(text), &n) != nil || len(n.Content) != 1 {
		return false
	}
	one := n.Content[0]
	return one.Kind == yaml.ScalarNode && one.Value == text && !isNull(one) && one.Tag != "!!str"
}

// maybePlain sorts out most texts before the library is asked, which takes long for the many
// cells of a table: a number, a yes or a null begins with one of these, and of those with a
// blank in them only a point in time is no text.
func maybePlain(text string) bool {
	const begins = "0123456789+-.~=<yYnNtTfFoO"
	if text == "" || !strings.Contains(begins, text[:1]) {
		return false
	}
	return !strings.Contains(text, " ") || len(text) > 4 && text[4] == '-'
}

// WriteTree writes a tree as a file.
func WriteTree(t *Tree) ([]byte, error) {
	var out bytes.Buffer
	e := yaml.NewEncoder(&out)
	e.SetIndent(2)
	if err := e.Encode((&decoder{}).node(t, 0)); err != nil {
		return nil, err
	}
	if err := e.Close(); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

// Raw is a value kept as written, for files that carry parts of other files.
type Raw struct {
	Tree *Tree
	At
}

// Line is the value in one line, as a Change takes it: lists in brackets, keys in braces.
func (t *Tree) Line() string {
	if t.Shape == TextTree {
		return t.Text
	}
	n := (&decoder{}).node(t, 0)
	flowing(n)
	text, ok := rendered(n, 0)
	if !ok {
		return ""
	}
	return strings.Join(strings.Fields(text), " ")
}

// flowing puts a node and all in it in brackets.
func flowing(n *yaml.Node) {
	if n.Kind != yaml.ScalarNode {
		n.Style = yaml.FlowStyle
	}
	for _, c := range n.Content {
		flowing(c)
	}
}
