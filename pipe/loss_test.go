package pipe

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

const (
	footM    = 0.3048
	gpmM3S   = 231 * inchM * inchM * inchM / 60
	waterRho = 999.0
)

// Hydraulic Institute, Engineering Data Book, friction loss tables: 100 gpm in
// 2 in schedule 40 steel (2.067 in), ε = 0.00015 ft, water at 60 °F
// (1.216e-5 ft²/s): 17.4 ft in 100 ft, printed to three figures.
func TestRunLossHandbook(t *testing.T) {
	run := Run{LengthM: 100 * footM, DiameterM: 2.067 * inchM, RoughnessM: 0.00015 * footM, Multiplier: 1}
	got, err := run.Loss(100*gpmM3S, waterRho, waterRho*1.216e-5*footM*footM)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(got.TotalM()/footM-17.4) > 0.05 {
		t.Errorf("loss %.4g ft, printed 17.4 ft", got.TotalM()/footM)
	}
	if got.Regime != Turbulent || math.Abs(got.VelocityMS/footM-9.56) > 0.005 {
		t.Errorf("regime %s and %.4g ft/s, want turbulent and 9.56 ft/s", got.Regime, got.VelocityMS/footM)
	}
}

// Textbook example (Hwang and Houghtalen, inputs from memory): 0.578 m by the
// velocity form.
func TestHazenWilliams(t *testing.T) {
	got, err := HazenWilliamsLossM(0.030, 120, 0.20, 100)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "loss", got, 0.578223, 1e-6)
	back, err := HazenWilliamsLossM(-0.030, 120, 0.20, 100)
	if err != nil || back != -got {
		t.Errorf("backward loss %g, %v; want %g", back, err, -got)
	}
}

func TestLossOutOfRange(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range [][4]float64{
		{1, 30, 1, 1},
		{1, 161, 1, 1},
		{1, nan, 1, 1},
		{1, 120, 0, 1},
		{1, 120, 1, -1},
		{1, 120, 1, inf},
		{nan, 120, 1, 1},
		{inf, 120, 1, 1},
	} {
		if h, err := HazenWilliamsLossM(c[0], c[1], c[2], c[3]); !errors.Is(err, ErrRange) || h != 0 {
			t.Errorf("HazenWilliamsLossM%v = %g, %v; want an error of range", c, h, err)
		}
	}
	good := Run{LengthM: 10, DiameterM: 0.1, RoughnessM: 1e-4, K: 1, Multiplier: 1}
	for name, change := range map[string]func(r *Run, q, rho, mu *float64){
		"no bore":         func(r *Run, _, _, _ *float64) { r.DiameterM = 0 },
		"negative length": func(r *Run, _, _, _ *float64) { r.LengthM = -1 },
		"endless":         func(r *Run, _, _, _ *float64) { r.LengthM = inf },
		"rough":           func(r *Run, _, _, _ *float64) { r.RoughnessM = 0.01 },
		"negative K":      func(r *Run, _, _, _ *float64) { r.K = -1 },
		"no multiplier":   func(r *Run, _, _, _ *float64) { r.Multiplier = 0 },
		"flow not known":  func(_ *Run, q, _, _ *float64) { *q = nan },
		"endless flow":    func(_ *Run, q, _, _ *float64) { *q = inf },
		"no density":      func(_ *Run, _, rho, _ *float64) { *rho = 0 },
		"no viscosity":    func(_ *Run, _, _, mu *float64) { *mu = nan },
	} {
		r, q, rho, mu := good, 0.01, 1000.0, 1e-3
		change(&r, &q, &rho, &mu)
		if got, err := r.Loss(q, rho, mu); !errors.Is(err, ErrRange) || got != (Loss{}) {
			t.Errorf("%s: %+v, %v; want an error of range", name, got, err)
		}
	}
}

func TestRunAtRest(t *testing.T) {
	r := Run{LengthM: 10, DiameterM: 0.1, RoughnessM: 1e-4, K: 1, Multiplier: 1}
	for _, q := range []float64{0, math.Copysign(0, -1), 5e-324} {
		got, err := r.Loss(q, 1000, 1e-3)
		if err != nil || got != (Loss{Regime: AtRest}) {
			t.Errorf("flow %g: %+v, %v; want nothing lost", q, got, err)
		}
	}
}

// Loss rises with flow through all regimes, has the flow's sign, and adds up.
func TestRunLossProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := Run{
			LengthM:    rapid.Float64Range(0.1, 1e4).Draw(t, "length"),
			DiameterM:  rapid.Float64Range(0.02, 2).Draw(t, "bore"),
			K:          rapid.Float64Range(0, 50).Draw(t, "K"),
			Multiplier: rapid.Float64Range(1, 3).Draw(t, "multiplier"),
		}
		r.RoughnessM = r.DiameterM * rapid.Float64Range(0, 0.049).Draw(t, "relative roughness")
		v := math.Pow(10, rapid.Float64Range(-4, 1).Draw(t, "log velocity"))
		q := v * AreaM2(r.DiameterM)
		loss := func(q float64) Loss {
			l, err := r.Loss(q, 1000, 1.1e-3)
			if err != nil {
				t.Fatal(err)
			}
			return l
		}
		here := loss(q)
		if more := loss(q * 1.01); more.TotalM() <= here.TotalM() {
			t.Errorf("loss %g at %g m/s, %g a little faster", here.TotalM(), v, more.TotalM())
		}
		if back := loss(-q); back.TotalM() != -here.TotalM() {
			t.Errorf("loss %g forward, %g backward", here.TotalM(), back.TotalM())
		}
		bare, plain := r, r
		bare.K = 0
		plain.Multiplier = 1
		withoutK, err := bare.Loss(q, 1000, 1.1e-3)
		if err != nil {
			t.Fatal(err)
		}
		if withoutK.FrictionM != here.FrictionM || withoutK.FittingsM != 0 {
			t.Error("fittings must not change the friction")
		}
		single, err := plain.Loss(q, 1000, 1.1e-3)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(single.FrictionM*r.Multiplier/here.FrictionM-1) > 1e-12 || single.FittingsM != here.FittingsM {
			t.Error("the multiplier must act on the friction alone")
		}
	})
}

// In water mains of usual bore and velocity, Hazen-Williams at 140 and
// Colebrook-White at 0.03 mm describe the same cement-lined pipe. C is known to
// ten, and ten less is (140/130)^1.85 = 15 % more loss.
func TestTwoFrictionFormulasAgree(t *testing.T) {
	for _, d := range []float64{0.15, 0.3, 0.6} {
		for _, v := range []float64{1, 1.5, 2.5} {
			q := v * AreaM2(d)
			hw, err := HazenWilliamsLossM(q, 140, d, 1000)
			if err != nil {
				t.Fatal(err)
			}
			cw, err := Run{LengthM: 1000, DiameterM: d, RoughnessM: 0.03e-3, Multiplier: 1}.Loss(q, 999, 1.13e-3)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "Hazen-Williams against Colebrook-White", hw, cw.TotalM(), 0.15)
		}
	}
}
