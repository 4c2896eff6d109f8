package locate

import (
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// A run of readings against the signal is told once: not for a slip or two, nor where
// bleed-over is suspected anyway.
func TestPhaseDoubts(t *testing.T) {
	line := func(against ...int) *trace.Line {
		l := &trace.Line{Setup: trace.LineSetup{Name: "A"}}
		var p trace.Part
		for i := range 20 {
			r := trace.NewReading()
			r.Pos, r.StationM, r.Status, r.Phase = geo.XY{X: 2 * float64(i)}, 2*float64(i), trace.StatusUsed, trace.PhaseWith
			for _, k := range against {
				if k == i {
					r.Phase = trace.PhaseAgainst
				}
			}
			l.Readings = append(l.Readings, r)
			p.Vertices = append(p.Vertices, trace.Vertex{Pos: r.Pos, StationM: r.StationM, DepthM: 1, Depth95M: 0.1, Horizontal95M: 0.03})
		}
		l.Centerline = &trace.Centerline{Parts: []trace.Part{p}}
		return l
	}
	told := func(l *trace.Line) int {
		n := 0
		for _, f := range l.Findings {
			if d, ok := f.(finding.Doubt); ok && strings.Contains(said(d.Why), "against the applied signal") {
				n++
			}
		}
		return n
	}
	for _, c := range []struct {
		against []int
		want    int
	}{{nil, 0}, {[]int{5, 6}, 0}, {[]int{3, 9, 15}, 0}, {[]int{5, 6, 7}, 1}, {[]int{2, 3, 4, 10, 11, 12, 13}, 2}} {
		l := line(c.against...)
		if l.Findings = append(l.Findings, phaseDoubts(l)...); told(l) != c.want {
			t.Errorf("against at %v: told %d times, want %d", c.against, told(l), c.want)
		}
	}
	l := line(5, 6, 7)
	l.Findings = append(l.Findings, finding.BleedOver{FromM: 8, ToM: 16, Grade: trace.GradeStrong})
	if l.Findings = append(l.Findings, phaseDoubts(l)...); told(l) != 0 {
		t.Error("told beside a suspicion of the same")
	}
}
