package locate

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/advice"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
	"loamline.example/trace/tracetest/fixture"
	"loamline.example/trace/zones"
)

// adviceOn is what is advised on a line with its zone drawn as the map draws it.
func adviceOn(s *trace.Sheet, l trace.Line) []trace.Advice {
	half, _ := zones.HalfWidth(s.Job.Tolerance, l.Setup)
	l.Reach = zones.ReachAlong(l.Centerline, l.Findings, half)
	zones.WidenForSuspected(&l)
	s.Lines = []trace.Line{l}
	tellMetInAJump(s)
	return advise(s, make([]lineErrors, len(s.Lines)))
}

// The distance to expose within is what is drawn: on each side its own.
func TestAdviceSaysWhatIsDrawn(t *testing.T) {
	s := &trace.Sheet{Job: trace.DefaultJob()}
	s.Job.Tolerance = trace.Tolerance{HalfWidthM: 0.5, MeasuredFrom: "centerline"}
	for _, tt := range []struct {
		b    finding.BleedOver
		want string
	}{
		{finding.BleedOver{WidenLeftM: 0.4}, "within 0.60 m to the right of the paint and 1.00 m to its left."},
		{finding.BleedOver{WidenRightM: 0.4}, "within 1.00 m to the right of the paint and 0.60 m to its left."},
		{finding.BleedOver{WidenLeftM: 0.4, WidenRightM: 0.4}, "within 1.00 m of the paint."},
	} {
		b := tt.b
		b.Line, b.ToM, b.Grade, b.Neighbor = "A", 10, trace.GradeStrong, "B"
		l := fixture.Line("A", 1, geo.XY{X: 0}, geo.XY{X: 10}) // with bands of 0.1 m
		l.Findings = []trace.Finding{b}
		if got := adviceOn(s, l); len(got) != 1 || !strings.Contains(said(got[0].Remark), "strongly suspected, perhaps from B. Expose before digging "+tt.want) {
			t.Errorf("%+v: %+v", b, got)
		}
		// The same from the drawn area: a finger's breadth inside and outside.
		_, caution, err := zones.Draw(l.Centerline, l.Findings, s.Job.Tolerance, l.Setup)
		if err != nil {
			t.Fatal(err)
		}
		for _, z := range zones.ReachAlong(l.Centerline, l.Findings, 0.5) {
			for y, in := range map[float64]bool{z.LeftM - 0.01: true, z.LeftM + 0.01: false, 0.01 - z.RightM: true, -z.RightM - 0.01: false} {
				if got := planar.MultiPolygonContains(caution.Area, orb.Point{5, y}); got != in {
					t.Errorf("%+v: the zone holds %g m to the left: %v", b, y, got)
				}
			}
		}
	}
}

// Where the trace may have left its line, the reach goes to the far edge of the
// course that the line itself may take.
func TestReachHoldsACourseBeside(t *testing.T) {
	own := trace.CourseStrip{Path: []geo.XY{{X: 4, Y: 2}, {X: 8, Y: 2}}, Half95M: []float64{0.3, 0.3}}
	b := finding.BleedOver{Line: "A", FromM: 4, ToM: 8, Grade: trace.GradeStrong, Jump: true, Neighbor: "B", OwnCourse: []trace.CourseStrip{own}}
	l := fixture.Line("A", 1, geo.XY{X: 0}, geo.XY{X: 6}, geo.XY{X: 20})
	for _, z := range zones.ReachAlong(l.Centerline, []trace.Finding{b}, 0.5) {
		left, width := 0.6, 0.5+0.3+0.1
		if d := math.Max(0, math.Abs(z.StationM-6)-2); d < width { // the course has round ends
			left = 2 + math.Sqrt(width*width-d*d)
		}
		if math.Abs(z.LeftM-left) > 1e-9 || math.Abs(z.RightM-0.6) > 1e-9 {
			t.Errorf("%+v, want %g m on the left and 0.6 m on the right", z, left)
		}
	}
}

