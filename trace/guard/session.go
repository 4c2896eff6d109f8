package guard

import (
	"math"
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/guard/session"
	"loamline.example/trace/remark"
)

// leastRingM is how far along the line, as drawn, the ends of a ring are from each other: a
// walk out and back ends where it began on the line. Judgement.
const leastRingM = 15.0

// sessionsApart finds sessions that do not agree. Nothing tells which of two is wrong: the
// band holds both wherever either went. A ring that does not close has an error that may
// have arisen anywhere on the way.
func (v *view) sessionsApart() []Breach {
	// Those set aside for their position too: a whole session may be that another outvoted.
	w := session.Walk{Readings: v.Readings, Order: v.walkedAt(), OwnM: v.ownM}
	var out []Breach
	all := w.Split()
	for _, x := range slices.Concat(w.Apart(all), w.Resumed()) {
		how := trace.Remark(remark.PassesApart{ApartM: x.ApartM, InPart: true})
		if !x.Overlap {
			how = remark.SeamApart{StationM: (v.feet[x.Near[0]].stationM + v.feet[x.Near[1]].stationM) / 2, AsideM: x.ApartM, Resumed: x.Resumed}
		}
		out = append(out, v.overAll(x.ApartM, how, x.A.Readings, x.B.Readings))
	}
	out = slices.DeleteFunc(out, v.toldAsStep)
	for k := range all {
		rs := all[k].Readings
		if math.Abs(v.stationOf(rs[len(rs)-session.Least:])-v.stationOf(rs[:session.Least])) < leastRingM {
			continue
		}
		if missM := w.RingMiss(&all[k]); missM > 0 {
			out = append(out, v.overAll(missM, remark.RingOpen{MissM: missM}, rs))
		}
	}
	return out
}

// stationOf is the middle one of some readings' stations.
func (v *view) stationOf(of []int) float64 {
	var at []float64
	for _, i := range of {
		at = append(at, v.feet[i].stationM)
	}
	slices.Sort(at)
	return at[len(at)/2]
}

// overAll is a breach wherever some readings went.
func (v *view) overAll(apartM float64, how trace.Remark, runs ...[]int) Breach {
	b := Breach{Kind: Passes, FromM: math.Inf(1), ToM: math.Inf(-1), BandM: apartM, SeparationM: apartM, Remark: how}
	for _, i := range slices.Concat(runs...) {
		b.FromM, b.ToM = math.Min(b.FromM, v.feet[i].stationM), math.Max(b.ToM, v.feet[i].stationM)
	}
	return b
}

// toldAsStep tells whether a step is told where sessions do not meet.
func (v *view) toldAsStep(b Breach) bool {
	at, ok := b.Remark.(remark.SeamApart)
	return ok && slices.ContainsFunc(v.steps(), func(s Breach) bool {
		return s.Whole && s.BandM >= b.BandM && s.FromM <= at.StationM+joinM && s.ToM >= at.StationM-joinM
	})
}
