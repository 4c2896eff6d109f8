package batch

import (
	"strings"
	"testing"

	"loamline.example/export/words"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// The table counts what a person is shown under Check before digging: the frame's item and
// the checks to make again among it, and no problem of the input, which is an item where
// it costs the map something.
func TestSummaryCountsTheItemsToCheck(t *testing.T) {
	s := &trace.Sheet{
		Lines: []trace.Line{{Setup: trace.LineSetup{Name: "A"}, Findings: []trace.Finding{
			finding.FieldCheck{Line: "A", At: geo.XY{X: 1}, StationM: 1, Outcome: trace.OutcomeInconclusive, Remark: trace.Verbatim("It could not tell.")}}}},
		Advice: []trace.Advice{
			{Line: "A", FromM: 2, ToM: 3, Kind: trace.AdviseGap, Remark: trace.Verbatim("not traced")},
			{FromM: trace.Unknown, ToM: trace.Unknown, Kind: trace.AdviseFrame, Remark: trace.Verbatim("the datum")}},
		Problems: make([]trace.Problem, 4),
	}
	e := Entry{Job: "a", Status: Made}
	e.tell(s, true)
	if e.ToCheck != 3 || e.ToCheck != len(words.Advice(s)) {
		t.Errorf("%d to check, listed are %q", e.ToCheck, words.Advice(s))
	}
	var b strings.Builder
	Report{Entries: []Entry{e}}.Summary(&b, func(s string) string { return s })
	if row := strings.Split(b.String(), "\n")[1]; !strings.Contains(row, "  3         0.0") {
		t.Errorf("%q", row)
	}
}

// What is no finding of any line, and yet keeps people from digging by a map, is in the
// last words of a batch.
func TestSummaryTellsOfTheDatum(t *testing.T) {
	r := Report{Entries: []Entry{{Job: "a", Status: Made, FrameDoubtM: 1.4}, {Job: "b", Status: Made}, {Job: "c", Status: Failed, FrameDoubtM: 1}}}
	said := func() string {
		var b strings.Builder
		r.Summary(&b, func(s string) string { return s })
		return b.String()
	}
	if got := said(); !strings.Contains(got, "0 to look at before anybody digs by them\n1 may lie off as a whole, by their datum: measure from the paint") {
		t.Errorf("%s", got)
	}
	r.Entries[0].FrameDoubtM = 0
	if got := said(); strings.Contains(got, "datum") {
		t.Errorf("%s", got)
	}
}
