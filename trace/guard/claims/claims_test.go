package claims

import (
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// What lies on a gap, or on a course that the line may take instead as far as that is known,
// is claimed; what lies on a finding that is on the line itself is not.
func TestHold(t *testing.T) {
	path := []geo.XY{{X: 0, Y: 0}, {X: 10, Y: 0}}
	beside := []trace.CourseStrip{{Path: []geo.XY{{X: 20, Y: 5}, {X: 30, Y: 5}}, Half95M: []float64{0.2, 0.7}}}
	cs := Of([]trace.Finding{
		finding.Gap{Path: path}, finding.BleedOver{OwnCourse: beside}, finding.Doubt{Path: []geo.XY{{X: 50}, {X: 60}}}, finding.Gap{Path: path[:1]},
	}, 0.5)
	for _, c := range []struct {
		at   geo.XY
		want bool
	}{
		{geo.XY{X: 5, Y: 0.5}, true}, {geo.XY{X: 5, Y: 0.6}, false},
		{geo.XY{X: 25, Y: 6.1}, true}, {geo.XY{X: 25, Y: 6.3}, false},
		{geo.XY{X: 55, Y: 0}, false}, {geo.XY{X: 1000, Y: 1000}, false},
	} {
		if got := cs.Hold(c.at); got != c.want {
			t.Errorf("%v: %v", c.at, got)
		}
	}
	if (Claims)(nil).Hold(geo.XY{}) {
		t.Error("nothing claims nothing")
	}
}
