package guard

import (
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// roundabout is how many times the stride the line is longer between two readings that
// the walk took one after the other, where it goes another way round. Judgement: round a
// bend between them it is hardly twice as long.
const roundabout = 4

// undrawnStrides finds usual strides of the walk from one reading on the line to the next
// that no line is drawn along, while it goes a long way round between the two: a ring that
// was opened where the walk went on, or does not close where the walk closed it. There it
// may have lost the readings on one side of the opening, for the other side holds their
// places: these count too.
func (v *view) undrawnStrides() []Breach {
	walk := slices.DeleteFunc(v.walkedAt(), func(i int) bool { return !v.inZone(i) })
	var out []Breach
	for k := 1; k < len(walk); k++ {
		a, b := walk[k-1], walk[k]
		p, q := v.Readings[a].Pos, v.Readings[b].Pos
		strideM, longM := p.Dist(q), math.Abs(v.feet[a].stationM-v.feet[b].stationM)
		if v.feet[a].part != v.feet[b].part || longM < math.Max(roundabout*strideM, longBesideM) || !v.atUsualStep(walk, k) {
			continue
		}
		mid := v.place(p.Lerp(q, 0.5))
		if mid.distM <= math.Max(v.rule.HalfWidthM+mid.bandM, strideM/4) || v.declared(p.Lerp(q, 0.5)) {
			continue
		}
		out = append(out, Breach{Kind: Uncovered, FromM: trace.Unknown, ToM: trace.Unknown, Places: []geo.XY{p, q}, Readings: 2,
			Remark: remark.StrideUndrawn{StrideM: strideM}})
	}
	return out
}

// walkedAt are the readings of the walk that lie along the line, in travel order: those that
// it stands for, and those set aside for their position. None where the rows are no walk.
func (v *view) walkedAt() []int {
	if !v.inOrder {
		return nil
	}
	var out []int
	for _, i := range v.order {
		if r := &v.Readings[i]; v.feet[i].part >= 0 && (r.Status == trace.StatusUsed || r.Outlier()) {
			out = append(out, i)
		}
	}
	return out
}
