package fit

import (
	"math"
	"testing"
)

// Depths 1.2 m deep every 2 m, of which three lie where the line's own field takes a
// quarter off: read as the field has it they are corrected, read as if there were no
// bend they stay. Where all of the line is affected nothing tells.
func TestFieldUnseen(t *testing.T) {
	const lostThere = 0.25
	for _, c := range []struct {
		name     string
		shownM   float64 // at the three
		affected [2]int  // soundings that the field reaches
		unseen   bool
	}{
		{"as the field has it", 1.2 * (1 - lostThere), [2]int{10, 13}, false},
		{"as without a bend", 1.2, [2]int{10, 13}, true},
		{"half of it", 1.2 * (1 - lostThere/2), [2]int{10, 13}, false},
		{"all along", 1.2, [2]int{0, 24}, false},
		{"at an end", 1.2, [2]int{0, 3}, false},
	} {
		s, lost := make([]sounding, 24), make([]float64, 24)
		for i := range s {
			s[i] = sounding{lnDepth: math.Log(1.2), at: &placed{stationM: 2 * float64(i)}}
			if i >= c.affected[0] && i < c.affected[1] {
				lost[i], s[i].lnDepth = lostThere, math.Log(c.shownM)
			}
		}
		for i, u := range fieldUnseen(s, lost) {
			if u != (c.unseen && lost[i] > 0) {
				t.Errorf("%s: sounding %d: unseen %v", c.name, i, u)
			}
		}
	}
}
