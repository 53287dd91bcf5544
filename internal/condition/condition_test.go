package condition

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatward/diag"
	"seatward/internal/yamlfile"
)

func word(text string) yamlfile.Word {
	return yamlfile.Word{
		Text: text, Inset: 1,
		At: yamlfile.At{Set: true, Place: diag.Place{File: "rules.yaml", Line: 7, Col: 11}, Path: "rules[0].require"},
	}
}

func language(t testing.TB) *Language {
	l, err := NewLanguage([]Fact{
		{Name: "size", Kind: Whole},
		{Name: "nps", Kind: Number},
		{Name: "ends", Kind: Text},
		{Name: "certified", Kind: YesNo},
		{Name: "services", Kind: Texts},
	})
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func TestAnswers(t *testing.T) {
	l := language(t)
	for _, c := range []struct {
		text  string
		known map[string]any
		want  Answer
	}{
		{`size <= 150`, map[string]any{"size": 100}, Yes},
		{`size <= 150`, map[string]any{"size": int64(200)}, No},
		{`nps <= 6`, map[string]any{"nps": 6.0}, Yes},
		{`size < 2.5`, map[string]any{"size": 2}, Yes},
		{`ends == "threads"`, map[string]any{}, Open},
		{`ends != "threads" || size <= 80`, map[string]any{"size": 50}, Yes},
		{`ends != "threads" || size <= 80`, map[string]any{"ends": "flanges"}, Yes},
		{`ends != "threads" || size <= 80`, map[string]any{"ends": "threads"}, Open},
		{`ends == "threads" && size <= 80`, map[string]any{"size": 200}, No},
		{`certified ? true : size > 10`, map[string]any{"certified": true}, Yes},
		{`"raw sewage" in services`, map[string]any{"services": []string{"effluent", "raw sewage"}}, Yes},
		{`services.exists(s, s.startsWith("raw"))`, map[string]any{"services": []string{"effluent"}}, No},
	} {
		got, list := l.Compile(word(c.text))
		if len(list) > 0 {
			t.Fatalf("%s: %v", c.text, list)
		}
		if a, err := got.Answer(c.known); err != nil || a != c.want {
			t.Errorf("%s with %v: %v, %v; want %v", c.text, c.known, a, err, c.want)
		}
	}
}

func TestFaultsHaveTheirPlace(t *testing.T) {
	l := language(t)
	for _, c := range []struct {
		text, says string
		col        int
	}{
		{`size <=`, "cannot be read", 19},
		{`size <= 5 && sze > 2`, "did you mean size?", 25},
		{`size + 2`, "gives a int, not yes or no", 11},
		{`ends == 4`, "no matching overload", 17},
		{`nps == 6`, "6.0", 16},
		{`[1].map(x, x).all(y, [2].all(z, y`, "cannot be read", 45},
		{strings.Repeat("(", 200) + "true" + strings.Repeat(")", 200), "recursion limit", 12},
		{strings.Repeat("size > 1 && ", 400) + "true", "size", 12},
	} {
		_, list := l.Compile(word(c.text))
		if len(list) == 0 {
			t.Fatalf("%.40s: no fault", c.text)
		}
		m := list[0]
		if !strings.Contains(m.Error(), c.says) || m.Place.Line != 7 || m.Place.Col != c.col {
			t.Errorf("%.40s: %s (col %d, want %d)", c.text, m.Error(), m.Place.Col, c.col)
		}
	}
}

func TestNames(t *testing.T) {
	c, list := language(t).Compile(word(`size > 3 && (ends == "a" || size < 1)`))
	if len(list) > 0 || strings.Join(c.Names, " ") != "ends size" {
		t.Errorf("%v %v", c.Names, list)
	}
	if len(c.Compared) != 1 || c.Compared[0] != (Comparison{"ends", "a"}) {
		t.Errorf("compared %v", c.Compared)
	}
	in, _ := language(t).Compile(word(`ends in ["a", "b"] && "c" != ends`))
	if len(in.Compared) != 3 {
		t.Errorf("compared %v", in.Compared)
	}
	if got := c.Missing(map[string]any{"size": 2}); strings.Join(got, " ") != "ends" {
		t.Errorf("missing %v", got)
	}
	for _, bad := range []string{"", "in", "Size", "2x", "a-b", "string"} {
		if IsName(bad) {
			t.Errorf("%q can be a name", bad)
		}
	}
	if _, err := NewLanguage([]Fact{{Name: "a b"}}); err == nil {
		t.Error("a name of two words")
	}
}

// TestCostIsBounded: a condition that would run for ever ends with an error.
func TestCostIsBounded(t *testing.T) {
	c, list := language(t).Compile(word(`services.all(a, services.all(b, services.all(c, services.all(d, a + b + c + d != "x"))))`))
	if len(list) > 0 {
		t.Fatal(list)
	}
	many := make([]string, 100)
	if _, err := c.Answer(map[string]any{"services": many}); err == nil {
		t.Error("a hundred million comparisons were made")
	}
}

// TestOpenIsHonest: where an answer is given without a fact, every value of the fact
// gives that answer.
func TestOpenIsHonest(t *testing.T) {
	l := language(t)
	rapid.Check(t, func(t *rapid.T) {
		atom := rapid.SampledFrom([]string{
			`size <= 100`, `size > 300`, `ends == "a"`, `ends != "b"`, `certified`,
			`true`, `false`,
		})
		text := "(" + atom.Draw(t, "first") + ")"
		for range rapid.IntRange(0, 4).Draw(t, "more") {
			text = "(" + text + rapid.SampledFrom([]string{" && ", " || ", " == "}).Draw(t, "join") + "(" + atom.Draw(t,
				"next") + "))"
		}
		c, list := l.Compile(word(text))
		if len(list) > 0 {
			t.Fatal(list)
		}
		all := map[string]any{
			"size": rapid.SampledFrom([]int{50, 200, 400}).Draw(t, "size"),
			"ends": rapid.SampledFrom([]string{"a", "b", "c"}).Draw(t, "ends"), "certified": rapid.Bool().Draw(t,
				"certified"),
		}
		some := map[string]any{}
		for name, v := range all {
			if rapid.Bool().Draw(t, name+" known") {
				some[name] = v
			}
		}
		part, err := c.Answer(some)
		if err != nil {
			t.Fatal(err)
		}
		whole, err := c.Answer(all)
		if err != nil || whole == Open {
			t.Fatal(whole, err)
		}
		if part != Open && part != whole {
			t.Fatalf("%s: %v of %v, %v of %v", text, part, some, whole, all)
		}
	})
}

func FuzzCompile(f *testing.F) {
	f.Add(`size <= 150 || ends == "a"`)
	f.Add(`services.filter(s, s != "")`)
	l := language(f)
	f.Fuzz(func(_ *testing.T, text string) {
		if c, list := l.Compile(word(text)); len(list) == 0 {
			_, _ = c.Answer(map[string]any{"size": 1})
			_, _ = c.Answer(map[string]any{
				"size": 1, "nps": 2.0, "ends": "x", "certified": false,
				"services": []string{"y"},
			})
		}
	})
}

func BenchmarkCompile(b *testing.B) {
	l := language(b)
	for b.Loop() {
		l.Compile(word(`ends != "threads" || size <= 80`))
	}
}

func BenchmarkLanguage(b *testing.B) {
	for b.Loop() {
		_, _ = NewLanguage([]Fact{{Name: "size", Kind: Whole}, {Name: "nps", Kind: Number}, {Name: "ends", Kind: Text}})
	}
}

func BenchmarkAnswer(b *testing.B) {
	c, _ := language(b).Compile(word(`ends != "threads" || size <= 80`))
	known := map[string]any{"size": 100, "ends": "threads"}
	for b.Loop() {
		_, _ = c.Answer(known)
	}
}
