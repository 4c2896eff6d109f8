package locate

import (
	"slices"
	"testing"

	"loamline.example/trace"
	"loamline.example/trace/fit"
	"loamline.example/trace/remark"
)

// Where positions are told to be of another fix, the bands hold what such a one may be off: that
// they are widened to what the readings scatter by is not said beside it.
func TestOneFigureOfWhatBandsAreWidenedTo(t *testing.T) {
	for _, otherM := range []float64{0, 0.3} {
		notes := noiseNotes(fit.Noise{StatedM: 0.01, FoundM: 0.025, CommonM: trace.Unknown, Widened: true, OtherFixM: otherM})
		told := slices.ContainsFunc(notes, func(r trace.Remark) bool { _, is := r.(remark.AccuracyOptimistic); return is })
		if told != (otherM == 0) {
			t.Errorf("other fix %v m: %v", otherM, notes)
		}
	}
}
