package figure

import (
	"math"
	"slices"
)

// nameSize is the size of letters of the names of lines, px.
const nameSize = 11.5

// nameRoom is the room right of the panels: what the longest name of a line that ends there
// needs, up to a third of the width.
func (f *Figure) nameRoom() float64 {
	if f.NameRoom != 0 {
		return float64(f.NameRoom)
	}
	width, _ := f.Size()
	room := 30.0
	for i := range f.Panels {
		for _, s := range f.Panels[i].Series {
			room = math.Max(room, 22+wide(s.Name, nameSize))
		}
	}
	return math.Min(room, float64(width)/3)
}

// label is the name of a line that ends at the right edge.
type label struct {
	y, want float64
	s       *Series
}

// names writes each line's name at its end: right of the panel, moved apart where names would
// meet, or beside the end of a line that ends before.
func (f *frame) names() {
	var all []label
	for i := range f.p.Series {
		s := &f.p.Series[i]
		for k := min(len(s.X), len(s.Y)) - 1; k >= 0; k-- {
			if s.Name == "" || !f.stands(s.X[k], s.Y[k]) {
				continue
			}
			x, y := f.xs.at(s.X[k]), f.ys.at(s.Y[k])
			if x < f.x1-nearEdge {
				f.named(x, y, s.Name, Pen{Color: inks[s.Style], Width: 0.7}, nameSize)
			} else {
				all = append(all, label{y, y, s})
			}
			break
		}
	}
	apart(all, f.y1)
	for _, l := range all {
		line(f.c, f.x1+3, l.want, f.x1+10, l.y, Pen{Color: inks[l.s.Style], Width: 1})
		f.c.Text(f.x1+13, l.y+4, l.s.Name, Lettering{Size: nameSize, Color: inks[l.s.Style]})
	}
}

// nearEdge is how near the right edge a line ends whose name stands there, px.
const nearEdge = 40.0

// apart moves names so that none meets another, and none stands below the panel.
func apart(all []label, bottom float64) {
	slices.SortStableFunc(all, func(a, b label) int { return int(math.Copysign(1, a.y-b.y)) })
	const gap = 14
	for i := 1; i < len(all); i++ {
		all[i].y = math.Max(all[i].y, all[i-1].y+gap)
	}
	for i := len(all) - 1; i >= 0; i-- {
		all[i].y = math.Min(all[i].y, bottom-gap*float64(len(all)-1-i))
	}
}
