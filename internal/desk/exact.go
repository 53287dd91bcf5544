package desk

import (
	"encoding/base64"
	"encoding/binary"
	"math"

	"seatward/transient"
)

// within is the share of what a reading spans by which a step that is left out may lie beside
// the line between its neighbors: less than can be read off a screen.
const within = 1e-4

// exact are the readings of the steps, without those that lie on the line between others.
func exact(names []string, rows []transient.Row) Exact {
	var times, values []byte
	for _, k := range bends(rows) {
		times = binary.LittleEndian.AppendUint64(times, math.Float64bits(rows[k].TimeS))
		for _, x := range rows[k].Now {
			values = packed(values, float32(x))
		}
	}
	out := Exact{
		Names: []string{}, TimeS: base64.StdEncoding.EncodeToString(times),
		Values: base64.StdEncoding.EncodeToString(values),
	}
	out.Names = append(out.Names, names...)
	return out
}

// bends are the rows that the straight lines between them need to pass all others by: those of
// Ramer, Douglas and Peucker, for all readings at once.
func bends(rows []transient.Row) []int {
	if len(rows) == 0 {
		return nil
	}
	keep := make([]bool, len(rows))
	keep[0], keep[len(rows)-1] = true, true
	room := allowed(rows)
	todo := [][2]int{{0, len(rows) - 1}}
	for len(todo) > 0 {
		a, b := todo[len(todo)-1][0], todo[len(todo)-1][1]
		todo = todo[:len(todo)-1]
		if k := furthest(rows, a, b, room); k > 0 {
			keep[k] = true
			todo = append(todo, [2]int{a, k}, [2]int{k, b})
		}
	}
	var out []int
	for k, needed := range keep {
		if needed {
			out = append(out, k)
		}
	}
	return out
}

// allowed is how far each reading may lie beside the line.
func allowed(rows []transient.Row) []float64 {
	out := make([]float64, len(rows[0].Now))
	for i := range out {
		low, high := math.Inf(1), math.Inf(-1)
		for _, r := range rows {
			low, high = math.Min(low, r.Now[i]), math.Max(high, r.Now[i])
		}
		out[i] = within * (high - low)
	}
	return out
}

// furthest is the row between a and b that lies furthest beyond what is allowed; 0 for none.
func furthest(rows []transient.Row, a, b int, room []float64) int {
	at, most := 0, 1.0
	for k := a + 1; k < b; k++ {
		share := (rows[k].TimeS - rows[a].TimeS) / (rows[b].TimeS - rows[a].TimeS)
		for i, allowed := range room {
			line := rows[a].Now[i] + share*(rows[b].Now[i]-rows[a].Now[i])
			if off := math.Abs(rows[k].Now[i] - line); off > allowed && off > most*allowed {
				at, most = k, off/math.Max(allowed, 1e-300)
			}
		}
	}
	return at
}
