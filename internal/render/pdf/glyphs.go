package pdf

import (
	"strings"
	"sync"
	"unicode"

	"codeberg.org/go-fonts/dejavu/dejavusanscondensed"
	"golang.org/x/image/font/sfnt"
)

// glyphs knows which characters the font can draw.
type glyphs struct {
	font  *sfnt.Font
	buf   sfnt.Buffer
	known map[rune]bool
}

// parsed reads the font once; what it returns is never changed.
var parsed = sync.OnceValue(func() *sfnt.Font {
	f, err := sfnt.Parse(dejavusanscondensed.TTF)
	if err != nil {
		return nil // the font comes with the program: a test proves that it is read
	}
	return f
})

func loadGlyphs() *glyphs { return &glyphs{font: parsed(), known: map[rune]bool{}} }

// has is true for a character that the font draws. The PDF library holds characters of
// the first plane only.
func (g *glyphs) has(r rune) bool {
	if r < 0x7f && r >= ' ' {
		return true
	}
	if known, found := g.known[r]; found {
		return known
	}
	i, err := g.font.GlyphIndex(&g.buf, r)
	ok := err == nil && i != 0 && r <= 0xFFFF
	g.known[r] = ok
	return ok
}

// missing stands for a character that the font does not have.
const missing = '□'

// clean makes a text one that can be set: no control characters, tabs and breaks as
// spaces, and a box for each character that the font does not have.
func (p *writer) clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\n' || r == '\r' || r == '\u00a0' || r == '\u2009' || r == '\u202f':
			return ' '
		case unicode.IsControl(r), unicode.Is(unicode.Cf, r), unicode.Is(unicode.Mn, r) && !p.fonts.has(r):
			return -1
		case !p.fonts.has(r):
			return missing
		}
		return r
	}, strings.ToValidUTF8(s, string(missing)))
}
