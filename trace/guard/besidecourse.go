package guard

import (
	"math"
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/guard/outandback"
	"loamline.example/trace/guard/sidestep"
	"loamline.example/trace/remark"
)

// besideCourse finds where the line is drawn through a few readings beside a straight course
// that the walk leaves and takes up again: positions that leap together and a line that is led
// round something are the same places, so the band holds both ways. Where a step tells of
// it, the band alone has to.
func (v *view) besideCourse() []Breach {
	walk := v.walkOf()
	at := v.placesOf(walk)
	var out []Breach
	for k := 0; k < len(at); k++ {
		s, ok := outandback.Leaves(at, k, v.scatterM(walk[k]))
		if !ok {
			continue
		}
		from, to, readings := math.Inf(1), math.Inf(-1), 0
		for _, i := range walk[k : s.After+1] {
			if f := v.feet[i]; v.Readings[i].Status == trace.StatusUsed {
				from, to = math.Min(from, f.stationM), math.Max(to, f.stationM)
			}
		}
		for _, i := range walk[k+1 : s.After] {
			if v.Readings[i].Status == trace.StatusUsed && v.feet[i].distM < s.FarthestM/2 {
				readings++ // that the line is drawn through, and most of them
			}
		}
		if 2*readings < s.After-k-1 {
			continue
		}
		b := Breach{Kind: Off, Once: true, FromM: from, ToM: to, BandM: s.FarthestM * (1 + sidestep.StraightShare),
			Remark: remark.AsideOfTheWalk{Readings: readings, AsideM: s.FarthestM}}
		if slices.ContainsFunc(v.steps(), func(s Breach) bool { return s.FromM <= to && s.ToM >= from }) {
			b.Kind, b.Remark = Between, nil
		}
		out = append(out, b)
		k = s.After - 1
	}
	return out
}
