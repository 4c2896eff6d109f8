package locate

import (
	"math"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/tracetest/fixture"
)

// Ground rises from 100 m at station 5 to 101 m at station 15 over a line 20 m
// long and 1 m deep.
func TestElevationsEndWithTheReadingsThatHaveThem(t *testing.T) {
	var rs []trace.Reading
	for s := 0.0; s <= 20; s += 5 {
		r := trace.NewReading()
		r.Status, r.StationM = trace.StatusUsed, s
		if s == 5 || s == 15 {
			r.ElevM = 100 + (s-5)/10
		}
		rs = append(rs, r)
	}
	var path []geo.XY
	for _, x := range []float64{0, 4.5, 10, 15.5, 20} {
		path = append(path, geo.XY{X: x})
	}
	c := fixture.Line("A", 1, path...).Centerline
	vs := c.Parts[0].Vertices
	for i := range vs {
		vs[i].ElevM = trace.Unknown
	}
	addElevations(trace.Trace{Readings: rs}, c)
	for i, want := range []float64{trace.Unknown, 99, 99.5, 100, trace.Unknown} {
		if got := vs[i].ElevM; trace.Known(got) != trace.Known(want) || math.Abs(got-want) > 1e-9 {
			t.Errorf("at %.1f m: %v, want %v", vs[i].StationM, got, want)
		}
	}
}
