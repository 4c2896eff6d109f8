package clean

import (
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// A depth counts with those of its neighbours where a receiver on the ground shows it, as one
// that it can show.
func TestCounted(t *testing.T) {
	for _, c := range []struct {
		depthM, raiseM                       float64
		exposed                              bool
		shown, onGround, believable, counted bool
	}{
		{1.2, trace.Unknown, false, true, true, true, true},
		{1.2, 0.5, false, true, false, true, false},
		{1.2, 0, false, true, true, true, true},
		{1.2, trace.Unknown, true, false, false, false, false},
		{60, trace.Unknown, false, true, true, false, false}, // of another unit, perhaps
		{9.99 * geo.FootM, trace.Unknown, false, true, true, true, true},
		{9.99, trace.Unknown, false, false, false, false, false}, // 999 cm
		{99.9, trace.Unknown, false, false, false, false, false},
		{999 * geo.InchM, trace.Unknown, false, false, false, false, false},
		{0, trace.Unknown, false, false, false, false, false},
		{trace.Unknown, trace.Unknown, false, false, false, false, false},
	} {
		r := trace.NewReading()
		r.DepthM, r.RaiseM, r.Exposed = c.depthM, c.raiseM, c.exposed
		if shown(&r) != c.shown || onGround(&r) != c.onGround || believable(&r) != c.believable || counted(&r) != c.counted {
			t.Errorf("%+v: shown %v, on the ground %v, believable %v, counted %v", c, shown(&r), onGround(&r), believable(&r), counted(&r))
		}
	}
}

// What stands for none does so in every column of lengths: 999 in of a null is none, and 99.9 m
// among depths that are too shallow throughout is none and not too shallow.
func TestNoneIsNoneInEachColumn(t *testing.T) {
	tr := walked(12, func(int) float64 { return 0.02 })
	tr.Readings[3].DepthM = 99.9
	tr.Readings[5].NullOffsetM, tr.Readings[6].NullOffsetM = 999*geo.InchM, -9.99
	if n, _, _ := dropNullFillers(tr); n != 2 || trace.Known(tr.Readings[5].NullOffsetM) || trace.Known(tr.Readings[6].NullOffsetM) {
		t.Errorf("%d nulls are none", n)
	}
	Contradictions(tr, trace.Unknown, []trace.Input{{Name: "walk.csv"}})
	Trace(tr, trace.Unknown)
	if _, is := tr.Readings[3].Reason.(remark.FillerDepth); !is || !tr.Readings[2].DepthDropped {
		t.Errorf("99.9 m is left out as %+v, 0.02 m %v", tr.Readings[3].Reason, tr.Readings[2].DepthDropped)
	}
}
