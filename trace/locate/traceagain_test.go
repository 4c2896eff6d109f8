package locate

import (
	"strings"
	"testing"

	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/bleed"
	"loamline.example/trace/remark"
)

// A jump is traced again from one place: the item and the evidence name the same end of
// the stretch as it is drawn, also where the detector carried it on to the reading
// before, and where the jump begins the walk.
func TestOnePlaceToTraceAgainFrom(t *testing.T) {
	for name, c := range map[string]struct{ againM, wantM float64 }{
		"leaves the line":  {48.9, 46.5},
		"begins the walk":  {57.1, 60.1},
		"at the very ends": {46.5, 46.5},
	} {
		found := bleed.Stretch{FromM: 46.5, ToM: 60.1, Jump: true, Grade: trace.GradeStrong, Neighbor: "B",
			Evidence: []trace.Remark{remark.OwnCourse{AsideM: 2, Side: trace.Right}, remark.TraceAgainFrom{StationM: c.againM}}}
		drawn := found
		drawn.Evidence = traceAgainAt(drawn, found)
		if found.Evidence[1].(remark.TraceAgainFrom).StationM != c.againM {
			t.Errorf("%s: the detector's own stretch was changed", name)
		}
		l := trace.Line{Setup: trace.LineSetup{Name: "A"}, Centerline: &trace.Centerline{Parts: []trace.Part{{Vertices: []trace.Vertex{
			{StationM: 0}, {StationM: 100, Pos: geo.XY{X: 100}}}}}}}
		f := bleedFinding(&l, drawn)
		f.Path = []geo.XY{{X: f.FromM}, {X: f.ToM}}
		l.Findings = []trace.Finding{f}
		at := geo.Metric.Long(c.wantM)
		if evidence := strings.Join(words.Remarks(geo.Metric, f.Evidence), " "); !strings.Contains(evidence, "again from "+at) {
			t.Errorf("%s: evidence %q, want %s", name, evidence, at)
		}
		said := false
		for _, a := range adviceOn(&trace.Sheet{Job: trace.DefaultJob()}, l) {
			said = said || strings.Contains(words.Remark(geo.Metric, a.Remark), "trace on from "+at)
		}
		if !said {
			t.Errorf("%s: no item says to trace on from %s", name, at)
		}
	}
}
