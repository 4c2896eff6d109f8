package summary

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"

	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
	"loamline.example/trace/tracetest/fixture"
)

// The terminal tells every kind of finding.
func TestSummaryTellsEveryKindOfFinding(t *testing.T) {
	for _, f := range finding.All() {
		s := &trace.Sheet{Job: trace.DefaultJob(), Lines: []trace.Line{{Setup: trace.LineSetup{Name: "A"}, Findings: []trace.Finding{f}}}}
		var b strings.Builder
		Whole(&b, s, nil)
		want := words.FindingTitle(geo.Metric, f)
		if e, ok := f.(finding.ExposedCheck); ok {
			want = words.Remark(geo.Metric, e.Remark)
		}
		if !strings.Contains(b.String(), want) {
			t.Errorf("%T is not told in the summary: see cmd/loamline/internal/summary/finding.go", f)
		}
	}
}

// Of a drawn line the short summary never says that no sign was found where a
// person must look. A crossing is told by the list alone.
func TestHowSureOfEveryKindOfFinding(t *testing.T) {
	s := &trace.Sheet{Job: trace.DefaultJob()}
	for _, f := range finding.All() {
		l := trace.Line{Centerline: &trace.Centerline{}, Findings: []trace.Finding{f}}
		got := howSure(&l, s)
		_, crossing := f.(finding.Crossing)
		if none := got == nothingFound(&l, s); none != (crossing || !f.NeedsEyes()) {
			t.Errorf("%T: %q", f, got.words)
		}
	}
	if got := howSure(&trace.Line{}, s); got.ink != inkStop {
		t.Errorf("a line that is not drawn: %q", got.words)
	}
}

// A stretch that two findings are about is counted once: no more of a line is in doubt
// than there is.
func TestHowSureCountsAStretchOnce(t *testing.T) {
	s := &trace.Sheet{Job: trace.DefaultJob()}
	l := trace.Line{Centerline: &trace.Centerline{}, Findings: []trace.Finding{
		finding.Doubt{FromM: 40, ToM: 100}, finding.Doubt{FromM: 0, ToM: 50}, finding.Doubt{FromM: 10, ToM: 20}, finding.Doubt{FromM: 110, ToM: 120}}}
	if got := howSure(&l, s); got.words != "in doubt over 110.0 m" {
		t.Error(got.words)
	}
}

