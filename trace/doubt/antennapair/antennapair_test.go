package antennapair

import (
	"math"
	"testing"

	"loamline.example/trace"
	"loamline.example/trace/remark"
)

// lineOf is a line whose conductor lies so deep, read with antennas 0.4 m apart, and whose
// receiver shows depths times a factor.
func lineOf(n int, depthM, times float64) *trace.Line {
	l := &trace.Line{Centerline: &trace.Centerline{Parts: []trace.Part{{}}}}
	for i := range n {
		r := trace.NewReading()
		d := depthM * (1 + 0.03*math.Sin(float64(7*i)))
		r.Status, r.SignalLow, r.SignalHigh, r.DepthM = trace.StatusUsed, 20/d, 20/(d+0.4), depthM*times*(1+0.03*math.Cos(float64(5*i)))
		l.Readings = append(l.Readings, r)
		l.Centerline.Parts[0].Vertices = append(l.Centerline.Parts[0].Vertices, trace.Vertex{DepthM: depthM * times, Depth95M: 0.14 * depthM * times})
	}
	return l
}

func TestHold(t *testing.T) {
	for _, c := range []struct {
		what    string
		line    *trace.Line
		told    float64
		settled bool
		gapM    float64
		held    bool // the depth of the antennas, where the band would not
		note    bool
	}{
		{"a quarter deeper", lineOf(20, 1, 1.25), 0, false, 0.4, true, true},
		{"a fifth shallower", lineOf(20, 1.2, 0.8), 0, false, 0.4, true, true},
		{"told already", lineOf(20, 1, 1.4), 1.4, false, 0.4, true, false},
		{"within the band", lineOf(20, 1, 1.08), 0, false, 0.4, true, false},
		{"the antennas' distance is not stated", lineOf(20, 1, 1.25), 0, false, trace.Unknown, false, false},
		{"few readings", lineOf(6, 1, 1.25), 0, false, 0.4, false, false},
		{"settled by an exposure elsewhere", lineOf(20, 1, 1.25), 0, true, 0.4, false, false},
		{"an antenna carried over the ground", lineOf(20, 0.4, 0.8), 0, false, 0.4, false, false},
	} {
		centreM := c.line.Centerline.Parts[0].Vertices[0].DepthM
		trueM := 20 / c.line.Readings[0].SignalLow
		if c.told > 0 {
			trueM = centreM / c.told
		}
		Hold(c.line, c.told, c.settled, c.gapM)
		v := c.line.Centerline.Parts[0].Vertices[0]
		if held := v.Depth95M >= math.Abs(trueM-v.DepthM)-1e-9; held != c.held {
			t.Errorf("%s: %.2f ± %.2f m, %.2f m by the antennas", c.what, v.DepthM, v.Depth95M, trueM)
		}
		note := false
		for _, n := range c.line.Centerline.Notes {
			_, is := n.(remark.OtherThanAntennas)
			note = note || is
		}
		if note != c.note {
			t.Errorf("%s: notes %+v", c.what, c.line.Centerline.Notes)
		}
	}
	exposed := lineOf(20, 1, 1.25)
	exposed.Readings[4].Exposed = true
	if Hold(exposed, 0, false, 0.4); exposed.Centerline.Parts[0].Vertices[0].Depth95M > 0.2 {
		t.Error("an exposed depth does not settle the depths")
	}
}
