package standards

import (
	"strings"
	"testing"

	"seatward/catalog"
	"seatward/diag"
)

func base(t testing.TB) []Standard {
	t.Helper()
	all, list := Base()
	if list.Err() != nil {
		t.Fatal(list)
	}
	return all
}

func item(t testing.TB, id string) *catalog.Item {
	t.Helper()
	catalogs, _ := catalog.Demo()
	it, err := catalog.Find(catalogs, id)
	if err != nil {
		t.Fatal(err)
	}
	return it
}

// TestWhatApplies: the questions of every day. Swing standards do not cover ball checks.
func TestWhatApplies(t *testing.T) {
	for _, c := range []struct {
		valve, standard string
		at              Place
		want            Verdict
	}{
		{"ball-pocket/6in", "AWWA C508", Place{"horizontal", "raw sewage"}, DoesNot},
		{"ball-pocket/6in", "MSS SP-71", Place{"horizontal", "raw sewage"}, DoesNot},
		{"ball-pocket/6in", "ASME B16.10", Place{}, DoesNot},
		{"ball-pocket/6in", "EN 558", Place{}, Applies},
		{"ball-pocket/6in", "EN 12266-1", Place{}, Applies},
		{"ball-pocket/6in", "AWWA C550", Place{}, Applies},
		{"ball-pocket/6in", "AWWA C507", Place{}, DoesNot},
		{"ball-pocket/6in", "NSF/ANSI/CAN 61", Place{Service: "raw sewage"}, DoesNot},
		{"ball-pocket/6in", "EN 12050-4", Place{Service: "raw sewage"}, Applies},
		{"ball-pocket/6in", "EN 1074-3", Place{}, Hangs},
		{"ball-pocket/2in", "ASME B1.20.1", Place{}, Applies},
		{"swing/6in", "AWWA C508", Place{"horizontal", "drinking water"}, Applies},
		{"swing/30in", "AWWA C508", Place{"horizontal", "drinking water"}, DoesNot},
		{"swing-assisted-weight/6in", "AWWA C508", Place{"horizontal", ""}, InPart},
		{"swing-assisted-weight/6in", "AWWA C508", Place{"flow up", ""}, DoesNot},
		{"swing-assisted-weight/6in", "AWWA C508", Place{}, Hangs},
		{"dual-plate/6in", "AWWA C518", Place{}, Applies},
		{"dual-plate/6in", "EN 558", Place{}, InPart},
		{"swing/6in", "NSF/ANSI/CAN 61", Place{Service: "drinking water"}, Applies},
		{"swing/6in", "EN 1074-3", Place{Service: "drinking water"}, Applies},
		{"swing/6in", "EN 12334", Place{}, DoesNot},
		{"swing/6in", "ASSE backflow standards", Place{}, DoesNot},
		{"axial-spring/6in", "MSS SP-125", Place{}, Applies},
		{"swing/6in", "MSS SP-61", Place{}, InPart},
	} {
		found := false
		for _, s := range Judge(base(t), item(t, c.valve), c.at) {
			if s.Standard.ID != c.standard {
				continue
			}
			found = true
			if s.Verdict != c.want {
				t.Errorf("%s for %s %v: %v, want %v", c.standard, c.valve, c.at, s.Verdict, c.want)
			}
			if s.Verdict == DoesNot && s.Text == "" || s.Verdict == Hangs && len(s.Hangs) == 0 {
				t.Errorf("%s for %s: nothing is listed to specify instead", c.standard, c.valve)
			}
		}
		if !found {
			t.Errorf("no standard %s", c.standard)
		}
	}
}

const pastedText = `2.01 CHECK VALVES
A. Swing check valves shall conform to AWWA C508-01 and be suitable for
   vertical installation with flow up.
B. Flanges: ASME B16.1 Class 125; lengths per ASME B16.10-2017.
C. Coating per AWWA C550. Tests per EN 12334 and FM 1210.
D. Valves for drinking water: NSF/ANSI 61.
`

// TestClause: a pasted clause shows standards that do not fit, stale and withdrawn ones,
// and contradictions, each at its place.
func TestClause(t *testing.T) {
	flags := Clause(Text{"spec.txt", pastedText}, base(t), item(t, "ball-pocket/6in"), Place{"flow up", "raw sewage"})
	for _, want := range []struct {
		found, kind, says string
		line, col         int
	}{
		{"AWWA C508-01", "does not fit", "EN 12266-1", 2, 40},
		{"AWWA C508-01", "stale", "17 is the latest known here, from memory", 2, 40},
		{"AWWA C508-01", "contradiction", "horizontal valves only", 2, 40},
		{"ASME B16.1", "in part", "Drilling only", 4, 13},
		{"ASME B16.10-2017", "does not fit", "series 48", 4, 47},
		{"ASME B16.10-2017", "stale", "2022", 4, 47},
		{"AWWA C550", "fits", "epoxy", 5, 16},
		{"EN 12334", "withdrawn", "EN 16767", 5, 37},
		{"FM 1210", "unknown", "", 5, 50},
		{"NSF/ANSI 61", "does not fit", "sewage", 6, 31},
	} {
		ok := false
		for _, f := range flags {
			ok = ok || f.Found == want.found && f.Kind == want.kind && strings.Contains(f.Text, want.says) &&
				f.Place == diag.Place{File: "spec.txt", Line: want.line, Col: want.col}
		}
		if !ok {
			t.Errorf("%+v is not among\n%+v", want, flags)
		}
	}
}

// TestClauseOfOneThatFits: a clause that asks for what the valve is has nothing against it,
// and a word that forbids the upright position is no wish for it.
func TestClauseOfOneThatFits(t *testing.T) {
	text := "Swing checks per AWWA C508-17, not for vertical installation. Flanges ASME B16.1-2020. Do not confuse B16.10 lengths."
	for _, f := range Clause(Text{"", text}, base(t), item(t, "swing/6in"), Place{"horizontal", "raw water"}) {
		if f.Kind != "fits" {
			t.Errorf("%+v", f)
		}
	}
	vertical := Clause(Text{"", "The valve stands in a vertical pipe."}, base(t), item(t, "swing-cushioned/6in"),
		Place{})
	if len(vertical) != 1 || vertical[0].Kind != "contradiction" || vertical[0].Found != "vertical" {
		t.Errorf("%+v", vertical)
	}
}

// TestReadFaults: a slip in a file of standards is reported with its place.
func TestReadFaults(t *testing.T) {
	_, list := Read("s.yaml", []byte("standards:\n  - {id: X 1, title: t, about: test, match: '(', scope: s, applies: 'ball &&', source: s, status: seen}\n  - {id: X 1, title: t, about: test, match: 'X', scope: s, source: s, status: seen}\n"))
	for _, id := range []string{"match-unreadable", "condition-unreadable", "standard-twice"} {
		if !strings.Contains(list.Error(), "["+id+"]") {
			t.Errorf("%s is not reported: %v", id, list)
		}
	}
}

func FuzzClause(f *testing.F) {
	f.Add(pastedText)
	f.Add("AWWA C508-\xff EN 558")
	all, it := base(f), item(f, "ball-pocket/6in")
	f.Fuzz(func(t *testing.T, text string) {
		for _, x := range Clause(Text{"f", text}, all, it, Place{"flow up", "raw sewage"}) {
			if x.Place.Line < 1 || x.Place.Col < 1 || x.Kind == "" {
				t.Fatalf("%+v", x)
			}
		}
	})
}
