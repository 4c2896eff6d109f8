package doubt

import (
	"math"

	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// Over is a doubt on a line from the first to the last place on it of some readings; where
// they have none or but one, no stretch of the line stands for them, and it is at the places
// of those given beside.
func Over(l *trace.Line, rs, beside []*trace.Reading, why trace.Remark) finding.Doubt {
	from, to := math.Inf(1), math.Inf(-1)
	for _, r := range rs {
		if trace.Known(r.StationM) {
			from, to = math.Min(from, r.StationM), math.Max(to, r.StationM)
		}
	}
	d := finding.Doubt{Line: l.Setup.Name, FromM: trace.Unknown, ToM: trace.Unknown, Why: why}
	if from < to {
		d.FromM, d.ToM, d.Path = l.Centerline.Stretch(from, to)
		return d
	}
	for _, r := range beside {
		d.Path = append(d.Path, r.Pos)
	}
	return d
}
