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
func (v *view) excursions(known []Breach) (out []Breach) {
	walk := v.walkOf()
	at, ownM := make([]geo.XY, len(walk)), make([]float64, len(walk))
	for k, i := range walk {
		at[k], ownM[k] = v.Readings[i].Pos, v.ownM(i)
	}
	for _, e := range outandback.Excursions(at, ownM) {
		b := v.excursion(walk, e)
		if b.FromM < b.ToM && !slices.ContainsFunc(known, func(o Breach) bool {
			return o.FromM <= b.ToM && o.ToM >= b.FromM && o.ToM-o.FromM <= 2*(b.ToM-b.FromM)
		}) {
			out = append(out, b)
		}
	}
	return out
}

// excursion is the breach of a walk's places that lie beside its course.
func (v *view) excursion(walk []int, e outandback.Excursion) Breach {
	from, to, backAtM := math.Inf(1), math.Inf(-1), trace.Unknown
	for k, i := range walk[e.From-1 : e.To+1] {
		if s := v.feet[i].stationM; v.feet[i].part >= 0 {
			from, to = math.Min(from, s), math.Max(to, s)
			if e.From-1+k < e.To {
				backAtM = s
			}
		}
	}
	return Breach{Kind: Step, FromM: from, ToM: to, BandM: e.AsideM * (1 + sidestep.StraightShare), SeparationM: e.AsideM,
		Remark: remark.Excursion{LateralM: e.AsideM, WithinM: v.Readings[walk[e.From-1]].Pos.Dist(v.Readings[walk[e.From]].Pos), BackAtM: backAtM}}
}

// leaps finds runs of used readings that the walk leaps to and back from. One that is about, told,
// is not told again.
func (v *view) leaps(known []Breach) (out []Breach) {
	walk := slices.DeleteFunc(slices.Clone(v.order), func(i int) bool { return v.Readings[i].Status != trace.StatusUsed && !v.Readings[i].Outlier() })
	for _, e := range outandback.Leaps(v.placesOf(walk)) {
		b := v.excursion(walk, e)
		used := slices.ContainsFunc(walk[e.From:e.To], func(i int) bool { return v.Readings[i].Status == trace.StatusUsed })
		if used && b.FromM < b.ToM && !slices.ContainsFunc(known, func(o Breach) bool {
			return (o.Kind == Step || o.Kind == Off || o.Kind == Passes) && o.FromM <= b.ToM && o.ToM >= b.FromM
		}) {
			out = append(out, b)
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
