package guard

import (
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace/guard/sidestep"
	"loamline.example/trace/remark"
)

// mostGapM is how long a gap may be for the few places on either side of it to tell
// whether the courses are parallel; over more, whole runs are asked (package sidestep). Judgement.
const mostGapM = 25.0

// holeStrides is how many of the strides beside it make a hole in the walk. Judgement.
const holeStrides = 3.0

// stepsOverGaps finds courses that go on parallel beside themselves behind a gap: a
// signal that fades and is found again is easily found on another line. Nothing in the
// places tells which side was on the line: the band holds both courses behind the gap,
// and before it unless that side is clearly longer.
func (v *view) stepsOverGaps() []Breach {
	var out []Breach
	for part := 1; part < len(v.parts); part++ {
		before, after := v.onPart(part-1, 3, 0), v.onPart(part, 3, 0)
		if len(before) < 3 || len(after) < 3 {
			continue
		}
		s, ok := v.stepOver(before, after)
		if !ok {
			continue
		}
		p, q := v.parts[part-1], v.parts[part]
		from, to := q.FromM(), q.ToM()
		if inFirst, _ := shorterSides(p.ToM()-p.FromM(), q.ToM()-q.FromM()); inFirst {
			from = p.FromM()
		}
		width := math.Abs(s.LateralM)
		out = append(out, Breach{Kind: Step, FromM: from, ToM: to, BandM: width + bandOver(s), DepthBandM: v.depthOver(before, after), SeparationM: width,
			Remark: remark.StepOverGap{StationM: p.ToM(), LateralM: width}})
	}
	return out
}

// stepOver tells whether the course behind a gap goes on beside the one before it.
func (v *view) stepOver(before, after []int) (s sidestep.Step, ok bool) {
	last, first := before[len(before)-1], after[0]
	if gapM := v.Readings[last].Pos.Dist(v.Readings[first].Pos); gapM > mostGapM {
		back := v.placesOf(before)
		slices.Reverse(back)
		s, ok = sidestep.OverHole(back, v.placesOf(after), math.Max(v.ownM(last), v.ownM(first)))
	} else {
		at := append(v.placesOf(before[max(0, len(before)-sidestep.RunPlaces):]), v.placesOf(after[:min(len(after), sidestep.RunPlaces)])...)
		k := min(len(before), sidestep.RunPlaces) - 1
		s, ok = sidestep.Between(at, k, k+1, v.lateralAt(last, first))
		if !ok {
			s, ok = v.acrossHole(before, after)
		}
	}
	return s, ok && math.Abs(s.LateralM) >= stepOverOwn*v.scatterM(last)
}

// acrossHole tells whether the courses on both sides of a hole in the walk go on beside each
// other, by runs long enough to see across it.
func (v *view) acrossHole(before, after []int) (sidestep.Step, bool) {
	const most = 4 * sidestep.RunPlaces // more are not asked
	last, first := before[len(before)-1], after[0]
	back := v.placesOf(before[max(0, len(before)-most):])
	slices.Reverse(back)
	on := v.placesOf(after[:min(len(after), most)])
	if len(back) < 2 || len(on) < 2 || back[0].Dist(on[0]) < holeStrides*math.Max(back[0].Dist(back[1]), on[0].Dist(on[1])) {
		return sidestep.Step{}, false
	}
	own := v.whiteM // measured, of neighbours: what a run shows of itself
	for _, i := range []int{last, first} {
		if o := v.rule.OwnM(&v.Readings[i]); o > own {
			own = o
		}
	}
	return sidestep.AcrossHole(back, on, own)
}

func (v *view) placesOf(which []int) []geo.XY {
	at := make([]geo.XY, len(which))
	for k, i := range which {
		at[k] = v.Readings[i].Pos
	}
	return at
}
