package figure

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image/png"
	"io"
	"math"
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func sample() *Figure {
	x := []float64{0, 1, 2, 3, 4}
	return &Figure{
		Title: "A & B <test> · ΔH, 20 °C", Note: "invented",
		Panels: []Panel{
			{
				Title: "Band", XLabel: "time, s", YLabel: "head, m²", Marks: []Mark{{1, "turns"}, {1.2, "seats"}},
				Series: []Series{
					{Name: "upper", X: x, Y: []float64{3, 4, math.NaN(), 5, 4}, Low: []float64{1, 2, 2, 1, 0}, Style: Rust},
					{Name: "lower", X: x, Y: []float64{1, 2, 2, 1, 0}, Style: Water, Dash: true},
				},
			},
			{Title: "Nothing"},
			{Title: "Constant", Series: []Series{{Name: "level", X: x, Y: []float64{2, 2, 2, 2, 2}}}},
		},
	}
}

func TestSVG(t *testing.T) {
	var a, b bytes.Buffer
	if err := errors.Join(sample().SVG(&a), sample().SVG(&b)); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("the same figure gives other bytes")
	}
	const path = "testdata/sample.svg"
	if os.Getenv("SEATWARD_UPDATE") == "1" {
		if err := os.WriteFile(path, a.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), a.String()); diff != "" {
		t.Errorf("-golden +now\n%s", diff)
	}
}

func TestPNG(t *testing.T) {
	var a, b bytes.Buffer
	if err := errors.Join(sample().PNG(&a), sample().PNG(&b)); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("the same figure gives other bytes")
	}
	img, err := png.Decode(&a)
	if err != nil {
		t.Fatal(err)
	}
	w, h := sample().Size()
	if img.Bounds().Dx() != w*density || img.Bounds().Dy() != h*density {
		t.Errorf("the image is %v", img.Bounds())
	}
}

// Any numbers give XML that can be read, and an image.
func TestAnyNumbers(t *testing.T) {
	number := rapid.OneOf(rapid.Float64Range(-1e6, 1e6),
		rapid.SampledFrom([]float64{0, math.NaN(), math.Inf(1), math.Inf(-1), 1e-300, 1e300}))
	rapid.Check(t, func(t *rapid.T) {
		f := &Figure{Title: rapid.String().Draw(t, "title"), Width: 400, PanelHeight: 120}
		for range rapid.IntRange(0, 2).Draw(t, "panels") {
			p := Panel{Title: rapid.String().Draw(t, "panel")}
			for range rapid.IntRange(0, 3).Draw(t, "series") {
				s := Series{
					Name: rapid.String().Draw(t, "name"), X: rapid.SliceOfN(number, 0, 6).Draw(t, "x"),
					Y: rapid.SliceOfN(number, 0, 6).Draw(t, "y"), Low: rapid.SliceOfN(number, 0, 6).Draw(t,
						"low"), Dash: rapid.Bool().Draw(t, "dash"),
				}
				p.Series = append(p.Series, s)
			}
			f.Panels = append(f.Panels, p)
		}
		var out bytes.Buffer
		if err := f.SVG(&out); err != nil {
			t.Fatal(err)
		}
		d := xml.NewDecoder(&out)
		for {
			if _, err := d.Token(); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Fatal(err)
			}
		}
	})
}

// A line of many points keeps its extremes.
func TestDecimateKeepsPeaks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 5000).Draw(t, "points")
		x, y := make([]float64, n), make([]float64, n)
		for i := range x {
			x[i], y[i] = float64(i), math.Sin(float64(i)*0.37)
		}
		peak := rapid.IntRange(0, n-1).Draw(t, "peak")
		y[peak] = 100
		dx, dy := Decimate(x, y, 200)
		if len(dx) > 210 && n > 210 {
			t.Errorf("%d points are left of %d", len(dx), n)
		}
		found := false
		for i := range dx {
			found = found || dx[i] == float64(peak) && dy[i] == 100
			if i > 0 && dx[i] < dx[i-1] {
				t.Error("the line goes back")
			}
		}
		if !found {
			t.Error("the peak is lost")
		}
	})
}

// Ticks stand inside the scale, evenly, and their labels differ.
func TestTicks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(-1e5, 1e5).Draw(t, "low")
		s := newScale(low, low+rapid.Float64Range(1e-2, 1e5).Draw(t, "width"), 0, 500, 5, true)
		ticks := s.ticks()
		if len(ticks) < 2 || len(ticks) > 14 {
			t.Fatalf("%d ticks", len(ticks))
		}
		seen := map[string]bool{}
		for _, v := range ticks {
			if l := s.label(v); seen[l] {
				t.Fatalf("the label %s stands twice: %v", l, ticks)
			} else {
				seen[l] = true
			}
		}
	})
}
