package words

import (
	"slices"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/closelines"
	"loamline.example/trace/finding"
)

// straight is a line along x at a height y, with a zone of so many metres.
func straight(name string, y, zoneM float64) trace.Line {
	l := trace.Line{Setup: trace.LineSetup{Name: name}, Centerline: &trace.Centerline{Parts: []trace.Part{{}}}}
	for x := 0.0; x <= 60; x += 2 {
		l.Centerline.Parts[0].Vertices = append(l.Centerline.Parts[0].Vertices, trace.Vertex{Pos: geo.XY{X: x, Y: y}, StationM: x})
		l.Reach = append(l.Reach, trace.ZoneReach{StationM: x, LeftM: zoneM, RightM: zoneM})
	}
	return l
}

// The table of widths has the wider of all that is drawn on a stretch, never less, and
// parts the line where the zone has come down, a metre or more beyond what was found on it.
func TestZoneStretchesHoldWhatIsDrawn(t *testing.T) {
	l := straight("A", 0, 0.6)
	l.Findings = []trace.Finding{finding.BleedOver{FromM: 20, ToM: 40, Grade: trace.GradeStrong, WidenRightM: 0.49}}
	for i := range l.Reach {
		if r := &l.Reach[i]; r.StationM >= 19 && r.StationM <= 41 {
			r.RightM = 1.09
		}
	}
	got := ZoneStretches(&l)
	if len(got) != 3 || got[1].FromM > 19 || got[1].FromM < 18 || got[1].ToM < 41 || got[1].ToM > 42 || got[1].RightM != 1.09 || got[1].LeftM != 0.6 || got[0].RightM != 0.6 {
		t.Fatalf("%+v", got)
	}
	for _, r := range l.Reach {
		for _, z := range got {
			if r.StationM >= z.FromM && r.StationM <= z.ToM && (r.LeftM > z.LeftM || r.RightM > z.RightM) {
				t.Errorf("%+v is wider than %+v", r, z)
			}
		}
	}
	if got[0].Doubt != nil || got[1].Doubt == nil {
		t.Errorf("doubts %v, %v", got[0].Doubt, got[1].Doubt)
	}
}

// Where a doubt leaves open how far off the line may lie there is no width, from where the
// doubt begins; a stretch that is not traced beside it, with the edge of it, is told with it.
func TestNoWidthWhereNobodyKnowsTheLine(t *testing.T) {
	l := straight("A", 0, 0.6)
	vs := l.Centerline.Parts[0].Vertices
	l.Centerline.Parts = []trace.Part{{Vertices: vs[:11]}, {Vertices: vs[20:]}}
	l.Findings = []trace.Finding{finding.Doubt{Line: "A", FromM: 12, ToM: 20}, finding.Gap{Line: "A", FromM: 20, ToM: 40}, finding.Doubt{Line: "A", FromM: 50, ToM: 55},
		finding.BleedOver{Line: "A", FromM: 50, ToM: 56, Grade: trace.GradeStrong, WidenLeftM: 1, WidenRightM: 1}}
	got := ZoneStretches(&l)
	if len(got) != 5 || got[0].ToM != 12 || got[0].NoWidth() || got[1].FromM != 12 || got[1].ToM != 40+edgeM || got[1].Width(geo.Metric, 1) != "not traced" ||
		got[2].NoWidth() || got[3].FromM != 50 || got[3].ToM != 55 || got[3].Width(geo.Metric, 1) != "not known" || got[4].NoWidth() {
		t.Fatalf("%+v", got)
	}
	words := NotTraced(geo.Metric, &l)
	if len(words) != 2 || words[0] != "A, 12.0 to 40.5 m: "+eitherUntilFound || words[1] != "A, 50.0 to 55.0 m: "+doubtUntilFound {
		t.Errorf("%q", words)
	}
}

// Beyond a wide stretch the row goes on as far as the zone that is drawn stays wider.
func TestRowsEndWhereTheZoneHasComeDown(t *testing.T) {
	l := straight("A", 0, 0.6)
	l.Findings = []trace.Finding{finding.BleedOver{FromM: 20, ToM: 40, Grade: trace.GradeStrong, WidenLeftM: 1, WidenRightM: 1}}
	l.Reach = nil
	for x := 0.0; x <= 60; x += 0.25 {
		w := 2.4 // to 1.8 m beyond either end
		if x < 18.2 || x > 41.8 {
			w = 0.6
		}
		l.Reach = append(l.Reach, trace.ZoneReach{StationM: x, LeftM: w, RightM: 0.6})
	}
	got := ZoneStretches(&l)
	if len(got) != 3 || got[1].FromM > 18.2 || got[1].FromM < 17.6 || got[1].ToM < 41.8 || got[1].ToM > 42.4 || got[0].LeftM != 0.6 || got[2].LeftM != 0.6 {
		t.Errorf("%+v", got)
	}
}

