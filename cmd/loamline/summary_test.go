package main

import (
	"strings"
	"testing"

	"loamline/export/words"
	"loamline/geo"
	"loamline/trace"
)

// The terminal tells every kind of finding, and --strict and the summary agree
// on which of them need a person's eyes.
func TestSummaryTellsEveryKindOfFinding(t *testing.T) {
	for _, f := range trace.AllFindings() {
		s := &trace.Sheet{Job: trace.DefaultJob(), Lines: []trace.Line{{Setup: trace.LineSetup{Name: "A"}, Findings: []trace.Finding{f}}}}
		var b strings.Builder
		summarize(&b, s, nil)
		want := words.FindingTitle(geo.Metric, f)
		if e, ok := f.(trace.ExposedCheck); ok {
			want = e.Words
		}
		if !strings.Contains(b.String(), want) {
			t.Errorf("%T is not told in the summary: see cmd/loamline/summary_finding.go", f)
		}
		if needsEyes(s) != f.NeedsEyes() {
			t.Errorf("%T: --strict says %v, the finding %v", f, needsEyes(s), f.NeedsEyes())
		}
	}
}