// A long stretch to be watched does not get the width of its worst end, and what a
// graver item covers is told there alone.
func TestWatchedStretchYieldsToAGraverOne(t *testing.T) {
	s := &trace.Sheet{Job: trace.DefaultJob()}
	s.Job.Tolerance = trace.Tolerance{HalfWidthM: 0.5, MeasuredFrom: "centerline"}
	var places []geo.XY // as close as those of a drawn line: a zone changes its width from one to the next
	for x := 0.0; x <= 60; x++ {
		places = append(places, geo.XY{X: x})
	}
	l := fixture.Line("A", 1, places...)
	touch := fixture.Line("A", 1, places...)
	l.Findings = []trace.Finding{
		finding.BleedOver{Line: "A", FromM: 0, ToM: 42, Grade: trace.GradeWatch, Neighbor: "B", WidenLeftM: 0.1, WidenRightM: 0.1},
		finding.BleedOver{Line: "A", FromM: 40, ToM: 60, Grade: trace.GradeStrong, Neighbor: "B", WidenLeftM: 7, WidenRightM: 7},
		finding.BleedOver{Line: "A", FromM: 45, ToM: 50, Grade: trace.GradeWatch, Neighbor: "C", WidenLeftM: 0.1, WidenRightM: 0.1},
	}
	got := adviceOn(s, l)
	touch.Findings = slices.Clone(l.Findings)
	touch.Findings[0] = finding.BleedOver{Line: "A", FromM: 0, ToM: 40, Grade: trace.GradeWatch, Neighbor: "B", WidenLeftM: 0.1, WidenRightM: 0.1}
	if touching := adviceOn(s, touch); len(touching) != 2 || len(got) != 2 || said(touching[0].Remark) != said(got[0].Remark) {
		t.Fatalf("overlapping: %+v\ntouching: %+v", got, touching)
	}
	for i, want := range []string{
		"A, 0.0 m to 40.0 m: possible bleed-over, perhaps from B. Expose before digging within 0.70 m of the paint, and farther near 40.0 m.",
		"A, 40.0 m to 60.0 m: bleed-over strongly suspected, perhaps from B. The signal of C may mix in too. Expose before digging within 7.60 m of the paint.",
	} {
		if said(got[i].Remark) != want {
			t.Errorf("got  %q\nwant %q", said(got[i].Remark), want)
		}
	}
}

