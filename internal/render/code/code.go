// Package code draws a text as a square code that cameras read.
package code

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"strings"

	"rsc.io/qr"
)

// quiet is the white margin that readers need, in modules (ISO/IEC 18004).
const quiet = 4

// Square is a code: dark and light modules, Size of them a side without the margin.
type Square struct {
	Size int
	code *qr.Code
}

// New draws the text with medium error correction. It fails on a text that no square
// code can hold: somewhat over 2,300 bytes.
func New(text string) (*Square, error) {
	c, err := qr.Encode(text, qr.M)
	if err != nil {
		return nil, fmt.Errorf("a text of %d bytes does not go into a square code: shorten it to 2,300", len(text))
	}
	return &Square{Size: c.Size, code: c}, nil
}

// Dark tells whether the module in column x and row y is dark.
func (s *Square) Dark(x, y int) bool { return s.code.Black(x, y) }

// PNG draws the code with its margin, a module px pixels wide.
func (s *Square) PNG(px int) ([]byte, error) {
	side := (s.Size + 2*quiet) * px
	img := image.NewPaletted(image.Rect(0, 0, side, side), color.Palette{color.White, color.Black})
	for y := range side {
		for x := range side {
			if s.Dark(x/px-quiet, y/px-quiet) {
				img.SetColorIndex(x, y, 1)
			}
		}
	}
	var out bytes.Buffer
	err := png.Encode(&out, img)
	return out.Bytes(), err
}

// Path is the dark modules as an SVG path, a module one unit wide, and the side of the
// picture with its margin.
func (s *Square) Path() (path string, side int) {
	var b strings.Builder
	for y := range s.Size {
		for x := range s.Size {
			if s.Dark(x, y) {
				fmt.Fprintf(&b, "M%d %dh1v1h-1z", x+quiet, y+quiet)
			}
		}
	}
	return b.String(), s.Size + 2*quiet
}
