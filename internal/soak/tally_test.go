package soak

import (
	"strings"
	"testing"
)

// TestTally: one panic, NaN or hang fails a soak, and so do too few answers.
func TestTally(t *testing.T) {
	good := make([]Result, 200)
	with := func(faults ...Fault) []Result {
		return append(append([]Result{}, good...), Result{Name: "7", Faults: faults})
	}
	for _, tt := range []struct {
		name   string
		all    []Result
		passed bool
	}{
		{"all answered", good, true},
		{"one event of 201 stations", with(Fault{noTrip, "no balance"}), true},
		{"refused by the reading", with(Fault{refused, "x"}), true},
		{"a panic", with(Fault{panicked, "x"}), false},
		{"a hang", with(Fault{hung, "x"}), false},
		{"not a number", with(Fault{notANumber, "x"}), false},
		{"too few", append(good[:50:50], Result{Faults: []Fault{{noTrip, "x"}}}), false},
	} {
		var out strings.Builder
		if passed := newTally(tt.all).print(&out); passed != tt.passed {
			t.Errorf("%s: passed %v\n%s", tt.name, passed, out.String())
		}
	}
}

// TestGroup: like faults are one, whatever station they are of.
func TestGroup(t *testing.T) {
	a := Fault{noTrip, "Generated 17: ball-pocket/6in: no balance at 3.5e-2 m"}
	b := Fault{noTrip, "Generated 4: flap/12in: no balance at 12 m"}
	if a.Group() != b.Group() || a.Group() != "trip: no balance at # m" {
		t.Errorf("%q and %q", a.Group(), b.Group())
	}
}

// TestLastWords: of a panic the line and the first place in our code are kept.
func TestLastWords(t *testing.T) {
	said := "panic: index out of range [-1]\n\ngoroutine 1 [running]:\nruntime.x()\n\t/usr/lib/go/src/runtime/panic.go:1\nseatward/study.f()\n\t/home/x/seatward/study/event.go:7 +0x1\n"
	if got := lastWords(said); !strings.Contains(got, "index out of range") || !strings.Contains(got, "event.go:7") {
		t.Errorf("%q", got)
	}
	if got := lastWords("killed\n"); got == "" {
		t.Error("a process that ended without a panic must have a text too")
	}
}
