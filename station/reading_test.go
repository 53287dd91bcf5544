package station

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"seatward/internal/trade"
)

// As people write: what the file's units and the lists of trade words settle is read, what
// they leave in doubt is refused with the choices.
func TestWrittenAsSaid(t *testing.T) {
	const file = "station: x\nunits: US\nfluid: {kind: sewage, rags: wipes}\nduty: {flow: 450, head: 62' 6\"}\n" +
		"valve: {size: 2-1/2\", position: vertical riser}\nmain: {runs: [{size: 6, length: \"1,046 ft\"}]}\n"
	st, list := Load("said.yaml", []byte(file))
	if st == nil {
		t.Fatal(list)
	}
	for what, got := range map[string]string{
		"raw sewage": string(st.Fluid.Kind), "heavy": st.Fluid.Rags, "flow up": st.Valve.Position.String(),
		"450 gpm": st.Flows.Normal.Format(st.Units), "1050 ft": st.Main.Runs[0].Length.Format(st.Units),
		"2.5 in": st.Valve.Size.Format(st.Units), "6 in": st.Main.Runs[0].Size.Format(st.Units),
	} {
		if got != what {
			t.Errorf("got %q, want %q", got, what)
		}
	}
	for edit, choices := range map[string]string{
		"kind: sewage|kind: water":                    "raw water|drinking water",
		"position: vertical riser|position: vertical": "flow up|flow down",
		"\"1,046 ft\"|\"1,046 m\"":                    "1.046 m|1046 m",
	} {
		old, now, _ := strings.Cut(edit, "|")
		st, list := Load("said.yaml", []byte(strings.Replace(file, old, now, 1)))
		if st != nil || len(list) != 1 || list[0].Choices != choices {
			t.Errorf("%s: %v with the choices %q, want %q", now, list, list[0].Choices, choices)
		}
	}
	if st, _ := Load("said.yaml", []byte(strings.Replace(file, "units: US\n", "", 1))); st != nil {
		t.Error("a bare number was read in a file that names no units")
	}
}

// Every word that a field reads means words that the field takes, and those it takes as they are.
func TestSaidWordsAreChoices(t *testing.T) {
	seen := 0
	var walk func(of reflect.Type)
	walk = func(of reflect.Type) {
		for of.Kind() == reflect.Slice {
			of = of.Elem()
		}
		if of.Kind() != reflect.Struct || shapeOf(of) != "" {
			return
		}
		for i := range of.NumField() {
			f := of.Field(i)
			if list := f.Tag.Get("said"); list != "" {
				seen++
				words := strings.Split(f.Tag.Get("one"), "|")
				if len(trade.List(list)) == 0 {
					t.Errorf("there is no list %q", list)
				}
				for _, w := range trade.List(list) {
					for _, m := range w.Means {
						if !slices.Contains(words, m) {
							t.Errorf("%s: %q means %q, which the field does not take", list, w.Said, m)
						}
					}
					if slices.Contains(words, w.Said) && !slices.Equal(w.Means, []string{w.Said}) {
						t.Errorf("%s: %q is a word of the field and means %q", list, w.Said, w.Means)
					}
				}
			}
			walk(f.Type)
		}
	}
	walk(fileType)
	if seen < 7 {
		t.Errorf("%d fields read words as said", seen)
	}
}
