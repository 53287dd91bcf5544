package catalog

import (
	"seatward/basis"
	"seatward/quantity"
)

// lengthTable is the face-to-face lengths of one standard.
type lengthTable struct {
	source    string  // bibliography key and place
	unitM     float64 // of the lengths
	surest    int     // DN up to which the numbers are sure enough to call a difference an error
	tolerance []struct {
		upTo int // DN
		mm   float64
	}
	length map[int]float64 // by DN
}

type upTo = []struct {
	upTo int
	mm   float64
}

// B16.10 gives ±1.5 mm to NPS 10 and ±3 mm beyond, EN 558:2008 ±2 mm to DN 250, ±3 mm
// to DN 500 and ±4 mm to DN 800 (both from memory).
var (
	b1610Tolerance = upTo{{250, 1.5}, {1 << 30, 3}}
	en558Tolerance = upTo{{250, 2}, {500, 3}, {1 << 30, 4}}
)

const inchM = 0.0254

// lengthTables are the standards that a family may claim. Sizes for which editions or
// transcriptions disagree are left out: Class 125 beyond NPS 12, which not every edition
// has, and series 10 beyond DN 300. NPS 4, 8 and 12 of B16.10 are from memory and agree
// with series 10, which has the same lengths in mm. The wafer lengths of API 594 are
// from memory.
var lengthTables = map[string]lengthTable{
	"ASME B16.10 Class 125": {
		source: "asme-b16.10 Class 125 swing check (from memory)", unitM: inchM, surest: 300, tolerance: b1610Tolerance,
		length: map[int]float64{50: 8, 65: 8.5, 80: 9.5, 100: 11.5, 125: 13, 150: 14, 200: 19.5, 250: 24.5, 300: 27.5},
	},
	"ASME B16.10 Class 150": {
		source: "asme-b16.10 Class 150 swing check", unitM: inchM, surest: 300, tolerance: b1610Tolerance,
		length: map[int]float64{
			40: 6.5, 50: 8, 65: 8.5, 80: 9.5, 100: 11.5, 125: 13, 150: 14, 200: 19.5, 250: 24.5, 300: 27.5,
			350: 31, 400: 34, 450: 38.5, 600: 51,
		},
	},
	"EN 558 series 48": {
		source: "en-558 series 48", unitM: 1e-3, surest: 600, tolerance: en558Tolerance,
		length: map[int]float64{
			40: 180, 50: 200, 65: 240, 80: 260, 100: 300, 125: 350, 150: 400, 200: 500, 250: 600, 300: 700,
			350: 800, 400: 900, 450: 1000, 500: 1100, 600: 1300,
		},
	},
	"EN 558 series 10": {
		source: "en-558 series 10 (from memory)", unitM: 1e-3, tolerance: en558Tolerance,
		length: map[int]float64{50: 203, 65: 216, 80: 241, 100: 292, 125: 330, 150: 356, 200: 495, 250: 622, 300: 698},
	},
	"API 594 Class 125": {
		source: "api-594 Class 125 (from memory)", unitM: 1e-3, tolerance: b1610Tolerance,
		length: map[int]float64{
			50: 60, 65: 67, 80: 73, 100: 73, 125: 86, 150: 98, 200: 127, 250: 146, 300: 181, 350: 184, 400: 191,
			450: 203, 500: 219, 600: 222, 750: 305, 900: 368,
		},
	},
}

// StandardLength is the face-to-face length that the standard fixes for the size, with
// its tolerance as the range; false where it fixes none. Standards are named as
// face_to_face_standard names them in catalog files.
func StandardLength(standard string, size quantity.Size) (basis.Value, bool) {
	t := lengthTables[standard]
	length, fixed := t.length[size.DN]
	if !fixed {
		return basis.Value{}, false
	}
	v := basis.NewCatalog("face-to-face length by "+standard, quantity.Diameter, length*t.unitM, t.source)
	for _, step := range t.tolerance {
		if size.DN <= step.upTo {
			return v.WithRange(v.SI-step.mm/1000, v.SI+step.mm/1000), true
		}
	}
	return v, true
}
