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
