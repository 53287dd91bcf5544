package truth

import (
	"math"
	"testing"
)

// A pipe in which a valve slams again and again makes no energy: over the run
//
//	Δ ∫ ½ρ(A V² + A (g H/a)²) dx = ∫ ρ g (H Q at the valve − H Q at the tank) dt − ∫∫ ρ A f |V|³/(2D) dx dt,
//
// within a ten-thousandth of the work of the tank (derived here: the balances of mass and
// momentum times ρ g H and ρ Q). The audit knows heads and flows alone, none of the
// solver's own sums.
func TestEnergyIsNotMade(t *testing.T) {
	line, drop, err := cagedBall()
	if err != nil {
		t.Fatal(err)
	}
	n, p, err := ramming(line, drop)
	if err != nil {
		t.Fatal(err)
	}
	const reaches, density = 24, 1000.0
	area, dx := p.AreaM2(), p.LengthM/reaches
	var h, q [reaches + 1]func() float64
	for i := range h {
		h[i], q[i] = head(n, float64(i)/reaches), flowAt(n, float64(i)/reaches)
	}
	// Stored energy, dissipation and the power of both ends now.
	audit := func() (stored, lost, valveEnd, tankEnd float64) {
		for i := range h {
			part := dx
			if i == 0 || i == reaches {
				part = dx / 2
			}
			v := q[i]() / area
			elastic := roundGravity * h[i]() / p.WaveSpeedMS
			stored += part * 0.5 * density * area * (v*v + elastic*elastic)
			lost += part * density * area * p.FrictionFactor / (2 * p.DiameterM) * math.Abs(v*v*v)
		}
		power := density * roundGravity
		return stored, lost, power * h[0]() * q[0](), power * h[reaches]() * q[reaches]()
	}
	start, lost0, in0, out0 := audit()
	var dissipated, work, tank float64
	for n.TimeS() < 4 {
		if err := n.Advance(); err != nil {
			t.Fatal(err)
		}
		_, lost, in, out := audit()
		half := n.StepS() / 2
		dissipated += half * (lost + lost0)
		work += half * (in + in0 - out - out0)
		tank += half * math.Abs(out+out0)
		lost0, in0, out0 = lost, in, out
	}
	end, _, _, _ := audit()
	open := (end - start - work + dissipated) / tank
	t.Logf("%d seatings, worst %.4f m/s; tank %.2f J, dissipated %.3f J, open %.2g of the tank's work",
		line.Motion.Seatings, line.Motion.Worst.ReverseMS, tank, dissipated, open)
	if line.Motion.Later < 3 {
		t.Errorf("%d later slams: the case tells nothing", line.Motion.Later)
	}
	if math.Abs(open) > 1e-4 {
		t.Errorf("energy is open by %.3g of the tank's work", open)
	}
}
