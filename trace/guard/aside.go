package guard

import (
	"math"

	"loamline.example/trace/guard/inarow"
	"loamline.example/trace/ranked"
)

// asideTogether of inarow.Length neighbours must lie beyond the band on one side for the
// run to be aside of the line, and not only loosely read. Judgement.
const asideTogether = 3

// markAside marks runs of used readings that leave the rest of the walk by more than
// their own error explains, and with it the band. What of a band is an error that the
// whole walk shares moves all readings alike: it explains no run of them that goes
// aside and comes back, as on a short way round or on another line. A fit that takes
// such a run for scatter makes that part of the band large by it.
func (v *view) markAside(used []int, bad []bool) {
	usual := v.usualOffsets(used)
	z := make([]float64, len(used))
	for k, i := range used {
		f := v.feet[i]
		z[k] = (f.offsetM - usual[f.part]) / math.Hypot(v.ownM(i), v.shapeBand(f)/1.96)
	}
	inarow.Mark(z, bad, func(k int) bool {
		run := used[k-inarow.Length+1 : k+1]
		left, right := 0, 0
		for _, i := range run {
			switch f := v.feet[i]; {
			case f.part != v.feet[run[0]].part || f.beyond:
				return false
			case f.offsetM > f.bandM:
				right++
			case f.offsetM < -f.bandM:
				left++
			}
		}
		return max(left, right) >= asideTogether
	})
}

// usualOffsets is the median offset of the used readings of each part.
func (v *view) usualOffsets(used []int) []float64 {
	offsets := make([][]float64, len(v.parts))
	for _, i := range used {
		f := v.feet[i]
		offsets[f.part] = append(offsets[f.part], f.offsetM)
	}
	out := make([]float64, len(v.parts))
	for part, o := range offsets {
		if len(o) > 0 {
			out[part] = ranked.Median(o)
		}
	}
	return out
}

// shapeBand is what of the band at a place is the line's shape, and no error that the
// whole walk shares.
func (v *view) shapeBand(f place) float64 {
	common := math.Min(f.bandM, v.commonAt(f.part, f.stationM))
	return math.Sqrt(f.bandM*f.bandM - common*common)
}
