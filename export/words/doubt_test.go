package words

import (
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// A depth within a stretch that is in doubt is never told as if nothing were the
// matter, and the gravest of several doubts is the one that is told.
func TestDepthsInDoubtSaySo(t *testing.T) {
	bleed := func(g trace.Grade) trace.Finding { return finding.BleedOver{FromM: 2, ToM: 6, Grade: g} }
	contradicted := finding.Doubt{FromM: 4, ToM: 8}
	beside := finding.Doubt{FromM: trace.Unknown, ToM: trace.Unknown}
	near := finding.FieldCheck{StationM: 4, Kind: trace.CheckAirCoupling, Outcome: trace.OutcomeFailed, Remark: remark.NearTransmitter{N: 6, ReachM: 10, LeastM: 6}}
	v := trace.Vertex{DepthM: 1, Depth95M: 0.1}
	for _, c := range []struct {
		findings []trace.Finding
		stationM float64
		words    string
		label    string
	}{
		{nil, 5, "", "read"},
		{[]trace.Finding{near}, 11.9, "the transmitter's own field may add to the line's", "read 1.00 m ± 0.10 (doubtful)"},
		{[]trace.Finding{near}, 12.1, "", "read"},
		{[]trace.Finding{finding.FieldCheck{StationM: 5, Kind: trace.CheckAirCoupling, Outcome: trace.OutcomePassed}}, 5, "", "read"},
		{[]trace.Finding{contradicted, beside}, 3.8, "", "read"},
		{[]trace.Finding{contradicted}, 3.9, "line in doubt", "DO NOT TRUST"}, // told as the 4 m at which it begins, in feet
		{[]trace.Finding{contradicted}, 8.1, "line in doubt", "DO NOT TRUST"},
		{[]trace.Finding{bleed(trace.GradeWatch), finding.BleedOver{FromM: 5.02, ToM: 8, Grade: trace.GradeStrong}}, 5, "bleed-over strongly suspected", "DO NOT TRUST"},
		{[]trace.Finding{contradicted}, 5, "line in doubt", "DO NOT TRUST"},
		{[]trace.Finding{bleed(trace.GradeWatch)}, 5, "possible bleed-over", "read 1.00 m ± 0.10 (doubtful)"},
		{[]trace.Finding{bleed(trace.GradeWatch), contradicted}, 5, "line in doubt", "DO NOT TRUST"},
		{[]trace.Finding{contradicted, bleed(trace.GradeSuspect)}, 5, "bleed-over suspected", "DO NOT TRUST"},
		{[]trace.Finding{bleed(trace.GradeStrong), bleed(trace.GradeSuspect)}, 5, "bleed-over strongly suspected", "DO NOT TRUST"},
	} {
		l := &trace.Line{Findings: c.findings}
		v.StationM = c.stationM
		got := ""
		if d := DoubtAt(l, c.stationM); d != nil {
			got = d.Words
		}
		if label := StationLabel(geo.Metric, l, v); got != c.words || !strings.HasPrefix(label, c.label) {
			t.Errorf("%+v at %v: %q, %q", c.findings, c.stationM, got, label)
		}
	}
}
