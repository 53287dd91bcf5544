package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Size is a nominal pipe or valve size. It is a name, not a measure: the bore of
// a pipe of a size comes from its standard and class. DN is the metric name; the
// inch name follows from the pairs of ISO 6708 and ASME B36.10.
type Size struct {
	DN int // 0 means unknown
}

// sizePairs are the nominal sizes in use, DN and NPS (ISO 6708:1995; ASME B36.10M).
var sizePairs = []struct {
	dn  int
	nps float64
}{
	{15, 0.5},
	{20, 0.75},
	{25, 1},
	{32, 1.25},
	{40, 1.5},
	{50, 2},
	{65, 2.5},
	{80, 3},
	{90, 3.5},
	{100, 4},
	{125, 5},
	{150, 6},
	{200, 8},
	{250, 10},
	{300, 12},
	{350, 14},
	{400, 16},
	{450, 18},
	{500, 20},
	{550, 22},
	{600, 24},
	{650, 26},
	{700, 28},
	{750, 30},
	{800, 32},
	{850, 34},
	{900, 36},
	{950, 38},
	{1000, 40},
	{1050, 42},
	{1100, 44},
	{1150, 46},
	{1200, 48},
	{1400, 54},
	{1500, 60},
	{1600, 64},
}

// Sizes lists every nominal size that the program knows, smallest first.
func Sizes() []Size {
	out := make([]Size, len(sizePairs))
	for i, p := range sizePairs {
		out[i] = Size{p.dn}
	}
	return out
}

// SizeNPS gives the size with the inch name, and false where there is none.
func SizeNPS(inches float64) (Size, bool) {
	for _, p := range sizePairs {
		if math.Abs(p.nps-inches) < 1e-6 {
			return Size{p.dn}, true
		}
	}
	return Size{}, false
}

// NPS is the inch name, 0 where the size has none.
func (s Size) NPS() float64 {
	for _, p := range sizePairs {
		if p.dn == s.DN {
			return p.nps
		}
	}
	return 0
}

// NominalM is the nominal size taken as a length: 25.4 mm for each inch of the
// inch name. Use it only where no bore is known, and say so.
func (s Size) NominalM() float64 { return s.NPS() * inch }

// Format prints the size as the system names it: "6 in" or "DN150".
func (s Size) Format(sys System) string {
	if sys == US {
		return strconv.FormatFloat(s.NPS(), 'f', -1, 64) + " in"
	}
	return fmt.Sprintf("DN%d", s.DN)
}

// String prints both names.
func (s Size) String() string { return s.Format(US) + " (" + s.Format(SI) + ")" }

// ParseSize reads a nominal size: "6 in", "DN150", "DN 150", "NPS 6", "1 1/2 in"
// or "150 mm". The error is a *ParseError of kind Diameter.
func ParseSize(text string) (Size, error) { return Reading{}.ParseSize(text) }

// ParseSize reads a nominal size; a bare number is an inch name or a DN, by the system.
func (g Reading) ParseSize(text string) (Size, error) {
	t := strings.TrimSpace(strings.TrimLeft(plain(text), "Øø"))
	upper := strings.ToUpper(t)
	if rest, ok := strings.CutPrefix(upper, "DN"); ok {
		dn, err := strconv.Atoi(strings.TrimSpace(rest))
		return sizeOfDN(text, dn, err)
	}
	if rest, ok := strings.CutPrefix(upper, "NPS"); ok {
		t = strings.TrimSpace(rest) + " in"
	}
	q, err := g.Parse(Diameter, t)
	if err != nil {
		return Size{}, err
	}
	if s, ok := SizeNPS(q.SI / inch); ok && q.Unit != "mm" {
		return s, nil
	}
	return sizeOfDN(text, int(math.Round(q.SI*1000)), nil)
}

func sizeOfDN(text string, dn int, err error) (Size, error) {
	if err == nil {
		for _, p := range sizePairs {
			if p.dn == dn {
				return Size{dn}, nil
			}
		}
	}
	return Size{}, fail(Diameter, text, "not a nominal size", "a nominal size such as 6 in or DN150",
		"use the size on the name-plate or flange: "+nearSizes(dn))
}

func nearSizes(dn int) string {
	best := 0
	for i, p := range sizePairs {
		if abs(p.dn-dn) < abs(sizePairs[best].dn-dn) {
			best = i
		}
	}
	return "nearest is " + Size{sizePairs[best].dn}.String()
}

func abs(i int) int { return max(i, -i) }
