package outandback

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace/guard/sidestep"
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

// Excursion is a run of places, from From to before To, that a walk goes over to with the stride
// before it and comes back from with that behind it, and how far aside it lies.
type Excursion struct {
	From, To int
	AsideM   float64
}

// Excursions finds where a walk goes over to a course beside and comes back; ownM is the error of
// each place.
func Excursions(at []geo.XY, ownM []float64) []Excursion {
	// Only a stride that goes aside of those around it begins or ends an excursion.
	asideM := make([]float64, len(at))
	for k := 1; k+2 < len(at); k++ {
		if a := Sideways(at[k-1 : k+3]); math.Abs(a) >= max(sidestep.LeastM/2, 2*ownM[k]) {
			asideM[k] = a
		}
	}
	var out []Excursion
	for k := leastAround - 1; k < len(at); k++ {
		if w, last := surest(at, asideM, k, ownM[k]); w != 0 {
			out = append(out, Excursion{From: k + 1, To: last + 1, AsideM: math.Abs(w)})
			k = last
		}
	}
	return out
}

// surest is the surest excursion that begins with the stride behind the k-th place: how wide it
// is, 0 where there is none, and the place behind which the walk comes back.
func surest(at []geo.XY, asideM []float64, k int, ownM float64) (lateralM float64, last int) {
	sure := 0.0
	for n := leastRun; asideM[k] != 0 && n <= mostRun && k+n+leastAround < len(at); n++ {
		out, back := math.Abs(asideM[k]), math.Abs(asideM[k+n])
		if asideM[k+n]*asideM[k] >= 0 || math.Abs(out-back) > likeSides*max(out, back) {
			continue
		}
		for m := leastAround; m <= mostAround && k+1-m >= 0 && k+n+m < len(at); m++ {
			if w, t, ok := OffsetBetween(at[k+1-m:k+n+m+1], m, ownM); ok && t > sure && min(out, back) >= likeSides*math.Abs(w) {
				lateralM, last, sure = w, k+n, t
			}
		}
	}
	return lateralM, last
}