// A line against which nothing was found is no surer than the list of what to check:
// what is said there of all of it, of the input or of the datum is not passed over.
func TestHowSureIsNoMilderThanTheList(t *testing.T) {
	r := trace.NewReading()
	r.DepthM, r.CurrentMA, r.NullOffsetM = 1, 20, 0
	l := trace.Line{Setup: trace.LineSetup{Name: "A"}, Centerline: &trace.Centerline{}, Readings: []trace.Reading{r}}
	of := func(caution trace.Zone, items ...trace.Advice) string {
		l.Caution = caution
		return howSure(&l, &trace.Sheet{Job: trace.DefaultJob(), Lines: []trace.Line{l}, Advice: items}).words
	}
	item := func(line string, kind trace.AdviceKind) trace.Advice {
		return trace.Advice{Line: line, Kind: kind, Remark: trace.Verbatim("words")}
	}
	for _, c := range []struct{ got, want string }{
		{of(trace.Zone{}), "no sign of trouble found"},
		{of(trace.Zone{}, item("B", trace.AdviseAccuracy)), "no sign of trouble found"},
		{of(trace.Zone{DoubtM: 1}), "no sign of trouble found but for the datum"},
		{of(trace.Zone{}, item("A", trace.AdviseAccuracy)), "positions or depths are in doubt: see below"},
		{of(trace.Zone{}, item("", trace.AdviseInput)), "its input is in doubt: see below"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

// Colour is for terminals alone, and a file's names cannot steer one.
func TestInk(t *testing.T) {
	if got := ink(false).in(inkStop, "x"); got != "x" {
		t.Errorf("%q", got)
	}
	if got := ink(true).in(inkStop, "x"); got != "\x1b[1;31mx\x1b[0m" {
		t.Errorf("%q", got)
	}
	if inkFor(&strings.Builder{}) {
		t.Error("a text is no terminal")
	}
	if got := OnOneLine("a\x1b[2Jb\nc"); got != "a [2Jb c" {
		t.Errorf("%q", got)
	}
}

// --verbose tells the worst of a line first, all the signs of it, and what several lines
// have in common once.
func TestAllOfAJobFitsAScreen(t *testing.T) {
	sign := func(n int) (out []trace.Remark) {
		for i := range n {
			out = append(out, trace.Verbatim(fmt.Sprintf("Sign %d.", i+1)))
		}
		return out
	}
	same := []trace.Remark{trace.Verbatim("Peak and null were compared.")}
	s := &trace.Sheet{Job: trace.DefaultJob(), Lines: []trace.Line{
		{Setup: trace.LineSetup{Name: "A"}, Checked: same, Findings: []trace.Finding{
			finding.BleedOver{Line: "A", FromM: 1, ToM: 2, Grade: trace.GradeWatch, Evidence: sign(2)},
			finding.BleedOver{Line: "A", FromM: 3, ToM: 4, Grade: trace.GradeStrong, Neighbor: "B", Evidence: sign(6)}}},
		{Setup: trace.LineSetup{Name: "B"}, Checked: append(slices.Clone(same), trace.Verbatim("No depth was read."), remark.NotChecked{Check: remark.CheckDirection}), TryNext: sign(1)}}}
	var b strings.Builder
	Whole(&b, s, nil)
	for _, want := range []string{
		"    Bleed-over strongly suspected, 3.0 to 4.0 m, perhaps from B:\n      Sign 1.\n      Sign 2.\n      Sign 3.\n      Sign 4.\n      Sign 5.\n      Sign 6.\n" +
			"    Possible bleed-over, 1.0 to 2.0 m, no known line there: Sign 1. Sign 2.\n",
		"Checked:\n  - all lines: Peak and null were compared.\n  - B: No depth was read.\n",
		"\nNot checked, so that another line's signal may have gone unseen:\n  - B: Current direction could not be checked: no phase column.\n",
		"What could settle a doubt:\n  - B: Sign 1.\n",
	} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("no %q in\n%s", want, b.String())
		}
	}
}

// Both summaries say how deep each line was read, with its band, what of it is left out,
// and where no depth was read; of no line that is in doubt from end to end a figure.
func TestHowDeepEachLineWasRead(t *testing.T) {
	deep := func(name string, m float64) trace.Line {
		l := fixture.Line(name, m, geo.XY{}, geo.XY{X: 20}, geo.XY{X: 40})
		for i := range l.Centerline.Parts[0].Vertices {
			l.Centerline.Parts[0].Vertices[i].Depth95M = 0.1
		}
		return l
	}
	doubted := deep("D", 1.5)
	doubted.Findings = []trace.Finding{finding.Doubt{Line: "D", FromM: 0, ToM: 40, Why: trace.Verbatim("Two passes lie apart.")}}
	half := deep("H", 1.2)
	half.Centerline.Parts[0].Vertices[1].DepthM = 1.4
	half.Findings = []trace.Finding{finding.Doubt{Line: "H", FromM: 35, ToM: 40, Why: trace.Verbatim("Two passes lie apart.")}}
	job := func(lines ...trace.Line) (short, whole string) {
		s := &trace.Sheet{Job: trace.DefaultJob(), Plane: geo.NewPlane(geo.LonLat{LonDeg: -30.5, LatDeg: 44.1}), Lines: lines}
		var a, b strings.Builder
		Short(&a, s, nil)
		Whole(&b, s, nil)
		return a.String(), b.String()
	}
	short, whole := job(deep("A", 1), half, doubted, deep("N", trace.Unknown), trace.Line{Setup: trace.LineSetup{Name: "none"}})
	if want := "Read depth to centre (95 %), outside stretches not to be trusted: A 1.00 m ± 0.10; H 1.20 to 1.40 m ± 0.10; D not known; N not read; expose to verify.\n"; !strings.Contains(short, want) {
		t.Errorf("no %q in\n%s", want, short)
	}
	if want := "Read depth to centre, 1.00 m ± 0.10, date not given; expose to verify."; !strings.Contains(whole, want) {
		t.Errorf("no %q in\n%s", want, whole)
	}
	if short, _ := job(deep("N", trace.Unknown)); !strings.Contains(short, "No depth was read: expose to find it.\n") {
		t.Errorf("a job without depths:\n%s", short)
	}
}

// Neither summary has a band of a line that is in doubt from end to end.
func TestNoBandOfALineInDoubt(t *testing.T) {
	line := &trace.Centerline{Parts: []trace.Part{{Vertices: []trace.Vertex{{Horizontal95M: 0.1}, {Pos: geo.XY{X: 40}, StationM: 40, Horizontal95M: 0.1}}}}}
	s := &trace.Sheet{Job: trace.DefaultJob(), Plane: geo.NewPlane(geo.LonLat{LonDeg: -30.5, LatDeg: 44.1}), Lines: []trace.Line{{Setup: trace.LineSetup{Name: "A"}, Centerline: line,
		Findings: []trace.Finding{finding.Doubt{Line: "A", FromM: 0, ToM: 40, Why: trace.Verbatim("Two passes lie apart.")}}}}}
	for name, tell := range map[string]func(io.Writer, *trace.Sheet, []string){"short": Short, "verbose": Whole} {
		var b strings.Builder
		tell(&b, s, nil)
		if strings.Contains(b.String(), "±") || !strings.Contains(b.String(), "not known") {
			t.Errorf("%s: %s", name, b.String())
		}
	}
}

// A column that was not read is told as such, however much else is told of the input: one
// word in the header brings back all that it holds.
func TestColumnNotReadIsToldByItself(t *testing.T) {
	lost := remark.ColumnUnknown{Table: "a.csv", Header: "dpth", Means: "depth_m", Cost: remark.CostDepth}
	list := []trace.Advice{{Kind: trace.AdviseInput, Remark: lost},
		{Kind: trace.AdviseInput, Line: "A", Remark: remark.RowsUnplaced{N: 4, Of: 9, Row: 3, Why: trace.Verbatim("x")}},
		{Kind: trace.AdviseInput, Line: "B", Remark: remark.RowsUnplaced{N: 4, Of: 9, Row: 3, Why: trace.Verbatim("x")}}}
	kinds := checkKinds(&trace.Sheet{Job: trace.DefaultJob()}, list)
	if len(kinds) != 2 || !strings.Contains(kinds[0].texts[placesAlone][0], `the column "dpth" is not known (did you mean depth_m?), so no depths were read`) {
		t.Errorf("%+v", kinds)
	}
}
