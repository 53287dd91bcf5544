package desk

import (
	"context"
	"encoding/base64"
	"encoding/binary"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"seatward/plant"
	"seatward/station"
	"seatward/study"
)

// What a remedy shows is what the station does once it is taken into the file; the first of
// them is the row.
func TestRemediesAreWhatTheyWrite(t *testing.T) {
	d := newDesk(t)
	layout := example(t, "layout")
	names := remediesHold(t, d, layout)
	for _, want := range []string{"flywheel", "air vessel", "ramped stop", "relief valve", "air valve", "smaller valve"} {
		if !slices.Contains(names, want) {
			t.Errorf("no %s among %v", want, names)
		}
	}
	vessel := "\nsurge:\n  air_vessel: at the station\n" // of no size: the file lists no device
	if names := remediesHold(t, d, layout+vessel); !slices.Contains(names, "larger air vessel") {
		t.Errorf("no larger air vessel among %v", names)
	}
}

// remediesHold holds each remedy to the station with it in the file, and gives their names.
func remediesHold(t *testing.T, d *Desk, text string) (names []string) {
	t.Helper()
	ctx := context.Background()
	const valve = "swing/6in"
	r, err := d.Remedies(ctx, RemediesRequest{Text: text, Valve: valve})
	if err != nil {
		t.Fatal(err)
	}
	row := rowFor(t, d, text, valve)
	now := r.Remedies[0]
	if *now.ReverseMS != row.Slam.Best || now.Event != row.Slam.Event || now.Class != row.Slam.Class ||
		*now.HeadRiseM != row.Slam.Rise.M {
		t.Errorf("as it is %g m/s in %s, %s; the row %+v", *now.ReverseMS, now.Event, now.Class, row.Slam)
	}
	for _, x := range r.Remedies[1:] {
		names = append(names, x.Name)
		if x.Fault != "" {
			t.Errorf("%s was not run: %s", x.Name, x.Fault)
			continue
		}
		to, then := valve, text
		if x.Valve != "" {
			to = x.Valve
		}
		if len(x.Edits) > 0 {
			var edits []Change
			for _, e := range x.Edits {
				edits = append(edits, Change{e.Path, &e.Value})
			}
			e, err := d.Edit(ctx, EditRequest{Text: text, Edits: edits})
			if err != nil {
				t.Errorf("%s cannot be taken: %v", x.Name, err)
				continue
			}
			then = e.Text
		}
		if (x.Valve == "") == (len(x.Edits) == 0) {
			t.Errorf("%s takes the valve %q and edits %v", x.Name, x.Valve, x.Edits)
		}
		if taken := rowFor(t, d, then, to); taken.Slam == nil || taken.Slam.Best != *x.ReverseMS ||
			taken.Slam.Event != x.Event || taken.Slam.Class != x.Class {
			t.Errorf("%s: %g m/s in %s, %s; taken it is %+v", x.Name, *x.ReverseMS, x.Event, x.Class, taken.Slam)
		}
	}
	return names
}

// rowFor is the row of a valve whose stops have been run.
func rowFor(t *testing.T, d *Desk, text, valve string) Row {
	t.Helper()
	a, err := d.Answer(context.Background(), AnswerRequest{Text: text, Valve: valve})
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(a.Rows, func(r Row) bool { return r.ID == valve })
	if i < 0 {
		t.Fatalf("no row of %s", valve)
	}
	return a.Rows[i]
}

// The readings of a film are those of the run at any time.
func TestExactReadings(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 14))
	d := newDesk(t)
	for _, valve := range []string{"swing/6in", "flap/6in"} {
		st, list := station.Load("x", []byte(example(t, "layout")))
		if st == nil {
			t.Fatal(list)
		}
		s, err := study.RunTrip(context.Background(), st, study.TripOptions{
			Catalogs: d.catalogs, Rules: d.rules, Valve: valve, Event: "one-trips-low", Frames: plant.MostFrames, Quick: true,
		})
		if err != nil {
			t.Fatal(err)
		}
		rows := s.Told().Rows
		e := exact(s.Told().Names, rows)
		times, values := unpacked(t, e)
		if n := len(e.Names); len(values) != n*len(times) || len(times) >= len(rows) || n == 0 {
			t.Fatalf("%d values of %d readings at %d times, of %d steps", len(values), n, len(times), len(rows))
		}
		room := allowed(rows)
		for range 200 {
			r := rows[rnd.IntN(len(rows))]
			k := max(0, min(len(times)-2, upTo(times, r.TimeS)))
			share := (r.TimeS - times[k]) / (times[k+1] - times[k])
			for i, name := range e.Names {
				a, b := float64(values[k*len(e.Names)+i]), float64(values[(k+1)*len(e.Names)+i])
				if off := math.Abs(a + share*(b-a) - r.Now[i]); off > room[i]+1e-6*math.Abs(r.Now[i]) {
					t.Errorf("%s: %s at %g s is %g off", valve, name, r.TimeS, off)
				}
			}
		}
	}
	if e := exact(nil, nil); e.TimeS != "" || e.Values != "" {
		t.Errorf("readings of no steps: %+v", e)
	}
}

func upTo(times []float64, at float64) int {
	k, _ := slices.BinarySearch(times, at)
	if k < len(times) && times[k] == at {
		return k
	}
	return k - 1
}

func unpacked(t *testing.T, e Exact) (times []float64, values []float32) {
	t.Helper()
	a, err := base64.StdEncoding.DecodeString(e.TimeS)
	if err != nil {
		t.Fatal(err)
	}
	b, err := base64.StdEncoding.DecodeString(e.Values)
	if err != nil {
		t.Fatal(err)
	}
	for ; len(a) >= 8; a = a[8:] {
		times = append(times, math.Float64frombits(binary.LittleEndian.Uint64(a)))
	}
	for ; len(b) >= 4; b = b[4:] {
		values = append(values, math.Float32frombits(binary.LittleEndian.Uint32(b)))
	}
	return times, values
}

// Every closing is on the time line, the hardest is the record's.
func TestEveryClosingIsMarked(t *testing.T) {
	r, _ := filmOf(t, newDesk(t), TripRequest{Text: example(t, "layout"), Valve: "swing/6in", Event: "one-trips-low"})
	var closings, worst int
	for _, m := range r.Film.Moments {
		if m.Kind == plant.ValveCloses.String() {
			closings++
		}
	}
	for i, x := range r.Film.Slams {
		if x.Worst {
			worst++
			if best := r.Trip.Closing.ReverseVelocityMS.Best; x.ReverseMS != best || x.Class != r.Trip.Closing.Class {
				t.Errorf("the hardest closing has %g m/s, %s; the record %g, %s", x.ReverseMS, x.Class, best, r.Trip.Closing.Class)
			}
		}
		if i > 0 && x.TimeS < r.Film.Slams[i-1].TimeS {
			t.Error("closings out of order")
		}
	}
	if worst != 1 || len(r.Film.Slams) != closings || closings < 2 {
		t.Errorf("%d closings marked, %d of them the hardest, of %d", len(r.Film.Slams), worst, closings)
	}
}
