package pdf

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"
	"unicode"

	"codeberg.org/go-fonts/dejavu/dejavusanscondensed"
	"codeberg.org/go-fonts/dejavu/dejavusanscondensedbold"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/text/unicode/norm"

	"seatward/internal/document"
	"seatward/internal/render/wording"
)

// glyphs knows which characters the font can draw.
type glyphs struct {
	fonts   []*sfnt.Font
	buf     sfnt.Buffer
	known   map[rune]bool
	without map[rune]bool // that were to be drawn and cannot be
}

// parsed reads the fonts once; what it returns is never changed.
var parsed = sync.OnceValue(func() []*sfnt.Font {
	var out []*sfnt.Font
	for _, data := range [][]byte{dejavusanscondensed.TTF, dejavusanscondensedbold.TTF} {
		if f, err := sfnt.Parse(data); err == nil { // the fonts come with the program: a test proves that they are read
			out = append(out, f)
		}
	}
	return out
})

func loadGlyphs() *glyphs {
	return &glyphs{fonts: parsed(), known: map[rune]bool{}, without: map[rune]bool{}}
}

// unset are scripts whose letters join or run from right to left in ways that are not worked
// out here: letter after letter would print another word.
var unset = []*unicode.RangeTable{unicode.Syriac, unicode.Thaana, unicode.Nko}

// undrawn are the characters that were to be drawn and cannot be, in order.
func (g *glyphs) undrawn() []rune { return slices.Sorted(maps.Keys(g.without)) }

// has is true for a character that the fonts draw. The PDF library holds characters of
// the first plane only.
func (g *glyphs) has(r rune) bool {
	if r < 0x7f && r >= ' ' {
		return true
	}
	if known, found := g.known[r]; found {
		return known
	}
	ok := r <= 0xFFFF && !unicode.In(r, unset...)
	for _, f := range g.fonts {
		i, err := f.GlyphIndex(&g.buf, r)
		ok = ok && err == nil && i != 0
	}
	g.known[r] = ok
	return ok
}

// box stands for a character that the font does not have.
const box = '□'

// clean makes a text one that can be set: no control characters, tabs and breaks as
// spaces, and a box for each character that the fonts do not have, which is noted.
func (p *writer) clean(s string) string {
	return shaped(strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\n' || r == '\r' || r == '\u00a0' || r == '\u2009' || r == '\u202f':
			return ' '
		case unicode.IsControl(r), unicode.Is(unicode.Cf, r), unicode.Is(unicode.Variation_Selector, r):
			return -1
		case !p.fonts.has(r):
			p.fonts.without[r] = true
			if unicode.Is(unicode.Mn, r) { // a mark on the letter before
				return -1
			}
			return box
		}
		return r
	}, norm.NFC.String(strings.ToValidUTF8(s, string(box)))))
}

// tellUndrawn names at the end what stands as a box, so that the paper itself says so.
func (p *writer) tellUndrawn() {
	for _, s := range []string{p.d.Company, p.d.Program, wording.Foot(p.d)} { // heads and feet come later
		p.clean(s)
	}
	missing := p.fonts.undrawn()
	if len(missing) == 0 || p.d.Words.Undrawn == "" {
		return
	}
	const most = 20
	var codes []string
	for _, r := range missing[:min(len(missing), most)] {
		codes = append(codes, fmt.Sprintf("%U", r))
	}
	if len(missing) > most {
		codes = append(codes, "…")
	}
	p.paragraph(document.Paragraph{Text: document.Fill(p.d.Words.Undrawn, "box", string(box), "characters",
		strings.Join(codes, ", ")), Tone: document.Warning}, len(p.d.Blocks))
}
