package desk

import (
	"context"
	"encoding/base64"
	"encoding/binary"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"seatward/plant"
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
		{
			Valve: "flap/6in", Quick: true, Change: TripChange{FlywheelKgM2: 1},
			Vary: map[string]float64{"main.runs[0].length": 800},
		},
	} {
		in.Text = example(t, "layout")
		r, heads := filmOf(t, d, in)
		f := r.Film
		places := len(f.ChainageM)
		if len(heads) != len(f.TimeS)*places || len(f.LimitM) != places || len(f.VaporM) != places ||
			len(f.HeadMin) != places || len(f.Opening) != len(f.TimeS) || len(f.Events) == 0 || len(f.Moments) == 0 ||
			f.Thinned == "" {
			t.Fatalf("%+v: %d heads, %d times, %d places", in, len(heads), len(f.TimeS), places)
		}
		for i, h := range heads {
			k := i % places
			if math.IsNaN(float64(h)) || float64(h) < f.HeadMin[k]-1e-3 || float64(h) > f.HeadMax[k]+1e-3 {
				t.Fatalf("%+v: head %g beyond %g to %g", in, h, f.HeadMin[k], f.HeadMax[k])
			}
		}
		if f.Cutaway.Type == "" || f.Cutaway.BoreM <= 0 || len(f.Cutaway.Parts) == 0 ||
			len(f.Traces.Values) != len(f.Traces.TimeS) || len(f.Traces.TimeS) == 0 {
			t.Errorf("%+v", f.Cutaway)
		}
		if in.Quick == (len(r.Trip.Remedies) > 0) || r.Trip.Closing == nil || r.Trip.Closing.Class == "" ||
			r.Trip.History != nil {
			t.Errorf("%+v: remedies %d, closing %+v", in, len(r.Trip.Remedies), r.Trip.Closing)
		}
		noNulls(t, r)
	}
	still, _ := filmOf(t, d, TripRequest{
		Text: example(t, "layout"), Valve: "swing/6in", Event: "one-trips-high",
		Quick: true,
	})
	short, _ := filmOf(t, d, TripRequest{
		Text: example(t, "layout"), Valve: "swing/6in", Event: "one-trips-high",
		Quick: true, Vary: map[string]float64{"pumps[0].inertia": 5},
	})
	if still.Trip.Closing.ReverseVelocityMS.Best <= short.Trip.Closing.ReverseVelocityMS.Best {
		t.Errorf("a heavy rotor takes the reverse velocity from %g to %g", still.Trip.Closing.ReverseVelocityMS.Best,
			short.Trip.Closing.ReverseVelocityMS.Best)
	}
}

// The page tells many moments of one kind shortly: they must differ in their numbers alone.
func TestMomentsOfOneKindReadAlike(t *testing.T) {
	d := newDesk(t)
	words := map[string]string{}
	for _, valve := range []string{"swing/6in", "ball-pocket/6in"} {
		r, _ := filmOf(t, d, TripRequest{
			Text: example(t, "layout"), Valve: valve, Event: "one-trips-high",
			Quick: true,
		})
		for _, m := range r.Film.Moments {
			says := m.Text[:strings.IndexAny(m.Text+"0", "0123456789")]
			if had, found := words[m.Kind]; found && had != says {
				t.Errorf("%s is reported as %q and as %q", m.Kind, had, says)
			}
			words[m.Kind] = says
		}
	}
	for _, kind := range []plant.MomentKind{plant.Begins, plant.FlowReverses, plant.ValveCloses} {
		if words[kind.String()] == "" {
			t.Errorf("no moment is %q: %v", kind, words)
		}
	}
}

// A profile of 2,000 points, the most that a file may hold, is drawn and run with its high points in it.
func TestLongProfile(t *testing.T) {
	d := newDesk(t)
	var b strings.Builder
	b.WriteString("[")
	for i := range 2000 {
		z := 5 + 30*float64(i)/1999
		if i == 1555 {
			z = 33
		}
		fmt.Fprintf(&b, "[%.4f ft, %.4f ft], ", 3400*float64(i)/1999, z)
	}
	profile := strings.TrimSuffix(b.String(), ", ") + "]"
	r, err := d.Edit(context.Background(), EditRequest{Text: example(t, "layout"), Edits: []Change{{"main.profile", &profile}}})
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
	if _, heads := filmOf(t, d, TripRequest{
		Text: r.Text, Valve: "flap/6in", Event: "one-trips-high",
		Quick: true,
	}); len(heads) == 0 {
		t.Error("no film")
	}
}

