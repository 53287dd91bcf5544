package study

import (
	"bytes"
	"context"
	"os"
	"testing"

	"seatward/catalog"
	"seatward/judge"
	"seatward/plant"
	"seatward/rules"
	"seatward/station"
	"seatward/valve"
)

// BenchmarkSelect measures a select and what it is made of: data, operating points with a
// valve in place, the stops, and the judgement of that valve.
func BenchmarkSelect(b *testing.B) {
	data, opt := example(b, "layout"), options(b)
	st, list := station.Load("layout", data)
	if st == nil {
		b.Fatal(list)
	}
	run := func(name string, opt Options) {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				st, _ := station.Load("layout", data)
				if _, err := Run(context.Background(), st, opt); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	run("whole", opt)
	quick, one := opt, opt
	quick.Quick, one.Valve = true, "flap/6in"
	run("quick", quick)
	run("one-valve", one)
	b.Run("station", func(b *testing.B) {
		for b.Loop() {
			station.Load("layout", data)
		}
	})
	b.Run("catalogs", func(b *testing.B) {
		for b.Loop() {
			if _, faults := catalog.LoadFiles(os.DirFS("../catalog/demo"), "*.yaml"); faults.Err() != nil {
				b.Fatal(faults)
			}
		}
	})
	b.Run("rules", func(b *testing.B) {
		for b.Loop() {
			if _, faults := rules.Base(); faults.Err() != nil {
				b.Fatal(faults)
			}
		}
	})
	stages(b, st, opt)
}

// stages are those of one valve.
func stages(b *testing.B, st *station.Station, opt Options) {
	p, err := plant.New(st)
	if err != nil {
		b.Fatal(err)
	}
	it, m, setting, err := theValve(st, TripOptions{Catalogs: opt.Catalogs, Valve: "flap/6in"})
	if err != nil {
		b.Fatal(err)
	}
	points, err := p.Solve(m)
	if err != nil {
		b.Fatal(err)
	}
	b.Run("points", func(b *testing.B) {
		for b.Loop() {
			if _, err := p.Solve(m); err != nil {
				b.Fatal(err)
			}
		}
	})
	ask := func(it *catalog.Item, m *valve.Mechanism, least bool) *plant.Answer {
		a, err := p.Ask(context.Background(), it, setting, plant.Ask{Limits: judge.SlamLimits(opt.Rules), Least: least})
		if err != nil {
			b.Fatal(err)
		}
		return a
	}
	b.Run("stops", func(b *testing.B) {
		for b.Loop() {
			ask(it, m, true)
		}
	})
	in := judge.Input{
		Station: st, Item: it, Mech: m, Rules: opt.Rules, Points: points.ForValve(),
		Answer: ask(it, m, false),
	}
	b.Run("judge", func(b *testing.B) {
		for b.Loop() {
			judge.Assess(in)
		}
	})
}

// kilometer is the layout example with a main of 1 km.
func kilometer(t testing.TB) *station.Station {
	t.Helper()
	st, list := station.Load("test.yaml",
		bytes.Replace(example(t, "layout"), []byte("length: 3400 ft"), []byte("length: 1000 m"), 1))
	if st == nil {
		t.Fatal(list)
	}
	return st
}

// BenchmarkQuickTrip is the player of a page: one valve on a main of 1 km, until it rests,
// with its film. Thirty a second on one processor are wanted.
func BenchmarkQuickTrip(b *testing.B) {
	st := kilometer(b)
	for _, event := range []string{"one-trips-high", "power-failure-high", "stop-high"} {
		b.Run(event, func(b *testing.B) {
			b.ReportAllocs()
			opt := TripOptions{
				Catalogs: options(b).Catalogs, Rules: options(b).Rules, Valve: "flap/6in", Event: event,
				Frames: 240, Quick: true,
			}
			for b.Loop() {
				if _, err := RunTrip(context.Background(), st, opt); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "trips/s")
		})
	}
}
