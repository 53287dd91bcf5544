package valve

import (
	"math"
	"testing"
)

func BenchmarkClose(b *testing.B) {
	for _, typ := range Types() {
		m := example(b, typ, typ.Positions[0])
		b.Run(typ.Key, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := m.Close(Deceleration{StartMS: 2, RateMS2: 6}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// A stop in steps of a run: 200 of 4 ms, each asked three times and committed.
func BenchmarkInLine(b *testing.B) {
	const step, z, start, rate = 0.004, 3000.0, 2.0, 6.0
	for _, typ := range Types() {
		m := example(b, typ, typ.Positions[0])
		area, xi := m.AreaM2(), m.Settle(start).Xi
		b.Run(typ.Key, func(b *testing.B) {
			for b.Loop() {
				l := NewInLine(m, xi, start)
				for i := range 200 {
					at := float64(i+1) * step
					from := max(start-rate*float64(i)*step, -1) * area
					to := max(start-rate*float64(i+1)*step, -1) * area
					for _, other := range []float64{from, to * 1.01, to} {
						if _, err := l.Flow(at, step, from, other, z); err != nil {
							b.Fatal(err)
						}
					}
					l.Commit(at, step, from, to, z)
				}
			}
		})
	}
}

// The second line beside a run.
func BenchmarkFewDraws(b *testing.B) {
	for _, key := range []string{"swing", "ball-pocket"} {
		b.Run(key, func(b *testing.B) {
			for b.Loop() {
				bandUnder(b, drawn(b, typeNamed(b, key), FewDraws), duty(5, 6, 8))
			}
		})
	}
}

// A closing curve of 20 decelerations.
func BenchmarkCurve(b *testing.B) {
	for _, key := range []string{"swing", "ball-pocket"} {
		b.Run(key, func(b *testing.B) {
			for b.Loop() {
				d := drawn(b, typeNamed(b, key), CurveDraws)
				for k := range 20 {
					rate := 0.5 * math.Pow(40, float64(k)/19)
					bandUnder(b, d, duty(rate, rate, rate))
				}
			}
		})
	}
}

func BenchmarkSettle(b *testing.B) {
	for _, key := range []string{"swing", "ball-pocket", "ball-cage"} {
		typ := typeNamed(b, key)
		m := example(b, typ, typ.Positions[0])
		b.Run(key, func(b *testing.B) {
			for b.Loop() {
				m.Settle(1)
			}
		})
	}
}

func BenchmarkLossHeadM(b *testing.B) {
	for _, key := range []string{"swing", "ball-pocket", "ball-cage"} {
		typ := typeNamed(b, key)
		m := example(b, typ, typ.Positions[0])
		b.Run(key, func(b *testing.B) {
			for b.Loop() {
				m.LossHeadM(1)
			}
		})
	}
}

func BenchmarkFullOpenVelocity(b *testing.B) {
	for _, key := range []string{"swing", "ball-pocket"} {
		m := example(b, typeNamed(b, key), Horizontal)
		b.Run(key, func(b *testing.B) {
			for b.Loop() {
				m.FullOpenVelocity()
			}
		})
	}
}
