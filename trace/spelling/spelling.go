// Package spelling finds the word that another is likely meant for.
package spelling

import "strings"

// Nearest returns the candidate whose spelling is nearest to a word, or "" where
// none is near enough to be what was meant (more than a third of it differs).
func Nearest(word string, candidates []string) string {
	best, bestDistance := "", len(word)/3+2
	for _, c := range candidates {
		if d := Distance(strings.ToLower(word), strings.ToLower(c)); d < bestDistance {
			best, bestDistance = c, d
		}
	}
	return best
}

// Distance is Levenshtein's: insertions, deletions and changes.
// V. I. Levenshtein (1966), Soviet Physics Doklady 10:707.
func Distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		diagonal := row[0]
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := diagonal
			if a[i-1] != b[j-1] {
				cost++
			}
			diagonal, row[j] = row[j], min(cost, row[j]+1, row[j-1]+1)
		}
	}
	return row[len(b)]
}
