package quantity

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestParseReadsWhatPeopleWrite(t *testing.T) {
	for _, c := range []struct {
		kind Kind
		text string
		si   float64
	}{
		{Flow, "450 gpm", 450 * 3.785411784e-3 / 60},
		{Flow, "12 L/s", 0.012},
		{Flow, "36 m³/h", 0.01},
		{Flow, "36 m3/h", 0.01},
		{Flow, "2.5 MGD", 2.5e6 * 3.785411784e-3 / 86400},
		{Head, "62 ft", 18.8976},
		{Diameter, "1 1/2 in", 0.0381},
		{Diameter, "1½ in", 0.0381},
		{Diameter, "3/4 in", 0.01905},
		{Diameter, "½ in", 0.0127},
		{Pressure, "0.9 psi", 0.9 * 6894.757293168},
		{Temperature, "60 °F", 288.7055555555556},
		{Temperature, "15 degC", 288.15},
		{Temperature, "-5 C", 268.15},
		{RotationalSpeed, "1760 rpm", 184.30676900},
		{Inertia, "10 lb ft²", 10 * 0.0421401101},
		{Fraction, "70 %", 0.7},
		{Fraction, "0.7", 0.7},
		{FlowCoefficient, "100 Cv", 86.4977},
		{Length, "1e3 m", 1000},
		{Length, "−2 ft", -0.6096},
		{Tariff, "0.14 /kWh", 0.14 / 3.6e6},
		{Time, "2200 h", 7.92e6},
		{Number, "3", 3},
		{Area, "10 in²", 10 * 0.0254 * 0.0254},
	} {
		q, err := Parse(c.kind, c.text)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
		} else if math.Abs(q.SI-c.si) > 1e-6*math.Abs(c.si) {
			t.Errorf("%q = %.9g, want %.9g", c.text, q.SI, c.si)
		}
	}
}

func TestParseRefusesWithAHint(t *testing.T) {
	for _, c := range []struct {
		kind       Kind
		text, hint string
	}{
		{Flow, "450", "450 gpm"},
		{Flow, "450 ft", "unit of"},
		{Flow, "1,200 L/s", "comma"},
		{Flow, "gpm", "no number"},
		{Flow, "", "nothing"},
		{Flow, "NaN gpm", "no number"},
		{Flow, "1e999 gpm", "unreadable"},
		{Flow, "450 gmp", "unknown unit"},
		{Head, "20 psi", "unit of"},
		{Diameter, "1 1/0 in", "fraction"},
		{Diameter, "1 2 in", "two numbers"},
		{Length, strings.Repeat("9", 100) + " m", "too long"},
		{Pressure, "30 psia", "absolute pressure"},
		{Length, "3..2 m", "runs down"},
	} {
		_, err := Parse(c.kind, c.text)
		var p *ParseError
		if !errors.As(err, &p) {
			t.Errorf("%q was read", c.text)
		} else if !strings.Contains(err.Error(), c.hint) {
			t.Errorf("%q: message %q lacks %q", c.text, err, c.hint)
		}
	}
}

func TestParseRange(t *testing.T) {
	for _, c := range []struct {
		kind            Kind
		text            string
		low, best, high float64
	}{
		{Length, "10..14 m", 10, 12, 14},
		{Length, "10 m..14 m", 10, 12, 14},
		{Inertia, "0.5 kg m2 ± 20 %", 0.4, 0.5, 0.6},
		{Inertia, "0.4 (0.3..0.6) kg m2", 0.3, 0.4, 0.6},
		{Temperature, "15 °C ± 5 K", 283.15, 288.15, 293.15},
		{Temperature, "14 °C ± 4 °C", 283.15, 287.15, 291.15},
		{Temperature, "50 °F ± 9 °F", 278.15, 283.15, 288.15},
		{Number, "1e308..1.7e308", 1e308, 1.35e308, 1.7e308},
		{Length, "5 m", 5, 5, 5},
	} {
		r, err := ParseRange(c.kind, c.text)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		for i, got := range []float64{r.Low.SI, r.Best.SI, r.High.SI} {
			if want := []float64{c.low, c.best, c.high}[i]; math.Abs(got-want) > 1e-9*math.Max(1, want) {
				t.Errorf("%q: end %d is %g, want %g", c.text, i, got, want)
			}
		}
	}
}

