package words

import (
	"math"
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// Beside a doubt stands the figure of the true line with the suspected shift in
// it, or that none is known; never the band of a reading.
func TestNoSureFigureBesideADoubt(t *testing.T) {
	v := trace.Vertex{StationM: 5, DepthM: 1, Depth95M: 0.05, Horizontal95M: 0.07}
	bleed := finding.BleedOver{FromM: 2, ToM: 8, Grade: trace.GradeSuspect, WidenLeftM: 0.4, LnDepth95: math.Log(1.3),
		LikelyShiftM: 0.3, Shift95M: 0.2, LikelySide: trace.Left}
	boundless := bleed
	boundless.WidenLeftM, boundless.LikelyShiftM, boundless.Shift95M, boundless.LnDepth95 = 0, trace.Unknown, trace.Unknown, trace.Unknown
	watch := bleed
	watch.Grade = trace.GradeWatch
	for name, c := range map[string]struct {
		findings        []trace.Finding
		frameM          float64
		across, depth95 float64
	}{
		"nothing":                  {nil, 0, 0.07, 0.05},
		"watch":                    {[]trace.Finding{watch}, 0, 0.07, 0.05},
		"suspect with a bound":     {[]trace.Finding{bleed}, 0, 0.5, 0.3},
		"suspect without one":      {[]trace.Finding{boundless}, 0, trace.Unknown, trace.Unknown},
		"doubt":                    {[]trace.Finding{finding.Doubt{FromM: 4, ToM: 6}}, 0, trace.Unknown, trace.Unknown},
		"doubt below a bleed-over": {[]trace.Finding{bleed, finding.Doubt{FromM: 4, ToM: 6}}, 0, trace.Unknown, trace.Unknown},
		"edge of a gap":            {[]trace.Finding{finding.Gap{FromM: 5.3, ToM: 9}}, 0, trace.Unknown, trace.Unknown},
		"away from a gap":          {[]trace.Finding{finding.Gap{FromM: 6, ToM: 9}}, 0, 0.07, 0.05},
		"frame":                    {nil, 1.6, 1.67, 0.05},
		"frame and suspect":        {[]trace.Finding{bleed}, 1.6, 2.1, 0.3},
	} {
		l := &trace.Line{Findings: c.findings, Caution: trace.Zone{DoubtM: c.frameM}}
		told := At(l, v)
		same := func(a, b float64) bool { return math.Abs(a-b) < 1e-9 || math.IsNaN(a) && math.IsNaN(b) }
		if !same(told.Across95M(), c.across) || !same(told.Depth95M, c.depth95) {
			t.Errorf("%s: across %v, depth %v; want %v and %v", name, told.Across95M(), told.Depth95M, c.across, c.depth95)
		}
		for _, u := range []geo.Units{geo.Metric, geo.US} {
			said := []string{told.Depth(u, "2026-05-12"), told.DepthLabel(u), told.Position(u), told.PositionLabel(u), StationLabel(u, l, v)}
			tight := []string{u.WithBand(v.DepthM, v.Depth95M), "± " + ShortUp(u, v.Horizontal95M)}
			for i, s := range said {
				for k, band := range tight {
					if sure := same(c.across, 0.07) || k == 0 && same(c.depth95, 0.05); !sure && strings.Contains(s, band) {
						t.Errorf("%s, sentence %d: %q tells %q", name, i, s, band)
					}
				}
			}
		}
	}
}

// A figure that stands without words holds how far off the line may lie by what is only
// possible there, with the datum's part as everywhere; one that is bounded by nothing, or
// by less, stays.
func TestFigureAloneHoldsThePossibleDisplacement(t *testing.T) {
	watch := &Doubt{Watch: true}
	for _, tt := range []struct {
		told Told
		want string
	}{
		{Told{Horizontal95M: 0.06, WatchM: 0.75, Doubt: watch}, "± 0.75 m"},
		{Told{Horizontal95M: 0.06, WatchM: 0.75, FrameM: 1.4, Doubt: watch}, "± 2.15 m"},
		{Told{Horizontal95M: 0.06, WatchM: 0.05, Doubt: watch}, "± 0.06 m"},
		{Told{Horizontal95M: 0.06, WatchM: trace.Unknown, Doubt: watch}, "± 0.06 m"},
		{Told{Horizontal95M: 0.5, WatchM: 0.75, Doubt: &Doubt{}}, "± 0.50 m"},
		{Told{Horizontal95M: trace.Unknown, WatchM: 0.75, Doubt: watch}, "not known"},
		{Told{Horizontal95M: 0.06}, "± 0.06 m"},
	} {
		if got := tt.told.HoldingDoubt().PositionLabel(geo.Metric); got != tt.want {
			t.Errorf("%+v: %q, want %q", tt.told, got, tt.want)
		}
	}
}
