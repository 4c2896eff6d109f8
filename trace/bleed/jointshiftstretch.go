package bleed

import (
	"math"

	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// jointShiftStretches grades and words what moves together where no neighbour's
// coupling was found.
func (m unmapped) jointShiftStretches(found []jointShift, others []Stretch) []Stretch {
	var out []Stretch
	for _, g := range found {
		if _, ok := m.besideOwn(g.lo+g.from, g.lo+g.to); ok {
			g.logOdds += besideToo
		}
		if probability(g.logOdds) < leastCoupled {
			continue
		}
		for _, f := range g.ways(m.columns) {
			s := m.jointShiftStretch(f)
			if !overlapsSuspected(others, s) && !overlapsSuspected(out, s) {
				out = append(out, s)
			}
		}
	}
	return out
}

func overlapsSuspected(found []Stretch, s Stretch) bool {
	for _, o := range found {
		if o.Grade != trace.GradeWatch && overlap(o, s) > 0 {
			return true
		}
	}
	return false
}

// besideToo is what it says for another's signal, in nats, that the marks of the
// stretch also step aside to a course beside, which lines do by fittings, but at
// few places. Judgement.
const besideToo = 4

// oneWay is a stretch that moves together, on the side of a step that it is taken to
// be on.
type oneWay struct {
	jointShift
	either bool // nothing tells on which side of a single step the signal is another's
}

// ways are the stretches that may be another conductor's. Where the columns step
// once, what lies on one side of the step is the line's own and what lies on the
// other is not: the null, which is at the peak over a line alone, may tell which.
func (g jointShift) ways(c *columns) []oneWay {
	if !math.IsInf(g.fromM, 0) && !math.IsInf(g.toM, 0) {
		return []oneWay{{g, false}}
	}
	o := g.other(c)
	if !c.nullTells(g.lo+g.from, g.lo+g.to, o.lo+o.from, o.lo+o.to) {
		return []oneWay{{g, true}, {o, true}}
	}
	diff := c.nullSpeaks(g.lo+g.from, g.lo+g.to) - c.nullSpeaks(o.lo+o.from, o.lo+o.to)
	switch {
	case diff > otherSideNats:
		return []oneWay{{g, false}}
	case diff < -otherSideNats:
		return []oneWay{{o, false}}
	}
	return []oneWay{{g, true}, {o, true}}
}

// other is the stretch beyond a single step.
func (g jointShift) other(c *columns) jointShift {
	o := g
	n := g.hi - g.lo
	if math.IsInf(g.toM, 0) {
		o.from, o.to, o.fromM, o.toM = 0, g.from-1, math.Inf(-1), g.fromM
	} else {
		o.from, o.to, o.fromM, o.toM = g.to+1, n-1, g.toM, math.Inf(1)
	}
	o.depth.by, o.signal.by, o.null.by, o.across.by = -g.depth.by, -g.signal.by, -g.null.by, -g.across.by
	return o
}

// What the displacement is held to where the marks do not show it: a part of the
// depth, by how far the depth shown is off. Judgement: two lines a depth apart.
const (
	unshownShift     = 0.8
	leastUnshownPart = 0.1
	mostUnshownPart  = 0.45
)

// depthDoubt is how many times as far as it steps a depth may lie from the line's own, and
// leastDisplaced the least chance that what moves together is displaced by a dangerous
// amount: without a field that fits, neither is known. Judgement.
const (
	depthDoubt     = 1.5
	leastDisplaced = 0.3
)

func (c *columns) jointShiftStretch(f oneWay) Stretch {
	from, to := f.lo+f.from, f.lo+f.to
	p := probability(f.logOdds)
	s := Stretch{FromM: c.rd[from].StationM, ToM: c.rd[to].StationM, Grade: trace.GradeWatch, Neighbor: Unknown,
		SeparationM: math.NaN(), ShiftM: math.NaN(), Shift95M: math.NaN(),
		LnDepth95: math.Hypot(math.Abs(f.depth.by)*depthDoubt, 1.96*minLnDepthSD)}
	depth := c.depth[(from+to)/2]
	lies := -f.across.by // the line from the mark
	half := 1.96 * math.Hypot(f.across.sd, math.Hypot(modelErrorPart*lies, minShiftSD))
	if !c.course.usable {
		lies, half = 0, depth*math.Max(leastUnshownPart, math.Min(mostUnshownPart, unshownShift*math.Abs(f.depth.by)))
	}
	s.WidenRightM, s.WidenLeftM = math.Max(0, half+lies), math.Max(0, half-lies)
	if math.Abs(lies) > sideClear*1.96*f.across.sd && c.course.usable {
		s.ShiftM, s.Shift95M, s.Side = math.Abs(lies), likelyError*half, sideOf(lies)
	}
	switch {
	case p >= strongCoupled && !f.either:
		s.Grade = trace.GradeStrong
	case p >= SuspectCoupled:
		s.Grade = trace.GradeSuspect
	}
	displaced := math.Max(tail(dangerShiftM, math.Abs(lies), half/1.96), tail(math.Log(1+dangerDepth), math.Abs(f.depth.by), math.Hypot(f.depth.sd, minLnDepthSD)))
	s.Score = p * math.Max(leastDisplaced, displaced)
	if f.either {
		s.Score /= 2
	}
	s.Evidence = c.jointShiftEvidence(f, s)
	return s
}

// jointShiftEvidence is what goes over to other levels at the stretch's ends.
func (c *columns) jointShiftEvidence(f oneWay, s Stretch) []trace.Remark {
	w := finding{from: f.lo + f.from, to: f.lo + f.to}
	var either trace.Remark
	if f.either {
		either = remark.EitherSideMayBeOther
	}
	return present(c.nullOffset(w), c.depthAndCurrent(w),
		remark.LevelsTogether{SeenBegin: !math.IsInf(f.fromM, 0), SeenEnd: !math.IsInf(f.toM, 0)},
		either, c.againstDirection(w), c.favoured(w), s.shiftUnknown())
}
