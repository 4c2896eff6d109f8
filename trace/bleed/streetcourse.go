package bleed

import (
	"math"
	"math/cmplx"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace"
)

// streetCourse is a line's own course past a run that it is carried to from one
// side only, if it runs in one street with the line that the marks lie on: once
// the two have parted, they bend together. Across the parting the course is
// carried from the marks before to the direction of the marks beyond; from there
// on it keeps its distance from the marks.
type streetCourse struct {
	path           []geo.XY // away from the marks that it is carried on from
	sigmaM         []float64
	parted         int     // of path: where the two have parted
	asideM, distSD float64 // distance from the marks where the two have parted, positive to the right
}

// Over what length lines part, over what length the marks' direction is taken
// beyond that, how far the directions of two lines in one street differ (one
// sigma, radians), and how fast two such lines draw together or apart, one
// sigma. Judgement.
const (
	partedM     = 15
	partedOverM = 5
	streetTurn  = 0.05
	streetDrift = 0.01
)

// street carries the own course along the street; false where marks on both sides
// tell how it runs between them, or the run is too short.
func (m meeting) street(own carried, from, to int) (streetCourse, bool) {
	if own.bothSides && !own.lost() || len(m.line.Points) < 2 || m.lengthM(from, to) < partedM+partedOverM {
		return streetCourse{}, false
	}
	edge, away := from, 1
	if !own.before {
		edge, away = to, -1
	}
	parted := edge
	for k := edge; k >= from && k <= to && math.Abs(m.col.rd[k].StationM-m.col.rd[edge].StationM) <= partedM; k += away {
		parted = k
	}
	path := geo.NewPolyline(m.line.Points)
	s := m.acrossParting(path, edge, parted, away)
	if len(s.path) == 0 {
		return s, false
	}
	last, begin := len(s.path)-1, m.col.rd[parted].StationM
	dir := direction(path, begin, partedOverM)
	s.asideM = -dir.Cross(s.path[last].Sub(path.At(begin)))
	s.parted, s.distSD = last, s.sigmaM[last]
	end := m.col.rd[from+to-edge].StationM
	for reach := 0.0; reach < math.Abs(end-begin)+overrunM; reach += carriedStepM {
		st := begin + float64(away)*reach
		dir := direction(path, st, partedOverM)
		at := path.At(st)
		if past := reach - math.Abs(end-begin); past > 0 { // a path ends where its marks do
			at = path.At(end).Add(dir.Scale(float64(away) * past))
		}
		s.path = append(s.path, at.Add(geo.XY{X: dir.Y, Y: -dir.X}.Scale(s.asideM)))
		s.sigmaM = append(s.sigmaM, math.Hypot(s.distSD, streetDrift*(reach+partedM)))
	}
	return s, true
}

// acrossParting carries the course from the marks beyond an end of a run to where
// the lines have parted, whose direction there is the marks' own.
func (m meeting) acrossParting(path geo.Polyline, edge, parted, away int) (s streetCourse) {
	outer := m.clear(edge, -away)
	marks := flankMarks(m.col, outer-away, -away)
	if len(marks) < 3 {
		return s
	}
	dir := direction(path, m.col.rd[parted].StationM, partedOverM).Scale(float64(away))
	heading := complex(dir.X, dir.Y)
	var nodes []courseNode
	for _, k := range slices.Backward(marks) {
		nodes = append(nodes, markNode(m.col.rd[k], float64(away)*m.col.rd[k].StationM))
	}
	bend := likeliestBend(nodes)
	at := filterCourse(nodes).at
	v := at[len(at)-1].v
	start := nodes[len(nodes)-1].t
	length := float64(away)*m.col.rd[parted].StationM - start
	if v == 0 || length <= 0 {
		return s
	}
	turn := cmplx.Phase(heading / v * cmplx.Rect(1, -length*bend.curve))
	across := courseBend{bend.curve, max(bend.wander, straightWander, unseenPart*math.Abs(turn)/math.Sqrt(length))}
	first, n := len(nodes), max(1, int(math.Ceil(length/carriedStepM)))
	for i := range n {
		nodes = append(nodes, courseNode{t: start + length*float64(i+1)/float64(n), sigmaM: math.Inf(1), bend: across})
	}
	end := &nodes[len(nodes)-1]
	end.heading, end.headingSigma = heading, math.Hypot(streetTurn, positionSigma(m.col.rd[parted])/partedOverM)
	for i := range first {
		nodes[i].bend = bend
	}
	f := filterCourse(nodes)
	f.smooth()
	for i := first; i < len(nodes); i++ {
		s.path, s.sigmaM = append(s.path, f.at[i].pos()), append(s.sigmaM, math.Sqrt(max(0, f.at[i].p00)))
	}
	return s
}

// lost reports whether a course carried between two sides, as about a bend that
// nothing places, is known nowhere near well enough to hold the line.
func (c carried) lost() bool { return 1.96*slices.Max(c.sigmaM) >= farWiden }

// sigmaFrom is the error of the distance from the marks, one sigma, where the
// course may as well be that carried on without regard to the street.
func (s streetCourse) sigmaFrom(own carried) float64 {
	off, sigma := own.beside(s.path[s.parted])
	return math.Sqrt((s.distSD*s.distSD + sigma*sigma + off*off) / 2)
}

// strip is where the course may lie.
func (s streetCourse) strip() trace.CourseStrip {
	out := trace.CourseStrip{Path: s.path}
	for _, x := range s.sigmaM {
		out.Half95M = append(out.Half95M, min(farWiden, 1.96*x))
	}
	return out
}
