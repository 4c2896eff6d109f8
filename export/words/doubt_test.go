package words

import (
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// A depth within a stretch that is in doubt is never told as if nothing were the
// matter, and the gravest of several doubts is the one that is told.
func TestDepthsInDoubtSaySo(t *testing.T) {
	bleed := func(g trace.Grade) trace.Finding { return finding.BleedOver{FromM: 2, ToM: 6, Grade: g} }
	contradicted := finding.Doubt{FromM: 4, ToM: 8}
	beside := finding.Doubt{FromM: trace.Unknown, ToM: trace.Unknown}
	held := finding.Doubt{FromM: 4, ToM: 8, Why: remark.RunsAside{FarthestM: 0.3, TimesStated: 2}}
	v := trace.Vertex{DepthM: 1, Depth95M: 0.1}
	for _, c := range []struct {
		findings []trace.Finding
		stationM float64
		words    string
		label    string
	}{
		{nil, 5, "", "read"},
		{[]trace.Finding{finding.FieldCheck{StationM: 5, Kind: trace.CheckAirCoupling, Outcome: trace.OutcomePassed}}, 5, "", "read"},
		{[]trace.Finding{contradicted, beside}, 3.8, "", "read"},
		{[]trace.Finding{contradicted}, 3.9, "line in doubt", "DO NOT TRUST"}, // told as the 4 m at which it begins, in feet
		{[]trace.Finding{contradicted}, 8.1, "line in doubt", "DO NOT TRUST"},
		{[]trace.Finding{bleed(trace.GradeWatch), finding.BleedOver{FromM: 5.02, ToM: 8, Grade: trace.GradeStrong}}, 5, "bleed-over strongly suspected", "DO NOT TRUST"},
		{[]trace.Finding{contradicted}, 5, "line in doubt", "DO NOT TRUST"},
		{[]trace.Finding{held}, 5, "line in doubt", "read 1.00 m ± 0.10 (doubtful)"},
		{[]trace.Finding{held, contradicted}, 5, "line in doubt", "DO NOT TRUST"},
		{[]trace.Finding{bleed(trace.GradeWatch)}, 5, "possible bleed-over", "read 1.00 m ± 0.10 (doubtful)"},
		{[]trace.Finding{bleed(trace.GradeWatch), contradicted}, 5, "line in doubt", "DO NOT TRUST"},
		{[]trace.Finding{contradicted, bleed(trace.GradeSuspect)}, 5, "bleed-over suspected", "DO NOT TRUST"},
		{[]trace.Finding{bleed(trace.GradeStrong), bleed(trace.GradeSuspect)}, 5, "bleed-over strongly suspected", "DO NOT TRUST"},
	} {
		l := &trace.Line{Findings: c.findings}
		v.StationM = c.stationM
		got := ""
		if d := At(l, v).Doubt; d != nil {
			got = d.Words
		}
		if label := StationLabel(geo.Metric, l, v); got != c.words || !strings.HasPrefix(label, c.label) {
			t.Errorf("%+v at %v: %q, %q", c.findings, c.stationM, got, label)
		}
	}
}

// What was not traced past an end of a line, or beside it, has its edge where it begins on
// the line: no figure stands there as read. Farther along the line it says nothing.
func TestTheEdgeOfWhatWasNotTracedBesideALine(t *testing.T) {
	l := straight("A", 0, 0.6)
	none := trace.Unknown
	l.Findings = []trace.Finding{
		finding.Gap{Line: "A", FromM: none, ToM: none, Path: []geo.XY{{X: 60}, {X: 63, Y: 2}}, Why: trace.Verbatim("Past the end.")},
		finding.Gap{Line: "A", FromM: none, ToM: none, Path: []geo.XY{{X: 20}, {X: 24, Y: 5}, {X: 28}}, Why: trace.Verbatim("Beside it.")},
		finding.Gap{Line: "A", FromM: none, ToM: none, Path: []geo.XY{{X: 40, Y: 3}, {X: 44, Y: 3}}, Why: trace.Verbatim("Apart from it.")},
	}
	along := NewAlong(&l)
	for stationM, want := range map[float64]bool{0: false, 19: false, 20: true, 20.4: true, 24: false, 28: true, 29: false, 42: false, 59: false, 59.6: true, 60: true} {
		v := trace.Vertex{StationM: stationM, DepthM: 1, Depth95M: 0.1, Horizontal95M: 0.1}
		for _, told := range []Told{At(&l, v), along.At(v)} {
			if told.Distrusted() != want || trace.Known(told.Across95M()) == want {
				t.Errorf("at %g m: %+v", stationM, told)
			}
		}
	}
	if z := ZoneStretches(&l); !z[len(z)-1].InDoubt || z[len(z)-1].FromM != 59.5 {
		t.Errorf("%+v", z)
	}
}

// Where the band was widened to hold what speaks against the line, it is told, and stands
// no surer than the list of what to check; beside another doubt nothing is known as before.
func TestABandThatHoldsTheDoubtIsTold(t *testing.T) {
	v := func(s float64) trace.Vertex {
		return trace.Vertex{StationM: s, Pos: geo.XY{X: s}, DepthM: 0.9, Depth95M: 0.1, Horizontal95M: 0.4}
	}
	off := remark.ReadingsOffLine{N: 2, FarthestM: 0.4}
	l := &trace.Line{Setup: trace.LineSetup{Name: "G-1"}, Centerline: &trace.Centerline{Parts: []trace.Part{{Vertices: []trace.Vertex{v(0), v(46)}}}}}
	for _, c := range []struct {
		why  []trace.Remark
		want string
	}{
		{[]trace.Remark{off}, "position across the line: ± 0.40 m (95 %) (doubtful)"},
		{[]trace.Remark{off, remark.BesideItself{}}, "position across the line: not known"},
	} {
		l.Findings = nil
		for _, why := range c.why {
			l.Findings = append(l.Findings, finding.Doubt{Line: "G-1", FromM: 0, ToM: 46, Why: why})
		}
		if got := At(l, v(10)).Position(geo.Metric); got != c.want {
			t.Errorf("%T: %q, want %q", c.why, got, c.want)
		}
	}
	// What is only possible and bounded by nothing is told beside a band, which would look as
	// if it bounded that too.
	for widen, want := range map[float64]string{0: " (doubtful: nothing says how far off)", 0.3: " (doubtful)", 0.6: " (doubtful: perhaps up to 0.60 m off)"} {
		l.Findings = []trace.Finding{finding.BleedOver{Line: "G-1", FromM: 0, ToM: 46, Grade: trace.GradeWatch, WidenLeftM: widen, LikelyShiftM: trace.Unknown}}
		if got := At(l, v(10)).Position(geo.Metric); got != "position across the line: ± 0.40 m (95 %)"+want {
			t.Errorf("widened by %g m: %q", widen, got)
		}
	}
	l.Findings = []trace.Finding{finding.Doubt{Line: "G-1", FromM: 0, ToM: 46, Why: off}}
	for _, said := range [][]string{Finding(geo.Metric, l.Findings[0]), {Remark(geo.Metric, remark.LookAt{Line: "G-1", Finding: l.Findings[0]})}} {
		if last := said[len(said)-1]; !strings.HasSuffix(last, trustTheBand) {
			t.Errorf("%q does not say what to do", last)
		}
	}
}
