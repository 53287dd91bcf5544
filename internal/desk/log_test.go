package desk

import (
	"archive/zip"
	"bytes"
	"errors"
	"math"
	"os"
	"strings"
	"testing"

	"seatward/internal/calibrate"
	"seatward/internal/figure"
	"seatward/station"
)

// stopsFile is the example of two logged stops, made by the program.
func stopsFile(t *testing.T) SentFile {
	t.Helper()
	data, err := os.ReadFile("../../examples/stops.log.csv")
	if err != nil {
		t.Fatal(err)
	}
	return SentFile{"stops.log.csv", data}
}

// TestLog: the stops of a log are found with what the logger saw of them, with and without a station.
func TestLog(t *testing.T) {
	d := newDesk(t)
	for _, in := range []LogRequest{
		{File: stopsFile(t), Units: "US"}, {File: stopsFile(t), Text: example(t, "layout")},
	} {
		out, err := d.Log(t.Context(), in)
		if err != nil {
			t.Fatal(err)
		}
		if len(out.Stops) != 2 || out.Stops[0].Number != 1 || out.Stops[0].Closing != "closing 9.64 s later, step 37.2 ft" ||
			out.NoStops != "" || (len(out.Events) > 0) != (in.Text != "") {
			t.Errorf("%+v, %q, %+v", out.Stops, out.NoStops, out.Events)
		}
		if len(out.Traces) != 1 || !strings.Contains(out.Traces[0].Events[0].Text, "Reverse velocity 0.65 (0.25 to 1.90 ft/s)") &&
			in.Text != "" || !strings.Contains(strings.Join(out.Traces[0].Unseen, " "), "slam seen") {
			t.Errorf("%+v", out.Traces)
		}
		if out.Chart == nil || len(out.Chart.Panels) != 2 || !strings.Contains(out.Map, "channels:") {
			t.Errorf("chart %v, map %q", out.Chart, out.Map)
		}
		noNulls(t, out)
	}
}

// TestLogMap: what is not clear is asked, and the map that answers it is taken.
func TestLogMap(t *testing.T) {
	d := newDesk(t)
	in := LogRequest{File: SentFile{"x.csv", []byte("time (s),discharge pressure\n" + column(60))}}
	out, err := d.Log(t.Context(), in)
	if err != nil {
		t.Fatal(err)
	}
	if len(out.Questions) == 0 || out.Questions[0].Key != "channels.unit" || out.NoStops == "" {
		t.Fatalf("%+v, %q", out.Questions, out.NoStops)
	}
	in.Map = strings.Replace(out.Map, `"discharge pressure"`, `"discharge pressure"`+"\n    unit: bar", 1)
	if out, err = d.Log(t.Context(), in); err != nil {
		t.Fatalf("%v\n%s", err, in.Map)
	}
	if len(out.Questions) != 0 || out.Channels[0][2] != "bar" || len(out.Traces) != 1 {
		t.Errorf("%+v, %+v", out.Questions, out.Channels)
	}
	in.Map = "layout: sideways\n"
	_, err = d.Log(t.Context(), in)
	if e := Told(err); e == nil || len(e.Messages) == 0 || !strings.Contains(e.Messages[0].Expected, "wide") {
		t.Errorf("%v", err)
	}
}

// column is a log of readings each 0.1 s.
func column(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(string(rune('0'+i/10)) + "." + string(rune('0'+i%10)) + ",2\n")
	}
	return b.String()
}

