package zones

import (
	"math"
	"slices"
	"sort"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// WidenForSuspected widens the bands in stretches that are graded suspect or strong
// so that they hold the true line with the suspected displacement in it, and in those beside a
// known line whose words say how far off the line would lie by what may flow there unseen: a
// band is no promise where the map itself says more. The mark is not moved. The zones are drawn before: they add the displacement to the
// mark's own band, each on its side.
func WidenForSuspected(l *trace.Line) {
	own := ownDepths(l)
	widenForUnseen(l)
	for _, f := range l.Findings {
		b, ok := f.(finding.BleedOver)
		if !ok || b.Grade == trace.GradeWatch {
			continue
		}
		for k := range l.Centerline.Parts {
			p := &l.Centerline.Parts[k]
			if b.ToM < p.FromM() || b.FromM > p.ToM() {
				continue
			}
			p.Vertices = withEnds(*p, b.FromM, b.ToM)
			for i := range p.Vertices {
				v := &p.Vertices[i]
				t := shoulder(v.StationM, b.FromM, b.ToM)
				if t <= 0 {
					continue
				}
				v.Horizontal95M += math.Max(0, t*displacementM(l, b, *v))
				v.Depth95M += t * depthDisplacementM(b, v.DepthM, own)
			}
		}
	}
}

// widenForUnseen widens the bands where words say what may flow unseen, by the most of them,
// but for where more is suspected: the zone holds the greatest of all, and no band is wider.
func widenForUnseen(l *trace.Line) {
	var unseen, graver []finding.BleedOver
	for _, f := range l.Findings {
		if b, ok := f.(finding.BleedOver); ok && b.Grade != trace.GradeWatch {
			graver = append(graver, b)
		} else if ok && saysUnseen(b) {
			unseen = append(unseen, b)
		}
	}
	for k := range l.Centerline.Parts {
		p := &l.Centerline.Parts[k]
		for _, b := range unseen {
			if b.ToM >= p.FromM() && b.FromM <= p.ToM() {
				p.Vertices = withEnds(*p, b.FromM, b.ToM)
			}
		}
		for i := range p.Vertices {
			v := &p.Vertices[i]
			if slices.ContainsFunc(graver, func(b finding.BleedOver) bool { return shoulder(v.StationM, b.FromM, b.ToM) > 0 }) {
				continue
			}
			aside, deep := 0.0, 0.0
			for _, b := range unseen {
				t := shoulder(v.StationM, b.FromM, b.ToM)
				aside = math.Max(aside, t*displacementM(l, b, *v))
				if trace.Known(b.LnDepth95) && v.DepthM > 0 {
					deep = math.Max(deep, t*v.DepthM*math.Expm1(math.Min(b.LnDepth95, 1)))
				}
			}
			v.Horizontal95M += aside
			v.Depth95M += deep
		}
	}
}

// saysUnseen reports whether a stretch to be watched is told with figures of what may flow
// on a known line beside unseen.
func saysUnseen(b finding.BleedOver) bool {
	return slices.ContainsFunc(b.Evidence, func(e trace.Remark) bool {
		_, ok := e.(remark.CoupledUnseen)
		return ok
	})
}

// displacementM is how far beyond the own band of a vertex the true line may lie by a
// finding: as far as the zone is drawn for it. What the courses beside the line make of it
// is read from the zone itself, for they have ends, and the line has bends.
func displacementM(l *trace.Line, b finding.BleedOver, v trace.Vertex) float64 {
	if len(b.OwnCourse) == 0 || len(l.Reach) == 0 {
		return math.Max(b.ReachM(v.Horizontal95M))
	}
	return math.Max(trace.ReachAt(l.Reach, v.StationM)) - l.Tolerance.HalfWidthM - v.Horizontal95M
}

// lerpAt is what is known at the points of a path, at a station between them.
func lerpAt(path geo.Polyline, v []float64, stationM float64) float64 {
	for i := 1; i < len(v); i++ {
		if a, b := path.Station(i-1), path.Station(i); stationM <= b {
			return v[i-1] + (v[i]-v[i-1])*math.Max(0, stationM-a)/math.Max(b-a, 1e-9)
		}
	}
	if len(v) == 0 {
		return 0
	}
	return v[len(v)-1]
}

// ownDepthRel is by how much of it a depth may be off where the line lies by itself
// (judged; no source).
const ownDepthRel = 0.1

// anotherLnDepth is by how much the depth of another line may differ from one's
// own, ln at 95 %, where nothing is known of one's own (judged; no source).
const anotherLnDepth = 0.5

// depthDisplacementM is by how much a depth may be wrong by a finding. Where the
// trace lies on another line its own depth is what it is elsewhere.
func depthDisplacementM(b finding.BleedOver, depthM float64, own depthRange) float64 {
	switch {
	case !(depthM > 0):
		return 0
	case trace.Known(b.LnDepth95) && !b.Jump:
		// The line may also go on at the depth that it has elsewhere.
		return math.Max(depthM*math.Expm1(math.Min(b.LnDepth95, 1)), own.fromMiddleM(depthM))
	case own.known:
		return math.Max(math.Abs(own.least-depthM), math.Abs(own.most-depthM)) + ownDepthRel*depthM
	}
	return depthM * math.Expm1(anotherLnDepth)
}

// depthRange is between what depths a line lies where nothing is suspected, but
// for a tenth at either end.
type depthRange struct {
	known       bool
	least, most float64
}

// fromMiddleM is how far a depth lies from the middle of the range.
func (d depthRange) fromMiddleM(depthM float64) float64 {
	if !d.known {
		return 0
	}
	return math.Abs((d.least+d.most)/2 - depthM)
}

func ownDepths(l *trace.Line) depthRange {
	var d []float64
	for _, p := range l.Centerline.Parts {
		for _, v := range p.Vertices {
			if v.DepthM > 0 && !suspected(l.Findings, v.StationM) {
				d = append(d, v.DepthM)
			}
		}
	}
	if len(d) < 3 {
		return depthRange{}
	}
	sort.Float64s(d)
	// A tenth at either end.
	return depthRange{true, d[len(d)/10], d[len(d)-1-len(d)/10]}
}

// withEnds gives a part vertices where a stretch and its shoulders end.
func withEnds(p trace.Part, fromM, toM float64) []trace.Vertex {
	const apartM = 0.05 // where a vertex is so near, it will do. Judgement
	return p.WithVertices(apartM, fromM-trace.ZoneShoulderM, fromM, toM, toM+trace.ZoneShoulderM)
}

// suspected reports whether a station lies in a stretch graded suspect or
// strong.
func suspected(findings []trace.Finding, stationM float64) bool {
	for _, f := range findings {
		if b, ok := f.(finding.BleedOver); ok && b.Grade != trace.GradeWatch && b.FromM <= stationM && stationM <= b.ToM {
			return true
		}
	}
	return false
}
