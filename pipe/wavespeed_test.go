package pipe

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The thin-wall formula of Wylie and Streeter 1993 evaluated apart from this
// program: K = 2.19 GPa, ρ = 998.2 kg/m³.
func TestWaveSpeedThin(t *testing.T) {
	steelMain := Wave{
		BulkPa: 2.19e9, DensityKgM3: 998.2, ModulusPa: 207e9, Poisson: 0.3, WallM: 0.0095, DiameterM: 0.6,
		ThinWall: true,
	}
	plastic := Wave{
		BulkPa: 2.19e9, DensityKgM3: 998.2, ModulusPa: 2.76e9, Poisson: 0.45, WallM: 0.01277,
		DiameterM: 0.2036, ThinWall: true,
	}
	for _, c := range []struct {
		wave   Wave
		anchor Anchoring
		want   float64
	}{
		{steelMain, AnchoredUpstream, 1182.8926},
		{steelMain, ExpansionJoints, 1146.8067},
		{plastic, AnchoredUpstream, 450.6214},
		{plastic, AnchoredThroughout, 444.8003},
		{plastic, ExpansionJoints, 400.8966},
	} {
		c.wave.Anchoring = c.anchor
		got, err := WaveSpeed(c.wave)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "wave speed", got, c.want, 1e-7)
	}
}

// University of Adelaide laboratory pipe, J. Hydroinformatics paper, Table 2:
// 1273 m/s by the thick-wall formula, copper 22.96 mm by 1.22 mm at 15 °C. The
// water and the metal of the paper are not readable: K = 2.14 GPa,
// ρ = 999.1 kg/m³, E = 124 GPa, ν = 0.34 are taken; hence 0.2 %.
func TestWaveSpeedThick(t *testing.T) {
	got, err := WaveSpeed(Wave{
		BulkPa: 2.14e9, DensityKgM3: 999.1, ModulusPa: 124e9, Poisson: 0.34, WallM: 1.22e-3,
		DiameterM: 22.96e-3,
	})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "copper pipe", got, 1273, 2e-3)
}

func TestWaveSpeedOutOfRange(t *testing.T) {
	good := Wave{BulkPa: 2.2e9, DensityKgM3: 1000, ModulusPa: 2e11, Poisson: 0.3, WallM: 0.01, DiameterM: 0.5}
	for name, change := range map[string]func(w *Wave){
		"bulk":           func(w *Wave) { w.BulkPa = 0 },
		"density":        func(w *Wave) { w.DensityKgM3 = math.NaN() },
		"modulus":        func(w *Wave) { w.ModulusPa = math.Inf(1) },
		"wall":           func(w *Wave) { w.WallM = -1 },
		"bore":           func(w *Wave) { w.DiameterM = 0 },
		"ratio":          func(w *Wave) { w.Poisson = 0.51 },
		"ratio unknown":  func(w *Wave) { w.Poisson = math.NaN() },
		"lining unknown": func(w *Wave) { w.LiningM = 0.003 },
		"lining":         func(w *Wave) { w.LiningM, w.LiningModulusPa = -0.003, 2e10 },
	} {
		w := good
		change(&w)
		if a, err := WaveSpeed(w); !errors.Is(err, ErrRange) || a != 0 {
			t.Errorf("%s: %g, %v; want an error of range", name, a, err)
		}
	}
}

func TestWaveSpeedProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := Wave{
			BulkPa:      rapid.Float64Range(1e8, 3e9).Draw(t, "bulk"),
			DensityKgM3: rapid.Float64Range(900, 1100).Draw(t, "density"),
			ModulusPa:   rapid.Float64Range(5e8, 2.2e11).Draw(t, "modulus"),
			Poisson:     rapid.Float64Range(0, 0.5).Draw(t, "ratio"),
			DiameterM:   rapid.Float64Range(0.02, 2).Draw(t, "bore"),
			Anchoring:   Anchoring(rapid.IntRange(0, 2).Draw(t, "anchoring")),
			ThinWall:    rapid.Bool().Draw(t, "thin"),
		}
		w.WallM = w.DiameterM * rapid.Float64Range(0.004, 0.2).Draw(t, "wall")
		speed := func(w Wave) float64 {
			a, err := WaveSpeed(w)
			if err != nil {
				t.Fatal(err)
			}
			return a
		}
		here := speed(w)
		if sound := math.Sqrt(w.BulkPa / w.DensityKgM3); here <= 0 || here >= sound {
			t.Errorf("wave %g m/s, sound in the liquid %g", here, sound)
		}
		thicker, stiffer, lined := w, w, w
		thicker.WallM *= 1.05
		stiffer.ModulusPa *= 1.05
		lined.LiningM, lined.LiningModulusPa = w.WallM/10, w.ModulusPa/5
		for name, other := range map[string]Wave{
			"a thicker wall": thicker, "a stiffer wall": stiffer,
			"a lining": lined,
		} {
			if speed(other) <= here {
				t.Errorf("%s must make the wave faster", name)
			}
		}
		// Held along its length a pipe is never softer than free to move.
		free := w
		free.Anchoring = ExpansionJoints
		if speed(free) > here*(1+1e-12) {
			t.Error("expansion joints must not make the wave faster")
		}
	})
}

// The thick-wall restraint tends to the thin-wall one.
func TestThickTendsToThin(t *testing.T) {
	for _, a := range []Anchoring{AnchoredThroughout, AnchoredUpstream, ExpansionJoints} {
		near(t, "restraint", RestraintThick(a, 0.3, 1e-6, 1), RestraintThin(a, 0.3), 4e-6)
	}
}
