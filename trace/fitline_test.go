package trace

import (
	"strings"
	"testing"

	"loamline/geo"
	"loamline/trace/fit"
)

// Sides and directions in words: offsets are positive to the right of travel, and
// a depth difference is traced less measured depth.
func TestExposedPlacesAreTold(t *testing.T) {
	r := NewReading()
	r.Point = "P7"
	for _, tt := range []struct {
		e    fit.Exposure
		want string
	}{
		{fit.Exposure{StationM: 12, OffsetM: 0.05, DepthDifferenceM: 0.10}, "5.0 cm to the right of where it was traced without this point, and the depth read was 10.0 cm deeper than measured."},
		{fit.Exposure{StationM: 12, OffsetM: -0.05, DepthDifferenceM: -0.10}, "5.0 cm to the left of where it was traced without this point, and the depth read was 10.0 cm shallower than measured."},
		{fit.Exposure{StationM: 12, OffsetM: -0.05, DepthDifferenceM: Unknown}, "5.0 cm to the left of where it was traced without this point."},
	} {
		f := exposedFinding("A", exposedPlace{r: &r, e: tt.e}, geo.Metric)
		if f.Line != "A" || f.Point != "P7" || f.OffsetM != tt.e.OffsetM || !strings.HasSuffix(f.Words, tt.want) {
			t.Errorf("%+v: %+v", tt.e, f)
		}
	}
	if sideOf(-0.1) != Left || sideOf(0.1) != Right {
		t.Error("offsets are positive to the right")
	}
}

// What a reading says of its signal stands; the job fills in the rest.
func TestTheJobFillsInWhatReadingsDoNotSay(t *testing.T) {
	own, bare := NewReading(), NewReading()
	own.FreqHz, own.Hookup = 512, HookupClamp
	tr := Trace{Name: "A", Readings: []Reading{own, bare}}
	tr.setUp(LineSetup{FreqHz: 8000, Hookup: HookupDirect})
	if a, b := tr.Readings[0], tr.Readings[1]; a.FreqHz != 512 || a.Hookup != HookupClamp || b.FreqHz != 8000 || b.Hookup != HookupDirect {
		t.Errorf("%g Hz by %s, %g Hz by %s", a.FreqHz, a.Hookup, b.FreqHz, b.Hookup)
	}
}
