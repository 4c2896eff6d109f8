package guard

import (
	"math"
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// droppedRun is from how many neighbours on whose depths were dropped they are told,
// whatever they are. Judgement: slips come one by one.
const droppedRun = 3

// droppedInARow finds depths that were dropped one after the other, with none between them
// that was kept, though they do not agree with each other: whatever the receiver was over
// there, it was not the line as it is drawn. Those that are told of already are passed over.
func (v *view) droppedInARow(told []Breach) []Breach {
	var out []Breach
	odd := func(i int) bool {
		r := &v.Readings[i]
		d, band, ok := v.profileAt(i)
		return ok && r.DepthDropped && r.DepthM > 0 && !noDepth(r) && math.Abs(v.depthOf(i)-d) > band
	}
	for k := 0; k < len(v.byPlace); k++ {
		var run []int
		for ; k < len(v.byPlace) && odd(v.byPlace[k]) && v.feet[v.byPlace[k]].part == v.feet[v.byPlace[k-len(run)]].part; k++ {
			run = append(run, v.byPlace[k])
		}
		if len(run) < droppedRun || slices.ContainsFunc(told, func(b Breach) bool {
			return v.feet[run[0]].stationM <= b.ToM && v.feet[run[len(run)-1]].stationM >= b.FromM
		}) {
			continue
		}
		out = append(out, v.depthBreach(run, func(n int, farthestM float64) trace.Remark {
			return remark.DepthsDroppedInARow{N: n, FarthestM: farthestM}
		}))
	}
	return out
}