// A wide zone that changes by less than a tenth is told once, by its widest place.
func TestWideZonesThatAreAlikeAreToldOnce(t *testing.T) {
	l := straight("A", 0, 4.5)
	l.Findings = []trace.Finding{finding.BleedOver{FromM: 20, ToM: 40, Grade: trace.GradeStrong, WidenRightM: 0.4}}
	for i := range l.Reach {
		if r := &l.Reach[i]; r.StationM >= 19 && r.StationM <= 41 {
			r.RightM = 4.9
		}
	}
	if got := ZoneStretches(&l); len(got) != 1 || got[0].RightM != 4.9 || got[0].LeftM != 4.5 || got[0].Doubt == nil {
		t.Errorf("%+v", got)
	}
}

// A stretch that is shorter than what stations are told with is no row of its own: it is
// told with the neighbour that has least to be widened for it, in the wider widths.
func TestNoRowIsTooShortToBeTold(t *testing.T) {
	w := func(from, to, m float64) ZoneStretch { return ZoneStretch{FromM: from, ToM: to, LeftM: m, RightM: m} }
	bare := func(from, to float64) ZoneStretch { return ZoneStretch{FromM: from, ToM: to, NotTraced: true} }
	for name, tt := range map[string]struct{ zs, want []ZoneStretch }{
		"a step on the way up":   {[]ZoneStretch{w(0, 38, 1), w(38, 38.1, 1.2), w(38.1, 44, 3.6)}, []ZoneStretch{w(0, 38, 1), w(38, 44, 3.6)}},
		"a step on the way down": {[]ZoneStretch{w(0, 6, 3.6), w(6, 6.1, 1.2), w(6.1, 44, 1)}, []ZoneStretch{w(0, 6.1, 3.6), w(6.1, 44, 1)}},
		"a peak":                 {[]ZoneStretch{w(0, 6, 1), w(6, 6.1, 2), w(6.1, 44, 1)}, []ZoneStretch{w(0, 6.1, 2), w(6.1, 44, 1)}},
		"two in turn":            {[]ZoneStretch{w(0, 0.1, 3), w(0.1, 0.2, 2), w(0.2, 44, 1)}, []ZoneStretch{w(0, 44, 3)}},
		"beside no width":        {[]ZoneStretch{bare(0, 6), w(6, 6.1, 1), w(6.1, 44, 2)}, []ZoneStretch{bare(0, 6), w(6, 44, 2)}},
		"a peak beside no width": {[]ZoneStretch{bare(0, 6), w(6, 6.1, 2), w(6.1, 44, 1)}, []ZoneStretch{{FromM: 0, ToM: 6.1, LeftM: 2, RightM: 2, NotTraced: true}, w(6.1, 44, 1)}},
		"between no widths":      {[]ZoneStretch{bare(0, 6), w(6, 6.1, 2), bare(6.1, 44)}, []ZoneStretch{{FromM: 0, ToM: 44, LeftM: 2, RightM: 2, NotTraced: true}}},
		"no width itself":        {[]ZoneStretch{w(0, 6, 1), bare(6, 6.1), w(6.1, 44, 1)}, []ZoneStretch{w(0, 6, 1), bare(6, 6.1), w(6.1, 44, 1)}},
		"alone":                  {[]ZoneStretch{w(0, 0.1, 1)}, []ZoneStretch{w(0, 0.1, 1)}},
	} {
		if got := bareJoined(withoutShort(slices.Clone(tt.zs))); !slices.Equal(got, tt.want) {
			t.Errorf("%s: %+v, want %+v", name, got, tt.want)
		}
	}
	l := straight("A", 0, 0.6)
	l.Findings = []trace.Finding{finding.BleedOver{FromM: 1.2, ToM: 40, Grade: trace.GradeStrong, WidenLeftM: 1, WidenRightM: 1}}
	l.Reach = nil
	for x := 0.0; x <= 60; x += 0.05 {
		w := 2.4
		if x < 0.15 || x > 42 {
			w = 0.6
		}
		l.Reach = append(l.Reach, trace.ZoneReach{StationM: x, LeftM: w, RightM: w})
	}
	if got := ZoneStretches(&l); len(got) != 2 || got[0].FromM != 0 || got[0].LeftM != 2.4 || got[0].ToM < 41 {
		t.Errorf("%+v", got)
	}
}

