package besidejump

import (
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/bleed"
	"loamline.example/trace/finding"
	"loamline.example/trace/receiver"
	"loamline.example/trace/remark"
)

// jumped is a line read every 2 m, 1 m deep, with another one 2.2 m to the left that carries
// as much: its marks lie over that one from 40 to 60 m.
func jumped() (*trace.Line, func() bleed.Line) {
	section := receiver.Section{Lines: []receiver.Conductor{{DepthM: 1, CurrentA: 1}, {XM: -2.2, DepthM: 1.1, CurrentA: 0.9}}}
	const gapM = 0.4
	own, other := section.Survey(0, gapM), section.Survey(-2.2, gapM)
	l := &trace.Line{Centerline: &trace.Centerline{Parts: make([]trace.Part, 1)}}
	var vs []trace.Vertex
	for i := range 51 {
		at := 2 * float64(i)
		shown, y := own, own.PeakM
		if at >= 40 && at <= 60 {
			shown, y = other, other.PeakM
		}
		r := trace.NewReading()
		r.Row, r.Status, r.StationM, r.Pos = int32(i+2), trace.StatusUsed, at, geo.XY{X: at, Y: -y}
		r.DepthM, r.NullOffsetM = shown.DepthM, shown.NullOffsetM
		l.Readings = append(l.Readings, r)
		vs = append(vs, trace.Vertex{Pos: r.Pos, StationM: at, DepthM: shown.DepthM, Depth95M: 0.1, Horizontal95M: 0.05})
	}
	l.Centerline.Parts[0].Vertices = vs
	return l, func() bleed.Line {
		var points []geo.XY
		for _, v := range vs {
			points = append(points, v.Pos)
		}
		return bleed.Line{Path: bleed.Path{Points: points}, Readings: l.Readings, AntennaGapM: gapM}
	}
}

// Beside a jump the band of the depths holds the depth of the line that lies there: only
// within reach of it, only where there is one, and not where the line was measured in the open.
func TestWiden(t *testing.T) {
	jump := finding.BleedOver{FromM: 40, ToM: 60, Grade: trace.GradeSuspect, Jump: true, SeparationM: 2.2, LikelySide: trace.Right}
	for _, c := range []struct {
		what   string
		change func(l *trace.Line)
		widens bool
	}{
		{"a jump", func(l *trace.Line) { l.Findings = append(l.Findings, jump) }, true},
		{"no jump", func(*trace.Line) {}, false},
		{"a jump of a line that was exposed", func(l *trace.Line) {
			l.Findings = append(l.Findings, jump)
			l.Readings[2].Exposed = true
		}, false},
	} {
		l, view := jumped()
		c.change(l)
		before := l.Centerline.Parts[0].Vertices[10]
		Widen(l, view)
		v := l.Centerline.Parts[0].Vertices[10]
		if (v.Depth95M > before.Depth95M) != c.widens {
			t.Errorf("%s: the band of the depth at %.0f m was %.2f m and is %.2f", c.what, v.StationM, before.Depth95M, v.Depth95M)
		}
		noted := len(l.Centerline.Notes) > 0
		if noted {
			_, noted = l.Centerline.Notes[0].(remark.HeardBesideJump)
		}
		if noted != c.widens {
			t.Errorf("%s: noted %v", c.what, l.Centerline.Notes)
		}
		if c.widens && v.DepthM-v.Depth95M > 1 {
			t.Errorf("%s: %.2f ± %.2f m, and the line is 1 m deep", c.what, v.DepthM, v.Depth95M)
		}
	}
}
