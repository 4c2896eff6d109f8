package locate

import (
	"strings"
	"testing"

	"loamline/geo"
	"loamline/trace"
)

// Bands of PAS 128 at 1.5 m depth: B1 ± 225 mm (15 %), B2 ± 600 mm (40 %); at
// 0.5 m B1 ± 150 mm in position and ± 75 mm in depth. Arithmetic on figures of a
// UK survey firm's public summary; 'the greater' and the vertical figures from
// memory.
func TestStatements(t *testing.T) {
	tests := []struct {
		depthM, horizontalM, depth95M float64
		want, notWant                 string
	}{
		{1.5, 0.224, 0.224, "QL-B1", "QL-B2"},
		{1.5, 0.226, 0.10, "QL-B2", "QL-B1 ("},
		{0.5, 0.149, 0.074, "QL-B1", "QL-B2"},
		{0.5, 0.149, 0.076, "QL-B2", "QL-B1 ("},
		{1.0, 0.45, 0.1, "QL-B3", "QL-B2"},
		{1.0, 0.45, 0.1, "flexible", ""},
		{1.0, 0.60, 0.1, "no band of PAS 128", ""},
		{1.0, 1.60, 0.1, "class C", ""},
	}
	for _, tt := range tests {
		p := trace.Part{Vertices: []trace.Vertex{
			{StationM: 0, DepthM: tt.depthM, Depth95M: tt.depth95M, Horizontal95M: tt.horizontalM},
			{StationM: 10, DepthM: tt.depthM, Depth95M: tt.depth95M, Horizontal95M: tt.horizontalM},
		}}
		got := statements(lineOf(p), false, frameDoubt{}, geo.Metric)
		if len(got) != 2 || !strings.Contains(got[0], tt.want) || tt.notWant != "" && strings.Contains(got[0], tt.notWant) {
			t.Errorf("%+v: %q", tt, got)
		}
		if !strings.Contains(got[1], "professional's judgement") {
			t.Errorf("no word on who judges: %q", got[1])
		}
	}
}

func lineOf(p trace.Part, fs ...trace.Finding) *trace.Line {
	return &trace.Line{Centerline: &trace.Centerline{Parts: []trace.Part{p}}, Findings: fs}
}

// A frame that leaves the whole map in doubt by more than the band, or positions
// that nothing bounds, leave no band to claim.
func TestStatementsInDoubt(t *testing.T) {
	p := trace.Part{Vertices: []trace.Vertex{{DepthM: 1, Depth95M: 0.05, Horizontal95M: 0.05}, {StationM: 10, DepthM: 1, Depth95M: 0.05, Horizontal95M: 0.05}}}
	for _, c := range []struct {
		loose bool
		frame frameDoubt
		want  string
	}{
		{false, frameDoubt{M: 1.3}, "not stated: the whole map may lie about 1.30 m off"},
		{false, frameDoubt{M: 2, Stated: true}, "no better than that: the whole map may lie about 2.00 m off"},
		{true, frameDoubt{}, "autonomous receiver"},
	} {
		got := statements(lineOf(p), c.loose, c.frame, geo.Metric)
		if len(got) != 1 || !strings.Contains(got[0], c.want) || strings.Contains(got[0], "QL-B") || strings.Contains(got[0], "class A") {
			t.Errorf("%+v: %q", c.frame, got)
		}
	}
	if got := statements(lineOf(p), false, frameDoubt{M: 0.04, Stated: true}, geo.Metric); len(got) != 2 || !strings.Contains(got[0], "QL-B1") {
		t.Errorf("a frame joined to 4 cm: %q", got)
	}
}

// A stretch to be watched counts like any other; one that is suspected is left
// out and said.
func TestStatementsLeaveSuspectedStretchesOut(t *testing.T) {
	p := trace.Part{Vertices: []trace.Vertex{
		{StationM: 0, DepthM: 1, Depth95M: 0.1, Horizontal95M: 0.1},
		{StationM: 10, DepthM: 1, Depth95M: 0.1, Horizontal95M: 0.9},
		{StationM: 20, DepthM: 1, Depth95M: 0.1, Horizontal95M: 0.2},
	}}
	for grade, want := range map[trace.Grade]string{trace.GradeWatch: "within 90.0 cm", trace.GradeSuspect: "within 20.0 cm", trace.GradeStrong: "within 20.0 cm"} {
		got := statements(lineOf(p, trace.BleedOver{FromM: 9, ToM: 11, Grade: grade}), false, frameDoubt{}, geo.Metric)[0]
		if !strings.Contains(got, want) || strings.Contains(got, "suspected stretches left out") != (grade != trace.GradeWatch) {
			t.Errorf("%s: %q", grade, got)
		}
	}
}
