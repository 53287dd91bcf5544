package figure

import (
	"math"
	"strings"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gomedium"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
)

// density is how many pixels of the image stand for one px of the layout.
const density = 2

// slack is added to measured widths: a reader's font may run wider than ours.
const slack = 1.06

// typeset measures text, and holds the faces that the image is set in.
type typeset struct {
	fonts  [2]*opentype.Font // regular, medium
	faces  map[typeface]font.Face
	buffer sfnt.Buffer
}

func newType() (*typeset, error) {
	t := &typeset{faces: map[typeface]font.Face{}}
	for i, data := range [][]byte{goregular.TTF, gomedium.TTF} {
		parsed, err := opentype.Parse(data)
		if err != nil {
			return nil, err
		}
		t.fonts[i] = parsed
	}
	for _, f := range []typeface{titleFont, panelFont, labelFont, nameFont, tickFont, noteFont} {
		face, err := opentype.NewFace(t.font(f), &opentype.FaceOptions{Size: f.size, DPI: 72 * density, Hinting: font.HintingNone})
		if err != nil {
			return nil, err
		}
		t.faces[f] = face
	}
	return t, nil
}

func (t *typeset) font(f typeface) *opentype.Font {
	if f.medium {
		return t.fonts[1]
	}
	return t.fonts[0]
}

// width is the room that a text takes, px.
func (t *typeset) width(s string, f typeface) float64 {
	return float64(font.MeasureString(t.faces[f], t.shown(s, f))) / 64 / density * slack
}

// shown puts in for letters that the font lacks what it has.
func (t *typeset) shown(s string, f typeface) string {
	return strings.Map(func(r rune) rune {
		if i, err := t.font(f).GlyphIndex(&t.buffer, r); err == nil && i != 0 {
			return r
		}
		switch {
		case r == '⌀':
			return 'Ø'
		case unicode.IsSpace(r):
			return ' '
		}
		return '?'
	}, s)
}

// tidy makes one line of a text, without control characters.
func tidy(s string) string {
	s = strings.Join(strings.Fields(strings.ToValidUTF8(s, "?")), " ")
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == '\uFFFE' || r == '\uFFFF' {
			return -1
		}
		return r
	}, s)
}

// wrap breaks a text at spaces into at most so many lines of the width; what is left
// over is cut with an ellipsis. An empty text has no lines.
func (t *typeset) wrap(s string, f typeface, width float64, most int) []string {
	var lines []string
	words := strings.Fields(s)
	for len(words) > 0 {
		n := 1
		for n < len(words) && t.width(strings.Join(words[:n+1], " "), f) <= width {
			n++
		}
		if len(lines)+1 == most {
			n = len(words)
		}
		lines = append(lines, t.cut(strings.Join(words[:n], " "), f, width))
		words = words[n:]
	}
	return lines
}

// cut shortens a text to the width, with an ellipsis.
func (t *typeset) cut(s string, f typeface, width float64) string {
	if t.width(s, f) <= width {
		return s
	}
	runes := []rune(s)
	low, high := 0, len(runes) // low fits, high does not
	for high-low > 1 {
		if n := (low + high) / 2; t.width(string(runes[:n])+"…", f) <= width {
			low = n
		} else {
			high = n
		}
	}
	return strings.TrimRight(string(runes[:low]), " ") + "…"
}

// widest is the width of the widest text.
func (t *typeset) widest(all []string, f typeface) float64 {
	most := 0.0
	for _, s := range all {
		most = math.Max(most, t.width(s, f))
	}
	return most
}