// TestLogRefuses: a workbook that grows too large is not unpacked, and what is no log says so.
func TestLogRefuses(t *testing.T) {
	d := newDesk(t)
	var packed bytes.Buffer
	w := zip.NewWriter(&packed)
	part, err := w.Create("xl/worksheets/sheet1.xml")
	if err != nil {
		t.Fatal(err)
	}
	for range mostUnpacked>>20 + 1 {
		if _, err := part.Write(make([]byte, 1<<20)); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	for want, file := range map[string]SentFile{
		"file-too-large-unpacked": {"x.xlsx", packed.Bytes()},
		"":                        {"x.csv", nil},
	} {
		_, err := d.Log(t.Context(), LogRequest{File: file})
		if e := Told(err); e == nil || want != "" && e.ID != want {
			t.Errorf("%s: %v", want, err)
		}
	}
}

// TestFit: the stops tell inertia and wave speed as the command line says them, and what was measured
// is in the text, which stays the reader's own; a log counts once.
func TestFit(t *testing.T) {
	d := newDesk(t)
	in := FitRequest{
		LogRequest: LogRequest{Text: example(t, "layout"), File: stopsFile(t)}, Valve: "swing/6in", Stops: []int{2},
		Events: []string{"one-trips-high"},
	}
	runs := 0
	out, err := d.FitTold(t.Context(), in, func(done, total int) {
		if done <= runs || total != 0 {
			t.Errorf("%d runs after %d, of %d", done, runs, total)
		}
		runs = done
	})
	if err != nil {
		t.Fatal(err)
	}
	noNulls(t, out)
	if runs == 0 || out.Poor != "" || len(out.Writes) != 2 || out.Writes[1].Name != "inertia of pump and motor" ||
		!strings.Contains(out.Stops[0].Text, "taken as one of two pumps trips, the other keeps running.") {
		t.Fatalf("%d runs, %q, %+v, %+v", runs, out.Poor, out.Writes, out.Stops)
	}
	st, list := station.Load("x", []byte(out.Saved))
	if st == nil {
		t.Fatal(list)
	}
	if v := st.Pumps[0].Inertia; !v.Ranged() || !(v.Low < v.SI && v.SI < v.High) {
		t.Errorf("inertia %+v", v)
	}
	for _, want := range []string{"# measured 2026-05-12, stops.log.csv", "two equal pumps; both may run at the summer peak"} {
		if !strings.Contains(out.Saved, want) {
			t.Errorf("the text has no %q:\n%s", want, out.Saved)
		}
	}
	if !calibrate.NotedBefore(st, "stops.log.csv") {
		t.Error("the note is missing")
	}
	in.Text = out.Saved
	if out, err = d.Fit(t.Context(), in); err != nil {
		t.Fatal(err)
	}
	if out.Saved != "" || !strings.Contains(out.NoWrites, "already") {
		t.Errorf("a log counts twice: %q", out.NoWrites)
	}
}

// TestFitRefuses: each fault is reported at its field, before anything is run.
func TestFitRefuses(t *testing.T) {
	d := newDesk(t)
	ctx := t.Context()
	for name, tt := range map[string]struct {
		change func(*FitRequest)
		path   string
		want   string
	}{
		"no valve":   {func(in *FitRequest) { in.Valve = "" }, "valve", "not known"},
		"valve":      {func(in *FitRequest) { in.Valve = "zebra/6in" }, "valve", "zebra"},
		"sensor":     {func(in *FitRequest) { in.Sensor = "high" }, "sensor", `"high" is not`},
		"channel":    {func(in *FitRequest) { in.Channel = "suction" }, "channel", "suction"},
		"event":      {func(in *FitRequest) { in.Events = []string{"slam"} }, "", "no event is called"},
		"no stop":    {func(in *FitRequest) { in.Events = []string{"start-high"} }, "", "stops a pump"},
		"stop":       {func(in *FitRequest) { in.Stops = []int{7} }, "", "the log holds 2"},
		"many stops": {func(in *FitRequest) { in.Stops = make([]int, 7) }, "", "6 are fitted"},
	} {
		in := FitRequest{LogRequest: LogRequest{Text: example(t, "layout"), File: stopsFile(t)}, Valve: "swing/6in"}
		tt.change(&in)
		_, err := d.Fit(ctx, in)
		var e *Error
		if !errors.As(err, &e) || !strings.Contains(e.Text+e.Mend, tt.want) ||
			tt.path != "" && (len(e.Messages) == 0 || e.Messages[0].Path != tt.path) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestSparse: what is drawn of a long log keeps its peak, its gap and the times that lines share.
func TestSparse(t *testing.T) {
	line := make([]float64, 50_000)
	for i := range line {
		line[i] = float64(i%7) * 1e-3
	}
	line[31_415], line[40_000] = 9, math.NaN()
	at, down := make([]float64, len(line)), make([]float64, len(line))
	for i := range line {
		at[i], down[i] = float64(i), -line[i]
	}
	got := sparse([]figure.Series{{X: at, Y: line}, {X: at, Y: down}})
	if n := len(got[0].X); n > mostPoints || n != len(got[1].X) || n < 100 {
		t.Fatalf("%d and %d points", n, len(got[1].X))
	}
	peak, gap := false, false
	for i, x := range got[0].X {
		peak = peak || x == 31_415 && got[0].Y[i] == 9 && got[1].X[i] == x && got[1].Y[i] == -9
		gap = gap || x == 40_000
	}
	if !peak || !gap {
		t.Errorf("peak %v, gap %v", peak, gap)
	}
}
