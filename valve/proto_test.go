package valve

import (
	"fmt"
	"math"
	"testing"
	"time"
)

func gapL(r float64) float64 {
	if r <= 1 {
		return 0
	}
	return (r - 1) * (r - 1)
}
func axialA() *Mechanism {
	A := math.Pi / 4 * .04
	r := func(x float64) float64 { return gapL(A / (.8 * math.Pi * .2 * x)) }
	etao := .848826
	m, err := NewMechanism(Frame{BoreM: .2, Stroke: .03, DensityKgM3: 1000, GravityMS2: 9.81}, func(x float64) State {
		s := x / .03
		return State{Terms: [3]Term{Both(2.5+r(x)-r(.03), (1+(etao-1)*s)*A, 1)}, Closing: 30 + 1500*x, Mass: 5.6666667, Coupling: 2.6666667}
	})
	if err != nil {
		panic(err)
	}
	return m
}
func swingB(weight, spring float64) *Mechanism {
	A := math.Pi / 4 * .04
	R, Lc, Lg, W := .11, .125, .118, 68.4825
	thm := 65 * math.Pi / 180
	ths := 5 * math.Pi / 180
	ag := func(th float64) float64 { return 2 * math.Pi * .1 * Lc * 2 * math.Sin(th/2) }
	r := func(x float64) float64 { return gapL(A / (.7 * ag(x))) }
	etao := 1.420529
	Ad := math.Pi * R * R
	m, err := NewMechanism(Frame{BoreM: .2, Stroke: thm, Rotary: true, DensityKgM3: 1000, GravityMS2: 9.81}, func(x float64) State {
		s := x / thm
		c := 8. / 3 * 1000 * R * R * R * Lc
		return State{Terms: [3]Term{Both(1+r(x)-r(thm), (1+(etao-1)*s)*Ad*Lc, Ad*Lc/A)},
			Closing: W*Lg*math.Sin(x+ths) + weight*9.81*math.Cos(x-32.5*math.Pi/180) + spring, Mass: .2111846 + weight*.2,
			Coupling: c * math.Cos(x+ths), CouplingSlope: -c * math.Sin(x+ths), Friction: .2}
	})
	if err != nil {
		panic(err)
	}
	return m
}
func ballC() *Mechanism {
	D, Db, Dch := .15, .19, .242
	A, Ab, Ach, As := math.Pi/4*D*D, math.Pi/4*Db*Db, math.Pi/4*Dch*Dch, math.Pi/4*.15*.15
	R, rs := Db/2, .075
	h0 := math.Sqrt(R*R - rs*rs)
	vol := math.Pi / 6 * Db * Db * Db
	cd := 4.450397
	kc := .404929
	m, err := NewMechanism(Frame{BoreM: D, Stroke: .12, DensityKgM3: 1000, GravityMS2: 9.81}, func(x float64) State {
		d := math.Hypot(rs, h0+x)
		ag := math.Pi * (rs + R*rs/d) * (d - R)
		return State{Terms: [3]Term{Both(kc, Ach, Ach/A), Both(gapL(A/(.8*ag)), As, As/A)},
			Closing: 17.61564, Mass: 10.65199, Coupling: 1000 * vol * 2.466 * A / Ach}
	})
	_ = cd
	_ = Ab
	if err != nil {
		panic(err)
	}
	return m
}
func runx(m *Mechanism, a, tol float64) (vr, tc float64, n int) {
	e := NewElement(m, m.Stroke, 2)
	if tol > 0 {
		e.tolerance = tol
	}
	err := e.Advance(40/a*1.0, Node{2, -a, PipeAdmittance(1000, 1000, 1000)}, func(t float64, e *Element, ev Event) bool {
		n++
		vr = math.Max(vr, -e.V)
		if ev == Seating {
			vr = math.Max(vr, 0)
			tc = t
			return false
		}
		return true
	})
	if err != nil {
		fmt.Println(err)
	}
	return
}
func TestProto(t *testing.T) {
	for _, c := range []struct {
		n string
		m *Mechanism
	}{{"A", axialA()}, {"Aoff", axialA().WithoutAcceleration()}, {"B", swingB(0, 0)}, {"Boff", swingB(0, 0).WithoutAcceleration()}, {"B+w", swingB(1, 0)}, {"B+s", swingB(0, 8.2737)}, {"C", ballC()}, {"Coff", ballC().WithoutAcceleration()}} {
		fmt.Printf("%-5s", c.n)
		for _, a := range []float64{1, 2, 4, 6, 8, 10, 15, 20} {
			t0 := time.Now()
			v, tc, n := runx(c.m, a, 0)
			d := time.Since(t0)
			v2, _, _ := runx(c.m, a, 1e-7)
			fmt.Printf(" %.4f(%+.2f%%,%.4f,%d,%dus)", v, 100*(v/v2-1), tc, n, d.Microseconds())
		}
		fmt.Println()
	}
}
