package pdf

import (
	"strings"
	"testing"

	"loamline.example/export/internal/sample"
	"loamline.example/geo"
	"loamline.example/trace"
	"loamline.example/trace/finding"
)

// No sheet cuts a date or a rule: the sentence on depths goes on in a second line, and
// the rule of a zone that nobody named stands whole.
func TestDatesAndRulesAreWhole(t *testing.T) {
	for _, u := range []geo.Units{geo.Metric, geo.US} {
		s := sample.Of(u, sample.Straight(60, 0.8, 31))
		l := &s.Lines[0]
		l.Findings = append(l.Findings, finding.BleedOver{Line: l.Setup.Name, FromM: 20, ToM: 30, Grade: trace.GradeStrong, LnDepth95: trace.Unknown, LikelyShiftM: trace.Unknown, Shift95M: trace.Unknown})
		l.Tolerance.Rule, l.Tolerance.AssumedDiameterM, l.Tolerance.HalfWidthM = "", 0.05, 0.4822
		for _, size := range []Paper{A4, Letter} {
			pages := ofTheSet(pdfWords(t, pdfFile(t, pdfBytes(t, s, Options{Paper: size, Sheets: trace.SheetsFull}))))
			for no, page := range pages {
				for _, w := range page {
					if strings.HasSuffix(w.text, "…") {
						t.Errorf("%s, %s, sheet %d: %q", u, size, no+1, w.text)
					}
				}
			}
		}
	}
}
