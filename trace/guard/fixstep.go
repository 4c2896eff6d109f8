package guard

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/guard/sidestep"
	"loamline.example/trace/remark"
)

// When a line goes aside by its fix. Judgement.
const (
	// A fix is poorer than the one before it where its error is poorer times as large; it
	// lasts for poorRun readings at least.
	poorer  = 5.0
	poorRun = 3
	// The course is asked for fixCourseStrides strides, and fixCourseM, before and behind,
	// and the line goes aside within asideStrides strides of the change.
	fixCourseStrides, fixCourseM = 4, 3.0
	asideStrides                 = 4
	// What goes aside by more than mostPoor standard errors of the poorer fix is not by
	// its error.
	mostPoor = 4.0
)

// fixSteps finds where the line goes on beside its course from where the fix becomes
// poorer, or comes back to it where the fix is good again. A poor fix is wrong by about
// the same for a while, and nothing tells that from a line laid with an offset just there:
// the band of the poorer readings holds both.
func (v *view) fixSteps() []Breach {
	var out []Breach
	for part := range v.parts {
		var on []int
		for _, i := range v.usedOn(part) {
			if trace.Known(v.rule.OwnM(&v.Readings[i])) {
				on = append(on, i)
			}
		}
		for k := 0; k+1 < len(on); k++ {
			a, b := v.rule.OwnM(&v.Readings[on[k]]), v.rule.OwnM(&v.Readings[on[k+1]])
			good, poor, forward := k, k+1, 1
			if a > b {
				good, poor, forward = k+1, k, -1
			}
			if math.Max(a, b) < poorer*math.Min(a, b) {
				continue
			}
			if breach, ok := v.fixStep(part, on, good, poor, forward); ok {
				out = append(out, breach)
			}
		}
	}
	return out
}

// fixStep is what the band must hold of the readings of a poorer fix, which begin at one
// of a part's and go on forward or back, beside the last of the better fix.
func (v *view) fixStep(part int, on []int, good, poor, forward int) (Breach, bool) {
	last, worst, goodOwnM := poor, 0.0, v.rule.OwnM(&v.Readings[on[good]])
	for k := poor; k >= 0 && k < len(on); k += forward {
		o := v.rule.OwnM(&v.Readings[on[k]])
		if o < poorer/2*goodOwnM {
			break
		}
		last, worst = k, math.Max(worst, o)
	}
	if (last-poor)*forward+1 < poorRun {
		return Breach{}, false
	}
	p := v.parts[part]
	dir := float64(forward)
	courseLongM := math.Max(fixCourseM, fixCourseStrides*v.spacing[part])
	reachM := asideStrides * v.spacing[part]
	goodM, poorM := v.feet[on[good]].stationM-dir*v.spacing[part], v.feet[on[poor]].stationM+dir*reachM
	endM := v.feet[on[last]].stationM
	at := func(stationM float64) geo.XY { return p.line.At(stationM - p.FromM()) }
	inside := func(stationM float64) bool { return stationM >= p.FromM() && stationM <= p.ToM() }
	farM := poorM + dir*courseLongM
	if (endM-farM)*dir < 0 || !inside(goodM-dir*courseLongM) || !inside(farM) {
		return Breach{}, false
	}
	before, after := at(goodM).Sub(at(goodM-dir*courseLongM)), at(farM).Sub(at(poorM))
	if before.Norm() == 0 || after.Norm() == 0 || math.Abs(math.Atan2(before.Cross(after), before.Dot(after))) > sidestep.Parallel {
		return Breach{}, false
	}
	way := before.Scale(1 / before.Norm()).Add(after.Scale(1 / after.Norm()))
	asideM := math.Abs(way.Scale(1 / way.Norm()).Cross(at(poorM).Lerp(at(farM), 0.5).Sub(at(goodM).Lerp(at(goodM-dir*courseLongM), 0.5))))
	if asideM < leastPausedM || asideM > mostPoor*worst || asideM <= v.bandAt(part, (poorM+farM)/2) {
		return Breach{}, false
	}
	from, to := v.feet[on[poor]].stationM, endM
	return Breach{Kind: Between, FromM: math.Min(from, to), ToM: math.Max(from, to), BandM: math.Hypot(asideM, v.bandAt(part, (poorM+farM)/2)),
		Remark: remark.AsideWithTheFix{StationM: from, AsideM: asideM}}, true
}
