package pipe

import (
	"math"
	"strconv"
	"strings"

	"seatward/diag"
)

// className is a pipe class as a person wrote it, taken apart: "Sch. 40" is the
// kind SCH and the number 40.
type className struct {
	kind   string // "" when the text says only "class 53" or "40"
	number string // "" for names without one: STD, XS
}

// classKinds are the ways of writing the kind of a class. "class" alone says
// nothing: the number decides. SDR is left out on purpose: it is the word of
// standards with other outer diameters.
var classKinds = map[string]string{
	"PC": "PC", "PRESSURECLASS": "PC", "CL": "CL", "THICKNESSCLASS": "CL", "SPECIALTHICKNESSCLASS": "CL", "TC": "CL",
	"DR": "DR", "SCH": "SCH", "SCHEDULE": "SCH", "K": "K", "KCLASS": "K", "C": "C",
	"STD": "STD", "STANDARD": "STD", "STANDARDWALL": "STD", "XS": "XS", "XH": "XS",
	"EXTRASTRONG": "XS", "EXTRAHEAVY": "XS", "CLASS": "", "": "",
}

// standardNames may stand before a class and say nothing more.
var standardNames = []string{
	"ANSI", "AWWA", "ASME", "ASTM", "ISO 2531", "EN 545", "C150", "C151", "C900", "C905", "C906", "C115", "B36.10M",
	"B36.10", "D1785", "D3035", "IPS", "PE4710", "DIPS", "CIOD",
}

// closeUp takes out what may stand between the parts of a class.
var closeUp = strings.NewReplacer(" ", "", "-", "", "_", "", "/", "")

// readClass takes a written class apart.
func readClass(text string) className {
	t := " " + strings.ToUpper(strings.Join(strings.Fields(text), " ")) + " "
	for _, name := range standardNames {
		t = strings.Replace(t, " "+name+" ", " ", 1)
	}
	t = closeUp.Replace(t)
	cut := strings.IndexAny(t, "0123456789")
	if cut < 0 {
		cut = len(t)
	}
	kind, number := strings.TrimSuffix(t[:cut], "."), strings.TrimSuffix(t[cut:], ".0")
	if bare := strings.TrimPrefix(kind, "CLASS"); bare != "" {
		kind = bare // "class C40"
	}
	if proper, known := classKinds[kind]; known {
		kind = proper
	}
	return className{kind: kind, number: number}
}

// matches reports whether the writer can have meant the proper class name.
func (c className) matches(proper string) bool {
	p := readClass(proper)
	if c.number == "" {
		return p.number == "" && c.kind == p.kind && c.kind != ""
	}
	return c.number == p.number && (c.kind == p.kind || c.kind == "")
}

// nearest is the known class with the same kind and the next number, or else the
// one with the most similar name.
func (c className) nearest(known []string) string {
	near, off := "", math.Inf(1)
	if want, err := strconv.ParseFloat(c.number, 64); err == nil {
		for _, name := range known {
			k := readClass(name)
			if number, err := strconv.ParseFloat(k.number, 64); err == nil && k.kind == c.kind &&
				math.Abs(number-want) < off {
				near, off = name, math.Abs(number-want)
			}
		}
	}
	if near == "" {
		near = diag.DidYouMean(c.kind+c.number, known)
	}
	return near
}
