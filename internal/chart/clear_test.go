package chart

import (
	"math"
	"strings"
	"testing"

	"seatward/internal/figure"
)

// inked is a canvas that keeps curves and texts where they are drawn.
type inked struct {
	curves [][2][]float64
	texts  []written
}

type written struct {
	s              string
	x0, y0, x1, y1 float64
}

func (c *inked) Area(_, _ []float64, _ figure.Color) {}

func (c *inked) Path(x, y []float64, p figure.Pen) {
	if p.Width > 1.5 { // curves; axes, grid and lines to texts are thinner
		c.curves = append(c.curves, [2][]float64{x, y})
	}
}

// Text keeps a text's box, somewhat smaller than its letters: half an em for each.
func (c *inked) Text(x, y float64, s string, t figure.Lettering) {
	if t.Upward || s == "" {
		return
	}
	w := 0.5 * t.Size * float64(len([]rune(s)))
	c.texts = append(c.texts, written{s, x - t.Anchor*w, y - 0.7*t.Size, x + (1-t.Anchor)*w, y})
}

// clear finds texts that a curve or another text runs through.
func (c *inked) clear(t *testing.T) {
	t.Helper()
	for i, a := range c.texts {
		for _, b := range c.texts[:i] {
			if a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1 {
				t.Errorf("%q is written over %q", a.s, b.s)
			}
		}
		for _, curve := range c.curves {
			if struck(a, curve[0], curve[1]) {
				t.Errorf("a curve runs through %q", a.s)
				break
			}
		}
	}
}

// struck walks along a curve in steps of half a px.
func struck(w written, x, y []float64) bool {
	for i := 1; i < len(x); i++ {
		n := max(1, int(2*math.Hypot(x[i]-x[i-1], y[i]-y[i-1])))
		for k := range n + 1 {
			s := float64(k) / float64(n)
			px, py := x[i-1]+s*(x[i]-x[i-1]), y[i-1]+s*(y[i]-y[i-1])
			if px > w.x0 && px < w.x1 && py > w.y0 && py < w.y1 {
				return true
			}
		}
	}
	return false
}

// TestTextsAreClear: on the charts of stations, on the screen and in print, no curve runs
// through a text, no text is written over another, and none names a color.
func TestTextsAreClear(t *testing.T) {
	for _, station := range []string{"study", "layout", "booster"} {
		s := ofStation(t, station)
		drawn := 0
		for i := range s.Assessments {
			a := &s.Assessments[i]
			v := &Valve{Item: a.Item, Position: s.Station.Valve.Position, Setting: s.Station.Setting(), Study: s}
			var err error
			if v.Mechanism, err = a.Item.Family.Type.Build(a.Item.Params, v.Setting); err != nil {
				t.Fatal(err)
			}
			curve, err := NewClosing(v, Stop{Run: RunOf(v), QuietMS: 0.15, HarmfulMS: 0.3}, s.Station.Units)
			if err != nil {
				t.Fatal(err)
			}
			system, err := System(s, a.Item.ID)
			if err != nil {
				t.Fatal(err)
			}
			for name, f := range map[string]*figure.Figure{
				"loss":    NewLoss(v, nil, s.Station.Units).Figure(v, s.Station.Units),
				"closing": curve.Figure(v, s.Station.Units), "system": system,
			} {
				for where, f := range map[string]*figure.Figure{"screen": f, "print": f.Print()} {
					t.Run(strings.Join([]string{station, a.Item.ID, name, where}, " "), func(t *testing.T) {
						c := &inked{}
						f.Draw(c)
						drawn += len(c.texts)
						c.clear(t)
						if strings.Contains(f.Note, "amber") || strings.Contains(f.Note, "blue") {
							t.Errorf("told by color: %q", f.Note)
						}
					})
				}
			}
		}
		if drawn < 100 {
			t.Errorf("%s: only %d texts were looked at", station, drawn)
		}
	}
}
