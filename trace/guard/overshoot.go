package guard

import (
	"math"
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/guard/paststride"
	"loamline.example/trace/guard/sidestep"
	"loamline.example/trace/remark"
)

// overshotReachM is how far on either side of such a stride the places may be wrong
// (judgement).
const overshotReachM = 12.0

// overshoots finds strides that turn beyond the course behind them, over more than a
// stride's width: a walk along one line turns from the course before to the course behind
// and not past it and back within a stride. Positions that were carried straight on while
// the line bent come back to it like that, and so do those of a fix that was wrong for a
// while, or a receiver that was picked up again on another line.
func (v *view) overshoots() []Breach {
	var out []Breach
	for part := range v.parts {
		on := v.onPart(part, 3, 0)
		at := v.placesOf(on)
		for k := paststride.Course; k+paststride.Course+1 < len(at); k++ {
			asideM := paststride.Leads(at[k-paststride.Course : k+paststride.Course+2])
			if asideM < sidestep.LeastM || asideM > sidestep.MostM || asideM < stepOverOwn*math.Max(v.ownM(on[k]), v.whiteM) {
				continue
			}
			p := v.parts[part]
			from, to := v.feet[on[k]].stationM, v.feet[on[k+1]].stationM
			if slices.ContainsFunc(v.steps(), func(b Breach) bool { return b.FromM <= to && from <= b.ToM }) {
				continue // told as that
			}
			out = append(out, Breach{Kind: Off, FromM: math.Max(p.FromM(), from-overshotReachM), ToM: math.Min(p.ToM(), to+overshotReachM),
				BandM: asideM, Remark: remark.StrideOvershoots{AsideM: asideM, StationM: from}})
			k += paststride.Course
		}
	}
	return out
}

// leapt tells of what a walk leapt to farther aside than a step, over a gap or on a part: up to
// the leap back from it, and from a lone leap of the side that is not clearly longer. What is
// told of mostly, with a band of half as much or more, is not told again.
func (v *view) leapt(known []Breach) (out []Breach) {
	walk := slices.DeleteFunc(v.walkedAt(), func(i int) bool { return v.Readings[i].Status != trace.StatusUsed })
	leaps := sidestep.Leaps(v.placesOf(walk), func(k int) float64 { return v.scatterM(walk[k]) })
	ends := [2]float64{v.parts[0].FromM(), v.parts[len(v.parts)-1].ToM()}
	for k := 0; k < len(leaps); k++ {
		s := leaps[k]
		leftM, from, to := v.feet[walk[s.Before]].stationM, v.feet[walk[s.After]].stationM, ends[1]
		if from < leftM || from > leftM+mostGapM {
			continue // back to where it was walked, or on where another line is laid
		}
		if k+1 < len(leaps) && s.UndoneBy(leaps[k+1]) {
			k++
			to = v.feet[walk[leaps[k].Before]].stationM
		} else if before, after := shorterSides(leftM-ends[0], ends[1]-from); before {
			if from = ends[0]; !after {
				to = leftM
			}
		}
		asideM := math.Abs(s.LateralM)
		if from < to && !slices.ContainsFunc(known, func(o Breach) bool {
			return o.Kind != Sparse && o.Kind != Between && 2*o.BandM >= asideM && 2*(math.Min(o.ToM, to)-math.Max(o.FromM, from)) >= to-from
		}) {
			out = append(out, Breach{Kind: Off, FromM: from, ToM: to, BandM: asideM, Remark: remark.StrideOvershoots{AsideM: asideM, StationM: leftM}})
		}
	}
	return out
}
