package locate

import (
	"loamline.example/trace"
	"loamline.example/trace/bleed"
	"loamline.example/trace/finding"
)

// judgeFieldChecks judges the lift checks and the signs of air coupling of a
// line; each lift check's outcome is also written beside its reading. doubts
// are the stretches that a transmitter's own field makes doubtful.
func judgeFieldChecks(l *trace.Line, line bleed.Line) (out []finding.FieldCheck, doubts []finding.Doubt) {
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
	air := bleed.AirCoupling(line)
	add(air)
	return out, ownFieldDoubts(l, air)
}

// ownFieldDoubts are the stretches in which a transmitter's own field may be in what was
// read: nothing says by how much it moves peak and depth, so that no figure stands there.
func ownFieldDoubts(l *trace.Line, air []bleed.Check) []finding.Doubt {
	var out []finding.Doubt
	for _, c := range air {
		if c.Outcome != trace.OutcomeFailed {
			continue
		}
		at := onTheLine(bleed.Stretch{FromM: c.FromM, ToM: c.ToM}, endM(l.Centerline))
		out = append(out, finding.Doubt{Line: l.Setup.Name, FromM: at.FromM, ToM: at.ToM, Path: l.Centerline.Polyline().Slice(at.FromM, at.ToM), Why: c.Remark})
	}
	return out
}

// toldByDoubt reports a sign of a transmitter's own field, of which the doubt about the
// stretch tells.
func toldByDoubt(f trace.Finding) bool {
	c, ok := f.(finding.FieldCheck)
	return ok && c.Kind == trace.CheckAirCoupling && c.NeedsEyes()
}
