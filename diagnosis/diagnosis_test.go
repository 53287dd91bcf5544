package diagnosis

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func book(t testing.TB) *Book {
	t.Helper()
	b, list := Base()
	if b == nil || len(list) > 0 {
		t.Fatal(list)
	}
	return b
}

// troubles are stories of which the cause is known, after the table of failure modes that the
// rules rest on (volume balance, wave relations, Suter pump; US NRC notices 81-35 and 82-20 for
// loose internals): what was noticed, what tests gave, and the cause that must come first.
var troubles = []struct {
	name  string
	signs []string
	found map[string]string
	facts map[string]any
	first string
}{
	{"pump spins backward, start trips", []string{"spins-backward", "level-jumps", "start-trips"}, nil, nil, "hangs-open"},
	{"starts up, slowly", []string{"starts-up", "gradual", "stopped"}, nil, nil, "seat-leak"},
	{"rise that ends, air at the next start", []string{"rise-ends", "air-spits"}, nil, nil, "main-drains"},
	{"no flow, high pressure", []string{"level-stays", "pressure-high"}, nil, nil, "stuck-closed"},
	{"no flow, low pressure", []string{"level-stays", "pressure-low"}, nil, nil, "air-bound"},
	{"flow down over years", []string{"low-flow", "gradual"}, nil, nil, "worn-impeller"},
	{"rattle at low velocity", []string{"rattles", "running"}, nil, map[string]any{"velocity": 1.0, "full_open": 2.0}, "flutter"},
	{
		"bang with the other pump running",
		[]string{"bang-once", "other-running"},
		nil,
		map[string]any{"slam_class": "harmful"},
		"slam",
	},
	{"two bangs", []string{"bangs-twice", "at-stop"}, nil, map[string]any{"later_blows": 2}, "second-closing"},
	{"late bang at a power failure", []string{"bang-late", "power-failure"}, nil, map[string]any{"separates": true}, "column-separation"},
	{"slow swings after work", []string{"slow-swings", "after-work"}, nil, nil, "trapped-air"},
	{"bang at start", []string{"bang-at-start", "at-start"}, nil, nil, "start-catch"},
	{"bang in running", []string{"bang-running"}, nil, nil, "elsewhere"},
	{"from the first day", []string{"first-day", "level-stays"}, map[string]string{"arrow": "wrong"}, nil, "wrong-way"},
	{"a sudden rattle", []string{"rattles", "sudden"}, map[string]string{"lever": "rattle"}, map[string]any{"hinged": true}, "loose-internals"},
	{"low with one pump", []string{"low-with-one", "low-flow", "other-running"}, map[string]string{"drawdown": "low-beside"}, nil, "other-valve"},
	{"more starts and hours with the rain", []string{"starts-up", "hours-up"}, map[string]string{"records": "all-with-rain"}, nil, "more-inflow"},
}

// TestTroubles: each story leads to its cause, and every cause has a story.
func TestTroubles(t *testing.T) {
	b := book(t)
	met := map[string]bool{}
	for _, tt := range troubles {
		a := b.Weigh(&Case{Signs: tt.signs, Found: tt.found, Facts: tt.facts})
		if got := a.Causes[0].Cause.ID; got != tt.first {
			t.Errorf("%s: first %s (%d), want %s; second %s (%d)", tt.name, got, a.Causes[0].score, tt.first,
				a.Causes[1].Cause.ID, a.Causes[1].score)
		}
		met[tt.first] = true
	}
	for i := range b.Causes {
		if !met[b.Causes[i].ID] {
			t.Errorf("no story leads to %s", b.Causes[i].ID)
		}
	}
	if len(b.Causes) < 14 {
		t.Errorf("%d causes", len(b.Causes))
	}
}

// TestTestsLead: following the next test, and finding what the true cause would show, leads to
// that cause, or to a few that the tests of the book cannot tell apart from it, from no sign at all.
func TestTestsLead(t *testing.T) {
	b := book(t)
	for i := range b.Causes {
		want := b.Causes[i].ID
		c := &Case{Found: map[string]string{}}
		for range b.Tests {
			a := b.Weigh(c)
			next := slices.IndexFunc(a.Next, func(n Next) bool { _, speaks := n.Test.Expects[want]; return speaks })
			if next < 0 {
				break
			}
			c.Found[a.Next[next].Test.ID] = a.Next[next].Test.Expects[want].Reading
		}
		a := b.Weigh(c)
		at := slices.IndexFunc(a.Causes, func(w Weighed) bool { return w.Cause.ID == want })
		if at > 3 || a.Causes[at].Standing == RuledOut {
			t.Errorf("%s stands at %d after the tests %v, behind %s", want, at+1, c.Found, a.Causes[0].Cause.ID)
		}
	}
}

// TestWeigh holds for any evidence: every cause is listed once, what is ruled out comes last,
// and only a test rules out.
func TestWeigh(t *testing.T) {
	b := book(t)
	var signs []string
	for _, s := range b.Signs {
		signs = append(signs, s.ID)
	}
	rapid.Check(t, func(t *rapid.T) {
		some := rapid.SliceOfDistinct(rapid.SampledFrom(signs), rapid.ID[string])
		c := &Case{Signs: some.Draw(t, "signs"), Found: map[string]string{}}
		for _, test := range b.Tests {
			if rapid.Bool().Draw(t, "done") {
				c.Found[test.ID] = rapid.SampledFrom(test.Readings).Draw(t, "reading").ID
			}
		}
		a := b.Weigh(c)
		if len(a.Causes) != len(b.Causes) {
			t.Fatalf("%d of %d causes", len(a.Causes), len(b.Causes))
		}
		out := false
		for _, w := range a.Causes {
			if out && w.Standing != RuledOut {
				t.Fatalf("%s comes after one that is ruled out", w.Cause.ID)
			}
			out = out || w.Standing == RuledOut
			if w.Standing == RuledOut && len(c.Found) == 0 {
				t.Fatalf("%s is ruled out without a test", w.Cause.ID)
			}
		}
		for _, n := range a.Next {
			if c.Found[n.Test.ID] != "" {
				t.Fatalf("%s was done and comes next", n.Test.ID)
			}
		}
	})
}

