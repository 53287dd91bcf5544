package moc

import (
	"fmt"
	"os/exec"
	"path/filepath"
	"testing"
	"time"
)

// BenchmarkInterior times every path, and the C kernel of the same arithmetic by
// gcc -O3 -march=native in the same run, turn by turn; ratio-to-C is the best of each.
func BenchmarkInterior(b *testing.B) {
	program, err := kernel(b)
	if err != nil {
		b.Logf("no ratio to C: %v", err)
	}
	for _, n := range []int{300, 30_000} {
		for _, p := range paths() {
			b.Run(fmt.Sprintf("%s/%d", p.kind, n), func(b *testing.B) {
				x := [4][]float64{}
				for k := range x {
					x[k] = make([]float64, n)
					for i := range x[k] {
						x[k][i] = []float64{50, 0.1}[k%2]
					}
				}
				c := Reach{B: 1000, R: 5, HalfInvB: 0.0005}
				for b.Loop() {
					p.interior(x[2], x[3], x[0], x[1], c)
					p.interior(x[0], x[1], x[2], x[3], c)
				}
				b.ReportMetric(2*float64(n-2)*float64(b.N)/b.Elapsed().Seconds()/1e6, "Mnodes/s")
				if program != "" {
					b.ReportMetric(ratio(b, p, program, n, x, c), "ratio-to-C")
				}
			})
		}
	}
}

// ratio is the best speed of the path over that of C, of five turns each.
func ratio(b *testing.B, p path, program string, n int, x [4][]float64, c Reach) float64 {
	var ours, theirs float64
	for range 5 {
		start, steps := time.Now(), 0
		for time.Since(start) < 60*time.Millisecond {
			for range 500 {
				p.interior(x[2], x[3], x[0], x[1], c)
				p.interior(x[0], x[1], x[2], x[3], c)
			}
			steps += 1000
		}
		ours = max(ours, float64(steps)*float64(n-2)/time.Since(start).Seconds())
		out, err := exec.Command(program, fmt.Sprint(n), "0.06").Output()
		if err != nil {
			b.Fatal(err)
		}
		var speed, ignored float64
		if _, err := fmt.Sscan(string(out), &speed, &ignored); err != nil {
			b.Fatal(err)
		}
		theirs = max(theirs, speed)
	}
	return ours / theirs
}

// kernel builds the C program.
func kernel(b *testing.B) (string, error) {
	program := filepath.Join(b.TempDir(), "kernel")
	out, err := exec.Command("gcc", "-O3", "-march=native", "-o", program, "testdata/kernel.c", "-lm").CombinedOutput()
	if err != nil {
		return "", fmt.Errorf("gcc: %w %s", err, out)
	}
	return program, nil
}

func BenchmarkExtremes(b *testing.B) {
	for _, p := range paths() {
		b.Run(p.kind, func(b *testing.B) {
			lo, hi, h := make([]float64, 300), make([]float64, 300), make([]float64, 300)
			for b.Loop() {
				p.extremes(lo, hi, h)
			}
		})
	}
}

// BenchmarkSteps times the other loops of a pipe of 300 nodes, every path.
func BenchmarkSteps(b *testing.B) {
	const n, terms = 300, 10
	many := func(v float64, n int) []float64 {
		x := make([]float64, n)
		for i := range x {
			x[i] = v
		}
		return x
	}
	nodes := &Nodes{
		H1: many(20, n), Q1: many(0.1, n), Up1: many(0.1, n), Volume1: many(1e-5, n), H: many(20, n), Q: many(0.1, n),
		Up:     many(0.1, n),
		Volume: many(1e-5, n), Floor: many(-10, n), Loss: many(0, n), Far: many(-7, n),
		step: Gas{B: 1000, R: 5, Inverse: 1e-3, StepM2: 1e-5, AmountM4: 3e-4}.step(),
	}
	cavity := *nodes
	cavity.H = many(-9, n)
	friction := &Friction{Terms: make([]Memory, terms), State: many(0, n*terms), Loss: many(0, n)}
	for _, p := range paths() {
		for _, x := range []struct {
			name string
			run  func()
		}{
			{"gas", func() { p.gas(nodes, 1, n-1) }},
			{"far from vapor", func() { p.vapor(nodes, 1, n-1) }},
			{"vapor", func() { p.vapor(&cavity, 1, n-1) }},
			{"recall", func() { p.recall(friction, nodes.Q, nodes.Q) }},
			{"remembering", func() {
				p.remembering(nodes.H1, nodes.Q1, nodes.H, nodes.Q,
					Reach{B: 1000, R: 5, HalfInvB: 0.0005, Loss: nodes.Loss})
			}},
			{"above", func() { p.above(nodes.H, nodes.Floor) }},
		} {
			b.Run(x.name+"/"+p.kind, func(b *testing.B) {
				for b.Loop() {
					x.run()
				}
			})
		}
	}
}