// One place to look at is one item: suspicions that overlap, a jump with the block of
// readings that was set aside in it, and the line that it meets there.
func TestWhatOverlapsIsOneItem(t *testing.T) {
	s := &trace.Sheet{Job: trace.DefaultJob()}
	jump := func(from, to float64, other string) finding.BleedOver {
		return finding.BleedOver{Line: "A", FromM: from, ToM: to, Grade: trace.GradeWatch, Neighbor: other, Jump: true}
	}
	strong := finding.BleedOver{Line: "A", FromM: 8, ToM: 33, Grade: trace.GradeStrong, Neighbor: "B"}
	block := finding.Doubt{Line: "A", FromM: 18, ToM: 20, Why: trace.Verbatim("3 neighbouring readings were set aside (position outlier).")}
	meets := finding.Crossing{Line: "A", Other: "B", StationM: 25, SeparationM: 0.06}
	for _, tt := range []struct {
		name     string
		findings []trace.Finding
		want     []string // words of the items, in order
	}{
		{"a jump in a suspicion, with its block and its meeting", []trace.Finding{strong, jump(18, 28, "B"), meets, block},
			[]string{"A, 8.0 m to 33.0 m: bleed-over strongly suspected, perhaps from B. From 18.0 m to 28.0 m the trace may follow B instead of its own line. 3 neighbouring readings were set aside (position outlier). Expose before digging within 0.59 m of the paint. From 18.0 m to 20.0 m the line is in doubt besides: nothing says how far off it may lie there. Find A again: connect to it alone, trace on from 18.0 m and see which way it goes."}},
		{"a jump within a jump", []trace.Finding{jump(0, 12, "unknown"), jump(0, 40, "unknown")},
			[]string{"A, 0.0 m to 40.0 m: the trace may follow another line instead of its own line, or the line has an offset made with fittings there."}},
		{"jumps apart", []trace.Finding{jump(0, 12, "unknown"), jump(20, 40, "unknown")}, []string{"A, 0.0 m to 12.0 m", "A, 20.0 m to 40.0 m"}},
		{"jumps onto two lines", []trace.Finding{jump(0, 12, "B"), jump(10, 40, "C")}, []string{"may follow B", "may follow C"}},
		{"doubts within a doubt", []trace.Finding{finding.Doubt{Line: "A", FromM: 18, ToM: 20, Why: trace.Verbatim("Inner.")}, finding.Doubt{Line: "A", FromM: 18, ToM: 28, Why: trace.Verbatim("Outer.")}},
			[]string{"A, 18.0 m to 28.0 m: Outer. From 18.0 m to 20.0 m: Inner. Find the line there before digging."}},
		{"doubts that overlap no jump", []trace.Finding{block, finding.Doubt{Line: "A", FromM: 25, ToM: 28, Why: trace.Verbatim("Other.")}}, []string{"set aside", "Other."}},
		{"what an exposure says stands alone", []trace.Finding{jump(10, 30, "B"), finding.Doubt{Line: "A", FromM: 18, ToM: 20, Why: trace.Verbatim("Exposed elsewhere."), ByExposure: true}},
			[]string{"Exposed elsewhere.", "may follow B"}},
		{"a meeting elsewhere", []trace.Finding{jump(0, 10, "B"), meets}, []string{"may follow B", "two lines in one zone"}},
	} {
		l := fixture.Line("A", 1, geo.XY{X: 0}, geo.XY{X: 40})
		l.Findings = tt.findings
		got := adviceOn(s, l)
		if len(got) != len(tt.want) {
			t.Errorf("%s: %d items: %+v", tt.name, len(got), got)
			continue
		}
		for i, want := range tt.want {
			if !strings.Contains(said(got[i].Remark), want) {
				t.Errorf("%s: %q lacks %q", tt.name, said(got[i].Remark), want)
			}
			if !slices.ContainsFunc(l.Findings, func(f trace.Finding) bool { return advice.IsAbout(got[i], f) }) {
				t.Errorf("%s: %+v is about no finding", tt.name, got[i])
			}
		}
	}
}

// Places where readings were taken within a stretch that is not traced are told with it:
// one stretch is one item, and the item is about both. Places beside what was traced, and
// past an end, have their own.
func TestPlacesInAGapAreItsItem(t *testing.T) {
	s := &trace.Sheet{Job: trace.DefaultJob()}
	beside := func(from, to, past float64) finding.Gap {
		return finding.Gap{Line: "A", FromM: trace.Unknown, ToM: trace.Unknown, Along: &[2]float64{from, to}, PastM: past, Why: trace.Verbatim("2 readings were set aside, and no line is drawn through their places.")}
	}
	l := fixture.Line("A", 1, geo.XY{X: 0}, geo.XY{X: 40})
	l.Findings = []trace.Finding{finding.Gap{Line: "A", FromM: 10, ToM: 20, Why: remark.NotTraced{OverM: 10}}, beside(12, 14, 0), beside(15, 21, 0), beside(40, 40, 5)}
	got := adviceOn(s, l)
	want := []string{
		"A, 10.0 m to 20.0 m: not traced. From 12.0 m to 14.0 m: 2 readings were set aside, and no line is drawn through their places. The rest has no usable reading. Find the line there before digging.",
		"A, 15.0 m to 21.0 m: 2 readings were set aside",
		"A, up to 5.0 m past its end: 2 readings were set aside",
	}
	if len(got) != len(want) {
		t.Fatalf("%d items: %+v", len(got), got)
	}
	for i, w := range want {
		if !strings.HasPrefix(said(got[i].Remark), w) {
			t.Errorf("%q, want %q", said(got[i].Remark), w)
		}
	}
	for k, item := range []int{0, 0, 1, 2} {
		for i, a := range got {
			if advice.IsAbout(a, l.Findings[k]) != (i == item) {
				t.Errorf("finding %d: item %d says %v", k, i, i != item)
			}
		}
	}
}

