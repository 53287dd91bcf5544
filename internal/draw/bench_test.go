package draw

import "testing"

// What the estimate itself costs, the runs aside: this is paid for every valve.
func BenchmarkAdaptive(b *testing.B) {
	for _, n := range []int{16, 32, 64, 128, 256} {
		b.Run(responses[1].name, func(b *testing.B) {
			p := planOf(b, responses[1].axes, responses[1].of, 1)
			p.Stages = []int{n}
			for b.Loop() {
				Adaptive(p)
			}
		})
	}
}
