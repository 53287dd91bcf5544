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

// curve is y over n points of x from 0 to the end.
func curve(n int, end float64, y func(x float64) float64) (xs, ys []float64) {
	for i := range n {
		x := end * float64(i) / float64(n-1)
		xs, ys = append(xs, x), append(ys, y(x))
	}
	return xs, ys
}

// trip is a figure as a report shows it: numbers invented for the picture.
func trip() *Figure {
	x, after := curve(4000, 12, func(t float64) float64 { return 18 + 22*math.Exp(-t/6)*math.Cos(2.2*t)*math.Min(1, t/0.8) })
	_, before := curve(4000, 12, func(t float64) float64 { return 16 - 9*math.Min(1, t/1.4) + 1.2*math.Sin(5*t)*math.Exp(-t/3) })
	_, flow := curve(4000, 12, func(t float64) float64 {
		if t > 1.62 {
			return 0
		}
		return 28.4 * (1 - math.Pow(t/1.4, 1.6))
	})
	main, ground := curve(60, 1840, func(x float64) float64 { return 2 + x/140 + 2*math.Sin(x/170) })
	_, most := curve(60, 1840, func(x float64) float64 { return 46 - x/80 })
	_, least := curve(60, 1840, func(x float64) float64 { return 4 + x/210 + 3*math.Sin(x/300) })
	marks := []Mark{{1.4, "water turns"}, {1.62, "valve seats"}}
	return &Figure{
		Title: "Marram Ness: all pumps trip, with check valve DW-150",
		Note:  "Preliminary calculation for review. Heads above the floor of the wet well. Valve data invented for demonstration.",
		Panels: []Panel{
			{Title: "Head at the valve", XLabel: "time after the event, s", YLabel: "head, m", Marks: marks, Series: []Series{
				{Name: "behind the valve", X: x, Y: after, Style: Rust},
				{Name: "before it", X: x, Y: before, Style: Water},
				{Name: "at the header", X: []float64{0, 12}, Y: []float64{17.5, 17.5}, Dash: true},
			}},
			{Title: "Flow", XLabel: "time after the event, s", YLabel: "flow, L/s", YFromZero: true, Marks: marks, Series: []Series{{Name: "through the valve", X: x, Y: flow, Style: Water}}},
			{Title: "Least and greatest head along the main", XLabel: "place along the main, m", YLabel: "head, m", Series: []Series{
				{Name: "greatest", X: main, Y: most, Low: least, Style: Rust},
				{Name: "least", X: main, Y: least, Style: Water},
				{Name: "pipe", X: main, Y: ground, Style: Amber},
				{Name: "rated to", X: []float64{0, 1840}, Y: []float64{51, 51}, Style: Rust, Dash: true},
			}},
		},
	}
}

// odd is a figure of what seldom happens.
func odd() *Figure {
	x := []float64{0, 1, 2, 3, 4}
	return &Figure{
		Title: "A & B <odd> · ΔH, 20 °C", Note: `"Invented" \ ` + "for\x01 tests",
		Panels: []Panel{
			{Title: "Band with a gap", XLabel: "time, s", YLabel: "area, m²", Marks: []Mark{{1, "turns"}, {1.02, "seats"}, {0, "start"}, {4, "end"}, {9, "outside"}}, Series: []Series{
				{Name: "upper", X: x, Y: []float64{3, 4, math.NaN(), 5, 4}, Low: []float64{1, 2, 2, 1, 0}, Style: Rust},
				{Name: "the lower one, with a name of many words that is long", X: x, Y: []float64{1, 2, 2, 1, 3.9}, Style: Water, Dash: true, Fill: true},
				{Name: "alone", X: []float64{0.5, 1.5, 2.5}, Y: []float64{3, math.Inf(1), 2}},
				{Name: "never", X: x, Style: Amber},
			}},
			{Title: "Nothing", XLabel: "time, s", YLabel: "head, m"},
			{Title: "Constant", Series: []Series{{Name: "level", X: x, Y: []float64{2, 2, 2, 2, 2 + 1e-9}}}},
		},
	}
}

