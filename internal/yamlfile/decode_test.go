package yamlfile

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

type sample struct {
	Flow   Q       `yaml:"flow" kind:"flow" min:">0" doc:"A flow"`
	Share  Q       `yaml:"share" kind:"fraction" max:"1" doc:"A share"`
	Count  Num     `yaml:"count" min:"1" max:"9" whole:"true" doc:"A count"`
	Factor Num     `yaml:"factor" min:"0" doc:"A number"`
	Word   Word    `yaml:"word" one:"red|green" need:"true" doc:"A word"`
	Hue    Word    `yaml:"hue" one:"warm|cold" doc:"Another word"`
	Said   Word    `yaml:"said" one:"yes|no" doc:"A truth"`
	Size   Size    `yaml:"size" doc:"A size"`
	Curve  []Tuple `yaml:"curve" kind:"flow,head" doc:"Points"`
	Free   []Pair  `yaml:"free" doc:"Free keys"`
	Parts  []part  `yaml:"parts" doc:"A list"`
	Inside struct {
		At
		Text Word `yaml:"text" doc:"A text"`
	} `yaml:"inside" doc:"Keys inside"`
}

type part struct {
	At
	Name Word `yaml:"name" need:"true" doc:"A name"`
}

func TestDecodeKeepsPlaces(t *testing.T) {
	var s sample
	list := Decode("a.yaml", []byte("word: GREEN\nflow: 10..20 L/s\nsize: 6 in\ncurve:\n  - [1 L/s, 2 m]\nfree: {a b: 3}\ninside:\n  text: hello\nfactor: 2..3\ncount: 4\n"), &s)
	if len(list) > 0 {
		t.Fatal(list)
	}
	if s.Word.Text != "green" || s.Flow.SI() != 0.015 || s.Size.DN != 150 || s.Curve[0].Items[1].SI() != 2 ||
		s.Free[0].Value.Text != "3" {
		t.Errorf("read %+v", s)
	}
	if s.Factor.Low != 2 || s.Factor.Value != 2.5 || s.Factor.High != 3 || s.Count.Value != 4 {
		t.Errorf("the range of a number is lost: %+v, %+v", s.Factor, s.Count)
	}
	if p := s.Inside.Text.Place; p.Line != 8 || p.Col != 9 || s.Inside.Text.Path != "inside.text" || !s.Inside.Set {
		t.Errorf("place %v, path %q", p, s.Inside.Text.Path)
	}
	if s.Share.Set {
		t.Error("what was not written is set")
	}
}

// Columns count letters, as editors do, not bytes.
func TestColumnsCountLetters(t *testing.T) {
	var s sample
	list := Decode("a.yaml", []byte("{word: red, free: {é: è}, flow: 3}"), &s)
	if len(list) != 1 || list[0].Place.Col != 33 {
		t.Errorf("got %v", list)
	}
}

func TestFolding(t *testing.T) {
	var s sample
	list := Decode("a.yaml", []byte("word: red\ninside:\n  text: |\n    one\n    two\n"), &s)
	if len(list) > 0 || s.Inside.Text.Text != "one two" {
		t.Errorf("got %q, %v", s.Inside.Text.Text, list)
	}
}

