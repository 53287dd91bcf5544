//go:build linux

package main

import (
	"encoding/json"
	"math/rand/v2"
	"strconv"
	"strings"

	"seatward/internal/yamlfile"
)

// strange are values that stand in place of others: numbers without measure, units that do
// not go there, texts that are none.
var strange = []string{
	"0", "-1", "1e308", "-1e308", "1e-308", "1e999", "nan", ".nan", "inf", "-.inf", "0x10", "1_000", "1,5",
	"9007199254740993", "1e-320 ft",
	"1e308..1.7e308", "5..1", "1..1e308 ft", "1 ± 1e308", "-5 gpm", "0 gpm", "1e9 gpm", "1e-9 gpm", "1e7 ft", "1e-6 mm",
	"3 furlong", "4 kg", "60 degF",
	"DN1", "DN99999", "0 in", "4096 in", "-6 in", "1/0 in", "1 1/2 1/2 in", "½ ½", "0 %", "100 %", "250 %", "1e300 %",
	"null", "~", "yes", "''", "2026-13-45",
	"\U0001f6bd\U0001f4a7", "صمام عدم الرجوع", "e\u0301\u0301\u0301", "\u202eabc", "a\u200bb", "\ufeff", "漢字",
	"!!binary aGk=", "*a", "&a b", "<<", "? x", "%n%s", "../../x", "${HOME}", "<b>x</b>", "=1+1", "'; DROP",
	"raw sewage", "horizontal", "flow down", "HDPE", "power failure", "schedule",
}

// mutator changes trees by the numbers of one case.
type mutator struct{ *rand.Rand }

func (m mutator) oneOf(list []string) string { return list[m.IntN(len(list))] }

// nodes are all values of a tree.
func nodes(t *yamlfile.Tree) []*yamlfile.Tree {
	out := []*yamlfile.Tree{t}
	for _, item := range t.Items {
		out = append(out, nodes(item)...)
	}
	return out
}

func clone(t *yamlfile.Tree) *yamlfile.Tree {
	out := &yamlfile.Tree{Shape: t.Shape, Text: t.Text, Keys: append([]string(nil), t.Keys...)}
	for _, item := range t.Items {
		out.Items = append(out.Items, clone(item))
	}
	return out
}

// tree changes one place or a few.
func (m mutator) tree(t *yamlfile.Tree) {
	for range 1 + m.IntN(3) {
		all := nodes(t)
		n := all[m.IntN(len(all))]
		switch n.Shape {
		case yamlfile.TextTree:
			m.text(n)
		case yamlfile.ListTree:
			m.list(n)
		case yamlfile.KeyedTree:
			m.keyed(n, all)
		}
	}
}

// text changes one value.
func (m mutator) text(n *yamlfile.Tree) {
	number, unit, _ := strings.Cut(n.Text, " ")
	v, err := strconv.ParseFloat(number, 64)
	switch pick := m.IntN(10); {
	case err == nil && pick < 4: // the same number of another size
		n.Text = strings.TrimSpace(strconv.FormatFloat(v*[]float64{
			-1, 0, 1e-6, 1e-3, 0.1, 10, 1e3, 1e6,
			1e300,
		}[m.IntN(9)], 'g', -1, 64) + " " + unit)
	case err == nil && pick < 5: // or of another unit
		n.Text = number + " " + m.oneOf([]string{
			"m", "ft", "gpm", "L/s", "kg m2", "rpm", "%", "psi", "s", "deg", "USD",
			"",
		})
	case pick < 6: // a text without end
		n.Text = strings.Repeat(m.oneOf([]string{"x", "word ", "9", "\U0001f4a7", "a\u0301"}), 1+m.IntN(30_000))
	case pick < 7: // another shape
		*n = yamlfile.Tree{Shape: yamlfile.ListTree, Items: []*yamlfile.Tree{{Text: n.Text}, {Text: m.oneOf(strange)}}}
	case pick < 8:
		*n = yamlfile.Tree{Shape: yamlfile.KeyedTree, Keys: []string{"a"}, Items: []*yamlfile.Tree{{Text: n.Text}}}
	default:
		n.Text = m.oneOf(strange)
	}
}

