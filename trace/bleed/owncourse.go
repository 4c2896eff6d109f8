package bleed

import (
	"math"
	"math/cmplx"
	"slices"

	"loamline.example/geo"
	"loamline.example/trace"
)

// carried is a line's own course across a run of marks that lie elsewhere,
// carried on from the marks before and after the run.
type carried struct {
	path       []geo.XY  // across the run and a little beyond
	sigmaM     []float64 // of path, one sigma; grows with the distance from the marks
	fromM, toM []float64 // of path, from the nearest mark before and after; infinite where there is none
	bothSides  bool
	before     bool // there are marks before the run
}

// courseNode is a place on the line's own course: a mark, or a place in the run.
type courseNode struct {
	t      float64 // distance along, in metres
	mark   geo.XY
	sigmaM float64    // of the mark; infinite in the run
	bend   courseBend // on the way to here
	// The direction of the course here and its error in radians, where that is
	// known; 0 where it is not.
	heading      complex128
	headingSigma float64
}

// flankM is how much of the line on each side of a run its course is carried
// on from, in metres. Judgement.
const flankM = 45

// carriedStepM is the spacing of a carried course, in metres. Judgement:
// finer ones cost time.
const carriedStepM = 2

// carryOn carries the line's own course across readings [from, to]: a course of
// some curvature whose direction wanders as a random walk (Wahba, 1978, JRSS B
// 40:364), by the smoother of Rauch, Tung and Striebel (1965, AIAA J. 3:1445).
// Curvature and wander are what the marks on each side make most likely. It
// fails with less than three marks on both sides.
func carryOn(col *columns, from, to int) (carried, bool) {
	before, after := flankMarks(col, from-1, -1), flankMarks(col, to+1, 1)
	if len(before) < 3 {
		before = nil
	}
	if len(after) < 3 {
		after = nil
	}
	if before == nil && after == nil {
		return carried{}, false
	}
	nodes, first, last := courseNodes(col, before, after, from, to)
	bendBefore, bendAfter := likeliestBend(nodes[:first]), likeliestBend(nodes[last:])
	switch {
	case before == nil:
		bendBefore = bendAfter
	case after == nil:
		bendAfter = bendBefore
	}
	unseen := 0.0 // wander in the run that the marks about it ask for
	if before != nil && after != nil {
		unseen = unseenWander(nodes, first, last, bendBefore, bendAfter)
	}
	for i := range nodes {
		switch {
		case i < first:
			nodes[i].bend = bendBefore
		case i >= last:
			nodes[i].bend = bendAfter
		default:
			nodes[i].bend = bendBefore.to(bendAfter, float64(i-first+1)/float64(last-first+1))
			nodes[i].bend.wander = max(nodes[i].bend.wander, unseen)
		}
	}
	f := filterCourse(nodes)
	f.smooth()
	out := carried{bothSides: before != nil && after != nil, before: before != nil}
	for i := max(0, first-2); i < min(len(nodes), last+2); i++ {
		back, on := math.Inf(1), math.Inf(1)
		if before != nil {
			back = max(0, nodes[i].t-nodes[first-1].t)
		}
		if after != nil {
			on = max(0, nodes[last].t-nodes[i].t)
		}
		out.path, out.sigmaM = append(out.path, f.at[i].pos()), append(out.sigmaM, math.Sqrt(max(0, f.at[i].p00)))
		out.fromM, out.toM = append(out.fromM, back), append(out.toM, on)
	}
	return out, true
}

// unseenWander is how the direction must wander across a run to turn from the
// one before it to the one after it, beyond what the curves on both sides do.
func unseenWander(nodes []courseNode, first, last int, before, after courseBend) float64 {
	a := filterCourse(nodes[:first]).at
	back := slices.Clone(nodes[last:])
	slices.Reverse(back)
	for i := range back {
		back[i].t, back[i].bend.curve = -back[i].t, -back[i].bend.curve
	}
	b := filterCourse(back).at
	length := nodes[last].t - nodes[first-1].t
	u, v := a[len(a)-1].v, -b[len(b)-1].v
	if length <= 0 || u == 0 || v == 0 {
		return 0
	}
	turn := cmplx.Phase(v / u * cmplx.Rect(1, -length*(before.curve+after.curve)/2))
	return unseenPart * math.Abs(turn) / math.Sqrt(length)
}

// unseenPart takes bends to be spread over much of a run: they are seldom sharp
// and all in one place. Judgement.
const unseenPart = 0.6

// courseBend is how a course runs: its curvature, in radians a metre, positive
// to the left, and how its direction wanders, in radians per root metre.
type courseBend struct{ curve, wander float64 }

// to is the bend a part of the way from one to another; where nothing was read,
// the course may wander more.
func (b courseBend) to(o courseBend, part float64) courseBend {
	m := courseBend{b.curve + part*(o.curve-b.curve), max(b.wander, o.wander, straightWander)}
	if b.curve != 0 || o.curve != 0 {
		m.wander = max(m.wander, curvedWander)
	}
	return m
}

