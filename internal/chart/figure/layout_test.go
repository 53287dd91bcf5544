package figure

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// box is the room of a text.
type box struct {
	text                     string
	left, right, top, bottom float64
}

// record is a canvas that keeps what it is given.
type record struct {
	*typeset
	boxes []box
	all   []point
	pens  map[[2]float64]int
}

func (r *record) line(a, b point, p pen) { r.polyline([]point{a, b}, p) }

func (r *record) polyline(pts []point, p pen) {
	r.all = append(r.all, pts...)
	r.pens[p.dash] += len(pts)
}

func (r *record) polygon(pts []point, _ rgb) { r.all = append(r.all, pts...) }

func (r *record) text(at point, s string, set setting) {
	w := r.width(s, set.typeface)
	left := at.x - set.anchor*w
	r.boxes = append(r.boxes, box{s, left, left + w, at.y - 0.75*set.size, at.y + 0.22*set.size})
}

// fault finds texts that meet, and whatever lies off the sheet.
func fault(f *Figure) error {
	s, err := f.sheet()
	if err != nil {
		return err
	}
	r := &record{typeset: s.typeset, pens: map[[2]float64]int{}}
	s.draw(r)
	for i, a := range r.boxes {
		if a.left < 0 || a.right > float64(s.width)+0.5 || a.top < 0 || a.bottom > float64(s.height) {
			return fmt.Errorf("%q lies off the sheet: %+v", a.text, a)
		}
		for _, b := range r.boxes[:i] {
			if a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom {
				return fmt.Errorf("%q meets %q: %+v %+v", a.text, b.text, a, b)
			}
		}
	}
	for _, at := range r.all {
		if !(at.x >= 0 && at.x <= float64(s.width) && at.y >= 0 && at.y <= float64(s.height)) {
			return fmt.Errorf("the point %v lies off the sheet", at)
		}
	}
	return nil
}

func TestNothingOverlaps(t *testing.T) {
	crowd := Panel{Title: "Crowd", YLabel: "head, m"}
	for i := range 30 {
		crowd.Series = append(crowd.Series, Series{Name: fmt.Sprintf("line number %d of the many", i), X: []float64{0, 1}, Y: []float64{0, float64(i % 3)}})
		crowd.Marks = append(crowd.Marks, Mark{float64(i) / 60, "a mark with words"})
	}
	for _, f := range []*Figure{trip(), odd(), {Panels: []Panel{crowd}}, {Width: leastWidth, Height: 400, Panels: []Panel{crowd, crowd}}} {
		if err := fault(f); err != nil {
			t.Errorf("%s: %v", f.Title, err)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		if err := fault(anyFigure(t)); err != nil {
			t.Fatal(err)
		}
	})
}

// Marks close together keep their texts while there are rows for them, and take no
// line its name.
func TestTextsAreKept(t *testing.T) {
	p := Panel{YLabel: "head, m", Series: []Series{{X: []float64{0, 80}, Y: []float64{0, 1}}}}
	for _, x := range []float64{0, 1, 1.2, 40, 80, 80} {
		p.Marks = append(p.Marks, Mark{x, fmt.Sprintf("mark at %g", x)})
	}
	for i := range 9 {
		p.Series = append(p.Series, Series{Name: fmt.Sprintf("line %d", i), X: []float64{0, 80}, Y: []float64{0, 1}})
	}
	s, err := (&Figure{Panels: []Panel{p}}).sheet()
	if err != nil {
		t.Fatal(err)
	}
	r := &record{typeset: s.typeset, pens: map[[2]float64]int{}}
	s.draw(r)
	for _, m := range p.Marks {
		if !slices.ContainsFunc(r.boxes, func(b box) bool { return b.text == m.Text }) {
			t.Errorf("%s is lost", m.Text)
		}
	}
	for _, l := range p.Series {
		if l.Name != "" && !slices.ContainsFunc(r.boxes, func(b box) bool { return b.text == l.Name }) {
			t.Errorf("%s has lost its name", l.Name)
		}
	}
	if r.pens[markDash] != 2*len(p.Marks) {
		t.Errorf("%d ends of lines of marks, want %d", r.pens[markDash], 2*len(p.Marks))
	}
}

