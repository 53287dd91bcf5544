package inquiry

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"seatward/diag"
	"seatward/station"
)

// letters are the invented inquiries, by name.
func letters(t testing.TB) map[string]string {
	t.Helper()
	names, err := filepath.Glob("testdata/*.txt")
	if err != nil || len(names) < 20 {
		t.Fatalf("%d inquiries, %v", len(names), err)
	}
	out := map[string]string{}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		out[strings.TrimSuffix(filepath.Base(name), ".txt")] = string(data)
	}
	return out
}

// listed is what was found, a line each.
func listed(l *Letter) string {
	var out strings.Builder
	fmt.Fprintf(&out, "units: %s\n", l.Units)
	for _, f := range l.Finds {
		if f.Doubt == "" {
			fmt.Fprintf(&out, "%s = %s <- %s\n", f.Path, f.Value, plainLine(f.Phrase))
			continue
		}
		var all []string
		for _, c := range f.Choices {
			all = append(all, c.Path+" = "+c.Value)
		}
		fmt.Fprintf(&out, "? %s <- %s (%s)\n", strings.Join(all, " | "), plainLine(f.Phrase), f.Doubt)
	}
	for _, m := range l.Missing {
		fmt.Fprintf(&out, "missing: %s\n", m)
	}
	return out.String()
}

// Each inquiry gives what stands in its list, and nothing else.
func TestTwentyInquiries(t *testing.T) {
	for name, text := range letters(t) {
		file := filepath.Join("testdata", name+".found")
		got := listed(Read(text))
		if os.Getenv("SEATWARD_UPDATE") != "" {
			if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(file)
		if err != nil || string(want) != got {
			t.Errorf("%s: %v\ngot\n%swant\n%s", name, err, got, want)
		}
	}
}

// What names something, is denied, or is of another pipe is part of no find.
func TestMustNotBeFound(t *testing.T) {
	all := letters(t)
	for name, texts := range map[string][]string{
		"02-email-us":     {"24-0117", "88213", "March 3, 2026", "9:14", "April 15", "120 Quay", "014-2277", "ext. 12", "P.E."},
		"04-bullets-us":   {"6/12/2026", "2026-41"},
		"05-table-metric": {"12.05.2026", "2041/7"},
		"06-grammar":      {"555 010 4432"},
		"08-history":      {"450 gpm", "62 ft", "6 inch", "3,400 LF", "Feb 2", "4:10"},
		"09-negations":    {"grinder", "VFD", "8\"", "12 ft", "14 ft", "8 ft"},
		"10-phone-dates-numbers": {
			"555-0142", "014-2200", "3:30", "10/14/2026", "4471", "2026-118", "C-350", "Station 12", "14,500", "350 Harbor",
			"33 31 23", "C508", "B16.1", "class 125",
		},
		"11-wordy-us":     {"1987", "019.3344", "Sanitary District"},
		"14-spec-extract": {"2.03"},
		"15-forward":      {"Jan 9", "8:02"},
		"16-levels":       {"31 ft"},
		"18-vague":        {"maybe 8"},
		"19-range-metric": {"air vessel"},
		"20-mixed-units":  {"1187", "010-7788", "82 psi"},
	} {
		l := Read(all[name])
		for _, text := range texts {
			at := strings.Index(all[name], text)
			if at < 0 {
				t.Fatalf("%s does not say %q", name, text)
			}
			for _, f := range l.Finds {
				if f.Start < at+len(text) && at < f.End {
					t.Errorf("%s: %s = %s was found in %q", name, f.Path, f.Value, text)
				}
			}
		}
	}
}

// The file of every inquiry, with and without comments, is a station file.
func TestFilesAreRead(t *testing.T) {
	for name, text := range letters(t) {
		l := Read(text)
		for _, file := range []string{l.File(""), l.File(name + ".txt")} {
			st, list := station.Load("new.yaml", []byte(file))
			list = slices.DeleteFunc(list, func(m diag.Message) bool { // a letter that says no number for sure
				return m.ID == "station-empty" && !slices.ContainsFunc(l.Finds, func(f Find) bool {
					return f.Doubt == "" && strings.ContainsAny(f.Value, "0123456789")
				})
			})
			if st == nil && len(list) > 0 {
				t.Errorf("%s: %v\n%s", name, list, file)
			}
		}
		file := l.File(name)
		for _, f := range l.Finds {
			if !strings.Contains(file, quoted(f.Phrase)) {
				t.Errorf("%s: the file does not name the phrase %q", name, f.Phrase)
			}
		}
		for _, m := range l.Missing {
			if !strings.Contains(file, "# Not found: "+m) {
				t.Errorf("%s: the file does not say that %s was not found", name, m)
			}
		}
	}
}

// holds is what is true of every reading.
func holds(t interface{ Fatalf(string, ...any) }, text string) {
	l := Read(text)
	for _, f := range l.Finds {
		if f.Start < 0 || f.End > len(text) || f.Start >= f.End || text[f.Start:f.End] != f.Phrase {
			t.Fatalf("%q: the find %+v is out of place", text, f)
		}
		if utf8.ValidString(text) && !utf8.ValidString(f.Phrase) {
			t.Fatalf("%q: the phrase %q cuts a letter", text, f.Phrase)
		}
		if (f.Doubt == "") != (len(f.Choices) == 0) || f.Path == "" || f.Value == "" {
			t.Fatalf("%q: %+v", text, f)
		}
	}
	for i, s := range l.Skipped {
		if s.Start < 0 || s.End > len(text) || s.Start >= s.End || i > 0 && s.Start < l.Skipped[i-1].End {
			t.Fatalf("%q: skipped %+v", text, l.Skipped)
		}
	}
	if file := l.File("x"); !utf8.ValidString(file) {
		t.Fatalf("%q: the file is no text", text)
	} else if _, list := station.Load("x", []byte(file)); slices.ContainsFunc(list, func(m diag.Message) bool {
		return m.ID == "yaml-syntax" || m.ID == "key-twice" || m.ID == "file-not-text"
	}) {
		t.Fatalf("%q: %v\n%s", text, list, file)
	}
}

// Inquiries put together of the parts of others are read without upset.
func TestMixedInquiries(t *testing.T) {
	var lines []string
	for _, text := range letters(t) {
		lines = append(lines, strings.Split(text, "\n")...)
	}
	slices.Sort(lines)
	rapid.Check(t, func(t *rapid.T) {
		holds(t, strings.Join(rapid.SliceOfN(rapid.SampledFrom(lines), 1, 12).Draw(t, "lines"), "\n"))
	})
}

func FuzzRead(f *testing.F) {
	for _, text := range letters(f) {
		f.Add(text)
	}
	f.Add("2 pumps\x00 62' 6\" – ”’ 1,046 m > 3")
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) < 600 {
			holds(t, text)
		}
	})
}

func BenchmarkRead(b *testing.B) {
	text := letters(b)["02-email-us"]
	for b.Loop() {
		Read(text)
	}
}
