package figure

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestLogScale: it covers the data, its ticks are 1, 2 and 5 times powers of ten within it,
// and equal ratios are equally far apart.
func TestLogScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := math.Pow(10, rapid.Float64Range(-5, 5).Draw(t, "low"))
		high := low * math.Pow(10, rapid.Float64Range(0, 5).Draw(t, "decades"))
		s := newLogScale(low, high, 0, 100, rapid.Bool().Draw(t, "whole"))
		if s.low > low*(1+1e-9) || s.high < high*(1-1e-9) {
			t.Fatalf("%g to %g do not cover %g to %g", s.low, s.high, low, high)
		}
		for _, v := range s.ticks() {
			m := v / math.Pow(10, math.Floor(math.Log10(v)+1e-9))
			if !slices.ContainsFunc([]float64{1, 2, 5}, func(x float64) bool { return math.Abs(m-x) < 1e-6 }) ||
				s.at(v) < -1e-6 || s.at(v) > 100+1e-6 {
				t.Fatalf("a tick of %g at %g", v, s.at(v))
			}
			if said, err := strconv.ParseFloat(s.label(v), 64); err != nil || math.Abs(said/v-1) > 1e-6 {
				t.Fatalf("%g is written %q", v, s.label(v))
			}
		}
		if len(s.ticks()) < 2 {
			t.Fatalf("%g to %g has the ticks %v", low, high, s.ticks())
		}
		a, b := s.at(low*1.1)-s.at(low), s.at(low*1.21)-s.at(low*1.1)
		if math.Abs(a-b) > 1e-6 {
			t.Fatalf("a tenth more is %g, then %g", a, b)
		}
	})
}

// texts is a canvas that keeps where texts stand.
type texts struct{ all []box }

func (texts) Path(_, _ []float64, _ Pen)   {}
func (texts) Area(_, _ []float64, _ Color) {}
func (c *texts) Text(x, y float64, s string, t Lettering) {
	if strings.HasPrefix(s, "point") {
		c.all = append(c.all, boxOf(x, y, s, t))
	}
}

// TestPointTextsDoNotMeet: however points lie, every text is written and none over another.
func TestPointTextsDoNotMeet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Panel{LogX: rapid.Bool().Draw(t, "log"), Series: []Series{{X: []float64{1, 100}, Y: []float64{1, 100}}}}
		for range rapid.IntRange(1, 6).Draw(t, "points") {
			p.Points = append(p.Points, Point{
				X: rapid.Float64Range(1, 100).Draw(t, "x"),
				Y: rapid.Float64Range(1, 100).Draw(t, "y"), Text: "point of some length",
			})
		}
		c := &texts{}
		(&Figure{Panels: []Panel{p}, PanelHeight: 430}).Draw(c)
		if len(c.all) != len(p.Points) {
			t.Fatalf("%d texts of %d points", len(c.all), len(p.Points))
		}
		for i, a := range c.all {
			for _, b := range c.all[:i] {
				if a.meets(b) {
					t.Fatalf("%+v meets %+v", a, b)
				}
			}
		}
	})
}

// TestLogAxesLeaveOutWhatTheyCannotHold: zero and below make a gap, no NaN.
func TestLogAxesLeaveOutWhatTheyCannotHold(t *testing.T) {
	f := Figure{Panels: []Panel{{
		LogX: true, LogY: true, Series: []Series{{
			Name: "a", X: []float64{0, 1, 2, 4}, Y: []float64{5, 1, -3, 2},
			Low: []float64{0, 0.5, 1, 1},
		}},
		Points: []Point{{X: 0, Y: 1, Text: "out"}, {X: 2, Y: 1, Text: "in"}},
		Shades: []Shade{{From: math.Inf(-1), To: 2, Text: "shade"}},
		Levels: []Level{{Y: 1.5, Text: "level"}, {Y: -1, Text: "none"}},
	}}}
	var out strings.Builder
	if err := f.SVG(&out); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{">in<", ">shade<", ">level<"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("%s is not drawn", want)
		}
	}
	if strings.Contains(out.String(), "NaN") || strings.Contains(out.String(), "Inf") ||
		strings.Contains(out.String(), ">out<") || strings.Contains(out.String(), ">none<") {
		t.Error(out.String())
	}
}
