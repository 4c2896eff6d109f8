package bleed

import (
	"testing"

	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// A possible jump on which the neighbour's signal was found keeps its own displacement, and no
// evidence that none can be told stands beside it.
func TestAConfirmedJumpHasOneDisplacement(t *testing.T) {
	jump := Stretch{FromM: 10, ToM: 30, Grade: trace.GradeWatch, Neighbor: "G", ShiftM: 0.55, Shift95M: 0.3, Side: trace.Left, Evidence: []trace.Remark{remark.MarksLeave{}}}
	found := Stretch{FromM: 12, ToM: 28, Grade: trace.GradeSuspect, Score: 0.6, Neighbor: "G", Evidence: []trace.Remark{remark.NullOffset{}, remark.ShiftUnknown{WidenM: 0.4}}}
	got := confirmed([]Stretch{jump}, []Stretch{found})[0]
	if got.Grade != trace.GradeSuspect || got.Side != trace.Left || got.ShiftM != 0.55 || len(got.Evidence) != 2 {
		t.Errorf("%+v", got)
	}
	if _, kept := got.Evidence[1].(remark.NullOffset); !kept {
		t.Errorf("evidence %+v", got.Evidence)
	}
	if len(found.Evidence) != 2 {
		t.Error("the coupling's own evidence is changed")
	}
}