// The bends tried: from a line laid by machine to one full of bends, from
// straight to the tightest sweep that still goes on for a while; a curve costs
// curveNats. Judgement.
var (
	wandersTried = []float64{0.002, 0.005, 0.0125, 0.03, 0.08}
	radiiTriedM  = []float64{25, 35, 50, 70, 100, 150, 250}
)

// The least that a course wanders as it is carried on, and one that curves, in the units of
// wandersTried. Judgement.
const (
	curveNats      = 3
	straightWander = 0.003
	curvedWander   = 0.012
)

// likeliestBend returns the bend that makes some marks most likely.
func likeliestBend(nodes []courseNode) courseBend {
	curves := []float64{0}
	for _, r := range radiiTriedM {
		curves = append(curves, 1/r, -1/r)
	}
	best, bestLog := courseBend{}, math.Inf(-1)
	for _, curve := range curves {
		for _, wander := range wandersTried {
			for i := range nodes {
				nodes[i].bend = courseBend{curve, wander}
			}
			l := filterCourse(nodes).log
			if curve != 0 {
				l -= curveNats
			}
			if l > bestLog {
				best, bestLog = courseBend{curve, wander}, l
			}
		}
	}
	return best
}

// flankMarks lists the readings within flankM from k outward whose marks count.
func flankMarks(col *columns, k, step int) []int {
	var out []int
	for i := k; i >= 0 && i < len(col.rd); i += step {
		if math.Abs(col.rd[i].StationM-col.rd[k].StationM) > flankM {
			break
		}
		if !col.rd[i].SetAside {
			out = append(out, i)
		}
	}
	return out
}

// courseNodes joins the marks before a run, places across it and the marks
// after it. Places [first, last) lie in the run.
func courseNodes(col *columns, before, after []int, from, to int) (nodes []courseNode, first, last int) {
	for i := len(before) - 1; i >= 0; i-- {
		nodes = append(nodes, markNode(col.rd[before[i]], col.rd[before[i]].StationM))
	}
	// Straight across between two marks; as far as the run goes from one.
	start, length := col.rd[from].StationM, col.rd[to].StationM-col.rd[from].StationM
	if before != nil {
		start = col.rd[before[0]].StationM
		length = col.rd[to].StationM - start
	}
	if after != nil {
		length = col.rd[after[0]].StationM - start
		if before != nil {
			length = col.rd[before[0]].Pos.Dist(col.rd[after[0]].Pos)
		}
	}
	switch {
	case after == nil:
		length += overrunM
	case before == nil:
		start, length = start-overrunM, length+overrunM
	}
	first = len(nodes)
	n := max(1, int(math.Ceil(length/carriedStepM)))
	for i := range n {
		t := start + length*float64(i)/float64(n)
		if before == nil || i > 0 {
			nodes = append(nodes, courseNode{t: t, sigmaM: math.Inf(1)})
		}
	}
	if after == nil {
		nodes = append(nodes, courseNode{t: start + length, sigmaM: math.Inf(1)})
	}
	last = len(nodes)
	for _, k := range after {
		nodes = append(nodes, markNode(col.rd[k], start+length+col.rd[k].StationM-col.rd[after[0]].StationM))
	}
	return nodes, first, last
}

// markNode is a mark of the line at t along it.
func markNode(r reading, t float64) courseNode {
	s := positionSigma(r)
	if s > slowSigmaM {
		s *= slowFactor
	}
	return courseNode{t: t, mark: r.Pos, sigmaM: s}
}

// overrunM is by how much a course carried on from one side reaches past the
// last mark: marks on another line are not abreast of where the line was read to,
// the less so about a bend. Judgement.
const overrunM = 4

// Satellite errors beyond slowSigmaM last from mark to mark: each says less of
// the course than its own error would. Judgement.
const (
	slowSigmaM = 0.1
	slowFactor = 2
)

// beside is how far a place lies from a carried course, positive where the
// course lies to the right of the place in the direction of the course, with
// the course's error there.
func (c carried) beside(q geo.XY) (asideM, sigmaM float64) {
	best := math.Inf(1)
	for i := 0; i+1 < len(c.path); i++ {
		a, ab := c.path[i], c.path[i+1].Sub(c.path[i])
		if ab.Dot(ab) == 0 {
			continue
		}
		t := geo.FootShare(a, c.path[i+1], q)
		foot := a.Lerp(c.path[i+1], t)
		if d := q.Dist(foot); d < best {
			best, asideM = d, d
			if ab.Cross(q.Sub(foot)) < 0 {
				asideM = -d
			}
			sigmaM = c.sigmaM[i] + t*(c.sigmaM[i+1]-c.sigmaM[i])
		}
	}
	return asideM, sigmaM
}

// strips are where the own course may lie. Carried on from one side it ends where
// its error is such that it says nothing any more.
func (c carried) strips() []trace.CourseStrip {
	var s trace.CourseStrip
	for i, x := range c.sigmaM {
		if c.bothSides || 1.96*x < farWiden {
			s.Path, s.Half95M = append(s.Path, c.path[i]), append(s.Half95M, min(farWiden, 1.96*x))
		}
	}
	if len(s.Path) == 0 {
		return nil
	}
	return []trace.CourseStrip{s}
}
