package locate

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/advice"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
	"loamline.example/trace/tracetest/fixture"
)

// What the fields of advice say is what its words say, and it stays about the finding
// that leads it: suspicions that were joined, one that graver ones cut short, and one
// that they cut in two.
func TestAdviceFieldsAreItsWords(t *testing.T) {
	s := &trace.Sheet{Job: trace.DefaultJob()}
	b := func(grade trace.Grade, from, to float64, neighbor string) finding.BleedOver {
		return finding.BleedOver{Line: "A", FromM: from, ToM: to, Grade: grade, Neighbor: neighbor}
	}
	for _, tt := range []struct {
		name     string
		findings []trace.Finding
		want     [][2]float64
	}{
		{"alone", []trace.Finding{b(trace.GradeSuspect, 4, 20, "B")}, [][2]float64{{4, 20}}},
		{"joined", []trace.Finding{b(trace.GradeSuspect, 0, 44, "unknown"), b(trace.GradeSuspect, 40, 134, "unknown")}, [][2]float64{{0, 134}}},
		{"joined with a graver one", []trace.Finding{b(trace.GradeSuspect, 0, 44, "B"), b(trace.GradeStrong, 40, 60, "B")}, [][2]float64{{0, 60}}},
		{"cut short", []trace.Finding{b(trace.GradeWatch, 0, 80, "B"), b(trace.GradeStrong, 54.6, 80, "C")}, [][2]float64{{0, 54.6}, {54.6, 80}}},
		{"cut in two", []trace.Finding{b(trace.GradeWatch, 0, 80, "B"), b(trace.GradeStrong, 30, 50, "C")}, [][2]float64{{0, 30}, {50, 80}, {30, 50}}},
	} {
		l := fixture.Line("A", 1, geo.XY{X: 0}, geo.XY{X: 150})
		l.Findings = tt.findings
		var got [][2]float64
		for _, a := range adviceOn(s, l) {
			got = append(got, [2]float64{a.FromM, a.ToM})
			if want := fmt.Sprintf("A, %.1f m to %.1f m: ", a.FromM, a.ToM); !strings.HasPrefix(said(a.Remark), want) {
				t.Errorf("%s: the fields say %q, the words %q", tt.name, want, said(a.Remark))
			}
			if !slices.ContainsFunc(l.Findings, func(f trace.Finding) bool { return advice.IsAbout(a, f) }) {
				t.Errorf("%s: %+v is about no finding", tt.name, a)
			}
		}
		if !slices.Equal(got, tt.want) {
			t.Errorf("%s: %v", tt.name, got)
		}
	}
}

// An item is as grave all along only where its suspicion is: what a jump adds beyond it is told
// as a jump's.
func TestItemSaysWhereItsGradeHolds(t *testing.T) {
	strong := finding.BleedOver{Line: "A", FromM: 42, ToM: 65, Grade: trace.GradeStrong}
	jump := finding.BleedOver{Line: "A", FromM: 55, ToM: 171, Grade: trace.GradeWatch, Jump: true, Neighbor: trace.UnknownNeighbor}
	for _, c := range []struct {
		all  []finding.BleedOver
		want remark.Stretch
	}{
		{[]finding.BleedOver{strong, jump}, remark.Stretch{FromM: 42, ToM: 65}},
		{[]finding.BleedOver{strong}, remark.Stretch{}},
		{[]finding.BleedOver{strong, {Line: "A", FromM: 60, ToM: 99, Grade: trace.GradeSuspect}, jump}, remark.Stretch{}},
		{[]finding.BleedOver{strong, {Line: "A", FromM: 60, ToM: 171, Grade: trace.GradeStrong}, jump}, remark.Stretch{}},
	} {
		got := bleedItem{lead: c.all[0], all: c.all}.remark(trace.Line{})
		if got.Grade != trace.GradeStrong || got.Graded != c.want {
			t.Errorf("%+v: %+v", c.all, got)
		}
	}
}
