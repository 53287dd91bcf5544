package figure

import (
	"fmt"
	"math"
	"strings"
)

// sheet is a figure with its sizes settled.
type sheet struct {
	*typeset
	width, height         int
	panel                 float64 // height of one
	title, describe       string
	titleLines, noteLines []string
	panels                []Panel
}

const (
	titleLine = 23.0
	noteLine  = 15.0
)

// head is the room above the panels, foot the room below.
func (s *sheet) head() float64 {
	if len(s.titleLines) == 0 {
		return 12
	}
	return 20 + titleLine*float64(len(s.titleLines))
}

func (s *sheet) foot() float64 {
	if len(s.noteLines) == 0 {
		return 6
	}
	return 14 + noteLine*float64(len(s.noteLines))
}

// draw lays the figure out on a canvas.
func (s *sheet) draw(c canvas) {
	for i, line := range s.titleLines {
		c.text(point{outerMargin, 30 + titleLine*float64(i)}, line, setting{typeface: titleFont, color: inks[Ink]})
	}
	plots := make([]*plot, len(s.panels))
	left, right := 44.0, 40.0 // half a label of the x axis may stand out
	for i := range s.panels {
		plots[i] = s.plot(c, i)
		left, right = math.Max(left, plots[i].leftRoom()), math.Max(right, plots[i].rightRoom())
	}
	for _, p := range plots {
		p.x0, p.x1 = math.Round(left)+0.5, math.Round(float64(s.width)-right)+0.5
		p.draw()
	}
	for i, line := range s.noteLines {
		y := float64(s.height) - 12 - noteLine*float64(len(s.noteLines)-1-i)
		c.text(point{outerMargin, y}, line, setting{typeface: noteFont, color: grey})
	}
}

// describe says in words what the panels show.
func (f *Figure) describe() string {
	var out []string
	for i := range f.Panels {
		p := &f.Panels[i]
		out = append(out, tidy(fmt.Sprintf("%s: %s over %s.", orElse(p.Title, "Chart"), orElse(p.YLabel, "values"), orElse(p.XLabel, "x"))))
		for k := range p.Series {
			out = append(out, p.Series[k].describe())
		}
		for _, m := range p.Marks {
			if drawable(m.X) {
				out = append(out, fmt.Sprintf("Mark at %.4g: %s.", m.X, tidy(m.Text)))
			}
		}
	}
	if len(out) == 0 {
		return "No data."
	}
	return strings.Join(out, " ")
}

func (s *Series) describe() string {
	end := s.end()
	if end < 0 {
		return orElse(tidy(s.Name), "Line") + ": no data."
	}
	low, high := math.Inf(1), math.Inf(-1)
	t := s.track()
	for i := range t.x {
		if t.ok(i) {
			low, high = math.Min(low, t.y[i]), math.Max(high, t.y[i])
		}
	}
	return fmt.Sprintf("%s: %.4g to %.4g, at the end %.4g.", orElse(tidy(s.Name), "Line"), low, high, t.y[end])
}

func orElse(s, other string) string {
	if s == "" {
		return other
	}
	return s
}