// A doubt that the band was widened to hold leaves how far the zone reaches, as the widths
// of the sheet have it: an item may not say of the same stretch that nothing bounds it.
func TestADoubtThatTheBandHoldsLeavesTheReach(t *testing.T) {
	s := &trace.Sheet{Job: trace.DefaultJob()}
	for _, grade := range []trace.Grade{trace.GradeWatch, trace.GradeSuspect} {
		for _, held := range []bool{true, false} {
			d := finding.Doubt{Line: "A", FromM: 0, ToM: 40, Why: remark.NullLevel{}}
			if held {
				d.Why = remark.RunsAside{FarthestM: 0.3, TimesStated: 2}
			}
			l := fixture.Line("A", 1, geo.XY{X: 0}, geo.XY{X: 40})
			l.Findings = []trace.Finding{finding.BleedOver{Line: "A", FromM: 10, ToM: 30, Grade: grade, Neighbor: "B", WidenLeftM: 0.1, WidenRightM: 0.1}, d}
			for _, a := range adviceOn(s, l) {
				if a.Kind != trace.AdviseBleed {
					continue
				}
				if got := said(a.Remark); strings.Contains(got, "nothing says how far off") == held || strings.Contains(got, "of the paint") != held {
					t.Errorf("%s, held %v: %q", grade, held, got)
				}
			}
		}
	}
}

// Which of two lines is deeper is not told where the depth of one is in doubt.
func TestDepthsInDoubtAreNotCompared(t *testing.T) {
	for _, tt := range []struct {
		f    trace.Finding
		told bool
	}{
		{finding.BleedOver{Line: "A", FromM: 4, ToM: 8, Grade: trace.GradeWatch}, true},
		{finding.BleedOver{Line: "A", FromM: 4, ToM: 8, Grade: trace.GradeStrong}, false},
		{finding.BleedOver{Line: "A", FromM: 4, ToM: 8, Grade: trace.GradeWatch, Jump: true}, false},
		{finding.Doubt{Line: "A", FromM: 4, ToM: 8}, false},
		{finding.Doubt{Line: "A", FromM: 9, ToM: 12}, true},
	} {
		a, b := fixture.Line("A", 1, geo.XY{X: 0}, geo.XY{X: 20}), fixture.Line("B", 1.5, geo.XY{X: 5, Y: -3}, geo.XY{X: 5, Y: 3})
		for _, l := range []trace.Line{a, b} {
			for k := range l.Centerline.Parts[0].Vertices {
				l.Centerline.Parts[0].Vertices[k].Depth95M = 0.1 * l.Centerline.Parts[0].Vertices[k].DepthM
			}
		}
		a.Findings = []trace.Finding{tt.f, finding.Crossing{Line: "A", Other: "B", StationM: 5, OtherStationM: 3, DepthDifferenceM: 0.5}}
		lines := []trace.Line{a, b}
		doubtCrossings(&trace.Sheet{Lines: lines})
		if c := lines[0].Findings[1].(finding.Crossing); tt.told && math.Abs(c.DepthsOffM-0.25) > 1e-9 {
			t.Errorf("%+v: both depths may be off by %g m together", tt.f, c.DepthsOffM)
		}
		if got := trace.Known(lines[0].Findings[1].(finding.Crossing).DepthDifferenceM); got != tt.told {
			t.Errorf("%+v: told %v", tt.f, got)
		}
	}
}

