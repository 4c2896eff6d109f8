package bleed

import (
	"testing"

	"loamline.example/trace"
)

// Where nothing tells how far off the line lies, the caution is no narrower than beside.
func TestNoNarrowerThanBeside(t *testing.T) {
	stretches := func(side trace.Side) []Stretch {
		return []Stretch{
			{FromM: 0, ToM: 20, Grade: trace.GradeWatch, Neighbor: "B", WidenLeftM: 0.06, WidenRightM: 0.4},
			{FromM: 20, ToM: 45, Grade: trace.GradeStrong, Neighbor: "B", WidenLeftM: 0.14, WidenRightM: 0.04, Side: side},
			{FromM: 45, ToM: 90, Grade: trace.GradeWatch, Neighbor: "C", WidenLeftM: 0.9, WidenRightM: 0.9},
		}
	}
	untold := stretches("")
	noNarrowerThanBeside(untold)
	if s := untold[1]; s.WidenLeftM != 0.4 || s.WidenRightM != 0.4 {
		t.Errorf("widened by %.2f and %.2f m", s.WidenLeftM, s.WidenRightM)
	}
	told := stretches("left")
	noNarrowerThanBeside(told)
	if s := told[1]; s.WidenLeftM != 0.14 || s.WidenRightM != 0.04 {
		t.Errorf("a side that is told: widened by %.2f and %.2f m", s.WidenLeftM, s.WidenRightM)
	}
}
