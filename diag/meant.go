package diag

import (
	"fmt"
	"strings"
)

// DidYouMean picks the candidate nearest to a word that is not among them, by
// edit distance, or "" when none is near enough to be a slip of the pen.
func DidYouMean(word string, candidates []string) string {
	best, bestDistance := "", len(word)/3+1
	if len(word) > 60 {
		return ""
	}
	for _, c := range candidates {
		if d := distance(strings.ToLower(word), strings.ToLower(c)); d <= bestDistance &&
			(best == "" || d < bestDistance) {
			best, bestDistance = c, d
		}
	}
	return best
}

// Meant is the end of a sentence on a word that is not among the candidates: the one that
// is near, or else all of them.
func Meant(word string, candidates []string) string {
	if near := DidYouMean(word, candidates); near != "" {
		return fmt.Sprintf("did you mean %q?", near)
	}
	return "there are: " + strings.Join(candidates, ", ")
}

// distance is the Damerau-Levenshtein distance with adjacent transpositions.
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	rows := make([][]int, len(x)+1)
	for i := range rows {
		rows[i] = make([]int, len(y)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(x); i++ {
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			d := min(rows[i-1][j]+1, rows[i][j-1]+1, rows[i-1][j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				d = min(d, rows[i-2][j-2]+1)
			}
			rows[i][j] = d
		}
	}
	return rows[len(x)][len(y)]
}
