package quantity

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Numbers as people write them, in the field of a station in either system.
func TestNumbersAsWritten(t *testing.T) {
	const ft, in, gpm = 0.3048, 0.0254, 231 * 0.0254 * 0.0254 * 0.0254 / 60
	for _, c := range []struct {
		sys  System
		kind Kind
		text string
		si   float64
	}{
		{US, Head, "52", 52 * ft},
		{SI, Head, "52", 52},
		{US, Flow, "450", 450 * gpm},
		{SI, Flow, "28,5", 0.0285},
		{US, Head, `46' 6"`, 46.5 * ft},
		{US, Head, `46'-6"`, 46.5 * ft},
		{US, Head, `46'6"`, 46.5 * ft},
		{US, Head, `46’ 6”`, 46.5 * ft},
		{US, Head, `46′ 6″`, 46.5 * ft},
		{US, Head, `46 ft 6 in`, 46.5 * ft},
		{US, Head, `46 ft. 6 in.`, 46.5 * ft},
		{US, Head, `46 feet 6 inches`, 46.5 * ft},
		{US, Head, `46' 6 1/2"`, (46 + 6.5/12) * ft},
		{US, Length, `1,046' 0"`, 1046 * ft},
		{US, Length, `-3' 6"`, -3.5 * ft},
		{US, Diameter, `2-1/2"`, 2.5 * in},
		{US, Diameter, `2 1/2 in`, 2.5 * in},
		{US, Diameter, `2 1/2`, 2.5 * in},
		{US, Diameter, `2½"`, 2.5 * in},
		{US, Diameter, `2 ½ in`, 2.5 * in},
		{US, Diameter, `6-inch`, 6 * in},
		{US, Diameter, `6 IN.`, 6 * in},
		{US, Length, "1,046 ft", 1046 * ft},
		{US, Length, "1,046", 1046 * ft},
		{SI, Length, "1,046 ft", 1046 * ft},
		{US, Length, "2,400 LF", 2400 * ft},
		{US, RotationalSpeed, "1,760 rpm", 1760 * 2 * math.Pi / 60},
		{US, Length, "1,046.5 ft", 1046.5 * ft},
		{SI, Length, "1,046.5 m", 1046.5},
		{SI, Length, "1,046,000 mm", 1046},
		{SI, Length, "14,5 m", 14.5},
		{SI, Length, "0,125 m", 0.125},
		{SI, Length, "1046,125 m", 1046.125},
		{SI, Length, "1.046,5 m", 1046.5},
		{SI, Length, "1.046.000 m", 1046000},
		{SI, Length, "1.046 m", 1.046},
		{SI, Length, "1 046,5 m", 1046.5},
		{SI, Length, "1 046 m", 1046},
		{SI, Length, "1.2 km", 1200},
		{SI, Flow, "100 m3/h", 100.0 / 3600},
		{SI, Flow, "100 cubic metres per hour", 100.0 / 3600},
		{US, Flow, "450 GPM", 450 * gpm},
		{US, Flow, "450 gallons per minute", 450 * gpm},
		{US, Head, "62' TDH", 62 * ft},
		{SI, Head, "19 mWC", 19},
		{US, Power, "7-1/2 hp", 7.5 * 550 * ft * 0.45359237 * 9.80665},
		{SI, Temperature, "15", 288.15},
		{US, Temperature, "50", 283.15},
	} {
		q, err := For(c.sys).Parse(c.kind, c.text)
		if err != nil {
			t.Errorf("%s %s %q: %v", c.sys, c.kind, c.text, err)
		} else if math.Abs(q.SI-c.si) > 1e-9*math.Abs(c.si) {
			t.Errorf("%s %s %q is read as %.9g, want %.9g", c.sys, c.kind, c.text, q.SI, c.si)
		}
	}
}

func TestRangesAsWritten(t *testing.T) {
	for _, c := range []struct {
		sys             System
		kind            Kind
		text            string
		low, best, high float64
	}{
		{SI, Head, "20 ± 2", 18, 20, 22},
		{SI, Head, "20 ± 10 %", 18, 20, 22},
		{SI, Head, "20 m +/- 2 m", 18, 20, 22},
		{SI, Head, "20 m +- 2 m", 18, 20, 22},
		{SI, Head, "10..14", 10, 12, 14},
		{SI, Head, "10 to 14 m", 10, 12, 14},
		{SI, Head, "10-14 m", 10, 12, 14},
		{SI, Head, "10–14 m", 10, 12, 14},
		{SI, Head, "10 - 14", 10, 12, 14},
		{SI, Head, "12 (10..14)", 10, 12, 14},
		{SI, Head, "14,5 ± 0,5 m", 14, 14.5, 15},
		{SI, Temperature, "15 ± 5", 283.15, 288.15, 293.15},
		{US, Temperature, "50 ± 9", 278.15, 283.15, 288.15},
	} {
		r, err := For(c.sys).ParseRange(c.kind, c.text)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		for i, got := range []float64{r.Low.SI, r.Best.SI, r.High.SI} {
			if want := []float64{c.low, c.best, c.high}[i]; math.Abs(got-want) > 1e-9*math.Abs(want) {
				t.Errorf("%q: number %d is %g, want %g", c.text, i, got, want)
			}
		}
	}
}

