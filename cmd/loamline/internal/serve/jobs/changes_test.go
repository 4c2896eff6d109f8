package jobs

import (
	"slices"
	"testing"
)

// A finding told in other units is the same finding; one more of a kind is new.
func TestFindingsCompared(t *testing.T) {
	of := func(titles ...string) *Result {
		l := LineResult{Name: "W-1", Drawn: true}
		for _, s := range titles {
			l.Findings = append(l.Findings, FindingResult{Title: s})
		}
		return &Result{Lines: []LineResult{l}}
	}
	metric, us := of("Not traced, 1.0 to 2.0 m"), of("Not traced, 3 to 7 ft", "Not traced, 20 to 23 ft")
	if got := without(findingTitles(us, false), findingTitles(metric, false)); !slices.Equal(got, []string{"W-1: Not traced"}) {
		t.Errorf("%q", got)
	}
	if got := without(findingTitles(metric, false), findingTitles(us, false)); len(got) > 0 {
		t.Errorf("%q", got)
	}
	if got := without(findingTitles(us, true), findingTitles(metric, true)); len(got) != 2 {
		t.Errorf("%q", got)
	}
}
