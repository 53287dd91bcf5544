package yamlfile

import (
	"bytes"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"
)

// splice cuts the text where the change belongs and leaves every other byte. It may fail,
// or cut wrongly where a value is longer than it looks: the caller reads the text again.
func splice(data []byte, root *yaml.Node, steps []pathStep, value *yaml.Node) ([]byte, bool) {
	n := root
	for i, s := range steps {
		if s.key != "" && n.Kind != yaml.MappingNode || s.key == "" && n.Kind != yaml.SequenceNode {
			return nil, false
		}
		at, size := s.find(n)
		last := i == len(steps)-1
		switch {
		case at < 0 && value == nil:
			return data, true
		case at < 0:
			return insert(data, n, s, built(steps[i+1:], value))
		case last && value == nil:
			return remove(data, n, at, size)
		case last:
			return replace(data, n, at, value)
		}
		n = n.Content[at]
	}
	return nil, false
}

// lines are the starts of the lines of a text, and its end.
func lines(data []byte) []int {
	out := []int{0}
	for i, b := range data {
		if b == '\n' {
			out = append(out, i+1)
		}
	}
	return append(out, len(data))
}

// offset is the byte at which a node stands; −1 where it cannot.
func offset(data []byte, n *yaml.Node) int {
	starts := lines(data)
	if n.Line < 1 || n.Line >= len(starts) {
		return -1
	}
	at := starts[n.Line-1]
	for range n.Column - 1 {
		_, size := utf8.DecodeRune(data[at:])
		at += size
	}
	if at > len(data) {
		return -1
	}
	return at
}

// lastLine is the last line on which something of the node begins.
func lastLine(n *yaml.Node) int {
	last := n.Line
	for _, c := range n.Content {
		last = max(last, lastLine(c))
	}
	return last
}

// flow is true for lists and keys in brackets.
func flow(n *yaml.Node) bool { return n.Style&yaml.FlowStyle != 0 }

// rendered is a node as text, with each line but the first moved in.
func rendered(n *yaml.Node, indent int) (string, bool) {
	var out bytes.Buffer
	e := yaml.NewEncoder(&out)
	e.SetIndent(2)
	if e.Encode(n) != nil || e.Close() != nil {
		return "", false
	}
	return strings.ReplaceAll(strings.TrimRight(out.String(), "\n"), "\n", "\n"+strings.Repeat(" ", indent)), true
}

// insert puts a key or an entry on lines of its own behind the last of its like.
func insert(data []byte, n *yaml.Node, s pathStep, inner *yaml.Node) ([]byte, bool) {
	if flow(n) || len(n.Content) == 0 || s.key == "" && s.index != len(n.Content) {
		return nil, false
	}
	one := &yaml.Node{Kind: n.Kind, Content: []*yaml.Node{inner}}
	if s.key != "" {
		one.Content = []*yaml.Node{{Kind: yaml.ScalarNode, Value: s.key}, inner}
	}
	indent := n.Column - 1
	text, ok := rendered(one, indent)
	starts := lines(data)
	line := lastLine(n)
	if !ok || line >= len(starts) {
		return nil, false
	}
	at := starts[line]
	text = strings.Repeat(" ", indent) + text + "\n"
	if at > 0 && data[at-1] != '\n' {
		text = "\n" + text
	}
	return cut(data, at, at, text), true
}

// remove takes the lines of a key or an entry away.
func remove(data []byte, n *yaml.Node, at, size int) ([]byte, bool) {
	first := n.Content[at+1-size]
	starts := lines(data)
	line, last := first.Line, lastLine(n.Content[at])
	if flow(n) || len(n.Content) == size || last >= len(starts) {
		return nil, false
	}
	before := strings.TrimSpace(string(data[starts[line-1]:max(offset(data, first), starts[line-1])]))
	if before != "" && !(size == 1 && before == "-") {
		return nil, false // the first key of an entry: the dash goes with it
	}
	return cut(data, starts[line-1], starts[last], ""), true
}

// replace puts a value in the place of another.
func replace(data []byte, n *yaml.Node, at int, value *yaml.Node) ([]byte, bool) {
	held := n.Content[at]
	from := offset(data, held)
	if from < 0 {
		return nil, false
	}
	rest := string(data[from:])
	switch {
	case held.Kind == yaml.ScalarNode && value.Kind == yaml.ScalarNode:
		size := scalarSize(held, rest)
		text, ok := rendered(value, 0)
		if size < 0 || !ok {
			return nil, false
		}
		if size == 0 { // nothing stands behind the colon
			text = " " + text
		}
		return cut(data, from, from+size, text), true
	case flow(held) && value.Kind != yaml.ScalarNode:
		size := bracketSize(rest)
		one := *value
		one.Style |= yaml.FlowStyle
		text, ok := rendered(&one, 0)
		if size < 0 || !ok || strings.Contains(text, "\n") {
			return nil, false
		}
		return cut(data, from, from+size, text), true
	case held.Kind == value.Kind && len(value.Content) > 0 && !flow(n) &&
		held.Content[0].Line > n.Content[max(at-1, 0)].Line:
		starts := lines(data)
		one := *value
		one.Style &^= yaml.FlowStyle
		text, ok := rendered(&one, held.Column-1)
		last := lastLine(held)
		if !ok || last >= len(starts) {
			return nil, false
		}
		return cut(data, starts[held.Line-1], starts[last], strings.Repeat(" ", held.Column-1)+text+"\n"), true
	}
	return nil, false
}

// scalarSize is how many bytes a text in one line takes; −1 where it takes more lines.
func scalarSize(n *yaml.Node, rest string) int {
	quote := byte(0)
	switch {
	case n.Style&yaml.DoubleQuotedStyle != 0:
		quote = '"'
	case n.Style&yaml.SingleQuotedStyle != 0:
		quote = '\''
	case n.Style == 0 && strings.HasPrefix(rest, n.Value):
		return len(n.Value)
	}
	if quote == 0 || rest == "" || rest[0] != quote {
		return -1
	}
	for i := 1; i < len(rest) && rest[i] != '\n'; i++ {
		switch {
		case quote == '"' && rest[i] == '\\':
			i++
		case rest[i] == quote && quote == '\'' && i+1 < len(rest) && rest[i+1] == quote:
			i++
		case rest[i] == quote:
			return i + 1
		}
	}
	return -1
}

// bracketSize is how many bytes brackets take, on one line; −1 where they take more.
func bracketSize(rest string) int {
	depth := 0
	for i := 0; i < len(rest) && rest[i] != '\n'; i++ {
		switch rest[i] {
		case '[', '{':
			depth++
		case ']', '}':
			if depth--; depth == 0 {
				return i + 1
			}
		}
	}
	return -1
}

// cut puts the text in the place of the bytes from one to the other.
func cut(data []byte, from, to int, text string) []byte {
	out := make([]byte, 0, len(data)+len(text))
	out = append(out, data[:from]...)
	out = append(out, text...)
	return append(out, data[to:]...)
}