// What may mean two numbers is refused with both, and never one of them taken.
func TestDoubtIsAsked(t *testing.T) {
	for _, c := range []struct {
		in      Reading
		kind    Kind
		text    string
		choices []string
	}{
		{For(SI), Length, "1,046 m", []string{"1.046 m", "1046 m"}},
		{For(SI), Length, "1,046", []string{"1.046 m", "1046 m"}},
		{For(US), Length, "1,046 m", []string{"1.046 m", "1046 m"}},
		{Reading{}, RotationalSpeed, "1,760 rpm", []string{"1.760 rpm", "1760 rpm"}},
		{For(SI), RotationalSpeed, "1,760 rpm", []string{"1.760 rpm", "1760 rpm"}},
		{For(US), Length, "14,5 ft", []string{"14.5 ft"}},
	} {
		_, err := c.in.Parse(c.kind, c.text)
		var p *ParseError
		if !errors.As(err, &p) || !slices.Equal(p.Choices, c.choices) {
			t.Errorf("%q: %v; want the choices %q", c.text, err, c.choices)
			continue
		}
		for _, one := range c.choices {
			if _, err := c.in.Parse(c.kind, one); err != nil {
				t.Errorf("%q: its choice %q cannot be read: %v", c.text, one, err)
			}
		}
	}
	for _, text := range []string{`46' 14"`, `46.5' 6"`, `46' 6`, "1,04,6 ft", "12 34 ft", "-", ",", "1,,5 m"} {
		if q, err := For(US).Parse(Head, text); err == nil {
			t.Errorf("%q was read as %g m", text, q.SI)
		}
	}
}

func TestComplete(t *testing.T) {
	for _, c := range []struct {
		sys        System
		kind       Kind
		text, want string
	}{
		{US, Head, "52", "52 ft"},
		{US, Head, "52 m", "52 m"},
		{US, Head, `46' 6"`, `46' 6"`},
		{US, Diameter, "2-1/2", "2-1/2 in"},
		{SI, Head, "10..14", "10..14 m"},
		{SI, Head, "10-14", "10-14 m"},
		{SI, Head, "20 ± 2", "20 m ± 2 m"},
		{SI, Head, "20 ± 10 %", "20 m ± 10 %"},
		{SI, Temperature, "15 ± 5", "15 °C ± 5 K"},
		{SI, Head, "12 (10..14)", "12 (10..14) m"},
		{SI, Fraction, "65", "65 %"},
		{SI, Fraction, "65 %", "65 %"},
		{SI, Number, "3", "3"},
	} {
		got, err := For(c.sys).Complete(c.kind, c.text)
		if err != nil || got != c.want {
			t.Errorf("%q is completed to %q, %v; want %q", c.text, got, err, c.want)
		}
	}
	_, err := For(SI).Complete(Fraction, "0.5")
	var p *ParseError
	if !errors.As(err, &p) || !slices.Equal(p.Choices, []string{"0.5 %", "50 %"}) {
		t.Errorf("0.5 of a fraction: %v", err)
	}
}

func TestSizesAsWritten(t *testing.T) {
	for _, c := range []struct {
		sys  System
		text string
		dn   int
	}{
		{US, "6", 150},
		{SI, "150", 150},
		{US, `2-1/2"`, 65},
		{US, "2 1/2", 65},
		{US, "6-inch", 150},
		{US, "6”", 150},
		{SI, "DN 150", 150},
		{SI, "Ø150 mm", 150},
		{US, "NPS 6", 150},
		{SI, "6 in", 150},
	} {
		s, err := For(c.sys).ParseSize(c.text)
		if err != nil || s.DN != c.dn {
			t.Errorf("%s %q: %v, %v; want DN%d", c.sys, c.text, s, err, c.dn)
		}
	}
}