// list changes a list: an item gone, twice, in another place, many times, or lists in lists.
func (m mutator) list(n *yamlfile.Tree) {
	if len(n.Items) == 0 {
		n.Items = []*yamlfile.Tree{{Text: m.oneOf(strange)}}
		return
	}
	i, k := m.IntN(len(n.Items)), m.IntN(len(n.Items))
	switch m.IntN(7) {
	case 0:
		n.Items = append(n.Items[:i:i], n.Items[i+1:]...)
	case 1:
		n.Items = append(n.Items, clone(n.Items[i]))
	case 2:
		n.Items[i], n.Items[k] = n.Items[k], n.Items[i]
	case 3:
		n.Items = nil
	case 4: // points without end
		times := []int{20, 300, 5000, 60_000}[m.IntN(4)]
		size := len(nodes(n.Items[i]))
		one := n.Items[i]
		for j := range min(times, 150_000/size) {
			c := clone(one)
			if m.IntN(2) == 0 && len(c.Items) > 0 && c.Items[0].Shape == yamlfile.TextTree { // rising, as in a curve
				if _, unit, ok := strings.Cut(c.Items[0].Text, " "); ok {
					c.Items[0].Text = strconv.Itoa(j+1) + " " + unit
				}
			}
			n.Items = append(n.Items, c)
		}
	case 5:
		n.Items[i] = deep(n.Items[i], 1+m.IntN(60))
	default:
		n.Items[i] = &yamlfile.Tree{Text: m.oneOf(strange)}
	}
}

// deep puts a value into lists within lists.
func deep(t *yamlfile.Tree, levels int) *yamlfile.Tree {
	for range levels {
		t = &yamlfile.Tree{Shape: yamlfile.ListTree, Items: []*yamlfile.Tree{t}}
	}
	return t
}

// keyed changes keys and values: gone, twice, swapped, misspelt, or with the value of another
// place.
func (m mutator) keyed(n *yamlfile.Tree, all []*yamlfile.Tree) {
	if len(n.Keys) == 0 {
		n.Keys, n.Items = []string{"x"}, []*yamlfile.Tree{{Text: m.oneOf(strange)}}
		return
	}
	i, k := m.IntN(len(n.Keys)), m.IntN(len(n.Keys))
	switch m.IntN(7) {
	case 0, 1:
		n.Keys, n.Items = append(n.Keys[:i:i], n.Keys[i+1:]...), append(n.Items[:i:i], n.Items[i+1:]...)
	case 2:
		n.Keys, n.Items = append(n.Keys, n.Keys[i]), append(n.Items, clone(n.Items[k]))
	case 3:
		n.Items[i], n.Items[k] = n.Items[k], n.Items[i]
	case 4:
		n.Keys[i] = m.oneOf(append([]string{
			n.Keys[i] + "s", strings.ToUpper(n.Keys[i]), "x",
			strings.Repeat("k", 5000),
		}, strange...))
	case 5:
		n.Items[i] = clone(all[m.IntN(len(all))])
	default:
		n.Items[i] = &yamlfile.Tree{Text: m.oneOf(strange)}
	}
}

// written writes a tree as YAML, the keys of the file one a line and all below in brackets,
// or as JSON. Keys that stand twice stay so, which no library would write.
func written(t *yamlfile.Tree, asJSON bool) []byte {
	var out strings.Builder
	if asJSON || t.Shape != yamlfile.KeyedTree {
		flow(&out, t, asJSON)
		return []byte(out.String())
	}
	for i, k := range t.Keys {
		out.WriteString(scalar(k, false) + ": ")
		flow(&out, t.Items[i], false)
		out.WriteString("\n")
	}
	return []byte(out.String())
}

func flow(out *strings.Builder, t *yamlfile.Tree, asJSON bool) {
	switch t.Shape {
	case yamlfile.TextTree:
		out.WriteString(scalar(t.Text, asJSON))
	case yamlfile.ListTree:
		out.WriteString("[")
		for i, item := range t.Items {
			if i > 0 {
				out.WriteString(", ")
			}
			flow(out, item, asJSON)
		}
		out.WriteString("]")
	case yamlfile.KeyedTree:
		out.WriteString("{")
		for i, item := range t.Items {
			if i > 0 {
				out.WriteString(", ")
			}
			key, err := json.Marshal(t.Keys[i])
			if !asJSON || err != nil {
				key = []byte(scalar(t.Keys[i], false))
			}
			out.Write(key)
			out.WriteString(": ")
			flow(out, item, asJSON)
		}
		out.WriteString("}")
	}
}

// scalar writes a text so that it is read back, quoted where it must be. In JSON numbers and
// the like stand bare.
func scalar(s string, asJSON bool) string {
	quoted, err := json.Marshal(s)
	if err != nil {
		return `""`
	}
	if asJSON {
		if json.Valid([]byte(s)) {
			return s
		}
		return string(quoted)
	}
	if s == "" || strings.ContainsAny(s, "[]{},:#&*!|>'\"%@`\n\t?<\\\ufeff") || s[0] == '-' &&
		(len(s) == 1 || s[1] == ' ') || strings.TrimSpace(s) != s {
		return string(quoted)
	}
	return s
}
