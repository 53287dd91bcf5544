package valve

import (
	"math"
	"testing"
)

// TestLattice: what the lattice says between its openings is what the law says there, and its
// slopes are those of its own mass and pull, so that a step neither makes nor loses energy.
func TestLattice(t *testing.T) {
	h := &hinged{
		swinging: &swinging{
			stroke: 65 * degree, area: 0.0314, geometry: 0.00475, loss: 0.7, lossBack: 0.9, gap: 4.9, jet: 0.12,
			jetBack: 0.08,
			across:  5 * degree, chamber: 1.96, disc: 1.21, partLoss: 1, partForce: 1.17, outside: true,
		},
		moment: 8, tilt: 5 * degree, lever: 4, leverAngle: -30 * degree, spring: 1, rate: 2, inertia: 0.15, added: 0.07,
		pull: 0.4, friction: 0.2,
	}
	h.settle(0.9)
	written := newLattice(h.state, h.stroke)
	for i := 1; i <= 1000; i++ {
		angle := h.stroke * float64(i) / 1000
		var got, want State
		written.state(angle, &got)
		h.state(angle, &want)
		g, w := got.Terms[0], want.Terms[0]
		for _, of := range []struct {
			name      string
			got, want float64
		}{
			{"forward loss", g.Forward.Loss, w.Forward.Loss},
			{"reverse loss", g.Reverse.Loss, w.Reverse.Loss},
			{"forward torque", g.Forward.Area, w.Forward.Area},
			{"reverse torque", g.Reverse.Area, w.Reverse.Area},
			{"closing torque", got.Closing, want.Closing},
			{"inertia", got.Mass, want.Mass},
			{"pull", got.Coupling, want.Coupling},
			{"sweep", g.Swept, w.Swept},
			{"friction", got.Friction, want.Friction},
		} {
			near(t, of.name, of.got, of.want, 8e-3)
		}
		const d = 1e-7
		var later State
		written.state(angle-d, &later)
		if slope := (got.Mass - later.Mass) / d; math.Abs(slope-got.MassSlope) > 1e-3*h.inertia {
			t.Errorf("at %g: the inertia changes by %g, its slope is %g", angle, slope, got.MassSlope)
		}
		if slope := (got.Coupling - later.Coupling) / d; math.Abs(slope-got.CouplingSlope) > 1e-3*h.pull {
			t.Errorf("at %g: the pull changes by %g, its slope is %g", angle, slope, got.CouplingSlope)
		}
	}
}
