package pipe

import (
	"errors"
	"math"
	"testing"

	"seatward/quantity"
)

// AWWA design moduli (from memory): ductile iron 24e6, steel 30e6, PVC 400,000,
// polyethylene 150,000 psi.
func TestElastic(t *testing.T) {
	for material, psi := range map[string]float64{"DI": 24e6, "carbon steel": 30e6, "pvc": 4e5, "HDPE": 1.5e5} {
		e, err := ElasticOf(material)
		if err != nil {
			t.Fatal(err)
		}
		near(t, material, e.ModulusPa.Best/psiPa, psi, 1e-5)
		if e.Poisson.Best < 0.2 || e.Poisson.Best > 0.5 {
			t.Errorf("%s: ratio %g", material, e.Poisson.Best)
		}
	}
	for _, material := range Materials() {
		if _, err := ElasticOf(material); err != nil {
			t.Errorf("a material with pipes needs elastic data: %v", err)
		}
		if _, err := SurfaceOf(material); err != nil {
			t.Errorf("a material with pipes needs a surface: %v", err)
		}
	}
}

// Hydraulic Institute, Engineering Data Book, table 3.A.1 and section IV.
func TestSurfaces(t *testing.T) {
	for name, feet := range map[string]float64{
		"steel": 0.00015, "PVC": 0.000007, "ductile iron, bare": 0.00085,
		"galvanized iron": 0.0005,
	} {
		s, err := SurfaceOf(name)
		if err != nil {
			t.Fatal(err)
		}
		near(t, name, s.RoughnessM.Best, feet*footM, 1e-3)
	}
	s, err := SurfaceOf("corrugated metal")
	if err != nil {
		t.Fatal(err)
	}
	if s.RoughnessM.Known() || !s.HazenWilliamsC.Known() {
		t.Errorf("corrugated metal has a C and no roughness in the sources, got %+v", s)
	}
	all, err := surfaceTable()
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range all {
		if !s.RoughnessM.Known() && !s.HazenWilliamsC.Known() {
			t.Errorf("%s says nothing", s.Name)
		}
	}
}

func TestUnknownNames(t *testing.T) {
	size := quantity.Size{DN: 150}
	for name, call := range map[string]func() error{
		"ductil iron": func() error { _, err := ElasticOf("ductil iron"); return err },
		"steel, nwe":  func() error { _, err := SurfaceOf("steel, nwe"); return err },
		"gait valve":  func() error { _, err := FittingOf("gait valve", size); return err },
	} {
		var missing *LookupError
		if err := call(); !errors.As(err, &missing) || missing.Near == "" {
			t.Errorf("%s: %v; want a LookupError with a hint", name, err)
		}
	}
}

func TestFittings(t *testing.T) {
	// Hydraulic Institute, Engineering Data Book, section I.A worked example in 4 in
	// steel: elbow 0.31, gate valve 0.17, enlargement to a tank 1.0. The handbook of
	// the table here has 20 f_T and 8 f_T (from memory): 3 % and 25 % away.
	size := mustSize(t, "4 in")
	for name, want := range map[string][2]float64{"elbows": {0.31, 0.05}, "gate valve": {0.17, 0.26}, "exit": {1, 0}} {
		f, err := FittingOf(name, size)
		if err != nil {
			t.Fatal(err)
		}
		k, err := f.K(FittingUse{Size: size})
		if err != nil {
			t.Fatal(err)
		}
		near(t, name, k.Best, want[0], want[1])
		if k.Low > k.Best || k.High < k.Best {
			t.Errorf("%s: %+v", name, k)
		}
	}
}

