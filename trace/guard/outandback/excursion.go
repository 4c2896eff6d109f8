package outandback

import (
	"math"

	"loamline.example/geo"
)

// What tells an excursion. Judgement.
const (
	// An excursion keeps leastRun to mostRun places beside the course.
	leastRun, mostRun = 3, 14
	// leastAround to mostAround places before and after it show the course.
	leastAround, mostAround = 3, 6
	// likeSides is how much the step out and the step back may differ, of the wider, and
	// the least part of the width that either goes aside in its one stride.
	likeSides = 0.5
)

// ExcursionAt tells whether a walk goes over to a course beside with the stride behind its k-th
// place, and comes back with that behind its last-th: how wide that is, positive to the right.
// Each stride goes as far aside of those around it as is given for it.
func ExcursionAt(at []geo.XY, asideM []float64, k int, ownM float64) (lateralM float64, last int, ok bool) {
	if asideM[k] == 0 || k < leastAround-1 {
		return 0, 0, false
	}
	surest := 0.0
	for n := leastRun; n <= mostRun && k+n+leastAround < len(at); n++ {
		out, back := math.Abs(asideM[k]), math.Abs(asideM[k+n])
		if asideM[k+n]*asideM[k] >= 0 || math.Abs(out-back) > likeSides*math.Max(out, back) {
			continue
		}
		for m := leastAround; m <= mostAround && k+1-m >= 0 && k+n+m < len(at); m++ {
			if w, t, ok := OffsetBetween(at[k+1-m:k+n+m+1], m, ownM); ok && t > surest && math.Min(out, back) >= likeSides*math.Abs(w) {
				lateralM, last, surest = w, k+n, t
			}
		}
	}
	return lateralM, last, surest > 0
}