// Each slip of the pen gives one message, at its place.
func TestDecodeFaults(t *testing.T) {
	for _, tt := range []struct{ name, text, want string }{
		{"empty", "", "1:1 file-empty"},
		{"only a comment", "# nothing\n", "1:1 file-empty"},
		{"only a document mark", "---\n", "1:1 file-empty"},
		{"byte of no text", "word: red\nx\x00", "2:2 file-not-text"},
		{"half a letter", "word: \xc3", "1:7 file-not-text"},
		{"UTF-16", "\xff\xfew\x00", "1:1 file-not-text"},
		{"too large", strings.Repeat("#", MaxBytes+1), "1:1 file-too-large"},
		{"too deep in brackets", strings.Repeat("[", 200), "1:1 file-too-deep"},
		{"too deep in lists", "word: red\ncurve:\n  " + strings.Repeat("- ", 40) + "1", "3:5 yaml-shape"},
		{"second document", "word: red\n---\nword: green\n", "2:1 file-second-document"},
		{"document after its end", "word: red\n...\nword: green\n", "3:1 file-second-document"},
		{"tab", "word: red\n\tflow: 1 gpm", "2:1 yaml-syntax"},
		{"open quote", "word: \"red\nflow: 1 gpm", "2:12 yaml-syntax"},
		{"open list", "word: red\ncurve: [[1 gpm, 2 ft]", "3:1 yaml-syntax"},
		{"two values", "word: red green: blue", "1:16 yaml-syntax"},
		{"reference to nothing", "word: *a", "1:7 yaml-alias"},
		{"reference", "word: red\ninside: {text: &a x}\nfree: {b: *a}", "3:11 yaml-shape"},
		{"reference as a whole", "word: &a red\nflow: *a", "2:7 yaml-alias"},
		{"reference as a key", "word: &a red\n*a : 3", "2:1 yaml-alias"},
		{"merge", "word: &a red\n<<: *a", "2:1 key-unknown"},
		{"key of many words", "word: red\n? [a]\n: 3", "2:3 yaml-shape"},
		{"list at the top", "- 1\n", "1:1 yaml-shape"},
		{"text at the top", "hello", "1:1 yaml-shape"},
		{"unknown key", "word: red\nzebra: 1", "2:1 key-unknown"},
		{"key nearly right", "wrod: red", "1:1 key-unknown"},
		{"empty key", "word: red\n\"\": 1", "2:1 key-unknown"},
		{"key twice", "word: red\nword: green", "2:1 key-twice"},
		{"free key twice", "word: red\nfree: {a: 1, a: 2}", "2:14 key-twice"},
		{"key missing", "flow: 1 gpm", "1:1 key-missing"},
		{"key missing in a list", "word: red\nparts:\n  - {}", "3:5 key-missing"},
		{"nothing written", "word: red\nflow:", "2:6 value-missing"},
		{"null", "word: red\nflow: null", "2:7 value-missing"},
		{"tilde", "word: red\nflow: ~", "2:7 value-missing"},
		{"empty text", "word: red\nparts: [{name: ''}]", "2:16 value-missing"},
		{"empty word", "word: red\nhue: ''", "2:6 word-unknown"},
		{"word not allowed", "word: blue", "1:7 word-unknown"},
		{"word nearly right", "word: gren", "1:7 word-unknown"},
		{"escape sequence", "word: red\ninside: {text: \"a\\e[31m\"}", "2:16 text-control"},
		{"reversed writing", "word: red\ninside: {text: \"a\u202eb\"}", "2:16 text-control"},
		{"escape sequence in a free key", "word: red\nfree: {\"\\e\": 1}", "2:8 text-control"},
		{"list for a value", "word: [red]", "1:7 yaml-shape"},
		{"value for a list", "word: red\ncurve: 3", "2:8 yaml-shape"},
		{"value for keys", "word: red\ninside: 3", "2:9 yaml-shape"},
		{"value for free keys", "word: red\nfree: 3", "2:7 yaml-shape"},
		{"list for a free value", "word: red\nfree: {a: [1]}", "2:11 yaml-shape"},
		{"points in one row", "word: red\ncurve: [0 gpm, 90 ft, 400 gpm, 60 ft]", "2:8 yaml-shape"},
		{"point of one", "word: red\ncurve: [[1 gpm]]", "2:9 yaml-shape"},
		{"point of a wrong kind", "word: red\ncurve: [[1 ft, 2 ft]]", "2:10 value-unreadable"},
		{"bare number", "word: red\nflow: 450", "2:7 value-unreadable"},
		{"number for a size", "word: red\nsize: 6", "2:7 value-unreadable"},
		{"zero", "word: red\nflow: 0 gpm", "2:7 value-out-of-range"},
		{"range below zero", "word: red\nflow: 1 gpm ± 2 gpm", "2:7 value-out-of-range"},
		{"above one", "word: red\nshare: 130 %", "2:8 value-out-of-range"},
		{"below the least", "word: red\nfactor: -1", "2:9 value-out-of-range"},
		{"beyond both", "word: red\ncount: 11", "2:8 value-out-of-range"},
		{"count and a half", "word: red\ncount: 2.5", "2:8 value-not-whole"},
		{"count with a range", "word: red\ncount: 2..4", "2:8 value-not-whole"},
		{"infinite", "word: red\nfactor: .inf", "2:9 value-unreadable"},
		{"not a number", "word: red\nfactor: .nan", "2:9 value-unreadable"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var s sample
			list := Decode("a.yaml", []byte(tt.text), &s)
			if len(list) != 1 {
				t.Fatalf("want one message, got %d:\n%v", len(list), list)
			}
			m := list[0]
			if got := fmt.Sprintf("%d:%d %s", m.Place.Line, m.Place.Col, m.ID); got != tt.want {
				t.Errorf("got %s, want %s\n%v", got, tt.want, m)
			}
			if m.Mend == "" {
				t.Errorf("no way to mend: %v", m)
			}
		})
	}
}

