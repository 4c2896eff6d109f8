package words

import (
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// A band is told with both its sides where the zone that is drawn reaches farther to one
// of them, the farther with no less than the band; and with one figure where it reaches
// as far to both.
func TestBandIsToldOnBothSides(t *testing.T) {
	bleed := finding.BleedOver{Line: "A", FromM: 10, ToM: 20, Grade: trace.GradeStrong, LikelyShiftM: trace.Unknown, Shift95M: trace.Unknown, WidenLeftM: 1.5, WidenRightM: 0.5}
	l := &trace.Line{Findings: []trace.Finding{bleed}, Tolerance: trace.Zone{HalfWidthM: 0.5},
		Reach: []trace.ZoneReach{{StationM: 0, LeftM: 0.6, RightM: 0.6}, {StationM: 10, LeftM: 2.1, RightM: 1.1}, {StationM: 20, LeftM: 2.1, RightM: 1.1}, {StationM: 30, LeftM: 0.6, RightM: 0.6}}}
	v := trace.Vertex{StationM: 15, DepthM: 1, Depth95M: 0.2, Horizontal95M: 1.6}
	told := At(l, v)
	if !told.OneSided() || told.LeftM != 1.6 || math.Abs(told.RightM-0.6) > 1e-9 {
		t.Fatalf("left %g, right %g", told.LeftM, told.RightM)
	}
	for u, want := range map[geo.Units][2]string{
		geo.Metric: {"left 1.60 m, right 0.60 m", "position across the line, suspected displacement included: 1.60 m to the left and 0.60 m to the right (95 %)"},
		geo.US:     {"left 5 ft 3 in, right 2 ft", "position across the line, suspected displacement included: 5 ft 3 in to the left and 2 ft to the right (95 %)"},
	} {
		if label, sentence := told.PositionLabel(u), told.Position(u); label != want[0] || sentence != want[1] {
			t.Errorf("%q, %q", label, sentence)
		}
	}
	l.Caution.DoubtM, l.Caution.DoubtStated = 0.4, true
	if got, want := At(l, v).Position(geo.Metric), "position across the line, suspected displacement included: 2.00 m to the left and 1.00 m to the right (0.40 m of each from the datum)"; got != want {
		t.Errorf("%q", got)
	}
	l.Caution.DoubtM = 0
	for i := range l.Reach {
		l.Reach[i].RightM = l.Reach[i].LeftM
	}
	if got := At(l, v).PositionLabel(geo.Metric); got != "± 1.60 m" {
		t.Errorf("as far to both sides: %q", got)
	}
	if outside := At(l, trace.Vertex{StationM: 2, Horizontal95M: 0.1}); outside.OneSided() {
		t.Error("a band that nothing is suspected of has two sides")
	}
}
