package desk

import (
	"errors"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
)

// TestLeak: 43 ft² × 1.1 in / 10 min = 3.94 ft³ / 10 min = 2.95 gpm, worked by hand, with and
// without a station, and in both systems of units.
func TestLeak(t *testing.T) {
	layout := example(t, "layout")
	d := newDesk(t)
	in := LeakRequest{
		Area: "43 ft2", Step: "0.1 in", Shut: []string{"2.4 in in 10 min", "2.4 in in 10 min"},
		Open: []string{"3.5 in in 10 min"},
	}
	want := 43 * 0.3048 * 0.3048 * 1.1 * 0.0254 / 600
	for _, tt := range []struct {
		text, units, leak, hole string
	}{{"", "", "2.95 gpm", ""}, {"", "SI", "0.186 L/s", ""}, {layout, "", "2.95 gpm", "in"}, {layout, "SI", "0.186 L/s", "mm"}} {
		in.Text, in.Units = tt.text, tt.units
		out, err := d.Leak(t.Context(), in)
		if err != nil {
			t.Fatal(err)
		}
		said := fmt.Sprint(out.Lines)
		if math.Abs(float64(out.Leak)/want-1) > 1e-9 || !strings.Contains(said, "{Leak-back "+tt.leak+" ") {
			t.Errorf("%s: %v, %s", tt.units, out.Leak, said)
		}
		if hole := strings.Contains(said, "Hole that would leak as much"); hole != (tt.text != "") {
			t.Errorf("%s: the hole: %s", tt.units, said)
		}
		if (len(out.Stuck) > 0) != (tt.text != "") || out.Found == nil || out.Found.Reading != "open-faster" || out.Chart != nil {
			t.Errorf("%+v", out)
		}
	}
}

// TestLeakIsAReading: what the leak test finds is a reading that the diagnosis takes.
func TestLeakIsAReading(t *testing.T) {
	d := newDesk(t)
	record, err := os.ReadFile("../../examples/levels.csv")
	if err != nil {
		t.Fatal(err)
	}
	for want, in := range map[string]LeakRequest{
		"same":        {Step: "1 mm", Shut: []string{"6 cm in 10 min"}, Open: []string{"6 cm in 10 min"}},
		"":            {Step: "1 mm", Shut: []string{"6 cm in 10 min"}},
		"open-faster": {Record: &SentFile{"levels.csv", record}},
	} {
		in.Area = "4 m2"
		out, err := d.Leak(t.Context(), in)
		if err != nil {
			t.Fatal(err)
		}
		if (out.Found != nil) != (want != "") || out.Found != nil && out.Found.Reading != want {
			t.Errorf("%q: %+v", want, out.Found)
			continue
		}
		if (out.Chart != nil) != (in.Record != nil) {
			t.Errorf("%q: chart %+v", want, out.Chart)
		}
		if out.Found == nil {
			continue
		}
		found := map[string]string{out.Found.Test: out.Found.Reading}
		if _, err := d.Diagnose(t.Context(), DiagnoseRequest{Signs: []string{"starts-up"}, Found: found}); err != nil {
			t.Errorf("%q: %v", want, err)
		}
	}
}

// TestLeakRefuses: a fault is reported at its field; one in a record with its cell.
func TestLeakRefuses(t *testing.T) {
	d := newDesk(t)
	for _, tt := range []struct {
		in         LeakRequest
		path, want string
		line       int
	}{
		{LeakRequest{}, "area", "is missing", 0},
		{LeakRequest{Diameter: "8 gpm"}, "diameter", `"8 gpm" is not a length`, 0},
		{LeakRequest{Diameter: "8"}, "diameter", `"8" is not a length`, 0},
		{LeakRequest{Area: "4 m2", Step: "1 mm", Shut: []string{"6 cm in 10 min", "soon"}}, "shut[1]", "a length and a time", 0},
		{LeakRequest{Area: "4 m2", Record: &SentFile{"x.csv", []byte("time (s),level (m)\n0,1\n5,x\n9,1\n")}}, "", "no level", 3},
		{LeakRequest{Area: "4 m2", Record: &SentFile{"x.csv", nil}}, "", "no heading", 1},
	} {
		_, err := d.Leak(t.Context(), tt.in)
		var e *Error
		if err != nil {
			e = Told(err)
		}
		if e == nil || len(e.Messages) == 0 || e.Messages[0].Path != tt.path || e.Messages[0].Line != tt.line ||
			!strings.Contains(e.Messages[0].Text, tt.want) {
			t.Errorf("%+v: %v, %+v", tt.in, err, e)
		}
	}
	if _, err := d.Leak(t.Context(), LeakRequest{Units: "furlongs"}); err == nil {
		t.Error("units of no system are taken")
	} else if e := (*Error)(nil); !errors.As(err, &e) || e.ID != "units-unknown" {
		t.Error(err)
	}
}

// TestDiagnosisLeadsOn: the tests that levels and loggers answer are tests of the diagnosis.
func TestDiagnosisLeadsOn(t *testing.T) {
	out, err := newDesk(t).Diagnose(t.Context(), DiagnoseRequest{})
	if err != nil {
		t.Fatal(err)
	}
	known := map[string]bool{}
	for _, n := range out.Answer.Next {
		known[n.ID] = true
	}
	if len(out.ByLevels) != 2 || len(out.ByLogger) != 1 || len(out.Cautions) == 0 || len(out.StopCautions) == 0 {
		t.Errorf("%+v", out)
	}
	for _, id := range append(out.ByLevels, out.ByLogger...) {
		if !known[id] {
			t.Errorf("no test is called %q: %v", id, known)
		}
	}
}
