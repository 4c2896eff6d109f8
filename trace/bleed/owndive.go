package bleed

import (
	"math"

	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// A conductor beside changes the current read more than the depth: by (1+3u²)/(2u²) in logs,
// u depths away and as deep, to first order. Of 1,319 arrangements of two lines reckoned
// without that (u 0.15 to 3, 0.3 to 3 times as deep, -0.9 to 2 times the current, antennas 0.4
// of the depth apart, depth off by a tenth or more) 95 in 100 do so, and two in 100, all
// beside a line 0.3 times as deep, change it by less than keepsCurrent of that; those read
// shallow, and the null shows a field so near. A line that dives or climbs keeps its current.
// The figures are judgement.
const (
	keepsCurrent  = 0.5
	leastDive     = 0.1 // of ln depth
	nullMayDepths = 0.1
)

// ownDive takes a stretch along which nothing but depth changes, and no mark steps aside,
// for no more than a watch. The caution stays as wide.
func (c *columns) ownDive(s *Stretch, w finding) {
	if s.Grade != trace.GradeWatch && c.depthAlone(w) {
		s.Grade, s.Score = trace.GradeWatch, math.Min(s.Score, ownLegScore)
		s.Evidence = append(s.Evidence, remark.DepthMayBeOwn)
	}
}

// depthAlone reports whether depth changes along a stretch and neither current nor null
// does, against what was read before and after it.
func (c *columns) depthAlone(w finding) bool {
	changed, ok := c.depthAndCurrent(w).(remark.DepthAndCurrent)
	if !ok || !trace.Known(changed.LnCurrent) || math.Abs(changed.LnDepth) < leastDive || math.Abs(changed.LnCurrent) > keepsCurrent*math.Abs(changed.LnDepth) {
		return false
	}
	null, ok := c.nullOffset(w).(remark.NullOffset)
	return !ok || null.OffsetM <= math.Max(null.BandM, nullMayDepths*c.depth[(w.from+w.to)/2])
}
