package bleed

import (
	"math"

	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// A suspected stretch may end where the marks step aside to a course beside and stay there.
// Its own marks lie on the course before: what lies past the step is on another one, though
// no field that begins or ends shows there, for the receiver is over one conductor from
// there on. Nothing tells which of the two courses is the line's, and the one that was
// heard before the step is the nearest reason for it.

// farScore is the probability that what lies past such a step is displaced dangerously: one
// of two courses is. Judgement.
const farScore = 0.5

// A step of the columns that goes with one of the marks, in logs, of as many readings on
// either side as a side of a level has. Judgement: less an elbow does.
const farLevel = 0.2

// farSides are the stretches past lasting steps aside at the ends of suspected ones on signal
// of a neighbour that nobody drew, to the step back, the next suspected stretch or the end.
func (m unmapped) farSides(found, said []Stretch) []Stretch {
	var out []Stretch
	for _, s := range found {
		if s.Neighbor != Unknown || s.Grade == trace.GradeWatch {
			continue
		}
		from, to := m.readingsIn(s.FromM, s.ToM)
		// Where the walk is said to have begun on another line, that is doubted; where it is said
		// to have ended on one, it is not.
		if from >= to || s.Jump && (!m.beginsWalk(from, to)) {
			continue
		}
		for _, end := range [2][2]int{{from, -1}, {to + 1, 1}} {
			if end[1] != m.onward() {
				continue
			}
			o, ok := m.farSide(end[0], end[1], s.ToM-s.FromM)
			if ok && !overlapsSuspected(found, o) && !overlapsSuspected(said, o) && !overlapsSuspected(out, o) {
				out = append(out, o)
			}
		}
	}
	return out
}

// beginsWalk reports whether readings [from, to] begin the walk and do not end it.
func (c *columns) beginsWalk(from, to int) bool {
	first, last := from <= openReadings, to >= len(c.rd)-1-openReadings
	if c.onward() < 0 {
		first, last = last, first
	}
	return first && !last
}

// onward is 1 where the walk went the way that the stations grow, else -1: it begins at the
// hookup, on its line, more often than it comes to it, so that a step aside leaves the line
// more often than it comes back to it.
func (c *columns) onward() int {
	if n := len(c.walk); n > 0 && c.rd[c.walk[0]].StationM > c.rd[c.walk[n-1]].StationM {
		return -1
	}
	return 1
}

// farSide is what lies past the step aside about the gap before reading edge, the way that
// step counts readings.
func (m unmapped) farSide(edge, way int, nearM float64) (Stretch, bool) {
	n := len(m.rd)
	if edge < leastTurnedOf || edge > n-leastTurnedOf {
		return Stretch{}, false
	}
	by, ok := m.hop(edge)
	if !ok || !m.surelyBesideEither(by, edge) || !m.columnsStep(edge) {
		return Stretch{}, false
	}
	first, last := edge, n-1
	if way < 0 {
		first, last = 0, edge-1
	}
	for k := edge + way*leastTurnedOf; k > first && k <= last; k += way {
		back, is := m.lateralStep(k)
		if is && back.by*by.by < 0 && math.Abs(back.by) >= math.Max(leastAsideM, surelyAside*back.sd) && m.columnsStep(k) {
			if way > 0 {
				last = k - 1
			} else {
				first = k
			}
			break
		}
	}
	lengthM := m.rd[last].StationM - m.rd[first].StationM
	if last-first < 2 || lengthM < leastLengthM(m.leastDepth(edge)) || lengthM > mostOtherSide*nearM {
		return Stretch{}, false
	}
	s := m.unexplained(first, last, trace.GradeSuspect)
	s.Score, s.Evidence = farScore, []trace.Remark{remark.EitherSideMayBeOther}
	own := amount{by.by, by.sd}
	if way > 0 {
		own.by = -own.by
	}
	m.goOver(&s, own, first, last)
	if way < 0 {
		s.Evidence[len(s.Evidence)-1] = remark.StepToUnmapped{AsideM: math.Abs(own.by), StationM: s.ToM}
	}
	return s, true
}

// surelyBesideEither is surelyBeside where the depths on the two sides of a step differ: the
// one that swells as two lines' fields part is neither line's.
func (c *columns) surelyBesideEither(s amount, edge int) bool {
	return math.Abs(s.by) >= math.Max(leastAsideM, asideDepths*c.leastDepth(edge)) && math.Abs(s.by) >= surelyAside*s.sd
}

// leastDepth is the lesser of the depths on either side of the gap before reading edge.
func (c *columns) leastDepth(edge int) float64 {
	least := math.Inf(1)
	for k := max(0, edge-sideLevel); k < min(len(c.depth), edge+sideLevel); k++ {
		least = math.Min(least, c.depth[k])
	}
	return least
}

// columnsStep reports whether depth, signal or current, as they were read, go over to another
// level about the gap before reading edge.
func (c *columns) columnsStep(edge int) bool {
	for _, of := range []func(k int) (float64, bool){
		c.depthOf,
		func(k int) (float64, bool) { return c.lnS[k], c.varS[k] < nothing },
		func(k int) (float64, bool) {
			lnI := logOf(c.rd[k].CurrentMA)
			return lnI, !math.IsNaN(lnI)
		},
	} {
		level := func(k, way int) float64 {
			var v []float64
			for first := k; k >= 0 && k < len(c.rd) && len(v) < mostSide && math.Abs(c.rd[k].StationM-c.rd[first].StationM) <= hopM; k += way {
				if x, ok := of(k); ok && !c.airCoupled[k] {
					v = append(v, x)
				}
			}
			if len(v) < leastShownOf {
				return math.NaN()
			}
			return median(v)
		}
		if by := level(edge, 1) - level(edge-1, -1); math.Abs(by) >= farLevel {
			return true
		}
	}
	return false
}
