package locate

import (
	"math"
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/doubt/antennapair"
	"loamline.example/trace/framedoubt"
)

// A ramp of one metre in one, seen with half a metre of position: the depth band
// holds the half metre. Where the line is level, or well placed, nothing changes.
func TestDepthBandHoldsTheSlope(t *testing.T) {
	line := func(h float64) *trace.Centerline {
		p := trace.Part{}
		for _, x := range []float64{0, 4, 8, 9, 10, 14, 20} {
			p.Vertices = append(p.Vertices, trace.Vertex{Pos: geo.XY{X: x}, StationM: x, DepthM: 1 + min(max(x-8, 0), 2), Depth95M: 0.1, Horizontal95M: h})
		}
		return &trace.Centerline{Parts: []trace.Part{p}}
	}
	loose := line(0.5)
	widenToDepthsNearby(loose)
	for i, want := range []float64{0.1, 0.1, math.Hypot(0.1, 0.5), math.Hypot(0.1, 0.5), math.Hypot(0.1, 0.5), 0.1, 0.1} {
		if got := loose.Parts[0].Vertices[i].Depth95M; math.Abs(got-want) > 1e-9 {
			t.Errorf("vertex %d: ± %.4f, want %.4f", i, got, want)
		}
	}
	// 5 m reach past the ramp's end: the whole of it.
	far := line(5)
	widenToDepthsNearby(far)
	if got, want := far.Parts[0].Vertices[1].Depth95M, math.Hypot(0.1, 1); math.Abs(got-want) > 1e-9 {
		t.Errorf("4 m before the ramp by a 5 m fix: ± %.4f, want %.4f", got, want)
	}
}

// Two legs a metre apart at other depths: by a fix good to two metres either depth
// may be the one below.
func TestDepthBandHoldsTheOtherLeg(t *testing.T) {
	leg := func(y, depth, h float64) trace.Part {
		return trace.Part{Vertices: []trace.Vertex{
			{Pos: geo.XY{X: 0, Y: y}, DepthM: depth, Depth95M: 0.1, Horizontal95M: h},
			{Pos: geo.XY{X: 30, Y: y}, DepthM: depth, Depth95M: trace.Unknown, Horizontal95M: h}}}
	}
	for _, c := range []struct{ h, want float64 }{{2, math.Hypot(0.1, 0.8)}, {0.5, 0.1}} {
		l := &trace.Centerline{Parts: []trace.Part{leg(0, 0.7, c.h), leg(1, 1.5, c.h)}}
		widenToDepthsNearby(l)
		if got := l.Parts[0].Vertices[0].Depth95M; math.Abs(got-c.want) > 1e-9 {
			t.Errorf("± %.1f m: depth ± %.4f, want %.4f", c.h, got, c.want)
		}
		if v := l.Parts[1].Vertices[1]; trace.Known(v.Depth95M) {
			t.Error("a band that is not known became known")
		}
	}
}

// Of depths that something contradicts as a whole no accuracy is stated, and their band
// holds those that the antennas give.
func TestNoAccuracyOfContradictedDepths(t *testing.T) {
	p := trace.Part{Vertices: []trace.Vertex{
		{StationM: 0, DepthM: 3.28, Depth95M: 0.3, Horizontal95M: 0.05}, {StationM: 10, DepthM: 3.28, Depth95M: 0.3, Horizontal95M: 0.05}}}
	l := lineOf(p)
	got := stated(l, lineErrors{depthsDoubted: true}, framedoubt.Doubt{})[0]
	if strings.Contains(got, "depth within") || !strings.Contains(got, "no accuracy is stated") || strings.Contains(got, "band of PAS 128 QL-B1 (") {
		t.Error(got)
	}
	antennapair.Hold(l, 3.28, false, trace.Unknown)
	if d := l.Centerline.Parts[0].Vertices[0].Depth95M; d < 2.27 || d > 2.29 { // 3.28 − 1.00
		t.Errorf("band %g", d)
	}
}
