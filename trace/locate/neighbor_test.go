package locate

import (
	"testing"

	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
	"loamline.example/trace/tracetest/fixture"
)

// From which line on record signal may come is told with what that is and where it lies;
// of one that lies on both sides no side is told, nor of one whose place is not known. One
// that was traced has its own paint and its own lines in the lists.
func TestWhichLineMayMixInIsTold(t *testing.T) {
	for _, tt := range []struct {
		name    string
		other   []geo.XY
		traced  bool
		utility trace.Utility
		apartM  float64
		want    string
	}{
		{"from records, to the right", []geo.XY{{X: -5, Y: -2}, {X: 45, Y: -2}}, false, trace.Water, 2, " (potable water; from records; about 2.00 m to the right)"},
		{"from records, to the left", []geo.XY{{X: -5, Y: 1.5}, {X: 45, Y: 1.5}}, false, trace.Gas, 1.5, " (gas, oil, steam; from records; about 1.50 m to the left)"},
		{"crossing", []geo.XY{{X: -5, Y: 2}, {X: 45, Y: -2}}, false, trace.Gas, 1, " (gas, oil, steam; from records)"},
		{"traced", []geo.XY{{X: -5, Y: 1.5}, {X: 45, Y: 1.5}}, true, trace.Gas, 1.5, ""},
		{"a record anywhere about", []geo.XY{{X: -5, Y: -2}, {X: 45, Y: -2}}, false, trace.UnknownKind, trace.Unknown, " (from records)"},
	} {
		l := fixture.Line("A", 1, geo.XY{X: 0}, geo.XY{X: 40})
		l.Findings = []trace.Finding{finding.BleedOver{Line: "A", FromM: 0, ToM: 40, Grade: trace.GradeWatch, Neighbor: "B", SeparationM: tt.apartM}}
		s := &trace.Sheet{Job: trace.DefaultJob()}
		other := fixture.Line("B", 1, tt.other...)
		other.Setup.Utility = tt.utility
		if tt.traced {
			s.Lines = []trace.Line{l, other}
		} else {
			s.Records = []trace.Record{{Name: "B", Utility: tt.utility, Path: tt.other}}
		}
		got := adviseFindings(s, l)
		if want := "A, 0.0 m to 40.0 m: possible bleed-over, perhaps from B" + tt.want + ". Expose before digging: nothing says how far off the line may lie."; len(got) != 1 || said(got[0].Remark) != want {
			t.Errorf("%s: %+v", tt.name, got)
		}
	}
}