func svgOf(t *testing.T, f *Figure) []byte {
	t.Helper()
	var a, b bytes.Buffer
	if err := errors.Join(f.SVG(&a), f.SVG(&b)); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("the same figure gives other bytes")
	}
	return a.Bytes()
}

func TestSVG(t *testing.T) {
	for name, f := range map[string]*Figure{"testdata/trip.svg": trip(), "testdata/odd.svg": odd()} {
		got := svgOf(t, f)
		if err := wellFormed(got); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if os.Getenv("SEATWARD_UPDATE") == "1" {
			if err := os.WriteFile(name, got, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(string(want), string(got)); diff != "" {
			t.Errorf("%s: -golden +now\n%s", name, diff)
		}
	}
}

// wellFormed reads XML to its end and finds the title and the description in it.
func wellFormed(data []byte) error {
	d := xml.NewDecoder(bytes.NewReader(data))
	seen := map[string]bool{}
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			return err
		}
		if e, ok := token.(xml.StartElement); ok {
			seen[e.Name.Local] = true
		}
	}
	if !seen["title"] || !seen["desc"] || seen["script"] {
		return errors.New("wants a title and a description and no script")
	}
	return nil
}

func TestPNG(t *testing.T) {
	sized := odd()
	sized.Width, sized.Height = 640, 700
	for _, tt := range []struct {
		f             *Figure
		width, height int
	}{{trip(), 900, 43 + 3*260 + 29}, {odd(), 900, 43 + 3*260 + 29}, {sized, 640, 700}, {&Figure{}, 900, 12 + 260 + 6}} {
		var a, b bytes.Buffer
		if err := errors.Join(tt.f.PNG(&a), tt.f.PNG(&b)); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(a.Bytes(), b.Bytes()) {
			t.Error("the same figure gives other bytes")
		}
		img, err := png.Decode(&a)
		if err != nil {
			t.Fatal(err)
		}
		if got := img.Bounds().Size(); got.X != 2*tt.width || got.Y != 2*tt.height {
			t.Errorf("the image of %q is %v, want twice %d x %d", tt.f.Title, got, tt.width, tt.height)
		}
	}
}

// Ink of a style lies on the image where the line runs, and the letters of the trade
// are in the font.
func TestPNGShowsLinesAndLetters(t *testing.T) {
	s, err := (&Figure{Panels: []Panel{{Series: []Series{{X: []float64{0, 1}, Y: []float64{0, 1}, Style: Water}}}}}).sheet()
	if err != nil {
		t.Fatal(err)
	}
	r := newRaster(s)
	s.draw(r)
	count := 0
	for at := 0; at < len(r.img.Pix); at += 4 {
		if r.img.Pix[at] == 0x1b && r.img.Pix[at+1] == 0x7f && r.img.Pix[at+2] == 0x86 {
			count++
		}
	}
	if count < 2*800 { // the line crosses most of the width, two pixels or more high
		t.Errorf("%d pixels of the line", count)
	}
	const trade = "Δ°²³·−–—×±≤≥≈ζθρωφημνσλΣΩ₂½…√‰µ′″Øñéß"
	for _, f := range []typeface{tickFont, titleFont} {
		if got := s.shown(trade, f); got != trade {
			t.Errorf("shown as %s", got)
		}
	}
	if got := s.shown("⌀ 漢", tickFont); got != "Ø ?" {
		t.Errorf("shown as %q", got)
	}
}

