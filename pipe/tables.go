package pipe

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"seatward/quantity"
)

// The materials with dimension tables, by their proper names.
const (
	ductileIron = "ductile iron"
	pvc         = "PVC"
	steel       = "steel"
	hdpe        = "HDPE"
)

// materialAliases are other names of the materials.
var materialAliases = map[string][]string{
	ductileIron: {"DI", "DIP", "ductile", "SG iron", "nodular iron"},
	pvc:         {"UPVC", "PVC-U", "PVC (CIOD)", "polyvinyl chloride", "PVC C900"},
	steel:       {"carbon steel", "CS", "mild steel", "welded steel", "black steel"},
	hdpe:        {"PE", "PE4710", "HDPE PE4710", "polyethylene", "HDPE DIPS"},
}

const (
	inchM = 0.0254
	mmM   = 0.001
	psiPa = 0.45359237 * quantity.StandardGravity / (inchM * inchM)
	barPa = 1e5
)

// table is one standard's table of dimensions.
type table struct {
	file, standard, material string
	unitM                    float64
	meanWall                 float64           // mean wall over the tabulated one
	wallM                    func(row) float64 // the standard's rule, where the file gives no wall
	liningM                  func(dn int) float64
	rating                   func(row) rating
	rows                     []row
}

// row is one pipe of a table.
type row struct {
	class          string
	number         float64 // the number in the class: 350 of PC350
	dn             int
	odM, wallM     float64
	status, source string
}

func noLining(int) float64 { return 0 }

// readTables reads every table; the order is that of the lists that users see.
func readTables() ([]*table, error) {
	tables := []*table{
		{
			file: "ductile-iron-c151.csv", standard: "AWWA C151/A21.51-17", material: ductileIron, unitM: inchM,
			meanWall: 1, liningM: liningC104, rating: ratingC151,
		},
		{
			file: "ductile-iron-iso2531.csv", standard: "ISO 2531 / EN 545", material: ductileIron, unitM: mmM,
			meanWall: 1, wallM: wallISO2531, liningM: liningEN545, rating: ratingEN545,
		},
		{
			file: "pvc-c900.csv", standard: "AWWA C900-16", material: pvc, unitM: inchM, meanWall: 1.03, wallM: wallDR,
			liningM: noLining, rating: ratingC900,
		},
		{
			file: "pvc-c900-1997.csv", standard: "AWWA C900-97", material: pvc, unitM: inchM, meanWall: 1.03,
			liningM: noLining, rating: ratingC900Old,
		},
		{
			file: "pvc-d1785.csv", standard: "ASTM D1785", material: pvc, unitM: inchM, meanWall: 1.06,
			liningM: noLining, rating: ratingD1785,
		},
		{
			file: "steel-b36.10.csv", standard: "ASME B36.10M-2018", material: steel, unitM: inchM, meanWall: 1,
			liningM: noLining, rating: ratingM11,
		},
		{
			file: "hdpe-d3035-ips.csv", standard: "ASTM D3035 (IPS)", material: hdpe, unitM: inchM, meanWall: 1.06,
			wallM: wallDR, liningM: noLining, rating: ratingC906,
		},
		{
			file: "hdpe-c906-dips.csv", standard: "AWWA C906 (DIPS)", material: hdpe, unitM: inchM, meanWall: 1.06,
			wallM: wallDR, liningM: noLining, rating: ratingC906,
		},
	}
	for _, t := range tables {
		records, err := readData(t.file)
		if err != nil {
			return nil, err
		}
		for _, rec := range records {
			r, err := t.readRow(rec)
			if err != nil {
				return nil, err
			}
			t.rows = append(t.rows, r)
		}
	}
	return tables, nil
}

func (t *table) readRow(rec *record) (row, error) {
	r := row{
		class: rec.text("class"), dn: rec.whole("dn"), status: rec.text("status"), source: rec.text("source"),
		odM: rec.number("od") * t.unitM, wallM: rec.number("wall") * t.unitM,
	}
	if text := readClass(r.class).number; text != "" {
		number, err := strconv.ParseFloat(text, 64)
		if err != nil {
			rec.fault("class", r.class, "a class with a number at its end")
		}
		r.number = number
	}
	if r.wallM == 0 && t.wallM != nil {
		r.wallM = t.wallM(r)
	}
	if r.dn <= 0 || r.odM <= 0 || r.wallM <= 0 || 2*r.wallM*t.meanWall >= r.odM {
		rec.fault("wall", rec.fields["wall"], "a size, an outer diameter and a wall that leaves a bore")
	}
	return r, rec.err
}

// classes lists the classes of a table in its order.
func (t *table) classes() []string {
	var names []string
	for _, r := range t.rows {
		names = append(names, r.class)
	}
	return distinct(names)
}

// sizes lists the sizes of a class, smallest first.
func (t *table) sizes(class string) []quantity.Size {
	var sizes []quantity.Size
	for _, r := range t.rows {
		if r.class == class {
			sizes = append(sizes, quantity.Size{DN: r.dn})
		}
	}
	slices.SortFunc(sizes, func(a, b quantity.Size) int { return a.DN - b.DN })
	return sizes
}

func (t *table) dimension(r row) Dimension {
	p := t.rating(r)
	return Dimension{
		Standard: t.standard, Material: t.material, Class: r.class, Size: quantity.Size{DN: r.dn},
		ODM: r.odM, WallM: r.wallM, MeanWallM: r.wallM * t.meanWall,
		RatedPressurePa: p.workingPa, RecurringPressurePa: p.recurringPa, OccasionalPressurePa: p.occasionalPa,
		SurgeRule: p.rule, RatingSource: p.source,
		Status: r.status, Source: fmt.Sprintf("%s, by %s", t.standard, r.source),
		standardLiningM: t.liningM(r.dn),
	}
}

// wallDR is the least wall of plastics: outer diameter over dimension ratio.
func wallDR(r row) float64 { return r.odM / r.number }

// wallISO2531 is the nominal wall of ISO 2531.
//
// Class K (1998): e = K (0.5 + 0.001 DN) mm, at least 6 mm, to 0.1 mm.
// Class C (2009): the least wall for an allowable pressure of C bar with a
// safety factor of 3 on 420 MPa, at least 3 mm, and the casting tolerance of
// 1.3 mm + 0.001 DN, up to 0.1 mm.
func wallISO2531(r row) float64 {
	if strings.HasPrefix(r.class, "K") {
		tenths := (int(r.number)*(500+r.dn) + 50) / 100 // whole numbers: 7.65 must round up
		return max(6, float64(tenths)/10) * mmM
	}
	const safety, strengthMPa = 3.0, 420.0
	least := max(3, r.number*safety*r.odM/mmM/(20*strengthMPa+r.number*safety))
	return math.Ceil((least+castingToleranceMM(r.dn))*10-1e-6) / 10 * mmM
}

func castingToleranceMM(dn int) float64 { return 1.3 + 0.001*float64(dn) }

// liningC104 is the standard thickness of AWWA C104 mortar (from memory):
// 1/16 in to 12 in pipe, 3/32 in to 24 in, 1/8 in above.
func liningC104(dn int) float64 {
	switch {
	case dn <= 300:
		return inchM / 16
	case dn <= 600:
		return inchM * 3 / 32
	default:
		return inchM / 8
	}
}

// liningEN545 is the nominal thickness of EN 545 mortar (from memory).
func liningEN545(dn int) float64 {
	switch {
	case dn <= 300:
		return 4 * mmM
	case dn <= 600:
		return 5 * mmM
	default:
		return 6 * mmM
	}
}