// What if the ball were lighter? The run moves as it should, says what was tried, and the
// film still tells what the catalog has; quick and in full.
func TestTripWithTheValvesOwnNumbers(t *testing.T) {
	d := newDesk(t)
	const density = "mechanics.ball_density"
	in := TripRequest{Text: example(t, "layout"), Valve: "ball-cage/6in/sinking", Event: "one-trips-high", Quick: true}
	still, _ := filmOf(t, d, in)
	trial := func(r *TripReply, path string) FilmTrial {
		t.Helper()
		for _, v := range r.Film.Vary {
			if v.Path == path {
				return v
			}
		}
		t.Fatalf("the film offers no %s: %+v", path, r.Film.Vary)
		return FilmTrial{}
	}
	offer := trial(still, density)
	if offer.SI != 1500 || offer.Low != 750 || offer.High != 3000 || offer.Label != "density of the ball" ||
		offer.Unit != "lb/ft³" || math.Abs(offer.PerSI*16.018463-1) > 1e-6 || offer.Reason == "" {
		t.Errorf("%+v", offer)
	}
	if len(still.Trip.WhatIf) != 0 {
		t.Errorf("%+v", still.Trip.WhatIf)
	}
	back := still.Trip.Closing.ReverseVelocityMS.Best
	for _, quick := range []bool{true, false} {
		in.Quick, in.Vary = quick, map[string]float64{density: 2200, "pumps[0].inertia": 0.2}
		heavy, _ := filmOf(t, d, in)
		in.Vary[density] = 1200
		light, _ := filmOf(t, d, in)
		if !(heavy.Trip.Closing.ReverseVelocityMS.Best < light.Trip.Closing.ReverseVelocityMS.Best) {
			t.Errorf("quick %v: the reverse velocity of a heavy ball is %g, of a light one %g", quick,
				heavy.Trip.Closing.ReverseVelocityMS.Best, light.Trip.Closing.ReverseVelocityMS.Best)
		}
		if heavy.Film.Cutaway.Parts["ball_density"] != 2200 || trial(heavy, density).SI != 1500 {
			t.Errorf("quick %v: the film has the density %g and offers %+v", quick,
				heavy.Film.Cutaway.Parts["ball_density"], trial(heavy, density))
		}
		var paths []string
		for _, w := range heavy.Trip.WhatIf {
			paths = append(paths, w.Path)
		}
		if len(paths) != 2 || paths[0] != "pumps[0].inertia" || paths[1] != density ||
			!strings.Contains(heavy.Trip.WhatIf[1].Text, "where the catalog has") {
			t.Errorf("quick %v: what if %+v", quick, heavy.Trip.WhatIf)
		}
	}
	in.Quick, in.Vary = true, map[string]float64{density: 1500}
	if same, _ := filmOf(t, d, in); same.Trip.Closing.ReverseVelocityMS.Best != back {
		t.Errorf("the catalog's density gives %g, the catalog %g", same.Trip.Closing.ReverseVelocityMS.Best, back)
	}
}

// Every number that a film offers can be put to both ends of its range; a type offers only
// what it has.
func TestFilmOffersWhatCanBeVaried(t *testing.T) {
	d := newDesk(t)
	for _, tt := range []struct{ file, valve, has, lacks string }{
		{"layout", "ball-pocket/6in", "mechanics.ball_density", "mechanics.disc_mass"},
		{"layout", "swing/6in", "mechanics.disc_mass", "mechanics.ball_density"},
		{"layout", "axial-spring/6in", "mechanics.spring_force", "static_high"},
		{"layout", "swing-cushioned/6in", "mechanics.orifice_diameter", "mechanics.spring_force"},
		{"first-call", "swing/6in", "static_low", "outlet"}, // the file has the lift itself
	} {
		in := TripRequest{Text: example(t, tt.file), Valve: tt.valve, Event: "one-trips-high", Quick: true, Frames: 20}
		r, _ := filmOf(t, d, in)
		found := map[string]bool{}
		for _, v := range r.Film.Vary {
			found[v.Path] = true
			for _, si := range []float64{v.Low, v.High} {
				in.Vary = map[string]float64{v.Path: si}
				if varied, _ := filmOf(t, d, in); len(varied.Trip.WhatIf) != 1 || varied.Trip.WhatIf[0].Value != si {
					t.Errorf("%s, %s = %g: what if %+v", tt.valve, v.Path, si, varied.Trip.WhatIf)
				}
			}
		}
		for _, path := range []string{tt.has, "pumps[0].inertia", "main.runs[0].wave_speed"} {
			if !found[path] {
				t.Errorf("%s offers no %s", tt.valve, path)
			}
		}
		if found[tt.lacks] || found["outlet"] == found["static_high"] {
			t.Errorf("%s offers %s, or not the lift in one way", tt.valve, tt.lacks)
		}
	}
}

