package words

import (
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// How far a zone reaches is told by sides where they differ, with a range where it
// differs along the stretch, and rounded up. A range says that the place decides, and which
// end holds for who cannot tell.
func TestReach(t *testing.T) {
	for _, tt := range []struct {
		u           geo.Units
		left, right [2]float64
		want        string
	}{
		{geo.Metric, [2]float64{0.6, 0.6}, [2]float64{0.5, 0.9}, "within 0.50 to 0.90 m to the right of the paint and 0.60 m to its left (varies along the line)"},
		{geo.Metric, [2]float64{0.69, 1.21}, [2]float64{0.69, 1.2}, "within 0.69 to 1.21 m of the paint (varies along the line)"},
		{geo.Metric, [2]float64{0.6, 0.6}, [2]float64{0.58, 0.66}, "within 0.66 m to the right of the paint and 0.60 m to its left"},
		{geo.Metric, [2]float64{0.8, 1.6}, [2]float64{0.9, 0.9}, "within 0.90 m to the right of the paint and 0.80 to 1.60 m to its left (varies along the line)"},
		{geo.US, [2]float64{0.3, 0.3048}, [2]float64{0.3, 0.3048}, "within 1 ft of the paint"},
		{geo.US, [2]float64{0.21, 0.369}, [2]float64{0.21, 0.369}, "within 9 in to 1 ft 3 in of the paint (varies along the line)"},
	} {
		if got := reach(tt.u, remark.Reach{LeftM: tt.left, RightM: tt.right, Known: true}); got != tt.want {
			t.Errorf("%v, %v: %q, want %q", tt.left, tt.right, got, tt.want)
		}
	}
	farther := remark.Reach{LeftM: [2]float64{0.7, 1.4}, RightM: [2]float64{0.7, 1.4}, FartherAtM: []float64{14.2}, Known: true}
	if got := reach(geo.Metric, farther); got != "within 0.70 to 1.40 m of the paint (varies along the line), and farther near 14.2 m" {
		t.Errorf("%q", got)
	}
	if got := reach(geo.Metric, remark.Reach{}); got != "" {
		t.Errorf("a reach that is not known: %q", got)
	}
}

// What is to be checked says where the line probably lies, with the side: that is where
// the crew looks for it.
func TestItemTellsTheLikelySide(t *testing.T) {
	item := remark.BleedItem{Line: "A", Grade: trace.GradeStrong, LeavesM: trace.Unknown, Stretches: []remark.Stretch{{FromM: 10, ToM: 40}},
		Likely: []remark.Displaced{{Side: trace.Left, ShiftM: 0.53, Shift95M: 0.52, All: true}, {Stretch: remark.Stretch{FromM: 12, ToM: 20}, Side: trace.Right, ShiftM: 1.94, Shift95M: 0.74}}}
	got := Remark(geo.Metric, item)
	for _, want := range []string{" The line probably lies 0.53 m ± 0.52 to the left of the paint.", " From 12.0 m to 20.0 m the line probably lies 1.94 m ± 0.74 to the right of the paint."} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is not in %q", want, got)
		}
	}
	if !strings.HasPrefix(got, "A, 10.0 m to 40.0 m: bleed-over strongly suspected, no known line there.") {
		t.Errorf("%q", got)
	}
	item.Graded = remark.Stretch{FromM: 10, ToM: 22} // beyond it only a jump is possible
	if got := Remark(geo.Metric, item); !strings.HasPrefix(got, "A, 10.0 m to 40.0 m: bleed-over strongly suspected from 10.0 m to 22.0 m, no known line there.") {
		t.Errorf("%q", got)
	}
	got = Remark(geo.Metric, remark.LookAt{Line: "A", Finding: finding.RecordDifference{Record: "R", ToM: 9, LargestOffsetM: -1.461}})
	if !strings.Contains(got, "lies up to 1.46 m to the left of the trace") {
		t.Errorf("%q", got)
	}
}
