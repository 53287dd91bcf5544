package figure

import (
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
)

// raster is a canvas of pixels.
type raster struct {
	*typeset
	img  *image.RGBA
	mask *image.Alpha // of the line that is being drawn; empty between lines
}

func newRaster(s *sheet) *raster {
	box := image.Rect(0, 0, s.width*density, s.height*density)
	r := &raster{typeset: s.typeset, img: image.NewRGBA(box), mask: image.NewAlpha(box)}
	draw.Draw(r.img, box, image.NewUniform(paper.opaque()), image.Point{}, draw.Src)
	return r
}

func (r *raster) encode(w io.Writer) error { return png.Encode(w, r.img) }

func (c rgb) opaque() color.RGBA { return color.RGBA{c.r, c.g, c.b, 0xff} }

func (r *raster) line(a, b point, p pen) { r.polyline([]point{a, b}, p) }

// polyline covers the pixels near any piece of the line in a mask, each as much as the
// nearest piece does, and inks the mask once: so joins show no seam and ends are round.
func (r *raster) polyline(pts []point, p pen) {
	var box image.Rectangle
	half := p.width * density / 2
	dash := p.dash
	if dash[0] > 0 { // the round ends make a dash longer by the width of the line
		dash = [2]float64{math.Max(dash[0]-p.width, 0.1), dash[1] + p.width}
	}
	for _, s := range strokes(pts, dash) {
		a, b := point{s[0].x * density, s[0].y * density}, point{s[1].x * density, s[1].y * density}
		box = box.Union(r.cover(a, b, half))
	}
	draw.DrawMask(r.img, box, image.NewUniform(p.color.opaque()), image.Point{}, r.mask, box.Min, draw.Over)
	for y := box.Min.Y; y < box.Max.Y; y++ {
		clear(r.mask.Pix[r.mask.PixOffset(box.Min.X, y):r.mask.PixOffset(box.Max.X, y)])
	}
}

// cover lays one piece of a line into the mask and returns where it may have.
func (r *raster) cover(a, b point, half float64) image.Rectangle {
	reach := half + 1
	box := image.Rect(
		int(math.Floor(math.Min(a.x, b.x)-reach)), int(math.Floor(math.Min(a.y, b.y)-reach)),
		int(math.Ceil(math.Max(a.x, b.x)+reach)), int(math.Ceil(math.Max(a.y, b.y)+reach)),
	).Intersect(r.mask.Rect)
	dx, dy := b.x-a.x, b.y-a.y
	square := dx*dx + dy*dy
	for row := box.Min.Y; row < box.Max.Y; row++ {
		y := float64(row) + 0.5
		from, to := across(a, b, y-reach, y+reach)
		left, right := max(box.Min.X, int(from-reach)), min(box.Max.X, int(to+reach)+1)
		for column := left; column < right; column++ {
			x, t := float64(column)+0.5, 0.0
			if square > 0 {
				t = math.Max(0, math.Min(1, ((x-a.x)*dx+(y-a.y)*dy)/square))
			}
			ex, ey := x-a.x-t*dx, y-a.y-t*dy
			full := math.Max(0, math.Min(1, half+0.5-math.Sqrt(ex*ex+ey*ey)))
			at := r.mask.PixOffset(column, row)
			r.mask.Pix[at] = max(r.mask.Pix[at], uint8(full*255+0.5))
		}
	}
	return box
}

// across is the range of x of the part of a piece between two heights.
func across(a, b point, low, high float64) (from, to float64) {
	if a.y > b.y {
		a, b = b, a
	}
	at := func(y float64) float64 {
		if b.y-a.y < 1e-9 {
			return a.x
		}
		return a.x + math.Max(0, math.Min(1, (y-a.y)/(b.y-a.y)))*(b.x-a.x)
	}
	from, to = at(low), at(high)
	if b.y-a.y < 1e-9 {
		to = b.x
	}
	return math.Min(from, to), math.Max(from, to)
}

// strokes are the pieces of a line that are drawn; of a dashed one, the dashes.
func strokes(pts []point, dash [2]float64) [][2]point {
	var out [][2]point
	on, left := true, dash[0]
	for i := 1; i < len(pts); i++ {
		a, b := pts[i-1], pts[i]
		if dash[0] <= 0 {
			out = append(out, [2]point{a, b})
			continue
		}
		length, done := math.Hypot(b.x-a.x, b.y-a.y), 0.0
		at := func(d float64) point { return point{a.x + d/length*(b.x-a.x), a.y + d/length*(b.y-a.y)} }
		for length-done > 1e-9 {
			step := math.Min(left, length-done)
			if on {
				out = append(out, [2]point{at(done), at(done + step)})
			}
			done, left = done+step, left-step
			if left <= 1e-9 {
				on = !on
				left = dash[1]
				if on {
					left = dash[0]
				}
			}
		}
	}
	return out
}

func (r *raster) polygon(pts []point, c rgb) {
	z := vector.NewRasterizer(r.img.Rect.Dx(), r.img.Rect.Dy())
	for i, at := range pts {
		x, y := float32(at.x*density), float32(at.y*density)
		if i == 0 {
			z.MoveTo(x, y)
		} else {
			z.LineTo(x, y)
		}
	}
	z.ClosePath()
	z.Draw(r.img, r.img.Rect, image.NewUniform(color.NRGBA{c.r, c.g, c.b, uint8(math.Round(opacity * 255))}), image.Point{})
}

func (r *raster) text(at point, s string, set setting) {
	s = r.shown(s, set.typeface)
	face := r.faces[set.typeface]
	dot := fixed.Point26_6{X: fixed.Int26_6(at.x*density*64) - fixed.Int26_6(set.anchor*float64(font.MeasureString(face, s))), Y: fixed.Int26_6(at.y * density * 64)}
	(&font.Drawer{Dst: r.img, Src: image.NewUniform(set.color.opaque()), Face: face, Dot: dot}).DrawString(s)
}
