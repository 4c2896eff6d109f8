package batch

import (
	"strings"
	"testing"
)

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
