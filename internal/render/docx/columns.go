package docx

import (
	"math"
	"strings"

	"seatward/internal/document"
	"seatward/internal/render/wording"
)

// advances are the widths of the letters from space to tilde in the type of the paper
// (the metrics of Arial, which its free twins share), in thousandths of the size.
var advances = [...]float64{
	278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278,
	556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556,
	1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778,
	667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556,
	333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556,
	556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
}

const (
	usualAdvance = 600  // of letters that the list does not have
	wideAdvance  = 1000 // of ideographs and pictures
	firstWide    = 0x2E80
	substitute   = 1.25 // how much wider the type is that a system takes which has none of these
	bolder       = 1.1  // how much wider bold letters are at most
)

// ems is the width of a text in sizes of its type. It is for sharing out columns, so
// that it takes every text as if it were bold.
func ems(s string) float64 {
	sum := 0.0
	for _, r := range s {
		switch at := int(r) - ' '; {
		case at >= 0 && at < len(advances):
			sum += advances[at]
		case r >= firstWide:
			sum += wideAdvance
		default:
			sum += usualAdvance
		}
	}
	return sum * bolder / 1000
}

// need is what a column asks for, in sizes of its type.
type need struct{ line, word float64 }

func (n *need) take(text string) {
	for line := range strings.SplitSeq(wording.Clean(text), "\n") {
		n.line = math.Max(n.line, ems(line))
		for word := range strings.FieldsFuncSeq(line, func(r rune) bool { return r == ' ' || r == '\t' }) {
			for part := range strings.SplitAfterSeq(word, "-") {
				n.word = math.Max(n.word, substitute*ems(part))
			}
		}
	}
}

func needs(t *document.Table) []need {
	all := make([]need, len(t.Columns))
	for i, c := range t.Columns {
		if !t.Form {
			all[i].take(c.Title)
			all[i].take(c.Unit)
		}
		for _, r := range t.Rows {
			if !r.Group && i < len(r.Cells) {
				all[i].take(shown(r.Cells[i]))
			}
		}
	}
	return all
}

// setting is how the type of a table is set.
type setting struct {
	text, head, source string // styles
	points             float64
}

// settings are the usual type of tables and a smaller one for those with many columns.
var settings = [...]setting{
	{text: "TableText", head: "TableHead", source: "TableSource", points: 9},
	{text: "DenseText", head: "DenseHead", source: "DenseText", points: 7.5},
	{text: "DensestText", head: "DensestHead", source: "DensestText", points: 6.5},
}

// layout chooses the type of a table and shares the width of the page among its columns.
// The smaller type is for tables whose words would be broken by the usual one.
func layout(t *document.Table, total int, large bool) (setting, []int) {
	all, room := needs(t), float64(total)
	by := 20.0 // twips of a point
	if large {
		by *= largeBy
	}
	set := settings[0]
	for _, s := range settings {
		set = s
		sum := 0.0
		for _, n := range all {
			sum += math.Min(n.word*s.points*by+2*cellMargin, room/3)
		}
		if sum <= room {
			break
		}
	}
	least, want := make([]float64, len(all)), make([]float64, len(all))
	for i, n := range all {
		least[i] = math.Min(n.word*set.points*by+2*cellMargin, room/3)
		want[i] = math.Max(least[i], math.Min(n.line*set.points*by+2*cellMargin, room*0.6))
	}
	shareOut(t.Columns, least, want, room)
	return set, edgesOf(fitInto(least, want, room))
}

// shareOut gives columns with a share what the others leave, two fifths of the room at
// least.
func shareOut(columns []document.Column, least, want []float64, room float64) {
	shares, open := 0.0, 0.0
	for i, c := range columns {
		shares += c.Width
		if c.Width == 0 {
			open += want[i]
		}
	}
	for i, c := range columns {
		if c.Width > 0 {
			want[i] = math.Max(least[i], math.Max(room*0.4, room-open)*c.Width/shares)
		}
	}
}

// fitInto makes widths of what columns want: more where there is room, less down to
// their least where there is not, and less than that where it must be.
func fitInto(least, want []float64, room float64) []float64 {
	leastSum, wantSum := 0.0, 0.0
	for i := range want {
		leastSum, wantSum = leastSum+least[i], wantSum+want[i]
	}
	widths := make([]float64, len(want))
	for i := range want {
		switch {
		case wantSum <= room:
			widths[i] = want[i] * room / wantSum
		case leastSum < room:
			widths[i] = least[i] + (want[i]-least[i])*(room-leastSum)/(wantSum-leastSum)
		default:
			widths[i] = least[i] * room / leastSum
		}
	}
	return widths
}

// edgesOf rounds widths so that their sum stays what it is.
func edgesOf(widths []float64) []int {
	out, at, before := make([]int, len(widths)), 0.0, 0
	for i, w := range widths {
		at += w
		edge := int(math.Round(at))
		out[i], before = max(1, edge-before), edge
	}
	return out
}
