package words

import (
	"regexp"
	"strings"
	"testing"
	"time"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// The day is the locator's own, not Greenwich's.
func TestDaysAreThoseOfTheReadingsZone(t *testing.T) {
	evening, err := time.Parse(time.RFC3339, "2026-05-12T20:30:00-05:00")
	if err != nil {
		t.Fatal(err)
	}
	r := trace.NewReading()
	r.Time = evening
	s := &trace.Sheet{Lines: []trace.Line{{Readings: []trace.Reading{r}}}}
	if got := JobDate(s); got != "2026-05-12" {
		t.Errorf("the job's day is %s", got)
	}
	if got := ReadingDay(&r, ""); got != "2026-05-12" {
		t.Errorf("the reading's day is %s", got)
	}
}

func TestDepthWords(t *testing.T) {
	for _, c := range []struct {
		u           geo.Units
		depth, band float64
		date, want  string
	}{
		{geo.US, 3.4 * geo.FootM, 0.5 * geo.FootM, "2026-05-12", "read depth to centre, 3 ft 5 in ± 6 in, on 2026-05-12; expose to verify"},
		{geo.Metric, 1.04, 0.12, "2026-05-12", "read depth to centre, 1.04 m ± 0.12, on 2026-05-12; expose to verify"},
		{geo.Metric, 1.04, 0.12, "", "read depth to centre, 1.04 m ± 0.12, date not given; expose to verify"},
		{geo.Metric, 1.04, trace.Unknown, "2026-05-12", "read depth to centre, 1.04 m (error not known), on 2026-05-12; expose to verify"},
		{geo.Metric, trace.Unknown, trace.Unknown, "2026-05-12", "depth not read; expose to verify"},
	} {
		if got := Depth(c.u, c.depth, c.band, c.date); got != c.want {
			t.Errorf("got  %s\nwant %s", got, c.want)
		}
	}
}

func TestDepthRangeWords(t *testing.T) {
	c := &trace.Centerline{Parts: []trace.Part{{Vertices: []trace.Vertex{
		{DepthM: 0.92, Depth95M: 0.1}, {DepthM: trace.Unknown, Depth95M: trace.Unknown}, {DepthM: 1.31, Depth95M: 0.145},
	}}}}
	want := "read depth to centre, 0.92 to 1.31 m ± 0.15, on 2026-05-12; expose to verify"
	if got := DepthRange(geo.Metric, &trace.Line{Centerline: c}, "2026-05-12"); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

// A band is a promise: rounding for people may widen it, never narrow it.
func TestBandsAreRoundedUp(t *testing.T) {
	for _, c := range []struct {
		u    geo.Units
		m    float64
		want string
	}{
		{geo.Metric, 0.141, "± 0.15 m"}, {geo.Metric, 0.14, "± 0.14 m"},
		{geo.US, 0.128, "± 6 in"}, {geo.US, 0.127, "± 5 in"}, {geo.US, 1.21 * geo.FootM, "± 1 ft 3 in"},
	} {
		if got := Position(c.u, c.m); !strings.Contains(got, c.want) {
			t.Errorf("%v %v: %q lacks %q", c.u, c.m, got, c.want)
		}
	}
	if got := Shift(geo.US, 0.08, 0.05); got != "3 in ± 2 in" {
		t.Errorf("got %q", got)
	}
}

// Every finding has a title with its place and sentences; none of them claims
// that something is clean, verified, safe or certain.
func TestFindingWordsAreCareful(t *testing.T) {
	claim := regexp.MustCompile(`(?i)\b(clean|verified|safe|certain|accurate|exact|confirmed|guaranteed)\b`)
	for _, u := range []geo.Units{geo.Metric, geo.US} {
		for _, f := range finding.All() {
			if _, worded := kinds[f.Role()]; !worded {
				continue // TestEveryKindOfFindingHasWords
			}
			words := Finding(u, f)
			if len(words) == 0 {
				t.Errorf("%s has no words", f.Role())
			}
			text := FindingTitle(u, f) + " " + strings.Join(words, " ")
			if m := claim.FindString(text); m != "" {
				t.Errorf("%s claims %q: %s", f.Role(), m, text)
			}
			if !strings.ContainsAny(text, "0123456789") {
				t.Errorf("%s has no figure: %s", f.Role(), text)
			}
			if RoleTitle(f.Role()) == strings.ReplaceAll(f.Role(), "_", " ") {
				t.Errorf("%s has no plain title", f.Role())
			}
		}
	}
}

// A doubt about one place names that, and no stretch from it to itself.
func TestADoubtAtAPlace(t *testing.T) {
	d := finding.Doubt{Line: "A", FromM: 0, ToM: 0.02, Why: trace.Verbatim("Two passes lie apart.")}
	if got := Remark(geo.Metric, remark.LookAt{Line: "A", Finding: d}); !strings.HasPrefix(got, "A, 0.0 m: Two passes") {
		t.Error(got)
	}
}

// What rounds to nothing lies to no side.
func TestNullAtThePeak(t *testing.T) {
	r := remark.NullOffset{OffsetM: 0.012, Side: trace.Left, N: 20, BandM: 0.05}
	if got := Remark(geo.US, r); got != "Null lies at the peak over 20 readings, as it does over one line alone (± 2 in)." {
		t.Error(got)
	}
	if got := Remark(geo.Metric, r); !strings.Contains(got, "0.01 m left of peak") {
		t.Error(got)
	}
}

func TestBleedOverWordsSayWhereTheLineLies(t *testing.T) {
	f := finding.All()[0].(finding.BleedOver)
	got := strings.Join(Finding(geo.Metric, f), " ")
	for _, want := range []string{"perhaps B, 0.90 m away", "Null lies 0.14 m right", "0.08 m ± 0.05 to the left of the paint", "expose to verify"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q lacks %q", got, want)
		}
	}
	f.LikelyShiftM, f.LikelySide = trace.Unknown, ""
	if got := strings.Join(Finding(geo.Metric, f), " "); !strings.Contains(got, "cannot be told") {
		t.Errorf("unknown shift is not said: %s", got)
	}
}

// A table of depths says of which day they are estimates, or that none is stated.
func TestDepthsHead(t *testing.T) {
	for date, want := range map[string]string{
		"":           "DEPTHS TO CENTRE, every 5.0 m: estimates, date not stated; expose to verify",
		"2026-05-12": "DEPTHS TO CENTRE, every 5.0 m: estimates of 2026-05-12; expose to verify",
	} {
		if got := DepthsHead(geo.Metric, 5, date); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Offsets are positive to the right of travel, in every sentence.
func TestWordsForSidesAndDepths(t *testing.T) {
	say := func(f trace.Finding) string { return strings.Join(Finding(geo.Metric, f), " ") }
	for _, tt := range []struct {
		f    trace.Finding
		want string
	}{
		{finding.RecordDifference{Record: "R", MeanOffsetM: 1, LargestOffsetM: 1.5, AllowedM: 0.6}, "lies 1.00 m right of the trace on average"},
		{finding.RecordDifference{Record: "R", MeanOffsetM: -1, LargestOffsetM: -1.5, AllowedM: 0.6}, "lies 1.00 m left of the trace on average"},
		{finding.ExposedCheck{OffsetM: -0.2, DepthDifferenceM: 0.1}, "lies 20.0 cm to the left of where it was traced without this point, and the depth read was 10.0 cm deeper than measured"},
		{finding.ExposedCheck{OffsetM: 0.2, DepthDifferenceM: -0.1}, "lies 20.0 cm to the right of where it was traced without this point, and the depth read was 10.0 cm shallower than measured"},
		{finding.ExposedCheck{OffsetM: -0.0004, DepthDifferenceM: 0.1}, "the line lies where it was traced without this point, and the depth read was 10.0 cm deeper"},
		{finding.ExposedCheck{OffsetM: 0.0004, DepthDifferenceM: -0.0004}, "the line lies where it was traced without this point, and the depth read was the depth measured."},
		{finding.ExposedCheck{OffsetM: 0.0004, DepthDifferenceM: trace.Unknown}, "the line lies where it was traced without this point."},
		{finding.RecordDifference{Record: "R", MeanOffsetM: 0.004, LargestOffsetM: -1.5, AllowedM: 0.6}, "lies along the trace on average, 1.50 m at most"},
		{finding.Crossing{Line: "A", Other: "B", DepthDifferenceM: 0.4, DepthsOffM: 0.25}, "B was read 0.40 m ± 0.25 deeper than A"},
		{finding.Crossing{Line: "A", Other: "B", DepthDifferenceM: -0.4, DepthsOffM: 0.25}, "B was read 0.40 m ± 0.25 shallower than A"},
		{finding.Crossing{Line: "A", Other: "B", DepthDifferenceM: -0.2, DepthsOffM: 0.25}, "Which of them is deeper is not known: the depths read differ by no more than they may be off."},
		{finding.Crossing{Line: "A", Other: "B", DepthDifferenceM: 0, DepthsOffM: 0}, "Which of them is deeper is not known"},
		{finding.Crossing{Line: "A", Other: "B", DepthDifferenceM: -0.4, DepthsOffM: trace.Unknown}, "Which of them is deeper is not known."},
	} {
		if got := say(tt.f); !strings.Contains(got, tt.want) {
			t.Errorf("%+v: %q, want %q", tt.f, got, tt.want)
		}
	}
}

// A kind of finding without words of its own could not be acted on.
func TestEveryKindOfFindingHasWords(t *testing.T) {
	for _, f := range finding.All() {
		if _, worded := kinds[f.Role()]; !worded {
			t.Errorf("no words for %T: declare them in a file export/words/finding_*.go", f)
			continue
		}
		if FindingTitle(geo.US, f) == "" || len(Finding(geo.US, f)) == 0 {
			t.Errorf("%T: %q, %q", f, FindingTitle(geo.US, f), Finding(geo.US, f))
		}
		if RoleTitle(f.Role()) == f.Role() {
			t.Errorf("no title for role %s", f.Role())
		}
	}
}
