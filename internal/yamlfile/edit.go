package yamlfile

import (
	"bytes"
	"errors"
	"fmt"
	"strings"

	"go.yaml.in/yaml/v4"

	"seatward/diag"
)

// Change is one edit of a file: what is to stand at the path, such as
// pumps[0].curve[2][1], as a person writes it. Nil removes the key or the entry of a list.
type Change struct {
	Path  string
	Value *string
	List  bool // the value is a list or keys, written as YAML: [450 gpm, 62 ft]
}

// Edit makes the changes one after another and gives the new text. Comments, the order of
// keys and, as far as the new value leaves room for it, every other byte stay. Keys and
// entries on the way that are missing are made; a mapping that loses its last key goes
// with it. The list holds what cannot be done; the text is then nil.
func Edit(file string, data []byte, changes []Change) ([]byte, diag.List) {
	for _, c := range changes {
		d := &decoder{file: file}
		out := d.edit(data, c)
		if d.list.Err() != nil {
			return nil, d.list
		}
		data = out
	}
	return data, nil
}

// edit makes one change. The tree that must come out is made first, on the library's
// nodes. The text is then cut where the change belongs; where that does not give the same
// tree (a value over several lines, brackets, a list's only key), the nodes are written.
func (d *decoder) edit(data []byte, c Change) []byte {
	steps, err := pathSteps(c.Path)
	if err != nil {
		d.refuse(c.Path, err.Error())
		return nil
	}
	doc := d.document(data)
	if doc == nil {
		return nil
	}
	now := (&decoder{}).document(data)
	value, err := valueNode(c)
	if err == nil {
		err = apply(doc.Content[0], steps, value)
	}
	if err != nil {
		d.refuse(c.Path, err.Error())
		return nil
	}
	for _, v := range []*yaml.Node{value, strict(value)} {
		if text, ok := splice(data, now.Content[0], steps, v); ok && sameText(text, doc.Content[0]) {
			return text
		}
	}
	var out bytes.Buffer
	e := yaml.NewEncoder(&out)
	e.SetIndent(2)
	if err := e.Encode(doc); err != nil || e.Close() != nil || !sameText(out.Bytes(), doc.Content[0]) {
		d.refuse(c.Path, "the file cannot hold this value")
		return nil
	}
	return out.Bytes()
}

func (d *decoder) refuse(path, why string) {
	d.add(nil, path, diag.Message{
		ID: "edit-impossible", Text: why,
		Expected: "a path of the file, such as levels.outlet or pumps[0].curve[1]", Mend: "mend the path or the value",
	})
}

// sameText is true when the text reads as the tree.
func sameText(text []byte, want *yaml.Node) bool {
	d := &decoder{}
	doc := d.document(text)
	return doc != nil && len(d.list) == 0 && sameNode(doc.Content[0], want)
}

func sameNode(a, b *yaml.Node) bool {
	if a.Kind != b.Kind || a.Value != b.Value || len(a.Content) != len(b.Content) || isNull(a) != isNull(b) {
		return false
	}
	for i := range a.Content {
		if !sameNode(a.Content[i], b.Content[i]) {
			return false
		}
	}
	return true
}

// pathStep is one key, or one index where the key is empty.
type pathStep struct {
	key   string
	index int
}

// pathSteps reads a path as messages write it.
func pathSteps(path string) ([]pathStep, error) {
	var out []pathStep
	for _, part := range strings.Split(path, ".") {
		key, rest, indexed := strings.Cut(part, "[")
		if key != "" {
			out = append(out, pathStep{key: key})
		} else if !indexed || len(out) > 0 {
			return nil, fmt.Errorf("%q is no path", short(path))
		}
		for indexed {
			var number string
			if number, rest, indexed = strings.Cut(rest, "]"); !indexed {
				return nil, fmt.Errorf("a bracket is open in the path %q", short(path))
			}
			var n int
			if _, err := fmt.Sscanf(number, "%d", &n); err != nil || fmt.Sprint(n) != number || n < 0 || n > maxNodes {
				return nil, fmt.Errorf("%q is no place in a list", short(number))
			}
			out = append(out, pathStep{index: n})
			if rest == "" {
				break
			}
			if rest[0] != '[' {
				return nil, fmt.Errorf("%q is no path", short(path))
			}
			rest = rest[1:]
		}
	}
	if len(out) == 0 || out[0].key == "" || len(out) > maxDepth {
		return nil, fmt.Errorf("%q is no path", short(path))
	}
	return out, nil
}