// TestSafestFirst: without a test that was done, the next one needs no entry, whatever was
// noticed; the valve is opened after everything else that tells as much.
func TestSafestFirst(t *testing.T) {
	b := book(t)
	for _, s := range b.Signs {
		a := b.Weigh(&Case{Signs: []string{s.ID}})
		if len(a.Next) == 0 || a.Next[0].Test.Safety != Safeties[0] {
			t.Errorf("%s: the next test is not one without entry: %+v", s.ID, a.Next)
		}
		if !slices.IsSortedFunc(a.Next[1:], func(x, y Next) int {
			return slices.Index(Safeties, x.Test.Safety) - slices.Index(Safeties, y.Test.Safety)
		}) {
			t.Errorf("%s: the tests after the next one do not go from safe to less safe", s.ID)
		}
	}
}

// TestBook holds the data to its own promises: no percentage but that of a source, every test
// that opens something says how it is made safe, every cause speaks of a test.
func TestBook(t *testing.T) {
	b := book(t)
	for i := range b.Causes {
		c := &b.Causes[i]
		if c.Source == "" || c.Status == "" {
			t.Errorf("%s has no source", c.ID)
		}
		if !slices.ContainsFunc(b.Tests, func(x Test) bool { _, ok := x.Expects[c.ID]; return ok }) {
			t.Errorf("no test speaks of %s", c.ID)
		}
	}
	for _, x := range b.Tests {
		for _, word := range map[string][]string{
			"lock-out": {"Lock out"}, "opened up": {"Isolate, lock, vent and drain both sides"}, "gauge fitted": {"locked out"},
		}[x.Safety] {
			if !strings.Contains(x.Steps, word) && !strings.Contains(x.Steps, strings.ToLower(word)) {
				t.Errorf("%s does not say %q", x.ID, word)
			}
		}
		if len(x.Readings) < 2 || len(x.Expects) == 0 {
			t.Errorf("%s tells nothing", x.ID)
		}
	}
}

func TestFindSign(t *testing.T) {
	b := book(t)
	for said, want := range map[string]string{
		"bangs twice": "bangs-twice", "bangs-twice": "bangs-twice", "Double bang": "bangs-twice", "slams": "bang-once",
		"it bangs twice after the small pump stops": "bangs-twice", "since Monday, the pump runs backward": "spins-backward",
	} {
		if got, err := b.FindSign("seen", said); got != want || err != nil {
			t.Errorf("%q: %s, %v", said, got, err)
		}
	}
	if _, err := b.FindSign("seen", "bangs twise"); err == nil || !strings.Contains(err.Error(), "bangs-twice") {
		t.Errorf("a slip of the pen: %v", err)
	}
	for _, said := range []string{"it does not slam any more", "it never bangs twice", "a slam, and the pump runs backward"} {
		if got, err := b.FindSign("seen", said); err == nil {
			t.Errorf("%q is taken as %s", said, got)
		}
	}
	if _, err := b.FindSign("when", "bangs twice"); err == nil {
		t.Error("a sign answers another question")
	}
}

// TestParseRefuses: what is wrong in a rules file is said with its place.
func TestParseRefuses(t *testing.T) {
	const good = `signs: [{id: a, group: seen, text: A}]
causes: [{id: c, title: C, text: c, source: s, status: seen, signs: [{sign: a, says: for, weight: some, why: w}]}]
tests: [{id: t, title: T, safety: no entry, steps: s, readings: [{id: r, text: r}, {id: q, text: q}], expects: [{cause: c, reading: r}]}]
`
	if _, list := Parse("x", []byte(good)); list.Err() != nil {
		t.Fatal(list)
	}
	for from, to := range map[string]string{
		"sign: a": "sign: b", "cause: c": "cause: d", "reading: r": "reading: x", "safety: no entry": "safety: none",
		"text: c,": "text: c, numbers: [{when: 'speed > 1', says: for, text: x}],",
		"why: w}":  "why: w}], numbers: [{when: 'slam > 1.0', says: for, text: '{slum}'}", "{id: q, text: q}": "{id: r, text: q}",
	} {
		text := strings.Replace(good, from, to, 1)
		if b, list := Parse("x", []byte(text)); b != nil || list.Err() == nil || !strings.Contains(list.Error(), "x:") {
			t.Errorf("%q: %v", to, list)
		}
	}
}

func FuzzParse(f *testing.F) {
	f.Add(rulesFile[:4000])
	f.Add([]byte("signs: [{id: a, group: seen, text: A}]\ncauses: []\ntests: []\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		b, list := Parse("x", data)
		if (b == nil) == (list.Err() == nil) {
			t.Fatalf("%v, %v", b, list)
		}
		if b != nil {
			b.Weigh(&Case{})
		}
	})
}

func FuzzParseFound(f *testing.F) {
	f.Add("spin=backward")
	f.Add("bangs twice")
	f.Fuzz(func(t *testing.T, text string) {
		b := book(t)
		if test, reading, err := b.ParseFound(text); err == nil && (test == "" || reading == "") {
			t.Fatalf("%q: %q, %q", text, test, reading)
		}
		_, _ = b.FindSign("seen", text)
	})
}
