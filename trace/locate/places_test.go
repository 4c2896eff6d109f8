package locate

import (
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/advice"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
	"loamline.example/trace/tracetest/fixture"
)

// Doubts of one sort that are too many to tell apart are one item with all of their places,
// about each of them; one in which another was told says more, and is told by itself.
func TestManyDoubtsOfOneSortAreOneItem(t *testing.T) {
	worst := remark.FewReadings{N: 2, OverM: 30}
	few := func(fromM, toM float64) finding.Doubt {
		return finding.Doubt{Line: "A", FromM: fromM, ToM: toM, Why: remark.FewReadings{N: 3, OverM: toM - fromM}, Among: worst}
	}
	other := finding.Doubt{Line: "A", FromM: 12, ToM: 14, Why: trace.Verbatim("Two passes lie 0.60 m apart.")}
	l := fixture.Line("A", 1, geo.XY{X: 0}, geo.XY{X: 400})
	l.Findings = []trace.Finding{few(100, 130), few(0, 20), other, few(300, 320), few(200, 220)}
	within := l
	within.Findings = []trace.Finding{finding.Doubt{Line: "A", FromM: 0, ToM: 400, Why: trace.Verbatim("No smooth line goes with these readings.")}, few(100, 130), few(0, 20), other, few(300, 320)}
	if got := adviceOn(&trace.Sheet{Job: trace.DefaultJob()}, within); len(got) != 1 || said(got[0].Remark) != "A, 0.0 m to 400.0 m: No smooth line goes with these readings. "+
		"3 places in it, at worst: only 2 readings over 30.0 m: between them the line may run elsewhere. These are: from 0.0 to 20.0 m; from 100.0 to 130.0 m; from 300.0 to 320.0 m. "+
		"From 12.0 m to 14.0 m: Two passes lie 0.60 m apart. Find the line there before digging." {
		t.Errorf("within another: %+v", got)
	}
	got := adviceOn(&trace.Sheet{Job: trace.DefaultJob()}, l)
	want := []string{
		"A, 3 places, at worst: only 2 readings over 30.0 m: between them the line may run elsewhere. Find the line there before digging: from 100.0 to 130.0 m; from 200.0 to 220.0 m; from 300.0 to 320.0 m.",
		"A, 0.0 m to 20.0 m: only 3 readings over 20.0 m: between them the line may run elsewhere. From 12.0 m to 14.0 m: Two passes lie 0.60 m apart. Find the line there before digging.",
	}
	if len(got) != len(want) || said(got[0].Remark) != want[0] || said(got[1].Remark) != want[1] {
		t.Fatalf("%+v", got)
	}
	if got[0].FromM != 100 || got[0].ToM != 320 {
		t.Errorf("from %g to %g m", got[0].FromM, got[0].ToM)
	}
	for k, about := range []bool{true, false, false, true, true} {
		if advice.IsAbout(got[0], l.Findings[k]) != about {
			t.Errorf("about %+v: %v", l.Findings[k], !about)
		}
	}
}
