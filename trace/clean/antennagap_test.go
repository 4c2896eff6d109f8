package clean

import (
	"math"
	"testing"

	"loamline.example/trace"
)

// A receiver that shows 1 m over antennas whose signals stand as 1.4 to 1 has them
// 0.4 m apart (Ampère's law); a stated distance stands, raised readings do not
// count, and four readings tell nothing.
func TestAntennaGapAsTheReadingsImplyIt(t *testing.T) {
	reading := func(depthM, raiseM float64) trace.Reading {
		r := trace.NewReading()
		r.DepthM, r.SignalLow, r.SignalHigh, r.RaiseM = depthM, 140, 100, raiseM
		return r
	}
	var rs []trace.Reading
	for range 5 {
		rs = append(rs, reading(1, trace.Unknown))
	}
	for range 7 {
		rs = append(rs, reading(2, 0.3))
	}
	if got := AntennaGapM(trace.Trace{Readings: rs}, trace.Unknown); math.Abs(got-0.4) > 1e-12 {
		t.Errorf("%g m apart, want 0.4", got)
	}
	if got := AntennaGapM(trace.Trace{Readings: rs}, 0.5); got != 0.5 {
		t.Errorf("%g m apart, stated as 0.5", got)
	}
	if got := AntennaGapM(trace.Trace{Readings: rs[:4]}, trace.Unknown); trace.Known(got) {
		t.Errorf("%g m apart by four readings", got)
	}
}
