package locate

import (
	"strings"
	"testing"

	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
	"loamline.example/trace/tracetest/fixture"
)

// Where the marks of one line may lie on another, or the other's on its own, both lines
// are told so, over the same ground: what must not be trusted of one must not be of the
// other, and what is possible of one is of the other.
func TestBothLinesOfAMixUpAreTold(t *testing.T) {
	jump := finding.BleedOver{Line: "A", FromM: 20, ToM: 40, Path: []geo.XY{{X: 20}, {X: 40}}, Grade: trace.GradeSuspect, Score: 0.85, Jump: true, Neighbor: "B",
		SeparationM: 1.5, WidenLeftM: 1.6, LnDepth95: trace.Unknown, Evidence: []trace.Remark{remark.OrNeighborHere{Neighbor: "B"}}}
	with := func(b finding.BleedOver, change func(*finding.BleedOver)) finding.BleedOver { change(&b); return b }
	mutual := with(jump, func(b *finding.BleedOver) {
		b.Line, b.Neighbor, b.Evidence = "B", "A", []trace.Remark{remark.OrNeighborHere{Neighbor: "A"}}
	})
	watch := finding.BleedOver{Line: "B", FromM: 0, ToM: 60, Grade: trace.GradeWatch, Neighbor: "A"}
	for _, tt := range []struct {
		name   string
		a      finding.BleedOver
		b      []trace.Finding
		want   []string
		strict bool // no figure stands at the place on B
	}{
		{"not to be trusted", jump, nil,
			[]string{"B, 10.0 m to 30.0 m: These paint marks may lie on 'A' instead of this line, or those of 'A' on this one: nothing in the readings shows which. Find the line there before digging."}, true},
		{"with a stretch to be watched", jump, []trace.Finding{watch}, []string{
			"B, 0.0 m to 10.0 m: possible bleed-over, perhaps from A. Expose before digging within 0.60 m of the paint.",
			"B, 30.0 m to 60.0 m: possible bleed-over, perhaps from A. Expose before digging within 0.60 m of the paint.",
			"B, 10.0 m to 30.0 m: These paint marks may lie on 'A' instead of this line, or those of 'A' on this one: nothing in the readings shows which. Find the line there before digging."}, true},
		{"watched where all is in doubt", jump, []trace.Finding{with(watch, func(b *finding.BleedOver) { b.FromM, b.ToM = 12, 28 })}, []string{
			"B, 12.0 m to 28.0 m: possible bleed-over, perhaps from A. Expose before digging: nothing says how far off the line may lie.",
			"B, 10.0 m to 30.0 m: These paint marks may lie on 'A' instead of this line, or those of 'A' on this one: nothing in the readings shows which. Find the line there before digging."}, true},
		{"only possible", with(jump, func(b *finding.BleedOver) { b.Grade, b.Score = trace.GradeWatch, 0.3 }), nil,
			[]string{"B, 10.0 m to 30.0 m: the trace may follow A instead of its own line. Or the paint marks of 'A' lie on this line there: nothing in the readings shows which. Expose before digging within 2.20 m of the paint. Find B again: connect to it alone, trace on from 10.0 m and see which way it goes."}, false},
		{"found on both", jump, []trace.Finding{with(mutual, func(b *finding.BleedOver) { b.FromM, b.ToM = 10, 30 })},
			[]string{"B, 10.0 m to 30.0 m: the trace may follow A instead of its own line. Or the paint marks of 'A' lie on this line there: nothing in the readings shows which. Expose before digging within 0.60 m to the right of the paint and 2.20 m to its left. Find B again: connect to it alone, trace on from 10.0 m and see which way it goes."}, false},
		{"known to be A's marks", with(jump, func(b *finding.BleedOver) { b.Evidence = nil }), nil, nil, false},
	} {
		a, b := fixture.Line("A", 1, geo.XY{X: 0}, geo.XY{X: 60}), fixture.Line("B", 1, geo.XY{X: 10, Y: 0.1}, geo.XY{X: 70, Y: 0.1})
		a.Findings, b.Findings = []trace.Finding{tt.a}, tt.b
		s := &trace.Sheet{Job: trace.DefaultJob(), Lines: []trace.Line{a, b}}
		tellBothOfAMixUp(s)
		s.Job.Tolerance = trace.Tolerance{HalfWidthM: 0.5, MeasuredFrom: "centerline"}
		got := adviceOn(s, s.Lines[1])
		var items []string
		for _, a := range got {
			items = append(items, said(a.Remark))
		}
		if strings.Join(items, "\n") != strings.Join(tt.want, "\n") {
			t.Errorf("%s: %q", tt.name, items)
		}
		told := words.At(&s.Lines[0], trace.Vertex{StationM: 20, DepthM: 1, Depth95M: 0.1, Horizontal95M: 0.1})
		if tt.strict == trace.Known(told.Across95M()) || tt.strict && trace.Known(told.Depth95M) {
			t.Errorf("%s: at 20 m %+v", tt.name, told)
		}
	}
}
