package study

import (
	"context"
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"seatward/station"
)

// Odd stations end with an answer without NaN, or with a message that says why not; none
// hangs.
func TestOddStationsEnd(t *testing.T) {
	for _, c := range []struct {
		name     string
		old, new string
		want     string // part of the message; "" for an answer
	}{
		{"pump curve that droops", "[0 gpm, 95 ft]", "[0 gpm, 80 ft]", ""},
		{"branch of a foot beside a long main", "length: 20 ft", "length: 1 ft", ""},
		{"branch as long as the main", "length: 20 ft", "length: 3400 ft", ""},
		{"main of a hundred kilometers", "length: 3400 ft", "length: 100 km", "no pump delivers"},
		{"main of ten kilometers", "length: 3400 ft", "length: 10 km", ""},
		{"main of ten feet", "length: 3400 ft", "length: 10 ft", ""},
		{"outlet far below the pump", "outlet: 46 ft", "outlet: 9 ft", ""},
		{"slow pump of one kilogram", "speed: 1760 rpm", "speed: 600 rpm", ""},
		{"inertia of a feather", "submersible: no", "submersible: no\n    inertia: 0.00001 lb ft2", ""},
		{"inertia of a locomotive", "submersible: no", "submersible: no\n    inertia: 50000 lb ft2", ""},
		{
			"wave speed of rubber", "material: PVC\n      class: DR18",
			"material: PVC\n      class: DR18\n      wave_speed: 50 m/s", "",
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := string(example(t, "layout"))
			if !strings.Contains(text, c.old) {
				t.Fatalf("the example has no %q", c.old)
			}
			st, list := station.Load("test.yaml", []byte(strings.Replace(text, c.old, c.new, 1)))
			if st == nil {
				if c.want == "" {
					t.Logf("refused: %v", list)
				}
				return
			}
			base := options(t)
			began := time.Now()
			s, err := RunTrip(context.Background(), st,
				TripOptions{Catalogs: base.Catalogs, Rules: base.Rules, Valve: "flap/6in", Event: "power-failure-high"})
			if took := time.Since(began); took > time.Minute {
				t.Errorf("it took %s", took)
			}
			if err != nil {
				t.Logf("told: %v", err)
				if c.want != "" && !strings.Contains(err.Error(), c.want) {
					t.Errorf("got %v, want something on %q", err, c.want)
				}
				return
			}
			data, err := json.Marshal(s.JSON()) // fails on NaN and infinity
			if err != nil {
				t.Fatal(err)
			}
			var v any
			if err := json.Unmarshal(data, &v); err != nil {
				t.Fatal(err)
			}
			numbers("", v, func(path string, x float64) {
				if math.Abs(x) > 1e12 {
					t.Errorf("%s is %g", path, x)
				}
			})
		})
	}
}

func TestTripStopsWhenTold(t *testing.T) {
	st, _ := station.Load("test.yaml", example(t, "layout"))
	base := options(t)
	ctx, stop := context.WithCancel(context.Background())
	calls := 0
	_, err := RunTrip(ctx, st, TripOptions{
		Catalogs: base.Catalogs, Rules: base.Rules, Valve: "flap/6in",
		Progress: func(float64, string) {
			if calls++; calls == 3 {
				stop()
			}
		},
	})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("a stopped trip ends with %v", err)
	}
}
