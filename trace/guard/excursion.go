package guard

import (
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/guard/outandback"
	"loamline.example/trace/guard/sidestep"
	"loamline.example/trace/remark"
)

// excursions finds where the walk goes over to a course beside and comes back, in
// bends too: what lies before, between and after is one smooth course but for the
// same offset of all places between. It looks at the walk itself, whatever the line
// made of its places: readings that were set aside and gaps hide no step.
// One that a step found already is about, told, is not told again.
func (v *view) excursions(known []Breach) []Breach {
	walk := v.walkOf()
	at := make([]geo.XY, len(walk))
	for k, i := range walk {
		at[k] = v.Readings[i].Pos
	}
	// Only a stride that goes aside of those around it begins or ends an excursion.
	aside := make([]float64, len(walk))
	for k := 1; k+2 < len(at); k++ {
		if a := outandback.Sideways(at[k-1 : k+3]); math.Abs(a) >= math.Max(sidestep.LeastM/2, 2*v.ownM(walk[k])) {
			aside[k] = a
		}
	}
	var out []Breach
	for k := range at {
		best, last, ok := outandback.ExcursionAt(at, aside, k, v.ownM(walk[k]))
		if !ok {
			continue
		}
		from, to := v.stationsOf(walk[k : last+2])
		w := math.Abs(best)
		if from < to && !slices.ContainsFunc(known, func(b Breach) bool {
			return b.FromM <= to && b.ToM >= from && b.ToM-b.FromM <= 2*(to-from)
		}) {
			out = append(out, Breach{Kind: Step, FromM: from, ToM: to, BandM: w * (1 + sidestep.StraightShare), SeparationM: w,
				Remark: remark.Excursion{LateralM: w, WithinM: at[k].Dist(at[k+1]), BackAtM: v.feet[walk[last]].stationM}})
		}
		k = last
	}
	return out
}

// stationsOf is between which stations some readings stand; nothing where none does.
func (v *view) stationsOf(readings []int) (from, to float64) {
	from, to = math.Inf(1), math.Inf(-1)
	for _, i := range readings {
		if v.feet[i].part >= 0 {
			from, to = math.Min(from, v.feet[i].stationM), math.Max(to, v.feet[i].stationM)
		}
	}
	return from, to
}

// leaps finds runs of used readings that the walk leaps to and back from. One that is about, told,
// is not told again.
func (v *view) leaps(known []Breach) []Breach {
	var on []int
	var at []geo.XY
	var out []Breach
	for _, i := range v.order {
		if r := &v.Readings[i]; r.Status == trace.StatusUsed || r.Outlier() {
			on, at = append(on, i), append(at, r.Pos)
		}
	}
	for _, l := range outandback.Leaps(at) {
		from, to := v.stationsOf(on[l.From-1 : l.To+1])
		used := slices.ContainsFunc(on[l.From:l.To], func(i int) bool { return v.Readings[i].Status == trace.StatusUsed })
		if used && from < to && !slices.ContainsFunc(known, func(b Breach) bool {
			return (b.Kind == Step || b.Kind == Off || b.Kind == Passes) && b.FromM <= to && b.ToM >= from
		}) {
			out = append(out, Breach{Kind: Step, FromM: from, ToM: to, BandM: l.AsideM * (1 + sidestep.StraightShare), SeparationM: l.AsideM,
				Remark: remark.Excursion{LateralM: l.AsideM, WithinM: at[l.From-1].Dist(at[l.From]), BackAtM: v.feet[on[l.To-1]].stationM}})
		}
	}
	return out
}

// walkOf lists the readings that tell of a course in the order in which they were
// taken, less those at a place where the walk stands.
func (v *view) walkOf() []int {
	var on []int
	for _, i := range v.order {
		r := &v.Readings[i]
		if r.Status != trace.StatusUsed && !r.Outlier() || v.feet[i].part < 0 {
			continue
		}
		if n := len(on); n > 0 && r.Pos.Dist(v.Readings[on[n-1]].Pos) < 3*v.ownM(i) {
			continue
		}
		on = append(on, i)
	}
	return on
}
