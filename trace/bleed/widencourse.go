package bleed

import "math"

// widenToCourse widens a stretch's caution to the line's own course, carried across
// the stretch from the marks on both sides, where the marks stand off it. Marks
// that slid far towards the other conductor do so at once, which the fit may take
// for a corner of the line or for a conductor on the other side: then no side is
// told.
func (c *columns) widenToCourse(s *Stretch, f finding) {
	if f.coupled < SuspectCoupled {
		return
	}
	from, to := max(1, f.from-edgeReadings), min(len(c.rd)-2, f.to+edgeReadings)
	own, ok := carryOn(c, from, to)
	if !ok || !own.bothSides {
		return
	}
	aside, sigma := make([]float64, 0, to-from+1), make([]float64, 0, to-from+1)
	for k := from; k <= to; k++ {
		a, e := own.beside(c.rd[k].Pos)
		aside, sigma = append(aside, a), append(sigma, math.Hypot(e, positionSigma(c.rd[k])))
	}
	otherSide := 0
	for i := 1; i+1 < len(aside); i++ {
		a := median([]float64{aside[i-1], aside[i], aside[i+1]})
		if math.Abs(a) < max(leastStandOffM, 2*sigma[i]) || math.Abs(a) > mostSlideDepths*c.depth[from+i] || sigma[i] > knownCourseM {
			continue
		}
		s.WidenRightM = max(s.WidenRightM, a+1.96*sigma[i])
		s.WidenLeftM = max(s.WidenLeftM, 1.96*sigma[i]-a)
		if s.Side != "" && s.Side != sideOf(a) {
			otherSide++
		}
	}
	if 2*otherSide > len(aside) { // the fit's side and the course's contradict each other
		s.ShiftM, s.Shift95M, s.Side = math.NaN(), math.NaN(), ""
	}
}

// edgeReadings is how far past the ends found of a stretch marks may still be
// displaced, leastStandOffM the least that matters, in metres, and
// mostSlideDepths how far marks slide. A course whose error is larger than
// knownCourseM, as about a bend within the stretch, says nothing. Judgement.
const (
	edgeReadings    = 2
	leastStandOffM  = 0.15
	mostSlideDepths = 1.5
	knownCourseM    = 0.25
)
