package guard

import (
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/guard/outandback"
	"loamline.example/trace/guard/sidestep"
	"loamline.example/trace/remark"
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

// excursions finds where the walk goes over to a course beside and comes back, in
// bends too: what lies before, between and after is one smooth course but for the
// same offset of all places between. It looks at the walk itself, whatever the line
// made of its places: readings that were set aside and gaps hide no step.
// One that a step found already is about, told, is not told again.
func (v *view) excursions(known []Breach) []Breach {
	walk := v.walkOf()
	at := make([]geo.XY, len(walk))
	for k, i := range walk {
		at[k] = v.Readings[i].Pos
	}
	// Only a stride that goes aside of those around it begins or ends an excursion.
	aside := make([]float64, len(walk))
	for k := 1; k+2 < len(at); k++ {
		if a := outandback.Sideways(at[k-1 : k+3]); math.Abs(a) >= math.Max(sidestep.LeastM/2, 2*v.ownM(walk[k])) {
			aside[k] = a
		}
	}
	var out []Breach
	for k := leastAround - 1; k < len(at); k++ {
		best, last, bestT := 0.0, 0, 0.0
		for n := leastRun; aside[k] != 0 && n <= mostRun && k+n+leastAround < len(at); n++ {
			if back := aside[k+n]; back*aside[k] >= 0 || math.Abs(back+aside[k]) > likeSides*math.Max(math.Abs(back), math.Abs(aside[k])) {
				continue
			}
			for m := leastAround; m <= mostAround && k+1-m >= 0 && k+n+m < len(at); m++ {
				if w, t, ok := outandback.OffsetBetween(at[k+1-m:k+n+m+1], m, v.ownM(walk[k])); ok && t > bestT && math.Min(math.Abs(aside[k]), math.Abs(aside[k+n])) >= likeSides*math.Abs(w) {
					best, last, bestT = w, k+n, t
				}
			}
		}
		if bestT == 0 {
			continue
		}
		from, to := math.Inf(1), math.Inf(-1)
		for _, i := range walk[k : last+2] {
			if v.feet[i].part >= 0 {
				from, to = math.Min(from, v.feet[i].stationM), math.Max(to, v.feet[i].stationM)
			}
		}
		w := math.Abs(best)
		if from < to && !slices.ContainsFunc(known, func(b Breach) bool {
			return b.FromM <= to && b.ToM >= from && b.ToM-b.FromM <= 2*(to-from)
		}) {
			out = append(out, Breach{Kind: Step, FromM: from, ToM: to, BandM: w * (1 + sidestep.StraightShare), SeparationM: w,
				Remark: remark.Excursion{LateralM: w, WithinM: at[k].Dist(at[k+1]), BackAtM: v.feet[walk[last]].stationM}})
		}
		k = last
	}
	return out
}

// walkOf lists the readings that tell of a course in the order in which they were
// taken, less those at a place where the walk stands.
func (v *view) walkOf() []int {
	var on []int
	for _, i := range v.order {
		r := &v.Readings[i]
		if r.Status != trace.StatusUsed && !r.Outlier() || v.feet[i].part < 0 {
			continue
		}
		if n := len(on); n > 0 && r.Pos.Dist(v.Readings[on[n-1]].Pos) < 3*v.ownM(i) {
			continue
		}
		on = append(on, i)
	}
	return on
}
