package study

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"seatward/catalog"
	"seatward/judge"
	"seatward/rules"
	"seatward/station"
)

func example(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile("../examples/" + name + ".station.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func options(t testing.TB) Options {
	t.Helper()
	catalogs, faults := catalog.Demo()
	if faults.Err() != nil {
		t.Fatal(faults)
	}
	book, faults := rules.Base()
	if faults.Err() != nil {
		t.Fatal(faults)
	}
	return Options{Catalogs: catalogs, Rules: book}
}

// answered keeps whole answers, which many tests read and none changes.
var answered sync.Map

func answer(t testing.TB, text []byte, opt Options) *Study {
	t.Helper()
	key := fmt.Sprint(string(text), opt.Quick)
	if kept, ok := answered.Load(key); ok && opt.Valve == "" && opt.Progress == nil {
		return kept.(*Study)
	}
	s := answerAnew(t, text, opt)
	if opt.Valve == "" {
		answered.Store(key, s)
	}
	return s
}

func answerAnew(t testing.TB, text []byte, opt Options) *Study {
	t.Helper()
	st, list := station.Load("test.yaml", text)
	if st == nil {
		t.Fatal(list)
	}
	s, err := Run(context.Background(), st, opt)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The same station at the three depths gives answers that agree, and slam bands that
// narrow as more is known.
func TestThreeDepthsNarrow(t *testing.T) {
	opt := options(t)
	var last map[string]judge.Assessment
	first := ""
	for _, name := range []string{"first-call", "layout", "study"} {
		s := answer(t, example(t, name), opt)
		now := map[string]judge.Assessment{}
		for _, a := range s.Assessments {
			now[a.Item.ID] = a
		}
		if id := first; id != "" && now[id].Rank == 0 {
			t.Errorf("%s rejects %s, which stood first when less was known", name, id)
		}
		first = s.Assessments[0].Item.ID
		for id, b := range last {
			a := now[id]
			v, w := a.Slam.ReverseVelocity, b.Slam.ReverseVelocity
			if !v.Known() || !w.Known() {
				continue
			}
			if v.High-v.Low > w.High-w.Low {
				t.Errorf("%s: the band of %s widens from %.3g..%.3g to %.3g..%.3g", name, id, w.Low, w.High, v.Low, v.High)
			}
			if v.Low > w.High || v.High < w.Low {
				t.Errorf("%s: the band of %s leaves the wider one: %.3g..%.3g after %.3g..%.3g", name, id, v.Low, v.High, w.Low, w.High)
			}
		}
		last = now
	}
}

func TestSameInputSameBytes(t *testing.T) {
	opt := options(t)
	opt.Valve = "flap/6in"
	first, err := json.Marshal(answer(t, example(t, "layout"), opt))
	if err != nil {
		t.Fatal(err)
	}
	for range 2 {
		again, err := json.Marshal(answer(t, example(t, "layout"), opt))
		if err != nil || !bytes.Equal(first, again) {
			t.Fatal("the same station gives other bytes")
		}
	}
}

func TestJSONFitsItsSchema(t *testing.T) {
	data, err := JSONSchema()
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("study.json", doc); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile("study.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"first-call", "layout", "study", "booster"} {
		text, err := json.Marshal(answer(t, example(t, name), options(t)))
		if err != nil {
			t.Fatal(err)
		}
		value, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		if err := schema.Validate(value); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestCancel(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	st, list := station.Load("x", example(t, "layout"))
	if st == nil {
		t.Fatal(list)
	}
	if _, err := Run(ctx, st, options(t)); !errors.Is(err, context.Canceled) {
		t.Errorf("a cancelled run gives %v", err)
	}
}

// Heads balance: what the pump gives is static head and losses.
func TestPointsBalance(t *testing.T) {
	for _, name := range []string{"first-call", "layout", "study", "booster"} {
		s := answer(t, example(t, name), options(t))
		for _, p := range s.Points {
			if p.Flow.SI <= 0 || p.Head.SI <= p.StaticHead.SI {
				t.Errorf("%s, %s: flow %g, pump head %g, static %g", name, p.Name, p.Flow.SI, p.Head.SI, p.StaticHead.SI)
			}
		}
	}
}

func TestEveryNumberCanBeExplained(t *testing.T) {
	s := answer(t, example(t, "layout"), options(t))
	seen := map[string]bool{}
	for _, v := range s.Values() {
		if seen[v.Path] {
			t.Errorf("two numbers are called %q", v.Path)
		}
		seen[v.Path] = true
		if got, ok := s.Value(v.Path); !ok || got.SI != v.Value.SI {
			t.Errorf("%q is not found by its path", v.Path)
		}
	}
}

// A measured closing curve in a catalog replaces the computed one.
func TestMeasuredCurveReplaces(t *testing.T) {
	text, err := os.ReadFile("../catalog/demo/flap.yaml")
	if err != nil {
		t.Fatal(err)
	}
	own := strings.Replace(string(text), "    sizes:\n", "    measured:\n      - {kind: reverse velocity against deceleration, size: 6 in, position: flow up, source: invented test, licence: CC0-1.0, closing: [[0.1 m/s2, 0.001 m/s], [40 m/s2, 0.4 m/s]]}\n    sizes:\n", 1)
	f, list := catalog.Parse("own.yaml", []byte(own))
	catalogs, more := catalog.Resolve(f)
	if len(list)+len(more) > 0 {
		t.Fatal(list, more)
	}
	opt := options(t)
	opt.Catalogs, opt.Valve = catalogs, "flap/6in"
	a := answer(t, example(t, "layout"), opt).Assessments[0]
	d := a.Slam.Deceleration.SI
	if got := a.Slam.ReverseVelocity.SI; got < d/100*0.999 || got > d/100*1.001 || !strings.Contains(a.Slam.Method, "measured") {
		t.Errorf("reverse velocity %g at %g m/s2 by %q", got, d, a.Slam.Method)
	}
}

func BenchmarkSelect(b *testing.B) {
	data, opt := example(b, "layout"), options(b)
	st, list := station.Load("layout", data)
	if st == nil {
		b.Fatal(list)
	}
	b.Run("whole", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			st, _ := station.Load("layout", data)
			if _, err := Run(context.Background(), st, opt); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("station", func(b *testing.B) {
		for b.Loop() {
			station.Load("layout", data)
		}
	})
	b.Run("points-of-one-valve", func(b *testing.B) {
		p, err := newPlant(st)
		if err != nil {
			b.Fatal(err)
		}
		for b.Loop() {
			if _, err := p.points(nil); err != nil {
				b.Fatal(err)
			}
		}
	})
	one := opt
	one.Valve = "flap/6in"
	b.Run("one-valve", func(b *testing.B) {
		for b.Loop() {
			if _, err := Run(context.Background(), st, one); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// BenchmarkTrip times a whole pump trip with a moving valve on a 3 km main against the
// inner updates of its waves in plain Go: the ratio is to stay at 3 or below.
func BenchmarkTrip(b *testing.B) {
	st, list := station.Load("test.yaml", bytes.Replace(example(b, "layout"), []byte("length: 3400 ft"), []byte("length: 3000 m"), 1))
	if st == nil {
		b.Fatal(list)
	}
	p, err := newPlant(st)
	if err != nil {
		b.Fatal(err)
	}
	_, m, _, err := p.theValve(TripOptions{Catalogs: options(b).Catalogs, Valve: "flap/6in"})
	if err != nil {
		b.Fatal(err)
	}
	if err := p.forRuns(); err != nil {
		b.Fatal(err)
	}
	for _, ev := range p.events() {
		if ev.ID != "one-trips-high" && ev.ID != "power-failure-high" {
			continue
		}
		b.Run(ev.ID, func(b *testing.B) {
			steps, reaches := 0, 0
			for b.Loop() {
				l, err := p.network(m, ev, Change{}, false, 1)
				if err != nil {
					b.Fatal(err)
				}
				_, r, err := l.follow(b.Context(), ev, runOptions{record: true, duration: p.runTime()}, 0)
				if err != nil {
					b.Fatal(err)
				}
				steps += r.Steps
				reaches = 0
				for _, e := range r.Envelopes {
					reaches += len(e.ChainageM)
				}
			}
			perStep := b.Elapsed().Seconds() / float64(steps)
			b.ReportMetric(perStep/plainUpdate(reaches), "ratio-to-plain-updates")
			b.ReportMetric(float64(steps)/float64(b.N), "steps")
			b.ReportMetric(float64(reaches), "nodes")
		})
	}
}

// plainUpdate is the time in s of one step of so many inner nodes by the formulas of the
// hot loop, written here in plain Go.
func plainUpdate(nodes int) float64 {
	h0, q0, h1, q1 := make([]float64, nodes), make([]float64, nodes), make([]float64, nodes), make([]float64, nodes)
	for i := range h0 {
		h0[i], q0[i], h1[i], q1[i] = 50, 0.1, 50, 0.1
	}
	best := math.Inf(1)
	for range 5 {
		start := time.Now()
		const turns = 400
		for range turns {
			for i := 1; i < nodes-1; i++ {
				qa, qb := q0[i-1], q0[i+1]
				cp, cm := h0[i-1]+qa*(1000-5*math.Abs(qa)), h0[i+1]-qb*(1000-5*math.Abs(qb))
				h1[i], q1[i] = 0.5*(cp+cm), (cp-cm)*0.0005
			}
			h0, h1, q0, q1 = h1, h0, q1, q0
		}
		best = math.Min(best, time.Since(start).Seconds()/turns)
	}
	return best
}

// BenchmarkCoupledSelect judges 40 candidates on a 3 km main, each by two events, at low,
// best and high: under 2 s on two cores.
func BenchmarkCoupledSelect(b *testing.B) {
	st, list := station.Load("test.yaml", bytes.Replace(example(b, "layout"), []byte("length: 3400 ft"), []byte("length: 3000 m"), 1))
	if st == nil {
		b.Fatal(list)
	}
	p, err := newPlant(st)
	if err != nil {
		b.Fatal(err)
	}
	if err := p.forRuns(); err != nil {
		b.Fatal(err)
	}
	events, err := p.findEvents("one-trips")
	if err != nil {
		b.Fatal(err)
	}
	_, m, _, err := p.theValve(TripOptions{Catalogs: options(b).Catalogs, Valve: "flap/6in"})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		var next atomic.Int64
		var workers sync.WaitGroup
		for range runtime.GOMAXPROCS(0) {
			workers.Go(func() {
				for int(next.Add(1)) <= 40 {
					for _, ev := range events {
						for range 3 {
							if _, err := p.run(b.Context(), m, "flap/6in", ev, runOptions{duration: p.runTime()}); err != nil {
								b.Error(err)
							}
						}
					}
				}
			})
		}
		workers.Wait()
	}
}

// BenchmarkSamples draws all ranges at once on one processor and on all: the time is to
// fall with the number of processors, and the memory held does not grow with the sample.
func BenchmarkSamples(b *testing.B) {
	for _, workers := range []int{1, runtime.NumCPU()} {
		for _, n := range []int{100, 400} {
			b.Run(fmt.Sprintf("%d/on-%d", n, workers), func(b *testing.B) {
				defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(workers))
				for b.Loop() {
					tripped(b, "flap/6in", "one-trips-high", func(o *TripOptions) { o.Samples, o.Seed = n, 1 })
				}
				var m runtime.MemStats
				runtime.ReadMemStats(&m)
				b.ReportMetric(float64(m.HeapSys)/1e6, "MB-held")
			})
		}
	}
}