// Every fitting has a coefficient in every common size, within its range, and
// every alias leads to one fitting only.
func TestEveryFitting(t *testing.T) {
	all, err := fittingTable()
	if err != nil {
		t.Fatal(err)
	}
	owner := map[string]string{}
	for _, f := range all {
		for _, name := range append([]string{f.Name}, f.Aliases...) {
			if other := owner[spell(name)]; other != "" && other != f.Name {
				t.Errorf("%q names both %s and %s", name, other, f.Name)
			}
			owner[spell(name)] = f.Name
		}
	}
	names, err := fittingNames()
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		for _, dn := range []int{50, 150, 300, 600, 900} {
			size := quantity.Size{DN: dn}
			f, err := FittingOf(name, size)
			if err != nil {
				t.Fatal(err)
			}
			bore := float64(dn) / 1000
			k, err := f.K(FittingUse{size, bore, bore * 1.5})
			if err != nil {
				t.Fatal(err)
			}
			if k.Best < 0 || k.Low > k.Best || k.Best > k.High || k.High > 10 {
				t.Errorf("%s in DN%d: K %+v", name, dn, k)
			}
		}
	}
}

func TestTapers(t *testing.T) {
	for name, want := range map[string]float64{
		// Borda and Carnot: (1-β²)² with β = 1/2; sudden contraction 0.5 (1-β²).
		"sudden enlargement": 0.5625,
		"sudden contraction": 0.375,
	} {
		f, err := FittingOf(name, quantity.Size{DN: 100})
		if err != nil {
			t.Fatal(err)
		}
		small, err := f.K(FittingUse{DiameterM: 0.1, OtherDiameterM: 0.2})
		if err != nil {
			t.Fatal(err)
		}
		large, err := f.K(FittingUse{DiameterM: 0.2, OtherDiameterM: 0.1})
		if err != nil {
			t.Fatal(err)
		}
		near(t, name, small.Best, want, 1e-12)
		// The same loss in the large bore, where V² is sixteen times less.
		near(t, name+" in the large bore", large.Best, 16*want, 1e-12)
		same, err := f.K(FittingUse{DiameterM: 0.2, OtherDiameterM: 0.2})
		if err != nil || same.Best != 0 {
			t.Errorf("%s between equal bores: %v, %v", name, same, err)
		}
		if _, err := f.K(FittingUse{DiameterM: 0.2}); !errors.Is(err, ErrRange) {
			t.Errorf("%s with one bore: %v; want an error of range", name, err)
		}
	}
	if gap := EnlargementK(math.Pi/4, 0.5)/EnlargementK(math.Pi/4+1e-9, 0.5) - 1; math.Abs(gap) > 0.01 {
		t.Errorf("the two laws of an enlargement differ by %g at 45°", gap)
	}
}

// Sizes beyond the printed table follow the rough-pipe equation: 30 in
// standard-wall pipe of 29.25 in has 1/[2 log(3.7 · 29.25/0.0018)]² = 0.010946.
func TestTurbulentFactor(t *testing.T) {
	for text, want := range map[string]float64{"4 in": 0.016, "24 in": 0.012, "30 in": 0.010946} {
		got, err := TurbulentFactor(mustSize(t, text))
		if err != nil {
			t.Fatal(err)
		}
		near(t, text, got, want, 1e-3)
	}
	var missing *LookupError
	if _, err := TurbulentFactor(quantity.Size{DN: 1500}); !errors.As(err, &missing) {
		t.Errorf("60 in: %v; want a LookupError", err)
	}
}

// What a data file gets wrong is found when it is read.
func TestRecordFaults(t *testing.T) {
	for name, read := range map[string]func(r *record){
		"empty text":  func(r *record) { r.text("none") },
		"bad number":  func(r *record) { r.number("word") },
		"negative":    func(r *record) { r.number("negative") },
		"not whole":   func(r *record) { r.whole("half") },
		"wrong order": func(r *record) { r.span("s", 1) },
	} {
		r := &record{
			file: "f.csv", line: 3,
			fields: map[string]string{
				"word": "x", "negative": "-1", "half": "1.5", "s": "2", "s_low": "3",
				"s_high": "4",
			},
		}
		if read(r); r.err == nil {
			t.Errorf("%s is not found", name)
		}
	}
}

// fittingNames lists the proper names of all fittings, in the order of the table.
func fittingNames() ([]string, error) {
	all, err := fittingTable()
	if err != nil {
		return nil, err
	}
	names := make([]string, len(all))
	for i := range all {
		names[i] = all[i].Name
	}
	return distinct(names), nil
}
