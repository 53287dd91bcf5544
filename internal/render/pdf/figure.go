package pdf

import (
	"math"

	"seatward/internal/document"
	"seatward/internal/figure"
	"seatward/internal/render/code"
	"seatward/internal/render/wording"
)

// board is a canvas of a figure on the page: px of the figure are scaled to mm.
type board struct {
	*writer
	x, y, scale float64
}

func (b *board) stroke(p figure.Pen) {
	b.pdf.SetDrawColor(int(p.Color.R), int(p.Color.G), int(p.Color.B))
	b.pdf.SetLineWidth(math.Max(0.1, p.Width*b.scale))
	var dash []float64
	for _, d := range p.Dash {
		dash = append(dash, d*b.scale)
	}
	b.pdf.SetDashPattern(dash, 0)
}

func (b *board) Path(x, y []float64, p figure.Pen) {
	b.stroke(p)
	b.pdf.SetLineJoinStyle("round")
	b.pdf.MoveTo(b.x+x[0]*b.scale, b.y+y[0]*b.scale)
	for i := 1; i < len(x); i++ {
		b.pdf.LineTo(b.x+x[i]*b.scale, b.y+y[i]*b.scale)
	}
	b.pdf.DrawPath("D")
	b.pdf.SetDashPattern(nil, 0)
}

func (b *board) Area(x, y []float64, c figure.Color) {
	b.pdf.SetFillColor(int(c.R), int(c.G), int(c.B))
	b.pdf.MoveTo(b.x+x[0]*b.scale, b.y+y[0]*b.scale)
	for i := 1; i < len(x); i++ {
		b.pdf.LineTo(b.x+x[i]*b.scale, b.y+y[i]*b.scale)
	}
	b.pdf.ClosePath()
	b.pdf.DrawPath("F")
}

// narrower is how much smaller letters are than the layout has them, because the font of
// the page is wider than the one that the layout was made for.
const narrower = 0.93

func (b *board) Text(x, y float64, s string, t figure.Lettering) {
	b.font(sans, bold(t.Bold), t.Size*narrower*b.scale/0.3528)
	b.pdf.SetTextColor(int(t.Color.R), int(t.Color.G), int(t.Color.B))
	s = b.inOrder(b.clean(s))
	px, py := b.x+x*b.scale, b.y+y*b.scale
	shift := t.Anchor * b.pdf.GetStringWidth(s)
	if !t.Upward {
		b.textAt(px-shift, py, s)
		return
	}
	b.pdf.TransformBegin()
	b.pdf.TransformRotate(90, px, py)
	b.textAt(px-shift, py, s)
	b.pdf.TransformEnd()
}

// figureScale is mm for each px of a figure that goes over the whole width, or less where
// the page is not high enough.
func (p *writer) figureScale(f *figure.Figure) float64 {
	wide, high := f.Size()
	return math.Min((p.width-2*marginX)/float64(wide), (p.height-top-bottom-14)/float64(high))
}

func (p *writer) figureHeight(f *figure.Figure) float64 {
	_, high := f.Size()
	return float64(high)*p.figureScale(f) + 8
}

// figureStart is how much of a figure stays together: all of it, or its first panel where a
// page does not have much more.
func (p *writer) figureStart(x document.Figure) float64 {
	f := x.Figure.Print()
	whole := leastShrink * p.figureHeight(f)
	if whole < mostFigure*(p.height-top-bottom) || len(f.Panels) < 2 {
		return whole
	}
	return p.figureHeight(f.Parts()[0])
}

// mostFigure is the share of a page from which on the panels of a figure go over pages.
const mostFigure = 0.5

// leastShrink is how small a figure may be set to go on the page at hand.
const leastShrink = 0.85

// figure draws a chart with its caption. The panels of a high one go to the next page where
// this one has no room for them.
func (p *writer) figure(x document.Figure) {
	p.figures++
	whole := x.Figure.Print()
	parts := []*figure.Figure{whole}
	if p.figureHeight(whole) > p.left() && len(whole.Panels) > 1 {
		parts = whole.Parts()
	}
	for i, f := range parts {
		scale := p.figureScale(f)
		if need := p.figureHeight(f); p.left() < need && p.left() > leastShrink*need {
			scale *= p.left() / need // a little smaller rather than half a page left empty
		} else {
			p.room(need)
		}
		wide, high := f.Size()
		alt := x.Caption + ". " + x.Text
		if i > 0 {
			alt = x.Caption + ". " + f.Panels[0].Title
		}
		p.tags.within("Figure", alt, func() {
			p.tags.at.frame = p.points(marginX, p.y, float64(wide)*scale, float64(high)*scale)
			p.tags.marked(func() { f.Draw(&board{p, marginX, p.y, scale}) })
		})
		p.y += float64(high)*scale + 1
	}
	p.font(sans, "", p.size-0.8)
	p.color(grey)
	p.paragraphLines(p.clean(wording.Caption(p.d, p.figures, x.Caption)), marginX, p.width-2*marginX, "Caption")
	p.y += 3 * p.air
}

// codeMM is the size of a square code.
const codeMM = 40.0

// code draws a text as a square code, with the text beside it.
func (p *writer) code(x document.Code) {
	c, err := code.New(x.Text)
	if err != nil {
		p.pdf.SetError(err)
		return
	}
	p.room(codeMM + 4)
	module := codeMM / float64(c.Size)
	p.tags.within("Figure", "Square code that holds: "+x.Text, func() {
		p.tags.at.frame = p.points(marginX, p.y, codeMM, codeMM)
		p.tags.marked(func() {
			p.brush(black)
			for i := range c.Size {
				for j := range c.Size {
					if c.Dark(j, i) {
						p.pdf.Rect(marginX+float64(j)*module, p.y+float64(i)*module, module*1.02, module*1.02, "F")
					}
				}
			}
		})
	})
	start := p.y
	p.y += 3
	p.font(mono, "", 9)
	p.color(black)
	p.paragraphLines(p.clean(x.Text), marginX+codeMM+5, p.width-2*marginX-codeMM-5, "P")
	p.font(sans, "", 10)
	p.color(grey)
	p.paragraphLines(p.clean(x.Caption), marginX+codeMM+5, p.width-2*marginX-codeMM-5, "P")
	p.y = math.Max(p.y, start+codeMM) + 3
}

// space draws an empty frame.
func (p *writer) space(x document.Space) {
	p.room(x.HeightMM + 4)
	p.pen(grey, 0.3)
	p.tags.artifact(func() { p.pdf.Rect(marginX, p.y, p.width-2*marginX, x.HeightMM, "D") })
	start := p.y
	p.y += 1.5
	p.font(sans, "B", p.size)
	p.color(grey)
	p.paragraphLines(p.clean(x.Title), marginX+2.5, p.width-2*marginX-5, "P")
	p.font(sans, "", p.size-1.5)
	for _, l := range x.Lines {
		p.paragraphLines(p.clean(l), marginX+2.5, p.width-2*marginX-5, "P")
	}
	p.y = start + x.HeightMM + 3
}
