package pdf

import (
	"testing"

	"loamline.example/export/internal/sample"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// Readings past the end of a line, or before its start, through which no line is drawn are
// one item of the list, and have its number on the plan and no other.
func TestGapPastAnEndHasTheNumberOfItsItem(t *testing.T) {
	for _, pastM := range []float64{3.5, -3.5} {
		s := sample.Of(geo.Metric, sample.Straight(30, 0, 7))
		l := &s.Lines[0]
		end := 30.0
		if pastM < 0 {
			end = 0
		}
		gap := finding.Gap{Line: l.Setup.Name, FromM: trace.Unknown, ToM: trace.Unknown, Along: &[2]float64{end, end}, PastM: pastM, Why: trace.Verbatim("read in the air")}
		from, to := gap.Place()
		l.Findings = []trace.Finding{gap, finding.Doubt{Line: l.Setup.Name, FromM: 4, ToM: 9, Why: trace.Verbatim("two passes lie apart")}}
		s.Advice = []trace.Advice{
			{Line: l.Setup.Name, FromM: 4, ToM: 9, Kind: trace.AdviseDoubt, Remark: trace.Verbatim("in doubt")},
			{Line: l.Setup.Name, FromM: from, ToM: to, Kind: trace.AdviseGap, Remark: trace.Verbatim("not traced")},
		}
		set, err := newSheetSet(s, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if len(set.findings) != 2 || set.findings[0].no != 1 || set.findings[1].no != 2 || set.findings[1].Role() != finding.RoleGap {
			t.Errorf("%g m past an end: %+v", pastM, set.findings)
		}
	}
}

// A finding of which no item is told is in every list of the sheets all the same: no
// number stands on a plan that leads nowhere.
func TestEveryNumberIsInTheLists(t *testing.T) {
	s := sample.Of(geo.Metric, sample.Straight(30, 0, 7))
	l := &s.Lines[0]
	l.Findings = []trace.Finding{finding.RecordDifference{Line: l.Setup.Name, Record: "main", FromM: 4, ToM: 9, LargestOffsetM: 1}}
	s.Advice = nil
	set, err := newSheetSet(s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	col := checkColumn{sheetSet: set, pencil: set.ruler, sh: &set.sheets[0]}
	list := col.list()
	if n := set.findings[0].no; n != 1 || len(list) != 1 || list[0].no != n {
		t.Errorf("number %d on the plan, in the list %+v", n, list)
	}
}
