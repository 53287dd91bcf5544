package plant

import (
	"math"
	"testing"
	"time"
)

// BenchmarkTrip times a whole pump trip with a moving valve on a 3 km main against the
// inner updates of its waves in plain Go.
func BenchmarkTrip(b *testing.B) {
	p := plantOf(b, "layout", "length: 3400 ft", "length: 3000 m")
	f := fit1(b, p, "flap/6in")
	for _, name := range []string{"one-trips-high", "power-failure-high"} {
		ev := event(b, p, name)
		b.Run(name, func(b *testing.B) {
			steps, nodes := 0, 0
			for b.Loop() {
				s, err := p.Run(b.Context(), f.mech, ev, Options{Record: true})
				if err != nil || s.Fault != "" {
					b.Fatal(err, s.Fault)
				}
				steps += s.Steps
				nodes = len(s.Envelope)
			}
			perStep := b.Elapsed().Seconds() / float64(steps)
			b.ReportMetric(perStep/plainUpdate(nodes), "ratio-to-plain-updates")
			b.ReportMetric(float64(steps)/float64(b.N), "steps")
			b.ReportMetric(float64(nodes), "nodes")
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
