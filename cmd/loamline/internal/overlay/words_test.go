package overlay

import (
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/compare"
)

// A depth that one of two maps does not know is no depth without a difference.
func TestUnknownDepthsAreNotAlike(t *testing.T) {
	known := compare.OverlayPlace{AllowedM: 1, DepthDifferenceM: 0.1, DepthAllowedM: 0.2}
	bare, none := known, known
	bare.DepthAllowedM, none.DepthDifferenceM = trace.Unknown, trace.Unknown
	for _, c := range []struct {
		places    []compare.OverlayPlace
		want, not string
	}{
		{[]compare.OverlayPlace{known, known}, "No difference beyond both bands;", "Depths were"},
		{[]compare.OverlayPlace{known, none, bare}, "No difference in position beyond both bands, nor in depth where both have one; both maps could still be wrong in the same way. Depths were compared at 1 of the 3 stations", "not compared"},
		{[]compare.OverlayPlace{none, bare}, "No difference in position beyond both bands; both maps could still be wrong in the same way. Depths were not compared", "No difference beyond"},
	} {
		got := strings.Join(Words(compare.Overlay{Places: c.places}, geo.Metric), " ")
		if !strings.Contains(got, c.want) || strings.Contains(got, c.not) {
			t.Errorf("%q", got)
		}
	}
}
