package locate

import (
	"strings"
	"testing"

	"loamline.example/trace"
	"loamline.example/trace/fit"
)

// Sides and directions in words: offsets are positive to the right of travel, and
// a depth difference is traced less measured depth.
func TestExposedPlacesAreTold(t *testing.T) {
	r := trace.NewReading()
	r.Point = "P7"
	for _, tt := range []struct {
		e    fit.Exposure
		want string
	}{
		{fit.Exposure{StationM: 12, OffsetM: 0.05, DepthDifferenceM: 0.10}, "5.0 cm to the right of where it was traced without this point, and the depth read was 10.0 cm deeper than measured."},
		{fit.Exposure{StationM: 12, OffsetM: -0.05, DepthDifferenceM: -0.10}, "5.0 cm to the left of where it was traced without this point, and the depth read was 10.0 cm shallower than measured."},
		{fit.Exposure{StationM: 12, OffsetM: -0.05, DepthDifferenceM: trace.Unknown}, "5.0 cm to the left of where it was traced without this point."},
	} {
		f := exposedFinding("A", exposedPlace{r: &r, e: tt.e})
		if f.Line != "A" || f.Point != "P7" || f.OffsetM != tt.e.OffsetM || !strings.HasSuffix(said(f.Remark), tt.want) {
			t.Errorf("%+v: %+v", tt.e, f)
		}
	}
}

// What a reading says of its signal stands; the job fills in the rest.
func TestTheJobFillsInWhatReadingsDoNotSay(t *testing.T) {
	own, bare := trace.NewReading(), trace.NewReading()
	own.FreqHz, own.Hookup = 512, trace.HookupClamp
	tr := trace.Trace{Name: "A", Readings: []trace.Reading{own, bare}}
	setUp(tr, trace.LineSetup{FreqHz: 8000, Hookup: trace.HookupDirect})
	if a, b := tr.Readings[0], tr.Readings[1]; a.FreqHz != 512 || a.Hookup != trace.HookupClamp || b.FreqHz != 8000 || b.Hookup != trace.HookupDirect {
		t.Errorf("%g Hz by %s, %g Hz by %s", a.FreqHz, a.Hookup, b.FreqHz, b.Hookup)
	}
}
