package words

import (
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// What readings look like is told as that: another line's field can look like a
// transmitter's own, and the words do not say which it was.
func TestOwnFieldIsNotClaimed(t *testing.T) {
	for _, r := range []trace.Remark{remark.AirDepth{DeepestM: 4, N: 3}, remark.AirRatio{N: 3, Ratio: 0.9, LineDepthM: 1, LineRatio: 0.7},
		remark.AirRatio{N: 3, Ratio: 0.9, LineDepthM: trace.Unknown}, remark.AirCoupled{Ratio: 1.1}, remark.AirBeyond{OverM: 5, StationM: 3}} {
		s := Remark(geo.Metric, r)
		if !strings.Contains(s, "a transmitter's own field") || strings.Contains(s, "the transmitter's") || strings.Contains(s, "this is") {
			t.Errorf("%T: %q", r, s)
		}
	}
}
