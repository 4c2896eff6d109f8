package words

import (
	"strings"
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/remark"
)

// A distance to keep off counts from the paint; from the map the frame's doubt comes on
// top, rounded up, and where that has no limit no distance is told.
func TestDistanceFromMap(t *testing.T) {
	etrs := trace.Zone{DoubtM: 0.862, DoubtDatum: "ETRS89"}
	for _, tt := range []struct {
		u    geo.Units
		z    trace.Zone
		m    float64
		want string
	}{
		{geo.Metric, etrs, 0.552, "1.43 m"},
		{geo.US, etrs, 0.51, "4 ft 7 in"},
		{geo.Metric, trace.Zone{}, 0.552, "0.56 m"},
		{geo.Metric, trace.Zone{DoubtM: 1}, 0.552, "do not"},
		{geo.Metric, trace.Zone{DoubtM: 1, DoubtDatum: "MGI", DoubtStated: true}, 0.552, "1.56 m"},
	} {
		if got := FromMap(tt.u, tt.z, tt.m); got != tt.want {
			t.Errorf("%v m in %+v: %q, want %q", tt.m, tt.z, got, tt.want)
		}
	}
}

// Where no limit of the frame's doubt is known, a band across is none either.
func TestBandWithoutLimitSaysOrMore(t *testing.T) {
	told := Told{Horizontal95M: 0.03, FrameM: 1, FrameOpen: true}
	for _, got := range []string{told.PositionLabel(geo.Metric), told.Across(geo.Metric), told.AcrossBriefly(geo.Metric), told.Position(geo.Metric)} {
		if !strings.Contains(got, "± 1.03 m or more") {
			t.Errorf("%q sets a limit", got)
		}
	}
}

// Whoever may not trust the map is told what to do where the paint is gone.
func TestFrameAdviceSaysWhatToDoWithoutPaint(t *testing.T) {
	for _, r := range []remark.FrameDoubt{{OffM: 1}, {OffM: 0.862, Datum: "ETRS89"}, {OffM: 1, Datum: "MGI", Stated: true}} {
		got := Remark(geo.Metric, r)
		if !strings.Contains(got, "have the line located again before digging") || strings.Contains(got, "mark") {
			t.Errorf("%q", got)
		}
	}
}

// Nobody uses a machine where a line was not traced, its two ends included.
func TestNotTraced(t *testing.T) {
	l := &trace.Line{Setup: trace.LineSetup{Name: "A"}, Centerline: &trace.Centerline{}}
	for _, r := range []remark.AirBeyond{{OverM: 4}, {OverM: 5, StationM: 30}} {
		l.Findings = append(l.Findings, finding.Gap{FromM: trace.Unknown, ToM: trace.Unknown, Why: r})
	}
	for _, g := range []finding.Gap{
		{Along: &[2]float64{0, 0}, PastM: -6}, {Along: &[2]float64{30, 30}, PastM: 7},
		{Along: &[2]float64{0, 2}, PastM: -8}, {Along: &[2]float64{28, 30}, PastM: 9},
	} {
		g.FromM, g.ToM, g.Why = trace.Unknown, trace.Unknown, remark.Block{N: 3}
		l.Findings = append(l.Findings, g)
	}
	got := strings.Join(NotTraced(geo.Metric, l), "\n")
	for _, want := range []string{"A, up to 6.0 m before its start, where readings were taken and no line is drawn: not traced.", "A, up to 7.0 m past its end, where", "A, from 8.0 m before its start to 2.0 m, where", "A, from 28.0 m to 9.0 m past its end, where", "A, over 4.0 m before its start: not traced. No machine anywhere", "A, over 5.0 m past its end: not traced. No machine anywhere"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is not in %q", want, got)
		}
	}
	// What lies within a stretch that is told already is not told again.
	part := func(from, to float64) trace.Part {
		return trace.Part{Vertices: []trace.Vertex{{StationM: from}, {StationM: to}}}
	}
	l = &trace.Line{Setup: trace.LineSetup{Name: "A"}, Centerline: &trace.Centerline{Parts: []trace.Part{part(0, 10), part(20, 40)}},
		Reach: []trace.ZoneReach{{LeftM: 1, RightM: 1}, {StationM: 40, LeftM: 1, RightM: 1}}}
	l.Findings = []trace.Finding{finding.Gap{FromM: 10, ToM: 20}}
	for _, at := range [][2]float64{{12, 14}, {30, 31}} {
		l.Findings = append(l.Findings, finding.Gap{FromM: trace.Unknown, ToM: trace.Unknown, Along: &at, Why: remark.Block{N: 3}})
	}
	if got := strings.Join(NotTraced(geo.Metric, l), "\n"); strings.Contains(got, "12.0") || !strings.Contains(got, "A, near 30.0 to 31.0 m, where") {
		t.Errorf("%q", got)
	}
}

// What could not be checked for bleed-over is said in one line, with the lines that it
// is of where it is not of all.
func TestNotChecked(t *testing.T) {
	s := &trace.Sheet{Lines: []trace.Line{
		{Setup: trace.LineSetup{Name: "A"}, Centerline: &trace.Centerline{}, Checked: []trace.Remark{remark.NotChecked{Check: remark.CheckNull}, remark.NotChecked{Check: remark.CheckDirection}}},
		{Setup: trace.LineSetup{Name: "B"}, Centerline: &trace.Centerline{}, Checked: []trace.Remark{remark.NotChecked{Check: remark.CheckDirection}}},
	}}
	want := "Not checked on A: peak against null (no null offset column). Not checked: current direction (no phase column). Another line's signal may have gone unseen."
	if got := NotChecked(s); got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got := NotChecked(&trace.Sheet{Lines: s.Lines[:0]}); got != "" {
		t.Errorf("%q of nothing", got)
	}
}
