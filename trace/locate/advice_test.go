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
		widenForSuspected(&l)
		a, _ := adviseFinding(b, l, s)
		if got := said(a.Remark); !strings.Contains(got, "strongly suspected, from B. Expose before digging within 1.00 m of the mark") {
			t.Errorf("%+v: %q", b, got)
		}
	}
}

// A map whose frame nobody stated says how far off it may be, last of all.
func TestAdviceOnAnUnstatedDatum(t *testing.T) {
	l := drawn("A", 1, geo.XY{X: 0}, geo.XY{X: 10})
	l.Caution.DoubtM, l.Caution.DoubtDatum = 1.3, "NAD83(2011)"
	got := advise(&trace.Sheet{Job: trace.DefaultJob(), Lines: []trace.Line{l}}, nil)
	if len(got) != 1 || got[0].Kind != trace.AdviseFrame || !strings.Contains(said(got[0].Remark), "came in NAD83(2011), the whole map lies about 1.30 m off") {
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
	findings := append(trace.AllFindings(), trace.FieldCheck{Line: "A", Kind: "lift", Remark: trace.Verbatim("Depth grew by 0.90 m over a lift of 0.30 m.")})
	l := trace.Line{Setup: trace.LineSetup{Name: "A"}, Centerline: &trace.Centerline{}}
	for _, f := range findings {
		a, ok := adviseFinding(f, l, &trace.Sheet{Job: trace.DefaultJob()})
		if ok != f.NeedsEyes() {
			t.Errorf("%T needs eyes: %v, and is advised: %v; see adviseFinding in trace/locate/advice.go", f, f.NeedsEyes(), ok)
		}
		if ok && (a.Remark == nil || a.Line != "A") {
			t.Errorf("%T: %+v", f, a)
		}
	}
}

// A known line that crosses where its signal is to be watched is one place to look
// at, and one item, which is about the crossing; what is more than to be watched, on
// another line, elsewhere, or between traced lines is an item by itself.
func TestCrossingAndWatchAreOneItem(t *testing.T) {
	known := trace.Crossing{Line: "A", Other: "old main", Source: "town.geojson", StationM: 12}
	watch := trace.BleedOver{Line: "A", FromM: 8, ToM: 16, Grade: trace.GradeWatch, Neighbor: "old main", WidenLeftM: 0.4}
	with := func(b trace.BleedOver, change func(*trace.BleedOver)) trace.BleedOver { change(&b); return b }
	second := known
	second.StationM = 14
	traced := known
	traced.Source = ""
	s := &trace.Sheet{Job: trace.DefaultJob()}
	s.Job.Tolerance = trace.Tolerance{HalfWidthM: 0.5, MeasuredFrom: "centerline"}
	for _, tt := range []struct {
		name     string
		findings []trace.Finding
		items    int
	}{
		{"one place", []trace.Finding{watch, known}, 1},
		{"the crossing found first", []trace.Finding{known, watch}, 1},
		{"a metre beyond its end", []trace.Finding{with(watch, func(b *trace.BleedOver) { b.ToM = 11.5 }), known}, 1},
		{"two crossings, one watch", []trace.Finding{watch, known, second}, 2},
		{"two watches, one crossing", []trace.Finding{watch, with(watch, func(b *trace.BleedOver) { b.FromM = 11 }), known}, 2},
		{"elsewhere", []trace.Finding{with(watch, func(b *trace.BleedOver) { b.FromM, b.ToM = 20, 30 }), known}, 2},
		{"another line", []trace.Finding{with(watch, func(b *trace.BleedOver) { b.Neighbor = "C-1" }), known}, 2},
		{"suspected", []trace.Finding{with(watch, func(b *trace.BleedOver) { b.Grade = trace.GradeSuspect }), known}, 2},
		{"jumped", []trace.Finding{with(watch, func(b *trace.BleedOver) { b.Jump = true }), known}, 2},
		{"traced lines", []trace.Finding{watch, traced}, 2},
	} {
		l := drawn("A", 1, geo.XY{X: 0}, geo.XY{X: 40}) // with bands of 0.1 m
		l.Findings = tt.findings
		s.Lines = []trace.Line{l}
		got := advise(s, nil)
		if len(got) != tt.items {
			t.Errorf("%s: %d items: %+v", tt.name, len(got), got)
			continue
		}
		for _, f := range tt.findings {
			n := 0
			for _, a := range got {
				if a.About(f) {
					n++
				}
			}
			if _, crossing := f.(trace.Crossing); n > 1 || crossing && n == 0 {
				t.Errorf("%s: %d items are about %+v", tt.name, n, f)
			}
		}
		if tt.items > 1 {
			continue
		}
		for _, words := range []string{"A crosses 'old main' at 12.0 m, a known line (town.geojson)", "possible bleed-over (watch) from it, 8.0 m to ", "expose both by hand before digging within 1.00 m of the mark."} {
			if !strings.Contains(said(got[0].Remark), words) {
				t.Errorf("%s: %q has no %q", tt.name, said(got[0].Remark), words)
			}
		}
		if got[0].FromM != 8 || got[0].ToM < 12 || got[0].Kind != trace.AdviseCrossing {
			t.Errorf("%s: %+v", tt.name, got[0])
		}
	}
}
