package docx

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seatward/internal/document"
)

// Widths go over the whole page, and no word is broken that has room.
func TestAnyLayout(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := &document.Table{}
		for range rapid.IntRange(1, 12).Draw(t, "columns") {
			table.Columns = append(table.Columns, document.Column{
				Title: strings.Repeat("w", rapid.IntRange(0, 30).Draw(t, "word")) + strings.Repeat(" ab",
					rapid.IntRange(0, 60).Draw(t, "words")),
				Width: rapid.SampledFrom([]float64{0, 0, 0.2, 3}).Draw(t, "width"),
			})
		}
		const room = 10000
		set, widths := layout(table, room, rapid.Bool().Draw(t, "large"))
		sum, least, asked := 0, 0.0, needs(table)
		for i, w := range widths {
			if w < 1 {
				t.Fatalf("column %d is %d wide", i, w)
			}
			sum += w
			least += asked[i].word*set.points*20*largeBy + 2*cellMargin
		}
		if sum != room {
			t.Fatalf("the columns are %d wide, the page %d", sum, room)
		}
		for i, w := range widths {
			if need := math.Min(asked[i].word*set.points*20+2*cellMargin, room/3); least < room && float64(w) < need-1 {
				t.Fatalf("column %d is %d wide and its word %.0f", i, w, need)
			}
		}
	})
}

// Tables whose words do not go in get smaller type.
func TestDense(t *testing.T) {
	for _, tt := range []struct {
		columns int
		points  float64
	}{{4, 9}, {9, 7.5}, {16, 6.5}} {
		table := &document.Table{}
		for range tt.columns {
			table.Columns = append(table.Columns, document.Column{Title: "measured"})
		}
		if set, _ := layout(table, 10000, false); set.points != tt.points {
			t.Errorf("%d columns: type of %g points, want %g", tt.columns, set.points, tt.points)
		}
	}
}
