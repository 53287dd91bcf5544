package pdf

import (
	"bytes"
	"strings"

	"codeberg.org/go-fonts/dejavu/dejavusanscondensed"
	"codeberg.org/go-fonts/dejavu/dejavusanscondensedbold"
	"codeberg.org/go-fonts/dejavu/dejavusansmono"
)

// The fonts, by the names under which they are set; "B" behind the name is the bold one.
const (
	sans = "sans"
	mono = "mono"
)

// typeface is a font of the program.
type typeface struct {
	name string // as the file names it: a tag of six letters, since only a part of the font is there
	data []byte
}

var faces = map[string]typeface{
	sans:       {"SEATWA+DejaVuSansCondensed", dejavusanscondensed.TTF},
	sans + "B": {"SEATWB+DejaVuSansCondensed-Bold", dejavusanscondensedbold.TTF},
	mono:       {"SEATWC+DejaVuSansMono", dejavusansmono.TTF},
}

// prefix is what the library puts before the names of its fonts.
const prefix = "utf8"

// family is the name under which the library knows the font. The library writes it into the
// file (fpdf 0.12.0, putfonts), in small letters and with its own prefix, in place of the
// font's name; so it is as long as the name that it makes room for.
func (f typeface) family() string {
	safe := strings.NewReplacer("+", "x", "-", "x").Replace(strings.ToLower(f.name))
	return safe[len(prefix):]
}

// nameFonts puts the names of the fonts into a finished file, in the same number of bytes, so
// that every cross reference stays true.
func nameFonts(file []byte) []byte {
	for _, f := range faces {
		file = bytes.ReplaceAll(file, []byte("/"+prefix+f.family()), []byte("/"+f.name))
	}
	return file
}