// What cannot be is reported in one error, at the number.
func TestTripRefusesNumbers(t *testing.T) {
	d := newDesk(t)
	for _, tt := range []struct {
		path string
		si   float64
		hint string
	}{
		{"mechanics.disc_mass", 3, "does not know"},
		{"mechanics.ball_densty", 1200, "did you mean ball_density?"},
		{"mechanics.ball_density", -1, "more than 0"},
		{"mechanics.ball_diameter", 0.01, "ball_diameter"},
		{"mechanics.", 1, "does not know"},
		{"outlett", 1, `did you mean "outlet"?`},
	} {
		_, err := d.Trip(context.Background(),
			TripRequest{
				Text: example(t, "layout"), Valve: "ball-cage/6in/sinking", Quick: true,
				Vary: map[string]float64{tt.path: tt.si},
			})
		e, ok := err.(*Error)
		if !ok || e.ID != "not-varied" || !strings.Contains(e.Error(), tt.hint) {
			t.Errorf("%s = %g: %v lacks %q", tt.path, tt.si, err, tt.hint)
		}
	}
	for _, si := range []float64{
		1e-300,
		1e300,
	} { // the type knows no end, the run may find none: it says so or gives numbers
		r, err := d.Trip(context.Background(),
			TripRequest{
				Text: example(t, "layout"), Valve: "ball-cage/6in/sinking", Quick: true,
				Vary: map[string]float64{"mechanics.ball_density": si},
			})
		if e, ok := err.(*Error); err != nil && !ok {
			t.Errorf("%g: %v", si, err)
		} else if err == nil {
			noNulls(t, r)
		} else {
			t.Log(e)
		}
	}
}

// The ground is drawn where it is given, above the datum of the film; else nothing is.
func TestGroundIsDrawn(t *testing.T) {
	d := newDesk(t)
	ground := "[[0 ft, 20 ft], [3400 ft, 54 ft]]"
	r, err := d.Edit(context.Background(), EditRequest{Text: example(t, "layout"), Edits: []Change{{"main.ground", &ground}}})
	if err != nil {
		t.Fatal(err)
	}
	if g := r.Sheet.Drawing.Ground; len(g) != 2 || math.Abs(g[1].ElevationM-54*0.3048) > 1e-9 {
		t.Errorf("drawn ground %+v", g)
	}
	f, _ := filmOf(t, d, TripRequest{Text: r.Text, Valve: "flap/6in", Event: "one-trips-high", Quick: true, Frames: 10})
	if g := f.Film.GroundM; len(g) != len(f.Film.ChainageM) || math.Abs(g[0]-12*0.3048) > 1e-9 ||
		math.Abs(g[len(g)-1]-46*0.3048) > 1e-9 {
		t.Errorf("ground of the film %v", g)
	}
	f, _ = filmOf(t, d, TripRequest{
		Text: example(t, "layout"), Valve: "flap/6in", Event: "one-trips-high", Quick: true,
		Frames: 10,
	})
	if f.Film.GroundM == nil || len(f.Film.GroundM) != 0 {
		t.Errorf("ground that nobody gave: %v", f.Film.GroundM)
	}
}

// A trip tells how far it has come, onward to the end, and gives the same as one that is
// silent.
func TestTripTellsHowFarItIs(t *testing.T) {
	d := newDesk(t)
	in := TripRequest{Text: example(t, "layout"), Valve: "flap/6in", Frames: 20}
	var told []int
	loud, err := d.TripTold(context.Background(), in, func(done, total int) {
		if total != 100 {
			t.Errorf("%d of %d", done, total)
		}
		told = append(told, done)
	})
	if err != nil {
		t.Fatal(err)
	}
	if !slices.IsSorted(told) || len(told) < 10 || told[len(told)-1] != 100 ||
		len(slices.Compact(slices.Clone(told))) != len(told) {
		t.Errorf("told %v", told)
	}
	silent, err := d.Trip(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	if jsonOf(t, loud) != jsonOf(t, silent) {
		t.Error("who hears of the progress gets another trip")
	}
}
