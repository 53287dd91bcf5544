package yamlfile

import (
	"strings"
	"testing"
)

type sample struct {
	Flow   Q       `yaml:"flow" kind:"flow" min:">0" doc:"A flow"`
	Count  Num     `yaml:"count" min:"1" max:"9" doc:"A number"`
	Word   Word    `yaml:"word" one:"red|green" need:"true" doc:"A word"`
	Size   Size    `yaml:"size" doc:"A size"`
	Curve  []Tuple `yaml:"curve" kind:"flow,head" doc:"Points"`
	Free   []Pair  `yaml:"free" doc:"Free keys"`
	Inside struct {
		At
		Text Word `yaml:"text" doc:"A text"`
	} `yaml:"inside" doc:"Keys inside"`
}

func TestDecodeKeepsPlaces(t *testing.T) {
	var s sample
	list := Decode("a.yaml", []byte("word: GREEN\nflow: 10..20 L/s\nsize: 6 in\ncurve:\n  - [1 L/s, 2 m]\nfree: {a b: 3}\ninside:\n  text: hello\n"), &s)
	if len(list) > 0 {
		t.Fatal(list)
	}
	if s.Word.Text != "green" || s.Flow.SI() != 0.015 || s.Size.DN != 150 || s.Curve[0].Items[1].SI() != 2 || s.Free[0].Value.Text != "3" {
		t.Errorf("read %+v", s)
	}
	if p := s.Inside.Text.Place; p.Line != 8 || p.Col != 9 || s.Inside.Text.Path != "inside.text" || !s.Inside.Set {
		t.Errorf("place %v, path %q", p, s.Inside.Text.Path)
	}
	if s.Count.Set {
		t.Error("what was not written is set")
	}
}

func TestDecodeTellsEveryFault(t *testing.T) {
	var s sample
	list := Decode("a.yaml", []byte("flow: 0 gpm\ncount: 11\nsise: 6 in\ninside: 3\n"), &s)
	var ids []string
	for _, m := range list {
		ids = append(ids, m.ID)
		if m.Mend == "" {
			t.Errorf("no way to mend: %v", m)
		}
	}
	if got := strings.Join(ids, " "); got != "key-missing value-out-of-range value-out-of-range key-unknown yaml-shape" {
		t.Errorf("got %s\n%v", got, list)
	}
}

func FuzzDecode(f *testing.F) {
	f.Add("word: red\nflow: 1 gpm\ncurve: [[1 gpm, 2 ft]]\nfree: {a: 1}\ninside: {text: x}\n")
	f.Add("a: &b [*b]")
	f.Add("? [a]: b")
	f.Fuzz(func(t *testing.T, text string) {
		var s sample
		for _, m := range Decode("fuzz.yaml", []byte(text), &s) {
			if m.ID == "" || m.Text == "" || m.Place.Line < 1 {
				t.Fatalf("a message without place or text: %+v", m)
			}
		}
	})
}
