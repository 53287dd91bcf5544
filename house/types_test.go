package house

import (
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

var (
	typeKey = regexp.MustCompile(`(?m)^\tKey: +"([a-z-]+)",$`)
	drawing = regexp.MustCompile(`Drawing: "([a-z-]+)"`)
	// keyAsked is code that does something else for one type than for another.
	keyAsked = regexp.MustCompile(`Type\.Key (?:==|!=) |switch [^\n]*Type\.Key|(?:HasPrefix|Contains)\([^)\n]*Type\.Key`)
	// drawn is the page's table of drawings.
	drawn = regexp.MustCompile(`(?ms)^const drawings = \{(.*?)\};$`)
)

// TestTypesAreAskedForTheirTraits: outside valve no code and no data file of rules or
// standards knows a valve type by its key, so that a new type is found by its traits.
func TestTypesAreAskedForTheirTraits(t *testing.T) {
	keys, drawings := typeKeys(t)
	if len(keys) < 9 || len(drawings) < 8 {
		t.Fatalf("types %v, drawings %v", keys, drawings)
	}
	walk(t, func(name string) {
		if asksKeys(name) {
			for _, found := range keysAsked(contents(t, name), keys) {
				t.Errorf("%s: %s: ask for a trait of the type (valve/traits.go), or add one", name, found)
			}
		}
	})
	const page = "internal/web/page/anatomy.js"
	table := drawn.FindStringSubmatch(contents(t, page))
	if table == nil {
		t.Fatalf("%s has no table of drawings", page)
	}
	for _, d := range drawings {
		if !regexp.MustCompile(`(?m)(?:^|[ "])` + d + `(?:[" :,]|$)`).MatchString(table[1]) {
			t.Errorf("%s: there is no drawing %q, which a type in valve names", page, d)
		}
	}
}

// typeKeys reads the keys of the types and the drawings that they name.
func typeKeys(t *testing.T) (keys, drawings []string) {
	t.Helper()
	walk(t, func(name string) {
		if path.Dir(name) != "valve" || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return
		}
		text := contents(t, name)
		for _, m := range typeKey.FindAllStringSubmatch(text, -1) {
			if !slices.Contains(keys, m[1]) {
				keys = append(keys, m[1])
			}
		}
		for _, m := range drawing.FindAllStringSubmatch(text, -1) {
			drawings = append(drawings, m[1])
		}
	})
	return keys, drawings
}

// asksKeys is true for files in which a type's key would be a second list of types. Outside
// numbers and tests name valves that they know.
func asksKeys(name string) bool {
	dir := path.Dir(name)
	if dir == "valve" || dir == "truth" || strings.Contains(dir, "testdata") || strings.HasSuffix(name, "_test.go") ||
		strings.HasPrefix(dir, "test/") {
		return false
	}
	return strings.HasSuffix(name, ".go") || strings.HasSuffix(name, ".yaml") && (dir == "rules" || dir == "standards")
}

// keysAsked lists where the text asks for a type by its key. Of the keys only those of two
// words count: "swing" and "flap" are words of the trade.
func keysAsked(text string, keys []string) []string {
	out := keyAsked.FindAllString(text, -1)
	for _, key := range keys {
		if strings.Contains(key, "-") && strings.Contains(text, `"`+key+`"`) {
			out = append(out, `"`+key+`"`)
		}
	}
	if strings.Contains(text, "valve_type ==") || strings.Contains(text, "valve_type.startsWith") {
		out = append(out, "a condition on valve_type")
	}
	return out
}

func contents(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(root, filepath.FromSlash(name)))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func TestTypesCatch(t *testing.T) {
	keys := []string{"swing", "ball-cage"}
	for _, bad := range []string{
		`if f.Type.Key == "swing" {`, `switch kind := it.Family.Type.Key; {`, `strings.HasPrefix(f.Type.Key, "ball")`,
		`case "ball-cage":`, `applies: 'valve_type == "swing"'`, `when: valve_type.startsWith("swing")`,
	} {
		if len(keysAsked(bad, keys)) == 0 {
			t.Errorf("not caught: %s", bad)
		}
	}
	if got := keysAsked(`{"type": f.Type.Key, "swing": traits.Style == valve.StyleSwing}`, keys); len(got) > 0 {
		t.Errorf("caught: %v", got)
	}
}
