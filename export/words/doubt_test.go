package words

import (
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// A depth within a stretch that is in doubt is never told as if nothing were the
// matter, and the gravest of several doubts is the one that is told.
func TestDepthsInDoubtSaySo(t *testing.T) {
	bleed := func(g trace.Grade) trace.Finding { return finding.BleedOver{FromM: 2, ToM: 6, Grade: g} }
	contradicted := finding.Doubt{FromM: 4, ToM: 8}
	beside := finding.Doubt{FromM: trace.Unknown, ToM: trace.Unknown}
	v := trace.Vertex{DepthM: 1, Depth95M: 0.1}
	for _, c := range []struct {
		findings []trace.Finding
		stationM float64
		words    string
		label    string
	}{
		{nil, 5, "", "read"},
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
		if d := At(l, v).Doubt; d != nil {
			got = d.Words
		}
		if label := StationLabel(geo.Metric, l, v); got != c.words || !strings.HasPrefix(label, c.label) {
			t.Errorf("%+v at %v: %q, %q", c.findings, c.stationM, got, label)
		}
	}
}

// What was not traced past an end of a line, or beside it, has its edge where it begins on
// the line: no figure stands there as read. Farther along the line it says nothing.
func TestTheEdgeOfWhatWasNotTracedBesideALine(t *testing.T) {
	l := straight("A", 0, 0.6)
	none := trace.Unknown
	l.Findings = []trace.Finding{
		finding.Gap{Line: "A", FromM: none, ToM: none, Path: []geo.XY{{X: 60}, {X: 63, Y: 2}}, Why: trace.Verbatim("Past the end.")},
		finding.Gap{Line: "A", FromM: none, ToM: none, Path: []geo.XY{{X: 20}, {X: 24, Y: 5}, {X: 28}}, Why: trace.Verbatim("Beside it.")},
		finding.Gap{Line: "A", FromM: none, ToM: none, Path: []geo.XY{{X: 40, Y: 3}, {X: 44, Y: 3}}, Why: trace.Verbatim("Apart from it.")},
	}
	along := NewAlong(&l)
	for stationM, want := range map[float64]bool{0: false, 19: false, 20: true, 20.4: true, 24: false, 28: true, 29: false, 42: false, 59: false, 59.6: true, 60: true} {
		v := trace.Vertex{StationM: stationM, DepthM: 1, Depth95M: 0.1, Horizontal95M: 0.1}
		for _, told := range []Told{At(&l, v), along.At(v)} {
			if told.Distrusted() != want || trace.Known(told.Across95M()) == want {
				t.Errorf("at %g m: %+v", stationM, told)
			}
		}
	}
	if z := ZoneStretches(&l); !z[len(z)-1].InDoubt || z[len(z)-1].FromM != 59.5 {
		t.Errorf("%+v", z)
	}
}
