// Package dimension holds what standards fix of flanges and face-to-face lengths, each
// number with its source and how sure it is, and finds which of them measured ones fit.
package dimension

import (
	"bytes"
	_ "embed"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"

	"seatward/basis"
	"seatward/quantity"
)

//go:embed flanges.csv
var flangeData []byte

//go:embed lengths.csv
var lengthData []byte

// Record is where a row comes from.
type Record struct{ Standard, Source, Status, Note string }

// String cites the row and says how sure it is.
func (r Record) String() string {
	text := r.Source + " (" + r.Status + ")"
	if r.Note != "" {
		text += "; " + r.Note
	}
	return text
}

// Flange is a flange of one standard and size.
type Flange struct {
	Record
	Size         quantity.Size
	OutsideM     float64
	BoltCircleM  float64
	Bolts        int
	Bolt         string  // as the standard names it: 3/4 in, M20
	BoltM, HoleM float64 // diameters
	ThicknessM   float64 // 0 where not given
}

// Length is a face-to-face length of one standard and size; a range where the source
// gives one.
type Length struct {
	Record
	Size      quantity.Size
	Low, High float64 // m
}

// Middle is the length, or the middle of its range, m.
func (l Length) Middle() float64 { return (l.Low + l.High) / 2 }

var (
	flanges = readFlanges(flangeData)
	lengths = readLengths(lengthData)
)

// Lengths lists every length; a size may stand more than once, from several sources.
func Lengths() []Length { return lengths }

// FlangeOf finds the flange of a standard in a size. Names are those of the table, such as
// ASME B16.1 Class 125; a longer text that holds one will do, and PN10/16 is PN16 up to
// DN150, where their drilling is the same.
func FlangeOf(standard string, size quantity.Size) (Flange, bool) {
	if holds(standard, "EN 1092-2 PN10/16") {
		standard = "EN 1092-2 PN16"
		if size.DN > 150 {
			return Flange{}, false
		}
	}
	for _, f := range flanges {
		if f.Size == size && holds(standard, f.Standard) {
			return f, true
		}
	}
	return Flange{}, false
}

// holds is true when the text holds the name, not as the beginning of a longer number.
func holds(text, name string) bool {
	_, after, found := strings.Cut(strings.ToLower(text), strings.ToLower(name))
	return found && (after == "" || after[0] < '0' || after[0] > '9')
}

// LengthsOf lists what the sources say of a standard's length in a size, the surest first.
func LengthsOf(standard string, size quantity.Size) []Length {
	var out []Length
	for _, l := range lengths {
		if l.Standard == standard && l.Size == size {
			out = append(out, l)
		}
	}
	return out
}

// Standards of face-to-face lengths have tolerances: ASME B16.10 and API 594 ±1.5 mm to
// NPS 10 and ±3 mm beyond; EN 558:2008 ±2 mm to DN 250, ±3 mm to DN 500, ±4 mm beyond
// (all from memory).
func lengthToleranceM(standard string, dn int) float64 {
	switch {
	case strings.HasPrefix(standard, "EN") && dn <= 250:
		return 0.002
	case strings.HasPrefix(standard, "EN") && dn > 500:
		return 0.004
	case !strings.HasPrefix(standard, "EN") && dn <= 250:
		return 0.0015
	}
	return 0.003
}

// Sure is true where a length is sure enough to call a difference an error: ASME B16.10
// swing lengths to NPS 12, which the Class 150 column seen bears out, and EN 558 series 48.
func Sure(standard string, size quantity.Size) bool {
	return strings.HasPrefix(standard, "ASME B16.10") && size.DN <= 300 || standard == "EN 558 series 48"
}

// MakersDiffer marks a length that editions or makers do not agree on.
const MakersDiffer = "makers differ"

// LengthOf is the face-to-face length that the standard fixes for the size, with its
// tolerance as the range; false where it fixes none, or makers differ.
func LengthOf(standard string, size quantity.Size) (basis.Value, bool) {
	all := LengthsOf(standard, size)
	if len(all) == 0 || all[0].Status == MakersDiffer {
		return basis.Value{}, false
	}
	l, tolerance := all[0], lengthToleranceM(standard, size.DN)
	return basis.NewCatalog("face-to-face length by "+standard, quantity.Diameter, l.Middle(),
		l.Record.String()).WithRange(l.Low-tolerance, l.High+tolerance), true
}

// Disagreement words what sources of one length say, where they are further apart than the
// tolerance; "" where they agree.
func Disagreement(all []Length) string {
	var said []string
	low, high := 1e9, 0.0
	for _, l := range all {
		low, high = min(low, l.Low), max(high, l.High)
		said = append(said, fmt.Sprintf("%.0f mm by %s", 1000*l.Middle(), l.Record))
	}
	if len(all) < 2 || high-low <= 2*lengthToleranceM(all[0].Standard, all[0].Size.DN) {
		return ""
	}
	return strings.Join(said, "; ")
}

// table reads the rows of an embedded table by its heads. The tables are part of the
// program: a fault in them is a fault of the program, held by a test.
func table(data []byte) []map[string]string {
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil {
		panic("dimension: " + err.Error())
	}
	var out []map[string]string
	for _, row := range rows[1:] {
		m := map[string]string{}
		for i, head := range rows[0] {
			m[head] = row[i]
		}
		out = append(out, m)
	}
	return out
}

func record(m map[string]string) Record {
	return Record{m["standard"], m["source"], m["status"], m["note"]}
}

func sizeOf(dn string) quantity.Size {
	s, err := quantity.ParseSize("DN" + dn)
	if err != nil {
		panic("dimension: " + err.Error())
	}
	return s
}

// meters reads a number of the table's unit: 9.5, 1 1/8, or a range 32.00-36.00.
func meters(text, unit string) (low, high float64) {
	if text == "" {
		return 0, 0
	}
	if a, b, isRange := strings.Cut(text, "-"); isRange {
		low, _ = meters(a, unit)
		_, high = meters(b, unit)
		return low, high
	}
	sum := 0.0
	for _, part := range strings.Fields(text) {
		above, below, isFraction := strings.Cut(part, "/")
		x, err := strconv.ParseFloat(above, 64)
		if isFraction && err == nil {
			var y float64
			y, err = strconv.ParseFloat(below, 64)
			x /= y
		}
		if err != nil {
			panic("dimension: " + err.Error())
		}
		sum += x
	}
	scale := map[string]float64{"in": 0.0254, "mm": 0.001}[unit]
	return sum * scale, sum * scale
}

func readFlanges(data []byte) []Flange {
	var out []Flange
	for _, m := range table(data) {
		f := Flange{Record: record(m), Size: sizeOf(m["dn"]), Bolt: m["bolt"]}
		f.OutsideM, _ = meters(m["od"], m["unit"])
		f.BoltCircleM, _ = meters(m["bolt_circle"], m["unit"])
		f.HoleM, _ = meters(m["hole"], m["unit"])
		f.ThicknessM, _ = meters(m["thickness"], m["unit"])
		f.Bolts, _ = strconv.Atoi(m["bolts"])
		if metric, isMetric := strings.CutPrefix(f.Bolt, "M"); isMetric {
			f.BoltM, _ = meters(metric, "mm")
		} else {
			f.BoltM, _ = meters(f.Bolt, "in")
			f.Bolt += " in"
		}
		out = append(out, f)
	}
	return out
}

func readLengths(data []byte) []Length {
	var out []Length
	for _, m := range table(data) {
		l := Length{Record: record(m), Size: sizeOf(m["dn"])}
		l.Low, l.High = meters(m["length"], m["unit"])
		out = append(out, l)
	}
	return out
}
