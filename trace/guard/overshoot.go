package guard

import (
	"math"
	"slices"

	"loamline.example/geo"
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
		at := make([]geo.XY, len(on))
		for k, i := range on {
			at[k] = v.Readings[i].Pos
		}
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