// A map whose frame nobody stated says how far off it may be, last of all.
func TestAdviceOnAnUnstatedDatum(t *testing.T) {
	l := fixture.Line("A", 1, geo.XY{X: 0}, geo.XY{X: 10})
	l.Caution.DoubtM, l.Caution.DoubtDatum = 1.3, "NAD83(2011)"
	got := advise(&trace.Sheet{Job: trace.DefaultJob(), Lines: []trace.Line{l}}, make([]lineErrors, 1))
	if len(got) != 1 || got[0].Kind != trace.AdviseFrame || !strings.Contains(said(got[0].Remark), "came in NAD83(2011), the whole map lies about 1.30 m off. Measure from the paint on the ground; add 1.30 m to every distance") || !strings.Contains(said(got[0].Remark), "(datum in the job file)") {
		t.Errorf("got %+v", got)
	}
	l.Caution.DoubtM = 0
	if got := advise(&trace.Sheet{Job: trace.DefaultJob(), Lines: []trace.Line{l}}, make([]lineErrors, 1)); len(got) != 0 {
		t.Errorf("got %+v", got)
	}
}

// What needs a person's eyes stands under what to check before digging, and
// nothing else does.
func TestFindingsThatNeedEyesAreAdvised(t *testing.T) {
	findings := append(finding.All(), finding.FieldCheck{Line: "A", Kind: "lift", Remark: trace.Verbatim("Depth grew by 0.90 m over a lift of 0.30 m.")})
	l := trace.Line{Setup: trace.LineSetup{Name: "A"}, Centerline: &trace.Centerline{}}
	for _, f := range findings {
		a, ok := adviseFinding(f, l)
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
	known := finding.Crossing{Line: "A", Other: "old main", Source: "town.geojson", StationM: 12}
	watch := finding.BleedOver{Line: "A", FromM: 8, ToM: 16, Grade: trace.GradeWatch, Neighbor: "old main", WidenLeftM: 0.4}
	with := func(b finding.BleedOver, change func(*finding.BleedOver)) finding.BleedOver { change(&b); return b }
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
		{"a metre beyond its end", []trace.Finding{with(watch, func(b *finding.BleedOver) { b.ToM = 11.5 }), known}, 1},
		{"two crossings, one watch", []trace.Finding{watch, known, second}, 2},
		{"two watches, one crossing", []trace.Finding{watch, with(watch, func(b *finding.BleedOver) { b.FromM = 11 }), known}, 1},
		{"another line's watch with it", []trace.Finding{watch, with(watch, func(b *finding.BleedOver) { b.FromM, b.Neighbor = 11, "C-1" }), known}, 2},
		{"elsewhere", []trace.Finding{with(watch, func(b *finding.BleedOver) { b.FromM, b.ToM = 20, 30 }), known}, 2},
		{"another line", []trace.Finding{with(watch, func(b *finding.BleedOver) { b.Neighbor = "C-1" }), known}, 2},
		{"suspected", []trace.Finding{with(watch, func(b *finding.BleedOver) { b.Grade = trace.GradeSuspect }), known}, 2},
		{"jumped", []trace.Finding{with(watch, func(b *finding.BleedOver) { b.Jump = true }), known}, 2},
		{"traced lines", []trace.Finding{watch, traced}, 2},
	} {
		l := fixture.Line("A", 1, geo.XY{X: 0}, geo.XY{X: 40}) // with bands of 0.1 m
		l.Findings = tt.findings
		got := adviceOn(s, l)
		if len(got) != tt.items {
			t.Errorf("%s: %d items: %+v", tt.name, len(got), got)
			continue
		}
		for _, f := range tt.findings {
			n := 0
			for _, a := range got {
				if advice.IsAbout(a, f) {
					n++
				}
			}
			if _, crossing := f.(finding.Crossing); n > 1 || crossing && n == 0 {
				t.Errorf("%s: %d items are about %+v", tt.name, n, f)
			}
		}
		if tt.items > 1 {
			continue
		}
		for _, words := range []string{"A crosses 'old main' at 12.0 m, a known line (town.geojson)", "possible bleed-over from it, 8.0 m to ", "expose both by hand before digging within 0.60 m to the right of the paint and 1.00 m to its left"} {
			if !strings.Contains(said(got[0].Remark), words) {
				t.Errorf("%s: %q has no %q", tt.name, said(got[0].Remark), words)
			}
		}
		if got[0].FromM != 8 || got[0].ToM < 12 || got[0].Kind != trace.AdviseCrossing {
			t.Errorf("%s: %+v", tt.name, got[0])
		}
	}
}