// What a person types in any style is the number that was meant: print, then read.
func TestTypedIsRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sys := rapid.SampledFrom([]System{US, SI}).Draw(t, "system")
		whole := rapid.IntRange(1, 999_999).Draw(t, "whole")
		tenths := rapid.IntRange(1, 9).Draw(t, "tenths")
		v := float64(whole) + float64(tenths)/10
		unit := map[System]string{US: "ft", SI: "m"}[sys]
		styles := map[string]string{
			"point":           fmt.Sprintf("%d.%d %s", whole, tenths, unit),
			"bare":            fmt.Sprintf("%d.%d", whole, tenths),
			"groups":          fmt.Sprintf("%s.%d %s", grouped(whole, ","), tenths, unit),
			"blanks":          fmt.Sprintf("%s.%d %s", grouped(whole, "\u202f"), tenths, unit),
			"no blank":        fmt.Sprintf("%d.%d%s", whole, tenths, unit),
			"capitals":        fmt.Sprintf("%d.%d %s", whole, tenths, strings.ToUpper(unit)),
			"tolerance":       fmt.Sprintf("%d.%d ± 0", whole, tenths),
			"exponent":        fmt.Sprintf("%d.%de0 %s", whole, tenths, unit),
			"abbreviation":    fmt.Sprintf("%d.%d %s.", whole, tenths, unit),
			"decimal comma":   fmt.Sprintf("%d,%d %s", whole, tenths, unit),
			"points":          fmt.Sprintf("%s,%d %s", grouped(whole, "."), tenths, unit),
			"feet and inches": fmt.Sprintf(`%s' %d 1/2"`, grouped(whole, ","), tenths),
		}
		style := rapid.SampledFrom([]string{
			"point", "bare", "groups", "blanks", "no blank", "capitals", "tolerance", "exponent", "abbreviation",
			"decimal comma", "points", "feet and inches",
		}).Draw(t, "style")
		r, err := For(sys).ParseRange(Length, styles[style])
		if sys == US && (style == "decimal comma" || style == "points" && whole < 1000) { // 14,5 ft
			if err == nil {
				t.Fatalf("%q was read as %g m", styles[style], r.Best.SI)
			}
			return
		}
		want := v * map[System]float64{US: foot, SI: 1}[sys]
		if style == "feet and inches" {
			want = float64(whole)*foot + (float64(tenths)+0.5)*inch
		}
		if err != nil || math.Abs(r.Best.SI-want) > 1e-9*want {
			t.Fatalf("%q is read as %g, %v; want %g", styles[style], r.Best.SI, err, want)
		}
	})
}

func grouped(n int, by string) string {
	if n < 1000 {
		return fmt.Sprint(n)
	}
	return fmt.Sprintf("%d%s%03d", n/1000, by, n%1000)
}

// A number that the program prints is read back as itself, with its unit or without.
func TestBareReadsAsPrinted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sys := rapid.SampledFrom([]System{US, SI}).Draw(t, "system")
		kind := rapid.SampledFrom(Kinds()).Draw(t, "kind")
		if kind == Fraction {
			return // bare fractions are of one, printed ones of a hundred
		}
		si := math.Pow(10, rapid.Float64Range(-4, 6).Draw(t, "exponent"))
		text := sys.Number(kind, si)
		bare, err := For(sys).Parse(kind, text)
		if err != nil {
			t.Fatalf("%s %q: %v", kind, text, err)
		}
		whole, err := Parse(kind, join(text, sys.Unit(kind)))
		if err != nil || bare.SI != whole.SI {
			t.Fatalf("%s %q is read as %g, with its unit as %g, %v", kind, text, bare.SI, whole.SI, err)
		}
	})
}

// FuzzReading: any text is read or refused with a hint; what is completed reads as the same
// without any help, and its choices can be read.
func FuzzReading(f *testing.F) {
	for _, s := range []string{
		`46' 6"`, "1,046", "14,5 m", "2-1/2", "10 to 14", "20 ± 2", "12 (10..14)", "1.046,5", "½", "6-inch", "12-15 gpm",
		"0.5", "1 046", "5 ± 1 %", "(1..2)", "1 (", "' \"", "1..2..3", "-1-2",
	} {
		for _, k := range []Kind{Head, Diameter, Fraction, Temperature, Number} {
			f.Add(uint8(k), true, s)
			f.Add(uint8(k), false, s)
		}
	}
	f.Fuzz(func(t *testing.T, k uint8, us bool, text string) {
		kind, sys := Kind(k%uint8(kindCount)), SI
		if us {
			sys = US
		}
		r, err := For(sys).ParseRange(kind, text)
		var p *ParseError
		if errors.As(err, &p) {
			if p.Mend == "" || p.Expected == "" {
				t.Fatalf("%q: message without a hint: %v", text, err)
			}
			return
		}
		whole, err := For(sys).Complete(kind, text)
		if errors.As(err, &p) && kind == Fraction {
			return
		}
		if err != nil {
			t.Fatalf("%q is read but not completed: %v", text, err)
		}
		again, err := Reading{System: sys, Stated: true}.ParseRange(kind, whole)
		if kind == Fraction {
			return // of one, then of a hundred
		}
		if err != nil || again.Best.SI != r.Best.SI || again.Low.SI != r.Low.SI || again.High.SI != r.High.SI {
			t.Fatalf("%q is %v, completed to %q it is %v, %v", text, r, whole, again, err)
		}
		_, _ = For(sys).ParseSize(text)
	})
}
