package valve

import "testing"

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

func BenchmarkClosingBand(b *testing.B) {
	for _, key := range []string{"swing", "ball-pocket"} {
		typ := typeNamed(b, key)
		p, err := typ.ReadExample()
		if err != nil {
			b.Fatal(err)
		}
		b.Run(key, func(b *testing.B) {
			for b.Loop() {
				if _, err := typ.ClosingBand(p, In(998.2, Horizontal), duty(5, 6, 8), nil); err != nil {
					b.Fatal(err)
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
