package levels

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"seatward/leakback"
	"seatward/quantity"
)

// TestRead: the forms in which crews write a record.
func TestRead(t *testing.T) {
	want := []leakback.Reading{
		{TimeS: 0, LevelM: 1.2, Open: true},
		{TimeS: 30, LevelM: 1.25, Open: false},
		{TimeS: 60, LevelM: 1.3, Running: true, Open: true},
	}
	for name, text := range map[string]string{
		"seconds":   "time (s),level (m),pump,valve\n0,1.20,off,open\n30,1.25,off,shut\n60,1.30,on,open\n",
		"minutes":   "Time [min];Level [cm];Pump;Valve\n0;120;off;open\n0.5;125;off;closed\n1;130;on;open\n",
		"order":     "pump,valve,wet well level (m),time (s)\noff,open,1.2,0\noff,shut,1.25,30\non,open,1.3,60\n",
		"own units": "time,level,pump,valve\n0 s,1.2 m,0,open\n30 s,125 cm,0,shut\n1 min,1300 mm,1,open\n",
	} {
		got, list := Read("x.csv", []byte(text), quantity.Reading{})
		if list.Err() != nil {
			t.Errorf("%s: %v", name, list)
			continue
		}
		close := cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) < 1e-9 })
		if d := cmp.Diff(want, got, close); d != "" {
			t.Errorf("%s: %s", name, d)
		}
	}
	got, list := Read("x.csv", []byte("time,level (m)\n14:05,1\n14:06,1.1\n14:07:30,1.2\n"), quantity.Reading{})
	if list.Err() != nil || got[2].TimeS-got[0].TimeS != 150 || !got[0].Open || got[0].Running {
		t.Errorf("clock times: %v, %v", got, list)
	}
}

// TestReadRefuses: one clear message with the cell.
func TestReadRefuses(t *testing.T) {
	const head = "time (s),level (m),pump,valve\n"
	for text, want := range map[string]string{
		"":                      "",
		"1,2\n3,4\n5,6\n":       "no column time",
		head + "0,1,off,open\n": "too few readings",
		head + "0,1,off,open\n5,x,off,open\n9,1,off,open\n":    "x.csv:3:2: this is no level",
		head + "0,1,off,open\n5,1,maybe,open\n9,1,off,open\n":  "x.csv:3:3: this is no state of the pump",
		head + "0,1,off,open\n5,1,off,\n9,1,off,open\n":        "this is no state of the valve",
		head + "9,1,off,open\n5,1,off,open\n10,1,off,open\n":   "time does not go on",
		head + "0,1,off,open\n14:05,1,off,open\n10,1,off,open": "written in another way",
		head + "0,NaN,off,open\n5,1,off,open\n10,1,off,open":   "this is no level",
		head + "noon,1,off,open\n5,1,off,open\n10,1,off,open":  "this is no time",
		"time (s),level\n0,1\n5,1\n9,1\n":                      "this is no level",
		"time (fortnight),level (m)\n0,1\n5,1\n9,1\n":          "this is no time",
	} {
		got, list := Read("x.csv", []byte(text), quantity.Reading{})
		if got != nil || list.Err() == nil || !strings.Contains(list.Error(), want) {
			t.Errorf("%q: %v, %v: want a message with %q", text, got, list, want)
		}
	}
}

// FuzzRead: no file breaks the reader, and what it gives has times that rise and no strange numbers.
func FuzzRead(f *testing.F) {
	f.Add([]byte("time (s),level (m),pump,valve\n0,1.20,off,open\n30,1.25,off,shut\n60,1.30,on,open\n"))
	f.Add([]byte("time;level\n14:05;1' 6\"\n14:06;2 ft\n14:07;1,5 m\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		got, list := Read("x.csv", data, quantity.For(quantity.US))
		if (got == nil) == (list.Err() == nil) {
			t.Fatalf("%v, %v", got, list)
		}
		for i, r := range got {
			if math.IsNaN(r.LevelM) || math.IsInf(r.LevelM, 0) || i > 0 && !(r.TimeS > got[i-1].TimeS) {
				t.Fatalf("reading %d: %+v", i, r)
			}
		}
		leakback.Pair(leakback.Fills(got, 0))
	})
}