// valueNode is the value of a change; nil where it removes.
func valueNode(c Change) (*yaml.Node, error) {
	if c.Value == nil {
		return nil, nil
	}
	text := strings.TrimSpace(*c.Value)
	if at := notText([]byte(text)); at >= 0 || strings.ContainsAny(text, "\n\r\t") {
		return nil, fmt.Errorf("%q is no line of plain text", short(text))
	}
	if !c.List {
		return scalarNode(text), nil
	}
	d := &decoder{}
	doc := d.document([]byte(text))
	if doc == nil || len(d.list) > 0 || doc.Content[0].Kind == yaml.ScalarNode {
		return nil, fmt.Errorf("%q is no list; write for example [[450 gpm, 62 ft], [600 gpm, 50 ft]]", short(text))
	}
	return doc.Content[0], nil
}

// scalarNode holds a text, in quotes where YAML would read something else.
func scalarNode(text string) *yaml.Node {
	n := &yaml.Node{Kind: yaml.ScalarNode, Value: text}
	var back yaml.Node
	plain := yaml.Unmarshal([]byte("a: "+text), &back) == nil && len(back.Content) == 1 &&
		len(back.Content[0].Content) == 2
	if plain {
		v := back.Content[0].Content[1]
		plain = v.Kind == yaml.ScalarNode && v.Style == 0 && v.Value == text && !isNull(v) &&
			!strings.ContainsAny(text, "#\"'")
	}
	if !plain {
		return strict(n)
	}
	return n
}

// strict is a text in quotes, which stands anywhere; other nodes as they are.
func strict(n *yaml.Node) *yaml.Node {
	if n == nil || n.Kind != yaml.ScalarNode {
		return n
	}
	return &yaml.Node{Kind: yaml.ScalarNode, Value: n.Value, Tag: "!!str", Style: yaml.DoubleQuotedStyle}
}

// apply makes the change on the nodes.
func apply(n *yaml.Node, steps []pathStep, value *yaml.Node) error {
	s := steps[0]
	if s.key != "" && n.Kind != yaml.MappingNode || s.key == "" && n.Kind != yaml.SequenceNode {
		return fmt.Errorf("%s stands where %s was meant", describe(n), s)
	}
	at, size := s.find(n)
	switch {
	case at < 0 && value == nil:
		return nil // there is nothing to remove
	case at < 0:
		if s.key == "" && s.index > len(n.Content) {
			return fmt.Errorf("the list has %d entries; the next is [%d]", len(n.Content), len(n.Content))
		}
		if !buildable(steps[1:]) {
			return errFirst
		}
		if s.key != "" {
			n.Content = append(n.Content, &yaml.Node{Kind: yaml.ScalarNode, Value: s.key})
		}
		if len(n.Content) == 0 {
			n.Style &^= yaml.FlowStyle
		}
		n.Content = append(n.Content, built(steps[1:], value))
		return nil
	}
	held := n.Content[at]
	if len(steps) == 1 {
		if value == nil {
			n.Content = append(n.Content[:at+1-size], n.Content[at+1:]...)
			return nil
		}
		fresh := *value
		fresh.HeadComment, fresh.LineComment, fresh.FootComment = held.HeadComment, held.LineComment, held.FootComment
		n.Content[at] = &fresh
		return nil
	}
	if isNull(held) || held.Kind == yaml.ScalarNode && held.Value == "" {
		if value == nil {
			return nil
		}
		if !buildable(steps[1:]) {
			return errFirst
		}
		n.Content[at] = built(steps[1:], value)
		return nil
	}
	if err := apply(held, steps[1:], value); err != nil {
		return err
	}
	if value == nil && len(held.Content) == 0 && s.key != "" {
		n.Content = append(n.Content[:at+1-size], n.Content[at+1:]...)
	}
	return nil
}

// String names the step as a message does.
func (s pathStep) String() string {
	if s.key != "" {
		return fmt.Sprintf("the key %q", short(s.key))
	}
	return fmt.Sprintf("entry [%d] of a list", s.index)
}

// find gives the index of the step's value in the node's content, −1 where it is missing,
// and how many nodes belong to it.
func (s pathStep) find(n *yaml.Node) (at, size int) {
	if s.key == "" {
		if s.index < len(n.Content) {
			return s.index, 1
		}
		return -1, 1
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Kind == yaml.ScalarNode && n.Content[i].Value == s.key {
			return i + 1, 2
		}
	}
	return -1, 2
}

var errFirst = errors.New("a list that is made begins with [0]")

// buildable is true when new lists on the way begin with their first entry.
func buildable(steps []pathStep) bool {
	for _, s := range steps {
		if s.index > 0 {
			return false
		}
	}
	return true
}

// built is the value inside the keys and lists that lead to it.
func built(steps []pathStep, value *yaml.Node) *yaml.Node {
	if len(steps) == 0 {
		return value
	}
	inner := built(steps[1:], value)
	if steps[0].key == "" {
		return &yaml.Node{Kind: yaml.SequenceNode, Content: []*yaml.Node{inner}}
	}
	return &yaml.Node{
		Kind:    yaml.MappingNode,
		Content: []*yaml.Node{{Kind: yaml.ScalarNode, Value: steps[0].key}, inner},
	}
}
