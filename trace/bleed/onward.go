package bleed

import (
	"math"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
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

// orTheRest are what follows jumps that begin with the trace, to its end, where nothing
// else is suspected of it: on which of the two lines the trace began, the marks' places
// do not tell.
func (c *columns) orTheRest(jumped, others []Stretch) []Stretch {
	var out []Stretch
	n := len(c.rd)
	for _, j := range jumped {
		if !j.Jump || len(j.onward) == 0 {
			continue
		}
		from := 0
		for from < n && c.rd[from].StationM <= j.ToM {
			from++
		}
		if n-from < 3 {
			continue
		}
		s := Stretch{FromM: c.rd[from].StationM, ToM: c.rd[n-1].StationM, Grade: trace.GradeSuspect, Score: j.Score / 2,
			Neighbor: Unknown, SeparationM: math.NaN(), ShiftM: math.NaN(), Shift95M: math.NaN(), LnDepth95: math.NaN(), Jump: true, Own: j.onward,
			Evidence: []trace.Remark{remark.OrItLeaves{StationM: j.ToM, Neighbor: j.Neighbor}}}
		if !overlapsSuspected(jumped, s) && !overlapsSuspected(others, s) {
			out = append(out, s)
		}
	}
	return out
}
