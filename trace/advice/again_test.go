package advice

import (
	"testing"

	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// What is to be made again are the checks that could tell nothing, line by line, and no
// others.
func TestChecksToRepeat(t *testing.T) {
	check := func(line string, stationM float64, o trace.Outcome) trace.Finding {
		return finding.FieldCheck{Line: line, StationM: stationM, Kind: trace.CheckLift, Outcome: o}
	}
	s := &trace.Sheet{Lines: []trace.Line{
		{Findings: []trace.Finding{check("A", 1, trace.OutcomePassed), check("A", 2, trace.OutcomeInconclusive), finding.Doubt{Line: "A"}}},
		{Findings: []trace.Finding{check("B", 3, trace.OutcomeFailed), check("B", 4, trace.OutcomeInconclusive)}},
	}}
	got := ToRepeat(s)
	if len(got) != 2 || got[0].StationM != 2 || got[1].StationM != 4 {
		t.Errorf("%+v", got)
	}
}
