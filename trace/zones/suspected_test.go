package zones

import (
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
	"loamline.example/trace/tracetest/fixture"
)

// Beside a flagged stretch the bands hold the true line: the displacement that is
// suspected on the wider side, the depth that it falsifies, and where the trace
// may lie on another line the way over to its own course, at its own depth. The
// mark stays, and nothing happens where a stretch is only to be watched, unless its words
// say by how much the line would be off.
func TestBandsHoldWhatIsSuspected(t *testing.T) {
	course := []trace.CourseStrip{{Path: []geo.XY{{X: 0, Y: 1.5}, {X: 60, Y: 1.5}}, Half95M: []float64{0.2, 0.2}}}
	for _, c := range []struct {
		b                finding.BleedOver
		depthAtM         float64
		horizontal, deep float64
	}{
		{finding.BleedOver{Grade: trace.GradeStrong, WidenLeftM: 0.3, WidenRightM: 0.1, LnDepth95: math.Log(1.2)}, 1, 0.1 + 0.3, 0.05 + 0.2},
		{finding.BleedOver{Grade: trace.GradeSuspect, Jump: true, OwnCourse: course, LnDepth95: trace.Unknown}, 2, 0.1 + 1.7, 0.05 + 1 + 0.2},
		{finding.BleedOver{Grade: trace.GradeWatch, WidenLeftM: 0.3, LnDepth95: 1}, 1, 0.1, 0.05},
		{finding.BleedOver{Grade: trace.GradeWatch, WidenLeftM: 0.3, WidenRightM: 0.1, LnDepth95: math.Log(1.12), LikelyShiftM: trace.Unknown, Shift95M: trace.Unknown,
			Evidence: []trace.Remark{remark.CoupledUnseen{Share: 0.5, ShiftM: 0.3, LnDepth: math.Log(1.12)}}}, 1, 0.1 + 0.3, 0.05 + 0.12},
	} {
		c.b.FromM, c.b.ToM = 20, 40
		l := fixture.Line("A", 1, geo.XY{X: 0}, geo.XY{X: 10}, geo.XY{X: 15}, geo.XY{X: 30}, geo.XY{X: 50}, geo.XY{X: 60})
		vs := l.Centerline.Parts[0].Vertices
		for i := range vs {
			vs[i].Depth95M = 0.05
		}
		vs[3].DepthM = c.depthAtM
		l.Findings = []trace.Finding{c.b}
		l.Tolerance.HalfWidthM = 0.5
		l.Reach = ReachAlong(l.Centerline, l.Findings, 0.5)
		WidenForSuspected(&l)
		for _, v := range l.Centerline.Parts[0].Vertices {
			switch {
			case v.Pos.Y != 0:
				t.Errorf("the mark was moved: %+v", v)
			case v.StationM == 30 && (math.Abs(v.Horizontal95M-c.horizontal) > 1e-9 || math.Abs(v.Depth95M-c.deep) > 1e-9):
				t.Errorf("%s: ± %.3f m, depth ± %.3f m, want %.3f and %.3f", c.b.Grade, v.Horizontal95M, v.Depth95M, c.horizontal, c.deep)
			case (v.StationM < 19 || v.StationM > 41) && (math.Abs(v.Horizontal95M-0.1) > 1e-9 || math.Abs(v.Depth95M-0.05) > 1e-9):
				t.Errorf("%s: widened at %.0f m, outside the stretch", c.b.Grade, v.StationM)
			}
		}
	}
}
