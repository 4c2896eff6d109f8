package locate

import (
	"loamline.example/trace"
	"loamline.example/trace/bleed"
	"loamline.example/trace/finding"
)

// judgeFieldChecks judges the lift checks and the signs of air coupling of a
// line; each lift check's outcome is also written beside its reading.
func judgeFieldChecks(s *trace.Sheet, l *trace.Line, line bleed.Line) []finding.FieldCheck {
	var out []finding.FieldCheck
	add := func(checks []bleed.Check) {
		for _, c := range checks {
			out = append(out, finding.FieldCheck{Line: l.Setup.Name, Kind: c.Kind, At: c.Pos, StationM: c.StationM, Outcome: c.Outcome, Remark: c.Remark})
		}
	}
	lifts := bleed.LiftChecks(line, l.DepthRel)
	for _, c := range lifts {
		r := &l.Readings[c.Index]
		if !r.DepthDropped {
			r.Reason = nil
		}
		r.AddReason(c.Remark)
	}
	add(lifts)
	add(bleed.AirCoupling(line))
	return out
}
