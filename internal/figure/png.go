package figure

import (
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gomedium"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
)

// density is how many pixels of the image stand for one of the layout.
const density = 2

// raster is a canvas of pixels.
type raster struct {
	img    *image.RGBA
	fonts  [2]*opentype.Font
	faces  map[face]font.Face
	failed error
}

type face struct {
	size float64
	bold bool
}

// PNG writes the figure as PNG, at twice the pixels of its size.
func (f *Figure) PNG(w io.Writer) error {
	width, height := f.Size()
	r := &raster{img: image.NewRGBA(image.Rect(0, 0, width*density, height*density)), faces: map[face]font.Face{}}
	draw.Draw(r.img, r.img.Bounds(), image.NewUniform(color.RGBA{0xff, 0xfe, 0xfa, 0xff}), image.Point{}, draw.Src)
	for i, data := range [][]byte{goregular.TTF, gomedium.TTF} {
		parsed, err := opentype.Parse(data)
		if err != nil {
			return err
		}
		r.fonts[i] = parsed
	}
	f.Draw(r)
	if r.failed != nil {
		return r.failed
	}
	return (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(w, r.img)
}

// fill paints polygons. The rasterizer is as large as they are, not as the image.
func (r *raster) fill(c Color, polygons ...[][2]float64) {
	low, high := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, p := range polygons {
		for _, v := range p {
			for k := range v {
				low[k], high[k] = math.Min(low[k], v[k]), math.Max(high[k], v[k])
			}
		}
	}
	box := image.Rect(int(math.Floor(low[0])), int(math.Floor(low[1])), int(math.Ceil(high[0]))+1,
		int(math.Ceil(high[1]))+1)
	box = box.Intersect(r.img.Bounds())
	if box.Empty() {
		return
	}
	z := vector.NewRasterizer(box.Dx(), box.Dy())
	at := func(v [2]float64) (float32, float32) {
		return float32(v[0]) - float32(box.Min.X), float32(v[1]) - float32(box.Min.Y)
	}
	for _, p := range polygons {
		x, y := at(p[0])
		z.MoveTo(x, y)
		for _, v := range p[1:] {
			x, y = at(v)
			z.LineTo(x, y)
		}
		z.ClosePath()
	}
	z.Draw(r.img, box, image.NewUniform(color.RGBA{c.R, c.G, c.B, 0xff}), image.Point{})
}

// stroke paints a piece of a line as a bar with round ends of six sides.
func (r *raster) stroke(x0, y0, x1, y1 float64, p Pen) {
	x0, y0, x1, y1 = x0*density, y0*density, x1*density, y1*density
	half := p.Width * density / 2
	length := math.Hypot(x1-x0, y1-y0)
	if length == 0 {
		return
	}
	dx, dy := (x1-x0)/length*half, (y1-y0)/length*half
	r.fill(p.Color, [][2]float64{
		{x0 - dy, y0 + dx},
		{x0 - dx, y0 - dy},
		{x0 + dy, y0 - dx},
		{x1 + dy, y1 - dx},
		{x1 + dx, y1 + dy},
		{x1 - dy, y1 + dx},
	})
}

// dashed finds, a way into a pattern of dashes, whether a dash is there and how far it or the
// gap still goes.
func dashed(pattern []float64, along float64) (on bool, left float64) {
	whole := 0.0
	for _, p := range pattern {
		whole += p
	}
	phase := math.Mod(along, whole)
	for i, p := range pattern {
		if phase < p {
			return i%2 == 0, p - phase
		}
		phase -= p
	}
	return false, 0
}

func (r *raster) Path(x, y []float64, p Pen) {
	along := 0.0 // way into the pattern of dashes
	for i := 1; i < len(x); i++ {
		if len(p.Dash) == 0 {
			r.stroke(x[i-1], y[i-1], x[i], y[i], p)
			continue
		}
		length := math.Hypot(x[i]-x[i-1], y[i]-y[i-1])
		for done := 0.0; done < length; {
			on, step := dashed(p.Dash, along)
			step = math.Min(math.Max(step, 0.01), length-done)
			if on {
				a, b := done/length, (done+step)/length
				r.stroke(x[i-1]+a*(x[i]-x[i-1]), y[i-1]+a*(y[i]-y[i-1]), x[i-1]+b*(x[i]-x[i-1]), y[i-1]+b*(y[i]-y[i-1]),
					p)
			}
			done, along = done+step, along+step
		}
	}
}

func (r *raster) Area(x, y []float64, c Color) {
	p := make([][2]float64, len(x))
	for i := range x {
		p[i] = [2]float64{x[i] * density, y[i] * density}
	}
	r.fill(c, p)
}

func (r *raster) Text(x, y float64, s string, t Lettering) {
	f, ok := r.faces[face{t.Size, t.Bold}]
	if !ok {
		which := 0
		if t.Bold {
			which = 1
		}
		made, err := opentype.NewFace(r.fonts[which],
			&opentype.FaceOptions{Size: t.Size, DPI: 72 * density, Hinting: font.HintingFull})
		if err != nil {
			r.failed = err
			return
		}
		f, r.faces[face{t.Size, t.Bold}] = made, made
	}
	ink := image.NewUniform(color.RGBA{t.Color.R, t.Color.G, t.Color.B, 0xff})
	wide := font.MeasureString(f, s)
	if !t.Upward {
		d := font.Drawer{
			Dst: r.img, Src: ink, Face: f,
			Dot: fixed.Point26_6{
				X: fixed.Int26_6(x*density*64) - fixed.Int26_6(t.Anchor*float64(wide)),
				Y: fixed.Int26_6(y * density * 64),
			},
		}
		d.DrawString(s)
		return
	}
	// Turned text is drawn lying and copied upright.
	box := image.Rect(0, 0, wide.Ceil()+2, int(t.Size*density*1.6))
	lying := image.NewRGBA(box)
	d := font.Drawer{Dst: lying, Src: ink, Face: f, Dot: fixed.P(0, int(t.Size*density*1.2))}
	d.DrawString(s)
	left, bottom := int(x*density-t.Size*density*1.2), int(y*density+t.Anchor*float64(box.Dx()))
	for i := range box.Dx() {
		for j := range box.Dy() {
			if c := lying.RGBAAt(i, j); c.A > 0 {
				at := image.Pt(left+j, bottom-i)
				draw.Draw(r.img, image.Rectangle{at, at.Add(image.Pt(1, 1))}, image.NewUniform(c), image.Point{},
					draw.Over)
			}
		}
	}
}
