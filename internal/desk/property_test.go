package desk

import (
	"context"
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// wild are values that a person, or a machine gone wrong, may write into any field.
var wild = []string{
	"", " ", "0", "-1", "3 ft", "-3 ft", "1e9 m", "450 gpm", "2 in", "6 in", "NaN", "Inf ft", "1e999 m", "flow up",
	"yes", "no", "none", "null", "~", "true",
	"[[0 gpm, 95 ft], [800 gpm, 38 ft]]", "[]", "{}", "{90 elbow: 2}", "a: b", "# comment", "\"", "'", "line\nbreak",
	"\t", "&a x", "*a", "!!int 3", "2026-01-01", "µ", "\x00", "- 3", "|", ">", "[[[", "1780 rpm", "30 psi", "60 %",
	"0.2 /kWh", "3 s",
}

// Any edit of any field gives a file that loads, with every comment still in it but those
// on the line of a key that was removed, or an error that says something; never a panic.
func TestAnyEdit(t *testing.T) {
	d := newDesk(t)
	files := examples(t)
	rapid.Check(t, func(r *rapid.T) {
		text := files[rapid.SampledFrom([]string{"layout", "study", "booster", "first-call", "starter SI"}).Draw(r,
			"file")]
		first, err := d.Sheet(context.Background(), SheetRequest{text})
		if err != nil {
			r.Fatal(err)
		}
		var edits []Change
		for range rapid.IntRange(1, 3).Draw(r, "edits") {
			f := rapid.SampledFrom(first.Fields).Draw(r, "field")
			c := Change{Path: f.Path}
			switch v := rapid.OneOf(rapid.SampledFrom(wild), rapid.String(), rapid.Just(f.Text),
				rapid.Just(f.Value)).Draw(r, "value"); {
			case rapid.IntRange(0, 9).Draw(r, "removed") > 0:
				c.Value = &v
			}
			edits = append(edits, c)
		}
		e, err := d.Edit(context.Background(), EditRequest{Text: text, Edits: edits})
		if err != nil {
			told(r, err)
			return
		}
		again, err := d.Sheet(context.Background(), SheetRequest{e.Text})
		if err != nil || again.Station.Hash != e.Sheet.Station.Hash {
			r.Fatalf("the file that came back does not load the same: %v", err)
		}
		for line := range strings.Lines(text) {
			if _, c, ok := strings.Cut(line, "# "); ok && !strings.Contains(e.Text, strings.TrimSpace(c)) &&
				!removed(line, edits) {
				r.Fatalf("%v: the comment %q is gone from\n%s", edits, c, e.Text)
			}
		}
	})
}

// removed is true for the line of a key that the edits take out.
func removed(line string, edits []Change) bool {
	for _, e := range edits {
		key := e.Path[strings.LastIndex(e.Path, ".")+1:]
		if e.Value == nil && strings.HasPrefix(strings.TrimLeft(line, " -"), key+":") {
			return true
		}
	}
	return false
}

type failer interface{ Fatalf(string, ...any) }

// told holds an error to be one for people, with a place where it is of the file.
func told(t failer, err error) {
	var e *Error
	if !errors.As(err, &e) || e.Text == "" || e.ID == "" {
		t.Fatalf("%#v", err)
	}
}

// FuzzEdit feeds any text, path and value.
func FuzzEdit(f *testing.F) {
	d := newDesk(f)
	for _, text := range examples(f) {
		f.Add(text, "levels.wet_well_high", "8 ft")
		f.Add(text, "pumps[0].curve[1][0]", "[")
	}
	for _, v := range wild {
		f.Add(example(f, "layout"), "main.runs[0].length", v)
		f.Add(v, v, v)
	}
	f.Fuzz(func(t *testing.T, text, path, value string) {
		if _, err := d.Sheet(context.Background(), SheetRequest{text}); err != nil {
			told(t, err)
		}
		e, err := d.Edit(context.Background(), EditRequest{Text: text, Edits: []Change{{path, &value}}})
		if err != nil {
			told(t, err)
			return
		}
		if _, err := d.Sheet(context.Background(), SheetRequest{e.Text}); err != nil {
			t.Fatalf("the file that came back does not load: %v\n%s", err, e.Text)
		}
	})
}
