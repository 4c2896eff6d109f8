package locate

import (
	"slices"

	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/records"
)

// tellMetInAJump marks the crossings that a jump of the trace may have drawn.
func tellMetInAJump(s *trace.Sheet) {
	for i := range s.Lines {
		for k, f := range s.Lines[i].Findings {
			if c, ok := f.(finding.Crossing); ok && metInAJump(s, c) {
				c.ByJump = true
				s.Lines[i].Findings[k] = c
			}
		}
	}
}

// metInAJump reports that two traced lines meet where one of them is said to lie on
// the other by a jump: that is the jump's own item.
func metInAJump(s *trace.Sheet, c finding.Crossing) bool {
	if c.OnRecord() {
		return false
	}
	onto := func(line, other string, stationM float64) bool {
		l := s.Drawn(line)
		return l != nil && slices.ContainsFunc(l.Findings, func(f trace.Finding) bool {
			b, ok := f.(finding.BleedOver)
			return ok && b.Jump && b.Neighbor == other && b.FromM-records.NearM <= stationM && stationM <= b.ToM+records.NearM
		})
	}
	return onto(c.Line, c.Other, c.StationM) || onto(c.Other, c.Line, c.OtherStationM)
}