// Names stand in the order of their lines' ends, inside, without meeting; and where they
// do not have to move they do not.
func TestSpread(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		wants := rapid.SliceOfN(rapid.Float64Range(0, 100), 1, 6).Draw(t, "wants")
		ends := make([]lineEnd, len(wants))
		last := 0.0
		far := true
		for i, w := range wants {
			last += w
			ends[i] = lineEnd{want: last, lines: make([]string, rapid.IntRange(1, 2).Draw(t, "lines"))}
			far = far && (i == 0 && w > 14 || w >= 28)
		}
		spread(ends, 0, last+28*float64(len(wants)))
		at := 0.0
		for _, e := range ends {
			if e.y-e.height()/2 < at-1e-9 {
				t.Fatalf("%+v meets the one above, which ends at %g", e, at)
			}
			at = e.y + e.height()/2
			if far && math.Abs(e.y-e.want) > 1e-9 {
				t.Fatalf("%+v was moved without need", e)
			}
		}
		if at > last+28*float64(len(wants))+1e-9 {
			t.Fatalf("the last ends at %g", at)
		}
	})
}

// Ticks are even, have labels of their own, and take in the data: of a vertical axis
// wholly, of a horizontal one to less than a step at either end.
func TestTicks(t *testing.T) {
	wide := func(s string) float64 { return 7 * float64(len(s)) }
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(-1, 1).Draw(t, "low") * math.Pow(10, rapid.Float64Range(-8, 8).Draw(t, "size"))
		high := low + math.Max(math.Abs(low)*1e-4, 1e-12)*math.Pow(10, rapid.Float64Range(0, 8).Draw(t, "width"))
		y := newY(low, high, rapid.Float64Range(20, 400).Draw(t, "height"), 60)
		x := newX(low, high, 0, rapid.Float64Range(120, 900).Draw(t, "across"), wide)
		for _, a := range []axis{x, y} {
			seen := map[string]bool{}
			for i, v := range a.ticks {
				if seen[a.labels[i]] {
					t.Fatalf("the label %s stands twice in %v", a.labels[i], a.labels)
				}
				seen[a.labels[i]] = true
				if i > 0 && math.Abs(v-a.ticks[i-1]-a.step) > 1e-6*a.step {
					t.Fatalf("uneven ticks %v", a.ticks)
				}
			}
		}
		end := len(y.ticks) - 1
		if slip := 1e-6 * y.step; end < 1 || end > 10 || y.ticks[0] > low+slip || y.ticks[end] < high-slip {
			t.Fatalf("ticks %v for %g to %g", y.ticks, low, high)
		}
		if x.low > low || x.high < high || x.ticks[0]-x.step > x.low || len(x.ticks) > 1 && x.ticks[len(x.ticks)-1]+x.step < x.high {
			t.Fatalf("ticks %v on %g to %g, for %g to %g", x.ticks, x.low, x.high, low, high)
		}
	})
}

func TestTickLabels(t *testing.T) {
	for _, tt := range []struct {
		low, high   float64
		first, last string
	}{
		{0, 10, "0", "10"},
		{-1, 1, "−1.0", "1.0"},
		{0, 0.013, "0", "0.015"},
		{2, 2, "1.8", "2.2"},
		{0, 0, "−1.0", "1.0"},
		{0, 3.4e7, "0", "4e7"},
		{0, 2.3e-6, "0", "2.5e−6"},
		{1e6, 1e6 + 5, "1.000000e6", "1.000005e6"},
		{0, 1200, "0", "1250"},
	} {
		a := newY(tt.low, tt.high, 150, 150)
		if first, last := a.labels[0], a.labels[len(a.labels)-1]; first != tt.first || last != tt.last {
			t.Errorf("%g to %g: labels %v, want %s to %s", tt.low, tt.high, a.labels, tt.first, tt.last)
		}
	}
}
