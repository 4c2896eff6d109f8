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

// Steps that are tried one after the other on the same depths score as each does by itself.
func TestStepsScoreAsEachAlone(t *testing.T) {
	s := make([]sounding, 40)
	for i := range s {
		s[i] = sounding{lnDepth: math.Log(1.2 + 0.4*math.Floor(float64(i)/20) + 0.01*float64(i%3)), wt: 1, at: &placed{stationM: 2 * float64(i)}}
	}
	before := []depthStep{newDepthStep([]stepTry{{at: 20, slackM: 1, depthM: 1, p: 1}})}
	x := newStepTrial(s, levelChange{i: 20}, 1, before)
	for _, e := range []stepTry{{at: 39, slackM: 0.7, depthM: 1.2}, {at: 35, widthM: 6, slackM: 0.7, depthM: 1.2}, {at: 39, slackM: 0.7, depthM: 1.2}} {
		if got, want := x.score(&e), newStepTrial(s, levelChange{i: 20}, 1, before).score(&e); got != want {
			t.Errorf("a step at %g m over %g m scores %.17g after others, %.17g alone", e.at, e.widthM, got, want)
		}
	}
}
