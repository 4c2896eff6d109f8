package guard

import (
	"cmp"
	"math"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace/remark"
)

// Two places of one line that were seen lie along it. Where the way from one to the
// next leads across the course instead, as on two legs of a line that turns back, the
// line cannot pass through both as it is drawn. Judgement.
const (
	acrossM    = 0.5 // more than a wide conductor and two measurements make
	acrossPart = 1.5 // of what lies along the course
	courseNear = 2.0 // m from an exposed place from which a course is taken
	courseFar  = 8.0 // and to which; places farther apart along the line are on it both
)

// exposedAcross finds neighbouring exposed places that lie across the course.
func (v *view) exposedAcross() []Breach {
	var at []int
	for i := range v.Readings {
		if v.Readings[i].Exposed && v.feet[i].part >= 0 {
			at = append(at, i)
		}
	}
	slices.SortStableFunc(at, func(a, b int) int { return cmp.Compare(v.feet[a].stationM, v.feet[b].stationM) })
	var out []Breach
	for k := 1; k < len(at); k++ {
		a, b := at[k-1], at[k]
		if v.feet[a].part != v.feet[b].part || v.feet[b].stationM-v.feet[a].stationM > courseFar {
			continue
		}
		way := v.Readings[b].Pos.Sub(v.Readings[a].Pos)
		acrossThere, okA := v.across(way, a, -1)
		acrossHere, okB := v.across(way, b, 1)
		if !okA && !okB || math.Min(acrossThere, acrossHere) < acrossM {
			continue
		}
		p := v.parts[v.feet[a].part] // all of it is laid by these places
		out = append(out, Breach{Kind: Passes, FromM: p.FromM(), ToM: p.ToM(), BandM: way.Norm(),
			Remark: remark.ExposedAcross{StationM: v.feet[a].stationM, ApartM: way.Norm()}})
	}
	return out
}

// across is how far a way leads across the course beside an exposed place, on the side
// of sign; 0 where it leads along it, and Inf where there is no course to that side.
func (v *view) across(way geo.XY, i int, sign float64) (acrossM float64, ok bool) {
	f := v.feet[i]
	p := v.parts[f.part]
	near, far := f.stationM-p.FromM()+sign*courseNear, f.stationM-p.FromM()+sign*courseFar
	if near < 0 || near > p.line.Length() {
		return math.Inf(1), false
	}
	course := p.line.At(far).Sub(p.line.At(near))
	if course.Norm() < courseNear {
		return math.Inf(1), false
	}
	course = course.Scale(1 / course.Norm())
	acrossM = math.Abs(way.Cross(course))
	if acrossM < acrossPart*math.Abs(way.Dot(course)) {
		return 0, true
	}
	return acrossM, true
}
