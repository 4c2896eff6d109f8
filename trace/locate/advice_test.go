package locate

import (
	"strings"
	"testing"

	"loamline/geo"
	"loamline/trace"
)

// A stretch between two vertices has the wider band of both.
func TestWorstBandOfAShortStretch(t *testing.T) {
	l := drawn("A", 1, geo.XY{X: 0}, geo.XY{X: 10}, geo.XY{X: 20})
	vs := l.Centerline.Parts[0].Vertices
	vs[0].Horizontal95M, vs[1].Horizontal95M, vs[2].Horizontal95M = 0.2, 0.3, trace.Unknown
	for _, tt := range []struct{ from, to, want float64 }{{2, 4, 0.3}, {0, 0, 0.3}, {12, 14, 0.3}, {15, 25, 0.3}, {30, 40, 0}} {
		if got := worstBand(l, tt.from, tt.to); got != tt.want {
			t.Errorf("%g to %g m: %g, want %g", tt.from, tt.to, got, tt.want)
		}
	}
}

// The width to expose is that of the wider side, whichever it is.
func TestAdviceTakesTheWiderSide(t *testing.T) {
	s := &trace.Sheet{Job: trace.DefaultJob()}
	s.Job.Tolerance = trace.Tolerance{HalfWidthM: 0.5, MeasuredFrom: "centerline"}
	for _, b := range []trace.BleedOver{{WidenLeftM: 0.4}, {WidenRightM: 0.4}, {WidenLeftM: 0.4, WidenRightM: 0.3}} {
		b.Line, b.ToM, b.Grade, b.Neighbor = "A", 10, trace.GradeStrong, "B"
		l := drawn("A", 1, geo.XY{X: 0}, geo.XY{X: 10}) // with bands of 0.1 m
		l.Findings = []trace.Finding{b}
		holdSuspected(&l)
		if got := adviseBleed(b, l, s); !strings.Contains(got, "strongly suspected, from B. Expose before digging within 1.00 m of the mark") {
			t.Errorf("%+v: %q", b, got)
		}
	}
}

// A map whose frame nobody stated says how far off it may be, last of all.
func TestAdviceOnAnUnstatedDatum(t *testing.T) {
	l := drawn("A", 1, geo.XY{X: 0}, geo.XY{X: 10})
	l.Caution.DoubtM, l.Caution.DoubtDatum = 1.3, "NAD83(2011)"
	got := advise(&trace.Sheet{Job: trace.DefaultJob(), Lines: []trace.Line{l}}, nil)
	if len(got) != 1 || got[0].Kind != trace.AdviseFrame || !strings.Contains(got[0].Words, "came in NAD83(2011), the whole map lies about 1.30 m off") {
		t.Errorf("got %+v", got)
	}
	l.Caution.DoubtM = 0
	if got := advise(&trace.Sheet{Job: trace.DefaultJob(), Lines: []trace.Line{l}}, nil); len(got) != 0 {
		t.Errorf("got %+v", got)
	}
}

// What needs a person's eyes stands under what to check before digging, and
// nothing else does.
func TestFindingsThatNeedEyesAreAdvised(t *testing.T) {
	findings := append(trace.AllFindings(), trace.FieldCheck{Line: "A", Kind: "lift", Words: "Depth grew by 0.90 m over a lift of 0.30 m."})
	l := trace.Line{Setup: trace.LineSetup{Name: "A"}, Centerline: &trace.Centerline{}}
	for _, f := range findings {
		a, ok := adviseFinding(f, l, &trace.Sheet{Job: trace.DefaultJob()})
		if ok != f.NeedsEyes() {
			t.Errorf("%T needs eyes: %v, and is advised: %v; see adviseFinding in trace/locate/advice.go", f, f.NeedsEyes(), ok)
		}
		if ok && (a.Words == "" || a.Line != "A") {
			t.Errorf("%T: %+v", f, a)
		}
	}
}
