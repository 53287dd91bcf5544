package valve

import "testing"

func BenchmarkZZ(b *testing.B) {
	for _, k := range []string{"swing", "ball-pocket", "ball-cage", "axial"} {
		typ := typeNamed(b, k)
		m := example(b, typ, typ.Positions[0])
		b.Run(k+"/At", func(b *testing.B) {
			x := m.Stroke * 0.4
			for b.Loop() {
				s := m.At(x)
				_ = s
			}
		})
		e := NewElement(m, m.Stroke*0.5, 1)
		e.Mode = Moving
		y := system{e: &e, node: Node{Free: 1, Slope: -2, Admittance: PipeAdmittance(1000, 1000, 1000)}}
		b.Run(k+"/rates", func(b *testing.B) {
			for b.Loop() {
				y.rates(0, m.Stroke*0.4, 0.1)
			}
		})
		b.Run(k+"/step", func(b *testing.B) {
			for b.Loop() {
				y.step(0, 1e-4)
			}
		})
	}
}