// One number in two units is one number to the last bit, with its range.
func TestUnitsAreOneNumber(t *testing.T) {
	for _, c := range []struct {
		kind Kind
		a, b string
	}{
		{Length, "8.2 ft", "2.49936 m"},
		{Length, "12.3..45.6 ft ", "3.74904..13.89888 m"},
		{Flow, "450 gpm", "28.390588380000 L/s"},
		{Diameter, "6.065 in", "154.051 mm"},
		{Inertia, "3.7 lb ft2 ± 30 %", "0.155918407347 kg m2 ± 30 %"},
		{Temperature, "59 °F ± 9 °F", "15 °C ± 5 °C"},
		{Pressure, "33.3 psi", "2.29595417862506 bar"},
		{Head, "0.1 m", "100 mm"},
	} {
		a, err := ParseRange(c.kind, c.a)
		if err != nil {
			t.Fatal(err)
		}
		b, err := ParseRange(c.kind, c.b)
		if err != nil {
			t.Fatal(err)
		}
		if a.Low.SI != b.Low.SI || a.Best.SI != b.Best.SI || a.High.SI != b.High.SI {
			t.Errorf("%s is %.17g, %.17g, %.17g; %s is %.17g, %.17g, %.17g", c.a, a.Low.SI, a.Best.SI, a.High.SI, c.b,
				b.Low.SI, b.Best.SI, b.High.SI)
		}
	}
}

// A number that was read is printed as it was written, at a half of the last figure too.
func TestHalfOfTheLastFigure(t *testing.T) {
	for text, want := range map[string]string{
		"6.695 lb ft2": "6.70 lb ft²", "6.5 lb ft2 ± 3 %": "6.70 lb ft²",
		"12.345 lb ft2": "12.3 lb ft²",
	} {
		r, err := ParseRange(Inertia, text)
		if err != nil {
			t.Fatal(err)
		}
		if got := US.Format(Inertia, r.High.SI); got != want {
			t.Errorf("%s is printed as %s, not as %s", text, got, want)
		}
	}
}

func TestParseSize(t *testing.T) {
	for text, dn := range map[string]int{
		"6 in": 150, "DN150": 150, "DN 150": 150, "dn80": 80, "NPS 6": 150,
		"1 1/2 in": 40, "150 mm": 150, "36 in": 900, "30 in": 750,
	} {
		s, err := ParseSize(text)
		if err != nil || s.DN != dn {
			t.Errorf("%q: %v, %v; want DN%d", text, s, err, dn)
		}
	}
	for _, text := range []string{"7 in", "DN155", "DNx", "six", "0 in", "-6 in", "6"} {
		if s, err := ParseSize(text); err == nil {
			t.Errorf("%q was read as %v", text, s)
		}
	}
}

func TestFormat(t *testing.T) {
	for _, c := range []struct {
		sys  System
		kind Kind
		si   float64
		want string
	}{
		{US, Flow, 0.02839, "450 gpm"},
		{SI, Flow, 0.02839, "28.4 L/s"},
		{US, Temperature, 288.7056, "60 °F"},
		{SI, Fraction, 0.7, "70.0%"},
		{SI, Head, 0, "0 m"},
		{SI, Head, math.NaN(), "unknown"},
		{US, Diameter, 0.1524, "6 in"},
		{SI, Diameter, 0.1524, "152.4 mm"},
		{SI, Modulus, 2.1e9, "2.10 GPa"},
		{SI, Tariff, 0.14 / 3.6e6, "0.140 /kWh"},
	} {
		if got := c.sys.Format(c.kind, c.si); got != c.want {
			t.Errorf("%s %s %g = %q, want %q", c.sys, c.kind, c.si, got, c.want)
		}
	}
	if got := Figures(123456, 3); got != "123000" {
		t.Errorf("Figures = %s", got)
	}
	if got := Figures(99.96, 3); got != "100" {
		t.Errorf("Figures = %s", got)
	}
}