// Lines whose zones touch are told with the place where they are nearest; lines apart
// and a crossing that is told as one are not.
func TestCloseLines(t *testing.T) {
	near, apart := straight("B", 1.5, 0.8), straight("C", -4, 0.6)
	s := &trace.Sheet{Lines: []trace.Line{straight("A", 0, 0.6), near, apart}}
	got := closelines.Find(s)
	if len(got) != 1 || got[0].Line != "A" || got[0].Other != "B" || got[0].FromM != 0 || got[0].ToM != 60 || got[0].LeastM != 1.5 {
		t.Fatalf("%+v", got)
	}
	if w := CloseWords(geo.Metric, got[0]); w != "A, 0.0 m to 60.0 m: B runs close, drawn 1.50 m apart at 0.0 m; their zones touch: no machine between them." {
		t.Errorf("%q", w)
	}
	cross := trace.Line{Setup: trace.LineSetup{Name: "D"}, Centerline: &trace.Centerline{Parts: []trace.Part{{Vertices: []trace.Vertex{{Pos: geo.XY{X: 30, Y: -9}}, {Pos: geo.XY{X: 30, Y: 9}, StationM: 18}}}}},
		Reach: []trace.ZoneReach{{LeftM: 0.6, RightM: 0.6}, {StationM: 18, LeftM: 0.6, RightM: 0.6}}}
	a := straight("A", 0, 0.6)
	s = &trace.Sheet{Lines: []trace.Line{a, cross}}
	if got := closelines.Find(s); len(got) != 1 {
		t.Errorf("a crossing that nobody tells: %+v", got)
	}
	s.Lines[0].Findings = []trace.Finding{finding.Crossing{Line: "A", Other: "D", StationM: 30}}
	if got := closelines.Find(s); len(got) != 0 {
		t.Errorf("told as a crossing: %+v", got)
	}
}

// A depth whose band reaches the surface is not known, in every form in which a depth
// is told, and does not count for the range of a line.
func TestDepthsThatReachTheSurfaceAreNotKnown(t *testing.T) {
	deep := trace.Vertex{StationM: 5, DepthM: 1.8, Depth95M: 1.9}
	good := trace.Vertex{StationM: 9, DepthM: 1.4, Depth95M: 0.2}
	l := &trace.Line{Centerline: &trace.Centerline{Parts: []trace.Part{{Vertices: []trace.Vertex{deep, good}}}}}
	for _, u := range []geo.Units{geo.Metric, geo.US} {
		if got := Depth(u, 1.8, 1.9, "2026-05-12"); got != "depth not known: what it may be off reaches the surface; expose to verify" {
			t.Errorf("%s: %q", u, got)
		}
		if got := StationLabel(u, l, deep); got != "depth not known" {
			t.Errorf("%s: %q", u, got)
		}
	}
	if got := DepthRange(geo.Metric, l, "2026-05-12"); got != "read depth to centre outside stretches not to be trusted, 1.40 m ± 0.20, on 2026-05-12; expose to verify" {
		t.Errorf("%q", got)
	}
	l.Findings = []trace.Finding{finding.BleedOver{FromM: 8, ToM: 10, Grade: trace.GradeStrong, WidenLeftM: 1, LnDepth95: 1.5}}
	if got := DepthRange(geo.Metric, l, "2026-05-12"); got != "depth not known; expose to verify" {
		t.Errorf("%q", got)
	}
	if got := At(l, good).DepthLabel(geo.Metric); got != "DO NOT TRUST (depth not known)" {
		t.Errorf("%q", got)
	}
}

// A depth that was read and is in doubt is not known; it was read all the same.
func TestDepthsInDoubtWereRead(t *testing.T) {
	l := straight("A", 0, 0.6)
	vs := l.Centerline.Parts[0].Vertices
	for i := range vs {
		vs[i].DepthM, vs[i].Depth95M = 1.4, 0.2
	}
	l.Findings = []trace.Finding{finding.Doubt{Line: "A", FromM: 0, ToM: 60}}
	if got := DepthRange(geo.Metric, &l, "2026-05-12"); got != "depth not known; expose to verify" {
		t.Errorf("%q", got)
	}
	l.Findings = []trace.Finding{finding.Doubt{Line: "A", FromM: 0, ToM: 20}}
	if got := DepthRange(geo.Metric, &l, "2026-05-12"); got != "read depth to centre outside stretches not to be trusted, 1.40 m ± 0.20, on 2026-05-12; expose to verify" {
		t.Errorf("%q", got)
	}
}

// A total is told by its parts, which add up as they are shown.
func TestTotalsAreToldByTheirParts(t *testing.T) {
	for _, c := range []struct {
		u    geo.Units
		want string
	}{
		{geo.Metric, "± 1.68 m (0.08 m from the readings, 1.60 m from the datum)"},
		{geo.US, "± 5 ft 6 in (3 in from the readings, 5 ft 3 in from the datum)"},
	} {
		told := Told{Horizontal95M: 0.071, FrameM: 1.6}
		if got := told.Across(c.u); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	if got := (Told{Horizontal95M: 0.071}).Across(geo.Metric); got != "± 0.08 m" {
		t.Errorf("without a doubt about the datum: %q", got)
	}
}
