package bleed

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// Where a line comes back beside itself, as along a branch walked out and back or a
// hairpin, its own other leg is a conductor with signal on it, whose current is what
// the branch or the bend makes of it and whose place is only as good as the line
// drawn. What a neighbour that nobody drew would do there, it does.

// ownLegDepths is how near, in depths, another leg matters, ownLegApart how far away
// along the line it is at least, in depths, and ownLegPart of how much of a stretch
// it must lie beside. Judgement.
const (
	ownLegDepths = 3
	ownLegApart  = 8
	ownLegPart   = 0.4
)

// otherLegs takes stretches on signal of a neighbour that nobody drew for no more than
// a watch where the line's own other leg lies beside them. The caution stays as wide.
func (m unmapped) otherLegs(found []Stretch) {
	for i := range found {
		s := &found[i]
		if s.Neighbor != Unknown || s.Grade == trace.GradeWatch {
			continue
		}
		if nearM, ok := m.legBeside(*s); ok {
			s.Grade, s.Score = trace.GradeWatch, math.Min(s.Score, ownLegScore)
			s.Evidence = append(s.Evidence, remark.OwnLeg{ApartM: nearM})
		}
	}
}

// ownLegScore is the most that a watch beside the line's own other leg scores.
// Judgement.
const ownLegScore = 0.3

// legBeside reports whether another part of the line lies beside most of a stretch,
// and how near at the nearest.
func (m unmapped) legBeside(s Stretch) (nearestM float64, ok bool) {
	path := geo.NewPolyline(m.line.Points)
	nearestM = math.Inf(1)
	beside, n := 0, 0
	for k, r := range m.rd {
		if r.StationM < s.FromM || r.StationM > s.ToM {
			continue
		}
		n++
		near := m.legNear(path, k)
		if near < ownLegDepths*m.depth[k] {
			beside++
		}
		nearestM = math.Min(nearestM, near)
	}
	return nearestM, n > 0 && float64(beside) >= ownLegPart*float64(n)
}

// legNear is how near to reading k another part of the line lies.
func (m unmapped) legNear(path geo.Polyline, k int) float64 {
	at, near := path.At(m.rd[k].StationM), math.Inf(1)
	for i, p := range path.Points {
		if math.Abs(path.Station(i)-m.rd[k].StationM) > ownLegApart*m.depth[k] {
			near = math.Min(near, p.Dist(at))
		}
	}
	return near
}