// Every unit that can be listed can be read, and reading back what was printed
// gives the value to the figures printed.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kind := rapid.SampledFrom(Kinds()).Draw(t, "kind")
		si := math.Pow(10, rapid.Float64Range(-5, 6).Draw(t, "exponent"))
		for i, unit := range kind.Units() {
			u := kinds[kind].units[i]
			text := join(Figures((si-u.offset)/u.factor, 17), unit)
			q, err := Parse(kind, text)
			if err != nil {
				t.Fatalf("%s %q: %v", kind, text, err)
			}
			if math.Abs(q.SI-si) > 6e-12*(math.Abs(si)+math.Abs(u.offset)) { // half of the twelfth digit
				t.Fatalf("%s %q gives %g, want %g", kind, text, q.SI, si)
			}
		}
		for _, sys := range []System{SI, US} {
			text := sys.Format(kind, si)
			q, err := Parse(kind, text)
			if err != nil {
				t.Fatalf("%s: own print %q is not read: %v", kind, text, err)
			}
			most := 0.051 * si
			if kind == Velocity { // to hundredths
				most = math.Max(most, 0.0051/sys.In(kind, 1))
			}
			if kind != Temperature && math.Abs(q.SI-si) > most {
				t.Fatalf("%s: %q gives %g, want %g", kind, text, q.SI, si)
			}
		}
	})
}

func TestSizesPair(t *testing.T) {
	for _, s := range Sizes() {
		back, ok := SizeNPS(s.NPS())
		if !ok || back != s {
			t.Errorf("%v does not pair with its inch name", s)
		}
		for _, sys := range []System{SI, US} {
			if got, err := ParseSize(s.Format(sys)); err != nil || got != s {
				t.Errorf("%s is read as %v, %v", s.Format(sys), got, err)
			}
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{
		"450 gpm", "1 1/2 in", "0.4 (0.3..0.6) kg m2", "15 °C ± 5 K", "10..14 m", "½ in",
		"1e308..1.7e308 m", "1e308 m ± 1e308 m", "1e300 mi", "-1.7e308..1.7e308 m", "-", "1e", "../", "(", "±",
	} {
		f.Add(uint8(Flow), s)
		f.Add(uint8(Length), s)
	}
	f.Fuzz(func(t *testing.T, k uint8, text string) {
		kind := Kind(k % uint8(kindCount))
		r, err := ParseRange(kind, text)
		if err != nil {
			var p *ParseError
			if !errors.As(err, &p) || p.Mend == "" || p.Expected == "" {
				t.Fatalf("%q: message without a hint: %v", text, err)
			}
			return
		}
		for _, v := range []float64{r.Low.SI, r.Best.SI, r.High.SI} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("%q gives %v", text, r)
			}
		}
		if r.Low.SI > r.Best.SI || r.Best.SI > r.High.SI {
			t.Fatalf("%q gives a range out of order: %v", text, r)
		}
		_, _ = ParseSize(text)
	})
}

func BenchmarkParse(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Parse(Flow, "450 gpm"); err != nil {
			b.Fatal(err)
		}
	}
}

// One number reads the same wherever it stands: velocities to hundredths of their unit.
func TestVelocitiesReadTheSame(t *testing.T) {
	for _, c := range []struct {
		sys  System
		kind Kind
		si   float64
		want string
	}{
		{SI, Velocity, 0.163, "0.16 m/s"},
		{US, Velocity, 2.03, "6.66 ft/s"},
		{SI, Velocity, 0.0312, "0.03 m/s"},
		{SI, Velocity, -0.001, "0.00 m/s"},
		{SI, Velocity, -0.456, "-0.46 m/s"},
		{US, Velocity, 5, "16.4 ft/s"},
		{SI, Velocity, 1234, "1230 m/s"},
		{SI, Velocity, math.NaN(), "unknown"},
		{SI, Head, -8.25e-12, "0 m"},
		{US, Head, 21.4, "70.2 ft"},
	} {
		if got := c.sys.Format(c.kind, c.si); got != c.want {
			t.Errorf("%v %g is printed %q, want %q", c.kind, c.si, got, c.want)
		}
	}
}
