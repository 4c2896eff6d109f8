package words

import (
	"testing"

	"loamline.example/geo"
	"loamline.example/trace/remark"
)

// How far a zone reaches is told by sides where they differ, with a range where it
// differs along the stretch, and rounded up.
func TestReach(t *testing.T) {
	for _, tt := range []struct {
		u           geo.Units
		left, right [2]float64
		want        string
	}{
		{geo.Metric, [2]float64{0.6, 0.6}, [2]float64{0.5, 0.9}, "within 0.50 to 0.90 m to the right of the mark and within 0.60 m to its left"},
		{geo.Metric, [2]float64{0.6, 0.6}, [2]float64{0.58, 0.66}, "within 0.66 m to the right of the mark and within 0.60 m to its left"},
		{geo.Metric, [2]float64{0.8, 1.6}, [2]float64{0.9, 0.9}, "within 0.90 m to the right of the mark and within 0.80 to 1.60 m to its left"},
		{geo.US, [2]float64{0.3, 0.3048}, [2]float64{0.3, 0.3048}, "within 1.0 ft of the mark"},
	} {
		if got := reach(tt.u, remark.Reach{LeftM: tt.left, RightM: tt.right, Known: true}); got != tt.want {
			t.Errorf("%v, %v: %q, want %q", tt.left, tt.right, got, tt.want)
		}
	}
	if got := reach(geo.Metric, remark.Reach{}); got != "" {
		t.Errorf("a reach that is not known: %q", got)
	}
}
