package figure

// Size is width and height of the whole, in px.
func (f *Figure) Size() (width, height int) {
	width, panel := f.Width, f.PanelHeight
	if width == 0 {
		width = usualWidth
	}
	if panel == 0 {
		panel = usualPanel
	}
	return width, int(f.titleRoom()) + panel*len(f.Panels) + int(f.noteRoom())
}

// titleRoom is the room above the panels: little where there is no title.
func (f *Figure) titleRoom() float64 {
	if f.Title == "" {
		return bareRoom
	}
	return titleRoom + titleStep*float64(len(f.titleLines())-1)
}

const (
	titleSize = 16.0
	titleStep = 20.0
	boldWider = 1.08
)

func (f *Figure) titleLines() []string { return f.across(f.Title, titleSize*boldWider) }

// across breaks a text into lines that go across the figure.
func (f *Figure) across(s string, size float64) []string {
	width := f.Width
	if width == 0 {
		width = usualWidth
	}
	return lines(s, size, float64(width)-2*(marginLeft-50))
}

// noteRoom is the room below the panels.
func (f *Figure) noteRoom() float64 {
	if f.Note == "" {
		return bareRoom
	}
	return noteRoom + noteStep*float64(len(f.noteLines())-1)
}

// noteStep is from one line of the note to the next.
const noteStep = 14.0

func (f *Figure) noteLines() []string { return f.across(f.Note, 11) }

// Print is the figure as papers have it: a page is narrower than a screen, so the figure is
// laid out narrower and its letters are larger for it.
func (f *Figure) Print() *Figure {
	out := *f
	out.Width, out.PanelHeight = printWidth, usualPrint
	if f.PanelHeight > usualPanel {
		out.PanelHeight = int(float64(f.PanelHeight) * printShare)
	}
	out.NameRoom = 0
	return &out
}

const (
	printWidth = 640
	usualPrint = 165 // px of a panel
	printShare = 0.74
)

// Parts are figures of one panel each, which together show what the figure shows: the title
// stands over the first, the note below the last.
func (f *Figure) Parts() []*Figure {
	var out []*Figure
	for i := range f.Panels {
		part := *f
		part.Panels = f.Panels[i : i+1]
		if i > 0 {
			part.Title = ""
		}
		if i < len(f.Panels)-1 {
			part.Note = ""
		}
		out = append(out, &part)
	}
	return out
}
