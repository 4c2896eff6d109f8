package main

import (
	"testing"

	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// --strict stops at what stands under 'Check before digging', and at nothing else: a
// map that it stops at says why where people look. That what needs a person's eyes
// stands there is the trace's to show (TestFindingsThatNeedEyesAreAdvised, and for the
// input TestStrictIsToldWhy).
func TestStrictIsWhatIsToCheck(t *testing.T) {
	for _, k := range []trace.AdviceKind{trace.AdviseNoLine, trace.AdviseBleed, trace.AdviseGap, trace.AdviseDoubt, trace.AdviseExposed, trace.AdviseCrossing,
		trace.AdviseCheck, trace.AdviseRecord, trace.AdviseAccuracy, trace.AdviseFrame, trace.AdviseInput} {
		s := &trace.Sheet{Advice: []trace.Advice{{Kind: k}}}
		if needsEyes(s) != (k != trace.AdviseFrame) {
			t.Errorf("%s: --strict says %v", k, needsEyes(s))
		}
	}
	inconclusive := finding.FieldCheck{Line: "A", Kind: trace.CheckLift, Outcome: trace.OutcomeInconclusive}
	s := &trace.Sheet{Lines: []trace.Line{{Findings: []trace.Finding{inconclusive}}}, Counts: trace.Counts{Rows: 2, Used: 1, Unreadable: 1},
		Problems: []trace.Problem{{Cause: "the row is empty"}, {Warn: true, Cause: "this column is not known and not used"}}}
	if needsEyes(s) {
		t.Error("--strict stops at what is not to be checked before digging")
	}
}
