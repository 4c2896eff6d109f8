package words

import (
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// An end that is known worse along its line than across it says so, and no place between
// or end that is known as well does.
func TestAnEndIsToldAlongItsLine(t *testing.T) {
	v := func(s float64) trace.Vertex {
		return trace.Vertex{StationM: s, Pos: geo.XY{X: s}, DepthM: 0.9, Depth95M: 0.1, Horizontal95M: 0.5}
	}
	l := &trace.Line{Setup: trace.LineSetup{Name: "G-1"}, Centerline: &trace.Centerline{Parts: []trace.Part{{StartAlong95M: 3, EndAlong95M: 0.55, Vertices: []trace.Vertex{v(0), v(20), v(46)}}}}}
	const across = "position across the line: ± 0.50 m (95 %)"
	for s, want := range map[float64]string{0: across + "; the end itself, along the line: ± 3.00 m (95 %)", 20: across, 46: across} {
		if got := At(l, v(s)).Position(geo.Metric); got != want {
			t.Errorf("%g m: %q, want %q", s, got, want)
		}
		if got := NewAlong(l).At(v(s)).Position(geo.Metric); got != want {
			t.Errorf("%g m, along: %q, want %q", s, got, want)
		}
	}
}

// No sentence on a place, and no sum of a line, is surer than the check list: where
// bleed-over is possible, how far the line may then lie off stands beside the band.
func TestNoBandWithoutItsDoubt(t *testing.T) {
	watch := finding.BleedOver{Line: "G-1", FromM: 0, ToM: 46, Grade: trace.GradeWatch, WidenLeftM: 0.17, WidenRightM: 0.1, LikelyShiftM: trace.Unknown, Shift95M: trace.Unknown}
	v := func(s float64) trace.Vertex {
		return trace.Vertex{StationM: s, Pos: geo.XY{X: s}, DepthM: 0.9, Depth95M: 0.1, Horizontal95M: 0.06}
	}
	l := &trace.Line{Setup: trace.LineSetup{Name: "G-1"}, Findings: []trace.Finding{watch}, Centerline: &trace.Centerline{Parts: []trace.Part{{Vertices: []trace.Vertex{v(0), v(46)}}}}}
	for _, got := range []string{At(l, v(10)).Position(geo.Metric), PositionRange(geo.Metric, l)} {
		if want := "position across the line: ± 0.06 m (95 %) (doubtful: perhaps up to 0.17 m off)"; got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	widest, _ := Widest(l)
	if got := widest.AcrossBriefly(geo.Metric); got != "± 0.06 m, perhaps 0.17 m" {
		t.Errorf("%q", got)
	}
	watch.WidenLeftM, watch.WidenRightM = 0, 0
	l.Findings[0] = watch
	widest, _ = Widest(l)
	if got := widest.AcrossBriefly(geo.Metric); got != "± 0.06 m, doubtful" {
		t.Errorf("%q", got)
	}
	l.Findings = nil
	widest, _ = Widest(l)
	if got := widest.AcrossBriefly(geo.Metric); got != "± 0.06 m" || strings.Contains(PositionRange(geo.Metric, l), "doubtful") {
		t.Errorf("%q", got)
	}
}