func TestDecodeTellsEveryFault(t *testing.T) {
	var s sample
	list := Decode("a.yaml", []byte("flow: 0 gpm\ncount: 11\nsise: 6 in\ninside: 3\n"), &s)
	var ids []string
	for _, m := range list {
		ids = append(ids, m.ID)
	}
	if got := strings.Join(ids, " "); got != "key-missing value-out-of-range value-out-of-range key-unknown yaml-shape" {
		t.Errorf("got %s\n%v", got, list)
	}
	for _, hint := range []string{`did you mean "size"?`, "above zero", "from 1.00 to 9.00"} {
		if !strings.Contains(list.Error(), hint) {
			t.Errorf("%q is not said:\n%v", hint, list)
		}
	}
}

// A file of another format does not flood the screen.
func TestManyFaultsAreCut(t *testing.T) {
	var s sample
	var text strings.Builder
	for i := range 5000 {
		fmt.Fprintf(&text, "key%d: 1\n", i)
	}
	list := Decode("a.yaml", []byte(text.String()), &s)
	if len(list) != maxFaults+1 || !strings.Contains(list.Error(), "too-many-faults") {
		t.Errorf("%d messages", len(list))
	}
}

func TestManyValuesAreRefused(t *testing.T) {
	var s sample
	list := Decode("a.yaml", []byte("word: red\ncurve: ["+strings.Repeat("[],", maxNodes+10)+"]"), &s)
	if list.Err() == nil || len(list) > maxFaults+1 {
		t.Errorf("%d messages", len(list))
	}
}

// What was written is read back as it was, wherever it stands in a file.
func TestReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		flow := rapid.Float64Range(1e-3, 1e4).Draw(t, "flow")
		text := rapid.StringMatching(`[A-Za-z][A-Za-z0-9 ]{0,20}[a-z]`).Draw(t, "text")
		pad := rapid.IntRange(0, 9).Draw(t, "lines before")
		file := strings.Repeat("# remark\n", pad) + fmt.Sprintf("word: red\nflow: %.9g L/s\ninside: {text: %q}\n", flow,
			text)
		var s sample
		if list := Decode("a.yaml", []byte(file), &s); len(list) > 0 {
			t.Fatal(list)
		}
		if math.Abs(s.Flow.SI()-flow/1000) > 1e-8*flow || s.Inside.Text.Text != text || s.Flow.Place.Line != pad+2 {
			t.Fatalf("wrote %g L/s and %q, read %+v", flow, text, s)
		}
	})
}

func FuzzDecode(f *testing.F) {
	f.Add("word: red\nflow: 1 gpm\ncurve: [[1 gpm, 2 ft]]\nfree: {a: 1}\ninside: {text: x}\n")
	f.Add("a: &b [*b]")
	f.Add("? [a]: b")
	f.Add("word: red\n---\nword: green\n")
	f.Add("word: !!binary aGVsbG8=\nflow: 1..2 gpm\ncount: 1e999")
	f.Fuzz(func(t *testing.T, text string) {
		var s sample
		list := Decode("fuzz.yaml", []byte(text), &s)
		for _, m := range list {
			if m.ID == "" || m.Text == "" || m.Place.Line < 1 || m.Mend == "" {
				t.Fatalf("a message without place, text or mend: %+v", m)
			}
		}
		if list == nil && !s.Word.Set {
			t.Fatal("a needed key is missing, and nothing is reported")
		}
		for _, v := range []float64{s.Flow.SI(), s.Share.SI(), s.Count.Value, s.Factor.High} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("not finite: %+v", s)
			}
		}
	})
}

func BenchmarkDecode(b *testing.B) {
	text := []byte("word: red\nflow: 450 gpm\ncurve:\n" + strings.Repeat("  - [450 gpm, 62 ft]\n", 50))
	b.ReportAllocs()
	for b.Loop() {
		var s sample
		if list := Decode("a.yaml", text, &s); list != nil {
			b.Fatal(list)
		}
	}
}
