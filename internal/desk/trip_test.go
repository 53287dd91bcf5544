package desk

import (
	"context"
	"encoding/base64"
	"encoding/binary"
	"fmt"
	"math"
	"strings"
	"testing"
)

func filmOf(t testing.TB, d *Desk, in TripRequest) (*TripReply, []float32) {
	t.Helper()
	r, err := d.Trip(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	raw, err := base64.StdEncoding.DecodeString(r.Film.Heads)
	if err != nil {
		t.Fatal(err)
	}
	out := make([]float32, len(raw)/4)
	for i := range out {
		out[i] = math.Float32frombits(binary.LittleEndian.Uint32(raw[4*i:]))
	}
	return r, out
}

func TestTrip(t *testing.T) {
	d := newDesk(t)
	for _, in := range []TripRequest{
		{Valve: "flap/6in", Event: "one-trips-high"},
		{Valve: "swing/6in", Event: "one-trips-high", Quick: true, Frames: 60},
		{Quick: true, Event: "power-failure"},
		{Valve: "flap/6in", Quick: true, Change: TripChange{FlywheelKgM2: 1}, Vary: map[string]float64{"main.runs[0].length": 800}},
	} {
		in.Text = example(t, "layout")
		r, heads := filmOf(t, d, in)
		f := r.Film
		places := len(f.ChainageM)
		if len(heads) != len(f.TimeS)*places || len(f.LimitM) != places || len(f.VaporM) != places || len(f.HeadMin) != places || len(f.Opening) != len(f.TimeS) || len(f.Events) == 0 || len(f.Moments) == 0 || f.Thinned == "" {
			t.Fatalf("%+v: %d heads, %d times, %d places", in, len(heads), len(f.TimeS), places)
		}
		for i, h := range heads {
			k := i % places
			if math.IsNaN(float64(h)) || float64(h) < f.HeadMin[k]-1e-3 || float64(h) > f.HeadMax[k]+1e-3 {
				t.Fatalf("%+v: head %g beyond %g to %g", in, h, f.HeadMin[k], f.HeadMax[k])
			}
		}
		if f.Cutaway.Type == "" || f.Cutaway.BoreM <= 0 || len(f.Cutaway.Parts) == 0 || len(f.Traces.Values) != len(f.Traces.TimeS) || len(f.Traces.TimeS) == 0 {
			t.Errorf("%+v", f.Cutaway)
		}
		if in.Quick == (len(r.Trip.Remedies) > 0) || r.Trip.Closing == nil || r.Trip.Closing.Class == "" || r.Trip.History != nil {
			t.Errorf("%+v: remedies %d, closing %+v", in, len(r.Trip.Remedies), r.Trip.Closing)
		}
		noNulls(t, r)
	}
	still, _ := filmOf(t, d, TripRequest{Text: example(t, "layout"), Valve: "swing/6in", Event: "one-trips-high", Quick: true})
	short, _ := filmOf(t, d, TripRequest{Text: example(t, "layout"), Valve: "swing/6in", Event: "one-trips-high", Quick: true, Vary: map[string]float64{"pumps[0].inertia": 5}})
	if still.Trip.Closing.ReverseMS.Best <= short.Trip.Closing.ReverseMS.Best {
		t.Errorf("a heavy rotor takes the reverse velocity from %g to %g", still.Trip.Closing.ReverseMS.Best, short.Trip.Closing.ReverseMS.Best)
	}
}

// A profile of 10,000 points is drawn and run with its high points in it.
func TestLongProfile(t *testing.T) {
	d := newDesk(t)
	var b strings.Builder
	b.WriteString("[")
	for i := range 10_000 {
		z := 5 + 30*float64(i)/9999
		if i == 7777 {
			z = 33
		}
		fmt.Fprintf(&b, "[%.4f ft, %.4f ft], ", 3400*float64(i)/9999, z)
	}
	profile := strings.TrimSuffix(b.String(), ", ") + "]"
	r, err := d.Edit(context.Background(), EditRequest{example(t, "layout"), []Change{{"main.profile", &profile}}})
	if err != nil {
		t.Fatal(err)
	}
	if n := len(r.Sheet.Drawing.Main); n > mostDrawn || r.Sheet.Drawing.Thinned == "" {
		t.Errorf("%d points drawn, %q", n, r.Sheet.Drawing.Thinned)
	}
	found := false
	for _, p := range r.Sheet.Drawing.Main {
		found = found || math.Abs(p.ElevationM-33*0.3048) < 1e-9
	}
	if !found {
		t.Error("the high point is not drawn")
	}
	if _, heads := filmOf(t, d, TripRequest{Text: r.Text, Valve: "flap/6in", Event: "one-trips-high", Quick: true}); len(heads) == 0 {
		t.Error("no film")
	}
}
