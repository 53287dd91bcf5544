package valve

import (
	"math"
	"slices"
)

// Joined orders doubts, the one that moves the reverse velocity most first, and joins their
// deviations from best as independent ones are, by the root of the sum of their squares.
func Joined(best float64, doubts []Doubt) (low, high float64) {
	var up, down float64
	for _, d := range doubts {
		above := max(d.LowMS, d.HighMS, best) - best
		below := best - min(d.LowMS, d.HighMS, best)
		up, down = up+above*above, down+below*below
	}
	sortDoubts(doubts)
	return max(0, best-math.Sqrt(down)), best + math.Sqrt(up)
}

func sortDoubts(doubts []Doubt) {
	slices.SortStableFunc(doubts, func(x, y Doubt) int {
		switch {
		case x.Swing() > y.Swing():
			return -1
		case x.Swing() < y.Swing():
			return 1
		}
		return 0
	})
}
