package yamlfile

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

const edited = `# head
word: red   # the color
flow: 450 gpm

parts:
  - name: "a b"   # first
  - name: c
curve:  # points
  - [1 gpm, 2 ft]
  - [3 gpm, 4 ft]
free: {90 elbow: 2, exit: 1}
inside:
  text: x
`

func text(s string) *string { return &s }

// Each change touches its own line and no other byte.
func TestEdit(t *testing.T) {
	for _, tt := range []struct {
		path  string
		value *string
		list  bool
		old   string
		new   string
	}{
		{"word", text("green"), false, "word: red   # the color", "word: green   # the color"},
		{"flow", text("12..15 L/s"), false, "450 gpm", "12..15 L/s"},
		{"parts[0].name", text("d"), false, `"a b"   # first`, "d   # first"},
		{"parts[1].name", text("yes: no # x"), false, "name: c", `name: "yes: no # x"`},
		{"parts[2].name", text("e"), false, "  - name: c\n", "  - name: c\n  - name: e\n"},
		{"parts[1]", nil, false, "  - name: c\n", ""},
		{"curve[1][0]", text("5 gpm"), false, "[3 gpm,", "[5 gpm,"},
		{"curve[2]", text("[7 gpm, 8 ft]"), true, "4 ft]\n", "4 ft]\n  - [7 gpm, 8 ft]\n"},
		{"curve[0]", nil, false, "  - [1 gpm, 2 ft]\n", ""},
		{"curve", text("[[7 gpm, 8 ft]]"), true, "  - [1 gpm, 2 ft]\n  - [3 gpm, 4 ft]\n", "  - [7 gpm, 8 ft]\n"},
		{"free", text("{tee: 1}"), true, "{90 elbow: 2, exit: 1}", "{tee: 1}"},
		{"free.exit", text("3"), false, "exit: 1", "exit: 3"},
		{"inside.more.deep[0]", text("z"), false, "  text: x\n", "  text: x\n  more:\n    deep:\n      - z\n"},
		{"inside.text", nil, false, "inside:\n  text: x\n", ""},
		{"flow", nil, false, "flow: 450 gpm\n", ""},
		{"share", text("70 %"), false, "  text: x\n", "  text: x\nshare: 70 %\n"},
		{"none.at.all", nil, false, "", ""},
	} {
		t.Run(tt.path, func(t *testing.T) {
			got, list := Edit("a.yaml", []byte(edited), []Change{{tt.path, tt.value, tt.list}})
			if list != nil {
				t.Fatal(list)
			}
			want := edited
			if tt.old != "" {
				want = strings.Replace(edited, tt.old, tt.new, 1)
			}
			if string(got) == want {
				return
			}
			// Where the nodes were written anew, layout may go, but no comment and no value.
			if tree, _ := ParseTree("", got); show(tree) != show(parsed(t, want)) || tt.path != "inside.text" {
				t.Errorf("got\n%s\nwant\n%s", got, want)
			}
		})
	}
}

func parsed(t *testing.T, s string) *Tree {
	t.Helper()
	tree, list := ParseTree("", []byte(s))
	if list != nil {
		t.Fatal(list)
	}
	return tree
}

// show writes a tree without places.
func show(t *Tree) string {
	if t == nil {
		return "nothing"
	}
	out := fmt.Sprint(t.Shape, strings.TrimSpace(t.Text), t.Keys)
	for _, i := range t.Items {
		out += "(" + show(i) + ")"
	}
	return out
}

func TestEditRefuses(t *testing.T) {
	for path, value := range map[string]*string{
		"": text("x"), "word.more": text("x"), "parts.name": text("x"), "parts[9].name": text("x"),
		"word[0]": text("x"), "[0]": text("x"),
		"a[": text("x"), "a[x]": text("x"), "a[0]b": text("x"), "flow": text("a\nb"), "word": text("a\x00"),
		"..": text("x"), "parts[01]": nil,
		strings.Repeat("a.", 40) + "a": text("x"),
	} {
		if got, list := Edit("a.yaml", []byte(edited), []Change{{Path: path, Value: value}}); got != nil ||
			len(list) != 1 || list[0].ID != "edit-impossible" {
			t.Errorf("%q: %q, %v", path, got, list)
		}
	}
	if _, list := Edit("a.yaml", []byte("a: [b"), []Change{{Path: "a", Value: text("c")}}); len(list) != 1 ||
		list[0].ID != "yaml-syntax" {
		t.Error(list)
	}
	if _, list := Edit("a.yaml", []byte(edited),
		[]Change{{Path: "curve", Value: text("450 gpm"), List: true}}); len(list) != 1 {
		t.Error(list)
	}
}

