package catalog

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// largeFamily is a family of 20 sizes with 30 options and as many rules.
func largeFamily(n int) string {
	var b strings.Builder
	fmt.Fprintf(&b, `maker: Large Works
version: "1"
date: 2026-01-01
source: made for a benchmark
licence: CC0-1.0
invented: yes
families:
  - id: family-%d
    title: Swing check %d
    type: swing
    services: [raw sewage, effluent, raw water]
    positions: [horizontal]
    elastomers: [NBR, EPDM, FKM]
    ends:
      - {id: flanged, standard: ASME B16.42 Class 150 flanges}
      - {id: wide, standard: EN 1092-2 PN16 flanges, from: 8 in}
    mechanics: {stroke_angle: 65 deg, seat_angle: 5 deg}
    options:
`, n, n)
	for i := range 30 {
		fmt.Fprintf(&b, "      - {id: option_%d, title: Option %d, choices: [{id: a}, {id: b}, {id: c, mass: 1 kg}]}\n",
			i, i)
	}
	b.WriteString("    rules:\n")
	for i := range 30 {
		rule := fmt.Sprintf("option_%d != \"a\" || option_%d != \"b\"", i, (i+1)%30)
		switch i % 3 {
		case 1:
			rule = fmt.Sprintf("option_%d != \"c\" || nps >= 4.0 || elastomer == \"NBR\"", i)
		case 2:
			rule = fmt.Sprintf("option_%d != \"b\" || temperature <= 80.0 || service != \"raw sewage\"", i)
		}
		fmt.Fprintf(&b, "      - {require: '%s', message: not so, reason: it is so}\n", rule)
	}
	b.WriteString("    sizes:\n")
	for _, inches := range []float64{2, 2.5, 3, 4, 5, 6, 8, 10, 12, 14, 16, 18, 20, 22, 24, 26, 30, 36, 42, 48} {
		k := inches / 6
		bore := 0.1524 * k
		fmt.Fprintf(&b, "      - {size: %g in, bore: %.5g m, mass: %.4g kg, cover_mass: %.4g kg, rating: 150 psi, passage: %.4g m, cover_clearance: %.4g m, face_to_face: %.4g m, flow_coefficient: %.5g Cv, mechanics: {disc_diameter: %.5g m, hinge_to_center: %.5g m, hinge_to_gravity_center: %.5g m, disc_mass: %.4g kg, full_open_velocity: %.4g m/s}}\n",
			inches, bore, 70*math.Pow(k, 2.7), 11*math.Pow(k,
				2.6), 0.95*bore, 1.6*bore, 0.35*k, 1074*k*k, 1.1*bore, 0.625*bore, 0.59*bore, 3.79*math.Pow(k, 2.75),
			1.62*math.Pow(k, 0.375))
	}
	return b.String()
}

func largeSources(families int) []Source {
	var out []Source
	for n := range families {
		out = append(out, Source{"family.yaml", []byte(largeFamily(n))})
	}
	return out
}

func largeCatalog(tb testing.TB, sources []Source) []*Catalog {
	var files []*File
	for _, p := range ParseAll(sources) {
		if p.Faults.Err() != nil {
			tb.Fatal(p.Faults)
		}
		files = append(files, p.File)
	}
	catalogs, list := Resolve(files...)
	if list.Err() != nil {
		tb.Fatal(list)
	}
	return catalogs
}

// TestLargeFamily: the family of the benchmark is a sound one.
func TestLargeFamily(t *testing.T) {
	for _, m := range Check(largeCatalog(t, largeSources(1))) {
		if m.Severity == 0 {
			t.Error(m)
		}
	}
}

// BenchmarkLargeCatalog loads and checks 500 families of 20 sizes with 36 options, as one
// who sells them all would.
func BenchmarkLargeCatalog(b *testing.B) {
	sources := largeSources(500)
	for b.Loop() {
		if list := Check(largeCatalog(b, sources)); list.Err() != nil {
			b.Fatal(list)
		}
	}
}

// BenchmarkLargeConfigure completes a configuration in one of its families.
func BenchmarkLargeConfigure(b *testing.B) {
	f := largeCatalog(b, largeSources(1))[0].Families[0]
	for b.Loop() {
		if _, err := f.Configure([]Pick{{"size", "6in"}, {"option_3", "c"}}, Circumstances{}); err != nil {
			b.Fatal(err)
		}
	}
}