func TestSizes(t *testing.T) {
	for _, f := range []*Figure{
		{Width: -1},
		{Width: 319},
		{Width: 1 << 40},
		{Height: -5},
		{Height: 60},
		{Width: 5000, Height: 5000},
		{Height: 300, Panels: make([]Panel, 3)},
		{Panels: make([]Panel, 1000)},
	} {
		if err := errors.Join(f.SVG(io.Discard)); !errors.Is(err, ErrSize) {
			t.Errorf("%d x %d with %d panels: %v", f.Width, f.Height, len(f.Panels), err)
		}
		if err := f.PNG(io.Discard); !errors.Is(err, ErrSize) {
			t.Errorf("%d x %d with %d panels as PNG: %v", f.Width, f.Height, len(f.Panels), err)
		}
	}
}

type full struct{}

var errFull = errors.New("full")

func (full) Write([]byte) (int, error) { return 0, errFull }

func TestWriterFails(t *testing.T) {
	if err := odd().SVG(full{}); !errors.Is(err, errFull) {
		t.Error(err)
	}
	if err := odd().PNG(full{}); !errors.Is(err, errFull) {
		t.Error(err)
	}
}

// anyFigure has texts and numbers of every kind.
func anyFigure(t *rapid.T) *Figure {
	number := rapid.OneOf(
		rapid.Float64Range(-1e3, 1e3), rapid.Float64(),
		rapid.SampledFrom([]float64{0, 1, math.NaN(), math.Inf(1), math.Inf(-1), 1e-300, 1e300, -1e100, 1e100, 5e-324}),
	)
	numbers := rapid.SliceOfN(number, 0, 6)
	text := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{"", "head, m", "a name of several words that runs on and on for long"}))
	f := &Figure{
		Title: text.Draw(t, "title"), Note: text.Draw(t, "note"),
		Width: rapid.SampledFrom([]int{0, leastWidth, 500}).Draw(t, "width"),
	}
	for range rapid.IntRange(0, 3).Draw(t, "panels") {
		p := Panel{Title: text.Draw(t, "panel"), XLabel: text.Draw(t, "x label"), YLabel: text.Draw(t, "y label"), YFromZero: rapid.Bool().Draw(t, "zero")}
		for range rapid.IntRange(0, 4).Draw(t, "series") {
			p.Series = append(p.Series, Series{
				Name: text.Draw(t, "name"), X: numbers.Draw(t, "x"), Y: numbers.Draw(t, "y"), Low: numbers.Draw(t, "low"),
				Style: Style(rapid.IntRange(0, 5).Draw(t, "style")), Dash: rapid.Bool().Draw(t, "dash"), Fill: rapid.Bool().Draw(t, "fill"),
			})
		}
		for range rapid.IntRange(0, 5).Draw(t, "marks") {
			p.Marks = append(p.Marks, Mark{number.Draw(t, "mark"), text.Draw(t, "mark text")})
		}
		f.Panels = append(f.Panels, p)
	}
	if rapid.Bool().Draw(t, "tight") {
		f.Height = leastPanel*max(1, len(f.Panels)) + 150
	}
	return f
}

// Any numbers and texts give XML that can be read, with numbers in it that are numbers.
func TestAnySVG(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var out bytes.Buffer
		if err := anyFigure(t).SVG(&out); err != nil {
			t.Fatal(err)
		}
		if err := wellFormed(out.Bytes()); err != nil {
			t.Fatal(err)
		}
		for _, bad := range []string{`="NaN`, `="+Inf`, `="-Inf`, "NaN,", ",NaN", "Inf,", ",Inf"} {
			if bytes.Contains(out.Bytes(), []byte(bad+`"`)) {
				t.Fatalf("%s in %s", bad, out.Bytes())
			}
		}
	})
}

// Any numbers and texts give an image; few, as each takes its time.
func TestAnyPNG(t *testing.T) {
	generator := rapid.Custom(anyFigure)
	for seed := range 8 {
		f := generator.Example(seed)
		f.Width, f.Height = leastWidth, leastPanel*max(1, len(f.Panels))+150
		if err := f.PNG(io.Discard); err != nil {
			t.Error(err)
		}
	}
}