// comments of a text, without their columns.
func comments(s string) []string {
	var out []string
	for line := range strings.Lines(s) {
		if _, c, ok := strings.Cut(line, "#"); ok {
			out = append(out, strings.TrimSpace(c))
		}
	}
	return out
}

// What is set is read, the rest stays as it was, and comments survive.
func TestEditKeepsTheRest(t *testing.T) {
	paths := []string{
		"word", "flow", "share", "parts[0].name", "parts[1].name", "curve[0][1]", "curve[1][0]",
		"inside.text", "free.exit", "hue", "inside.other",
	}
	rapid.Check(t, func(r *rapid.T) {
		now := edited
		want := map[string]string{}
		for range rapid.IntRange(1, 6).Draw(r, "edits") {
			path := rapid.SampledFrom(paths).Draw(r, "path")
			value := rapid.StringOfN(rapid.RuneFrom([]rune("ab1 :#'\"[]{},&*!|>%@`-?~é水\\")), 1, 8, -1).Draw(r, "value")
			if strings.TrimSpace(value) == "" {
				value = "x"
			}
			before, _ := ParseTree("", []byte(now))
			out, list := Edit("a.yaml", []byte(now), []Change{{Path: path, Value: &value}})
			if list != nil {
				r.Fatalf("%s = %q: %v", path, value, list)
			}
			now = string(out)
			want[path] = strings.TrimSpace(value)
			after, list := ParseTree("", out)
			if list != nil {
				r.Fatalf("%s = %q gives\n%s\n%v", path, value, out, list)
			}
			for p, v := range want {
				if got := at(after, p); got == nil || got.Text != v {
					r.Fatalf("%s holds %v, want %q, in\n%s", p, got, v, out)
				}
			}
			blank(before, path)
			blank(after, path)
			if show(before) != show(after) {
				r.Fatalf("%s = %q changed more:\n%s\n%s", path, value, show(before), show(after))
			}
			for _, c := range comments(edited) {
				if !strings.Contains(now, c) {
					r.Fatalf("the comment %q is gone from\n%s", c, now)
				}
			}
		}
	})
}

// at finds the value at a path.
func at(t *Tree, path string) *Tree {
	steps, _ := pathSteps(path)
	for _, s := range steps {
		switch {
		case t == nil:
			return nil
		case s.key != "":
			t = t.Get(s.key)
		case s.index < len(t.Items):
			t = t.Items[s.index]
		default:
			return nil
		}
	}
	return t
}

// blank empties the value at a path; a key that is not there is made.
func blank(t *Tree, path string) {
	if v := at(t, path); v != nil {
		v.Text = ""
		return
	}
	steps, _ := pathSteps(path)
	parent := t
	if len(steps) > 1 {
		parent = t.Get(steps[0].key)
	}
	parent.Set(steps[len(steps)-1].key, NewText("", t.Place))
}

// Any text and any change: an answer or a message, and what comes out can be read.
func FuzzEdit(f *testing.F) {
	f.Add(edited, "curve[1][0]", "3 gpm", false)
	f.Add("a: |\n  x\n  y\nb: 1", "a", "z", false)
	f.Add("a: [b,\n c]\n", "a[2]", "d", false)
	f.Add("{a: 1}", "b.c[0]", "[1]", true)
	f.Add("a:\r\n  b: 1\r\n", "a.b", "2", false)
	f.Fuzz(func(t *testing.T, file, path, value string, list bool) {
		for _, v := range []*string{&value, nil} {
			out, faults := Edit("a.yaml", []byte(file), []Change{{path, v, list}})
			if faults.Err() != nil {
				continue
			}
			if len(out) == 0 {
				if v != nil {
					t.Fatalf("%q at %q of %q gives nothing", value, path, file)
				}
				continue
			}
			tree, bad := ParseTree("a.yaml", out)
			if tree == nil && v != nil {
				t.Fatalf("%q at %q of %q gives %q: %v", value, path, file, out, bad)
			}
			if v != nil && !list {
				if got := at(tree, path); got == nil || got.Text != strings.TrimSpace(value) {
					t.Fatalf("%q at %q of %q gives %q", value, path, file, out)
				}
			}
		}
	})
}