func TestParseRise(t *testing.T) {
	for text, want := range map[string][2]float64{
		"4.5 in in 10 min": {0.1143, 600}, "9 cm in 600 s": {0.09, 600}, "0.3 m in 0.5 h": {0.3, 1800},
		"0 mm in 5 min": {0, 300},
	} {
		m, s, err := ParseRise(text, quantity.Reading{})
		if err != nil || math.Abs(m-want[0]) > 1e-9 || s != want[1] {
			t.Errorf("%q: %g, %g, %v", text, m, s, err)
		}
	}
	for _, text := range []string{"", "4.5 in", "9 cm/10 min", "-1 cm in 5 min", "1 cm in 0 s", "1 gpm in 5 min", " in "} {
		if _, _, err := ParseRise(text, quantity.Reading{}); err == nil {
			t.Errorf("%q is read", text)
		}
	}
}

// FuzzParseRise: whatever is read is a finite rise in a time above zero.
func FuzzParseRise(f *testing.F) {
	f.Add("4.5 in in 10 min")
	f.Add("1' 6\" in 1:30")
	f.Fuzz(func(t *testing.T, text string) {
		m, s, err := ParseRise(text, quantity.For(quantity.US))
		if err == nil && !(m >= 0 && m < 1000 && s > 0 && s < 1e7) {
			t.Fatalf("%q: %g m in %g s", text, m, s)
		}
	})
}

// TestToldRefuses: each fault of what was written is named with its field.
func TestToldRefuses(t *testing.T) {
	area := Well{Area: "4 m2"}
	for _, tt := range []struct {
		told  Told
		field string
		at    int
		want  string
	}{
		{Told{}, "area", 0, "is missing"},
		{Told{Well: Well{Area: "4 m2", Diameter: "2 m"}}, "area", 0, "both given"},
		{Told{Well: Well{Diameter: "0 m"}}, "diameter", 0, "above zero"},
		{Told{Well: Well{Diameter: "2 gpm"}}, "diameter", 0, "is not a length"},
		{Told{Well: area}, "shut", 0, "nothing was measured"},
		{Told{Well: area, Shut: []string{"6 cm in 10 min"}}, "step", 0, "is missing"},
		{Told{Well: area, Step: "1 mm", Drop: []string{"6 cm in 10 min"}}, "shut", 0, "the inflow is missing"},
		{Told{Well: area, Step: "1 mm", Head: "-1 m", Shut: []string{"6 cm in 10 min"}}, "head", 0, "above zero"},
		{Told{Well: area, Step: "1 mm", Shut: []string{"6 cm in 10 min", "6 cm"}}, "shut", 1, "such as"},
		{Told{Well: area, Step: "1 mm", Shut: []string{"3.5 in / 10 min"}}, "shut", 0, "a length and a time"},
		{Told{Well: area, Step: "1 mm", Open: []string{"6 cm in 1 h", "6 cm in 1 h"}}, "open", 0, "one rise is read"},
		{Told{Well: area, File: "x.csv", Record: []byte("time (s),level (m)\n0,1\n5,1\n9,1\n")}, "record", 0, "never changes"},
		{Told{Well: area, Record: []byte{}, Open: []string{"6 cm in 1 h"}}, "record", 0, "in place of"},
	} {
		_, err := tt.told.Test(&leakback.Test{})
		var f *FieldError
		if !errors.As(err, &f) || f.Field != tt.field || f.At != tt.at || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%+v: %v: want %s[%d] with %q", tt.told, err, tt.field, tt.at, tt.want)
		}
	}
}

// TestTold: rises stand in the order shut, open, shut, and a drop is one below zero.
func TestTold(t *testing.T) {
	told := Told{
		Well: Well{Diameter: "2 m"}, Step: "1 mm", Shut: []string{"6 cm in 10 min", "5 cm in 10 min"},
		Open: []string{"9 cm in 10 min"}, Drop: []string{"30 cm in 2 min"},
	}
	var test leakback.Test
	if _, err := told.Test(&test); err != nil {
		t.Fatal(err)
	}
	if len(test.Fills) != 3 || test.Fills[0].Open || !test.Fills[1].Open || test.Fills[2].RiseM != 0.05 ||
		test.Fills[2].FromS != 1200 || len(test.Drops) != 1 || test.Drops[0].RiseM != -0.3 || test.Area.SI != math.Pi {
		t.Errorf("%+v", test)
	}
}
