package catalog

import (
	"strings"

	"seatward/basis"
	"seatward/quantity"
)

const (
	psi = 6894.757293168361 // Pa
	bar = 1e5
)

// endRatings are the greatest pressures at room temperature that the standards of ends
// allow. A designation of EN 1092 is its pressure in bar; the rest is from memory. The
// first row counts whose name is part of the ends' standard and that reaches the size.
var endRatings = []struct {
	name   string
	upTo   int // DN
	pa     float64
	source string
}{
	{"ASME B16.1 Class 125", 300, 200 * psi, "asme-b16.1 Class 125, NPS 1 to 12 (from memory)"},
	{"ASME B16.1 Class 125", 1200, 150 * psi, "asme-b16.1 Class 125, NPS 14 to 48 (from memory)"},
	{"ASME B16.42 Class 150", 600, 250 * psi, "asme-b16.42 Class 150 (from memory)"},
	{"ASME B16.5 Class 150", 600, 285 * psi, "asme-b16.5 Class 150, carbon steel (from memory)"},
	{"EN 1092-2 PN10/16", 150, 16 * bar, "en-1092-2 PN16, of the same drilling as PN10 up to DN 150"},
	{"EN 1092-2 PN10", 2000, 10 * bar, "en-1092-2 PN10"},
	{"EN 1092-2 PN16", 2000, 16 * bar, "en-1092-2 PN16"},
}

// StandardRating is the greatest pressure at room temperature that the standard of ends
// allows in the size; false where Seatward does not know it.
func StandardRating(standard string, size quantity.Size) (basis.Value, bool) {
	for _, r := range endRatings {
		if size.DN <= r.upTo && names(standard, r.name) {
			return basis.NewCatalog("greatest pressure by "+r.name, quantity.Pressure, r.pa, r.source), true
		}
	}
	return basis.Value{}, false
}

// names is true when the text holds the name, not as the beginning of a longer number.
func names(text, name string) bool {
	_, after, found := strings.Cut(strings.ToLower(text), strings.ToLower(name))
	return found && (after == "" || after[0] < '0' || after[0] > '9')
}
