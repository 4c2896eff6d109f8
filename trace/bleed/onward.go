package bleed

import (
	"math"

	"loamline/geo"
	"loamline/trace"
)

// onward is the neighbour's own course past a run that begins where the trace does:
// which of two lines a trace began on, nothing tells for sure. If it began on its own
// and left it where the run ends, that course is the line's.
func (m meeting) onward(to int) []trace.CourseStrip {
	if to+1 >= len(m.col.rd) || len(m.path.Points) < 2 {
		return nil
	}
	path := geo.NewPolyline(m.path.Points)
	a := path.Nearest(m.col.rd[to].Pos).StationM
	b := path.Nearest(m.col.rd[len(m.col.rd)-1].Pos).StationM
	n := int(math.Ceil(math.Abs(b-a) / carriedStepM))
	if n < 1 {
		return nil
	}
	var s trace.CourseStrip
	for i := range n + 1 {
		s.Path = append(s.Path, path.At(a+(b-a)*float64(i)/float64(n)))
		s.Half95M = append(s.Half95M, math.Min(farWiden, 1.96*m.on[to].sigmaM))
	}
	return []trace.CourseStrip{s}
}
