package guard

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace/remark"
)

// mostGapM is how long a gap may be for the courses before and behind it to be
// compared: over more the line itself may well be laid to another side. Judgement.
const mostGapM = 25.0

// stepsOverGaps finds courses that go on parallel beside themselves behind a gap: a
// signal that fades and is found again is easily found on another line. The band holds
// both courses on the shorter side, or on both where neither is clearly shorter.
func (v *view) stepsOverGaps() []Breach {
	var out []Breach
	for part := 1; part < len(v.parts); part++ {
		before, after := v.onPart(part-1), v.onPart(part)
		if len(before) < 3 || len(after) < 3 {
			continue
		}
		var at []geo.XY
		for _, i := range append(before[max(0, len(before)-runPlaces):len(before):len(before)], after[:min(len(after), runPlaces)]...) {
			at = append(at, v.Readings[i].Pos)
		}
		last := min(len(before), runPlaces) - 1
		gapM := at[last].Dist(at[last+1])
		s, ok := stepBetween(at, last, last+1, v.lateralAt(before[len(before)-1], after[0]))
		if !ok || gapM > mostGapM || math.Abs(s.lateralM) < stepOverOwn*v.ownM(before[len(before)-1]) {
			continue
		}
		p, q := v.parts[part-1], v.parts[part]
		from, to := q.FromM(), p.ToM()
		inFirst, inSecond := shorterSides(p.ToM()-p.FromM(), q.ToM()-q.FromM())
		if inFirst {
			from = p.FromM()
		}
		if inSecond {
			to = q.ToM()
		}
		width := math.Abs(s.lateralM)
		out = append(out, Breach{Kind: Step, FromM: from, ToM: to, BandM: width + bandOver(s), SeparationM: width,
			Remark: remark.StepOverGap{StationM: p.ToM(), LateralM: width}})
	}
	return out
}
